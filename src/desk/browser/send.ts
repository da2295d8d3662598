/** Sends changes to the desk, one after the other, and says what became of them. */

import { heard } from "../../words/heard.ts";
import type { ChangeOutcome } from "../outcome.ts";

let last: Promise<unknown> = Promise.resolve();

/** Sends to an address of the desk, after all that was sent before; a refusal of any sort is a sentence. */
export function send(address: string, body: () => unknown): Promise<ChangeOutcome> {
  const mine = last.then(() => post(address, body()));
  last = mine;
  return mine;
}

async function post(address: string, body: unknown): Promise<ChangeOutcome> {
  const isBytes = body instanceof Blob;
  try {
    const answer = await fetch(deskAddress(address), {
      method: "POST",
      headers: { "Content-Type": isBytes ? "application/octet-stream" : "application/json" },
      body: isBytes ? body : JSON.stringify(body),
    });
    if (answer.headers.get("Content-Type")?.startsWith("application/json"))
      return (await answer.json()) as ChangeOutcome;
    return { refused: (await answer.text()).trim() };
  } catch {
    return { refused: heard("deskScript").noAnswer };
  }
}

/** An address of the desk, from the page on which this runs. */
export function deskAddress(address: string): string {
  return new URL((document.documentElement.dataset["desk"] ?? "") + address, location.href).href;
}

/** Says a sentence where screens say it. */
export function say(text: string, isGrave = false): void {
  const said = document.querySelector<HTMLElement>("#said");
  if (!said) return;
  said.textContent = text;
  said.classList.toggle("grave", isGrave);
}
