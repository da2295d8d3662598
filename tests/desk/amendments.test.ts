/**
 * A temporary amendment from its first word to its removal, all of it at the desk: what it says is what the procedure's
 * page shows while it runs, and what `check` says when it is over (that it lapses by its date and is approved by
 * another role is common practice, no source). The collection is the invented one of `rerig new`.
 */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { type Desk, openDesk } from "../../src/desk/server.ts";
import { postTo } from "./post-to.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-amended-")),
  folder = join(work, "ours"),
  path = "trolley/amendments/brakes-stick-in-the-cold.mdx",
  file = join(folder, path);
let desk: Desk;
beforeAll(async () => {
  process.env["RERIG_TODAY"] = "2026-11-28";
  cpSync(resolve(import.meta.dirname, "../../src/starter"), folder, { recursive: true });
  desk = await openDesk(folder, 0);
}, 120_000);
afterAll(async () => {
  process.env["RERIG_TODAY"] = "2026-11-28";
  await desk?.close();
  rmSync(work, { recursive: true });
});

const post = async (address: string, body: Readonly<Record<string, unknown>>) => postTo(desk, address, body);
const shown = async (address: string) => (await fetch(desk.address + address)).text();
const procedure = readdirSync(resolve(import.meta.dirname, "../../src/starter/trolley"))
  .find((name) => name.endsWith(".mdx"))!
  .replace(".mdx", "");
const WARNING = "Below freezing, push each brake twice.";
const NEW = {
  platform: "trolley",
  number: "X-A1",
  title: "Brakes stick in the cold",
  reason: "Two brakes did not hold",
  from: "2026-11-28",
  until: "2026-12-11",
  owner: "Clinical educator",
  approvedBy: "Lead nurse",
  procedure,
  item: "",
  warning: WARNING,
};
const about = () => ({ file: path, basedOn: contentHash(readFileSync(file, "utf8")) });

describe("at the desk a temporary amendment", () => {
  it("is not begun without what it is about, its days, and another role who approved it", async () => {
    for (const [field, value, why] of [
      ["title", "…", "what it is about"],
      ["number", " ", "its number"],
      ["reason", "", "why"],
      ["until", "2026-11-27", "before its first"],
      ["until", "11/12/2026", "first and its last day"],
      ["until", "2027-03-01", "more than 90 days"],
      ["approvedBy", "", "who approved it"],
      ["approvedBy", "clinical  educator", "another role"],
      ["procedure", "", "the procedure that the warning belongs to"],
      ["warning", " ", "Write the warning"],
      ["procedure", "no-such-procedure", "in force"],
    ] as const)
      expect(await post("new-amendment", { ...NEW, [field]: value }), `${field}: ${value}`).toMatchObject({
        refused: expect.stringContaining(why) as string,
      });
    expect(existsSync(join(folder, "trolley/amendments"))).toBe(false);
  }, 60_000);

  it("stands on the procedure's page from then on, and in the desk's list with its days", async () => {
    expect(await shown(`site/trolley/procedures/${procedure}/`)).not.toContain(WARNING);
    expect(await post("new-amendment", NEW)).toMatchObject({ saved: true, address: `form/${path}` });
    expect(await shown(`site/trolley/procedures/${procedure}/`)).toContain(WARNING);
    const start = await shown("");
    expect(start).toContain("expires after 11 Dec 2026");
    expect(start).toContain("Brakes stick in the cold");
    expect(await post("new-amendment", NEW)).toMatchObject({ refused: expect.stringContaining("title") as string });
  }, 60_000);

  it("is not made away with while it runs, and is ended on a day that everybody sees", async () => {
    expect(await post("remove-amendment", about())).toMatchObject({
      refused: expect.stringContaining("still runs") as string,
    });
    expect(await post("end-amendment", { ...about(), last: "yesterday" })).toMatchObject({
      refused: expect.stringContaining("does not run") as string,
    });
    const before = readFileSync(file, "utf8");
    expect(await post("end-amendment", { ...about(), basedOn: contentHash("other"), last: "today" })).toMatchObject({
      refused: expect.stringContaining("changed since you read it") as string,
    });
    expect(await post("end-amendment", { ...about(), last: "today" })).toMatchObject({ saved: true });
    expect(readFileSync(file, "utf8")).toBe(before.replace("2026-12-11", "2026-11-28"));
  }, 60_000);

  it("has lapsed on the day after, as the check says, and is then taken out", async () => {
    process.env["RERIG_TODAY"] = "2026-11-29";
    // The desk looks at the clock from time to time.
    await expect.poll(() => shown(`form/${path}`), { timeout: 30_000 }).toContain("ended on 28 Nov 2026");
    expect(await shown(`form/${path}`)).toContain("Take it out of the collection");
    expect(await shown(`site/trolley/procedures/${procedure}/`)).not.toContain(WARNING);
    expect(await post("remove-amendment", about())).toMatchObject({ saved: true, address: "" });
    expect(existsSync(file)).toBe(false);
    expect(await shown("")).not.toContain("ended on 28 Nov 2026");
  }, 60_000);
});
