/** What a screen of the desk sends, sent by a test. */
import type { ChangeOutcome } from "../../src/desk/outcome.ts";
import type { Desk } from "../../src/desk/server.ts";

/** Sends a change to an address below the desk's own, as its screens do, and gives what the desk answers. */
export async function postTo(
  desk: Desk,
  address: string,
  body: Readonly<Record<string, unknown>>,
): Promise<ChangeOutcome> {
  const answer = await fetch(desk.address + address, {
    method: "POST",
    headers: { "Content-Type": "application/json", Origin: new URL(desk.address).origin },
    body: JSON.stringify(body),
  });
  return (await answer.json()) as ChangeOutcome;
}
