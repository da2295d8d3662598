/**
 * Review, approval and issue at the desk write what `rerig approve` and `rerig issue` write, and refuse what they
 * refuse (ISO 9001:2015, 7.5.2 c: review and approval; that the approver is another person is common practice, no
 * source). The collection is the invented one of `rerig new`; a file is compared with what it said before.
 */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { type Desk, openDesk } from "../../src/desk/server.ts";
import { postTo } from "./post-to.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-review-")),
  folder = join(work, "ours"),
  file = join(folder, "trolley/wipe-down.mdx"),
  document = "trolley/wipe-down";
const BEFORE = `---\r
# Kept as it is.\r
title:   Wipe the deck down\r
code: P9 # ours\r
revision: 1\r
status: draft\r
---\r
Before the next call.\r
\r
:::step{#wipe-deck by=second takes="60 s"}\r
Wipe the deck from the head end to the foot end.\r
:::\r
`;
let desk: Desk;
process.env["RERIG_TODAY"] = "2026-11-28";
beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../../src/starter"), folder, { recursive: true });
  writeFileSync(file, BEFORE);
  desk = await openDesk(folder, 0);
}, 120_000);
afterAll(async () => {
  await desk?.close();
  rmSync(work, { recursive: true });
});

const text = () => readFileSync(file, "utf8");
const post = async (address: string, body: Readonly<Record<string, unknown>>) => postTo(desk, address, body);
/** A decision about the text as it is now. */
const decide = async (address: string, more: Readonly<Record<string, string>>) =>
  post(address, { document, basedOn: contentHash(text()), ...more });
const APPROVAL = { effective: "2026-12-01", reviewBy: "2027-12-01" };
const screen = async () => (await fetch(`${desk.address}review/${document}/`)).text();

describe("at the desk a document", () => {
  it("is handed in by whoever wrote it, and not approved before", async () => {
    expect(await decide("approve", { role: "Lead nurse", ...APPROVAL })).toMatchObject({
      refused: expect.stringContaining("not handed in") as string,
    });
    expect(await decide("hand-in", { owner: " " })).toMatchObject({
      refused: expect.stringContaining("who wrote it") as string,
    });
    expect(text()).toBe(BEFORE);
    expect(await decide("hand-in", { owner: "Clinical educator" })).toMatchObject({ saved: true });
    expect(text().replace("owner: Clinical educator\r\n", "")).toBe(BEFORE.replace("draft", "in review"));
    expect(await screen()).toContain("Approve revision 1");
  }, 60_000);

  it("is remarked on at a step, and approved when the remark has its answer, by another than its author", async () => {
    const remark = { document, step: "wipe-deck", by: "Nurse", text: "Which cloth: # 2?" };
    expect(await post("remark", remark)).toMatchObject({ saved: true });
    expect(await post("remark", { document, by: "Nurse", text: "No title on the bag" })).toMatchObject({ saved: true });
    const name = readdirSync(join(folder, "reviews"))[0]!,
      review = join(folder, "reviews", name);
    expect(readFileSync(review, "utf8")).toBe(
      "document: trolley/wipe-down\nrevision: 1\nremarks:\n" +
        '  - { step: wipe-deck, by: Nurse, date: 2026-11-28, text: "Which cloth: # 2?" }\n' +
        "  - { by: Nurse, date: 2026-11-28, text: No title on the bag }\n",
    );
    expect(await screen()).toContain("two open ones");
    const handedIn = text();
    expect(await decide("approve", { role: "Lead nurse", ...APPROVAL })).toMatchObject({
      refused: expect.stringContaining("2 remarks have no answer") as string,
    });
    const answer = { file: `reviews/${name}`, answer: "The blue one." };
    expect(await post("answer", { ...answer, at: "1", said: "Another remark" })).toMatchObject({
      refused: expect.stringContaining("changed meanwhile") as string,
    });
    expect(await post("answer", { ...answer, at: "0", said: remark.text })).toMatchObject({ saved: true });
    expect(await post("answer", { ...answer, at: "1", said: "No title on the bag" })).toMatchObject({ saved: true });
    expect(await decide("approve", { role: "clinical  Educator", ...APPROVAL })).toMatchObject({
      refused: expect.stringContaining("Somebody else approves it") as string,
    });
    expect(text()).toBe(handedIn);
  }, 60_000);

  it("is not approved on a text that whoever approves has not read", async () => {
    const read = contentHash(text());
    const changed = text().replace("foot end.", "foot end, twice.");
    writeFileSync(file, changed);
    expect(await post("approve", { document, basedOn: read, role: "Lead nurse", ...APPROVAL })).toMatchObject({
      refused: expect.stringContaining("changed since you read it") as string,
    });
    expect(text()).toBe(changed);
  }, 60_000);

  it("is approved and issued as the commands do it, once, and never while there are errors", async () => {
    const before = text();
    expect(await decide("approve", { role: "Lead nurse", ...APPROVAL })).toMatchObject({ saved: true });
    const added = ["effective: 2026-12-01", "review-by: 2027-12-01", "approved-by: Lead nurse"];
    expect(added.reduce((rest, each) => rest.replace(`${each}\r\n`, ""), text())).toBe(
      before.replace("in review", "approved"),
    );
    const platform = join(folder, "trolley/platform.yaml"),
      whole = readFileSync(platform, "utf8");
    writeFileSync(platform, whole.replace("secure: locked", "secure: shut"));
    expect(await post("issue", { document })).toMatchObject({
      refused: expect.stringMatching(/^Nothing is issued\. Our trolley: places, /) as string,
    });
    expect(existsSync(join(folder, "issued"))).toBe(false);
    writeFileSync(platform, whole);
    expect(await post("issue", { document })).toMatchObject({ saved: true });
    const issued = JSON.parse(readFileSync(join(folder, "issued/trolley/wipe-down@1.json"), "utf8")) as unknown;
    expect(issued).toMatchObject({ id: "wipe-down", revision: 1, issued: "2026-11-28" });
    expect(await post("issue", { document })).toMatchObject({
      refused: expect.stringContaining("nothing to issue") as string,
    });
    expect(await screen()).toContain("Begin revision 2");
  }, 120_000);

  it("begins its next revision with what changes, and without the approval of the one before", async () => {
    expect(await decide("raise", { by: "Clinical educator", summary: " " })).toMatchObject({
      refused: expect.stringContaining("what is to change") as string,
    });
    const raised = { by: "Clinical educator", summary: "Twice: it dries", reason: "", signOffs: "again" };
    expect(await decide("raise", raised)).toMatchObject({ saved: true });
    expect(text()).toMatch(/revision: 2\r\nstatus: draft\r\n/);
    expect(text()).not.toMatch(/approved-by|effective:/);
    expect(text()).toContain(
      "\r\n  - { revision: 2, date: 2026-11-28, by: Clinical educator, " +
        'summary: "Twice: it dries", sign-offs: again }\r\n',
    );
    expect(await screen()).toMatch(/revision 1 counts/);
    const undone = await post("undo", { file: "trolley/wipe-down.mdx" });
    expect(undone).toMatchObject({ saved: true });
    expect(text()).toMatch(/revision: 1\r\nstatus: approved\r\n/);
  }, 120_000);

  it("is asked for by its name: another one is refused in a sentence, and nothing odd is understood", async () => {
    for (const address of ["remark", "issue", "hand-in", "raise", "approve"]) {
      const outcome = await post(address, {
        document: "trolley/none",
        ...(address === "issue" ? {} : { by: "x", text: "x" }),
      });
      expect([address, "refused" in outcome]).toEqual([address, true]);
    }
    expect((await fetch(`${desk.address}review/trolley/none/`)).status).toBe(404);
  }, 60_000);
});

describe("the day of a file", () => {
  it("leads back to each state that was saved, and that can be taken back too", async () => {
    const address = "trolley/wipe-down.mdx",
      last = text();
    const history = await (await fetch(`${desk.address}history/${address}`)).text();
    expect(history).toContain("Before the first save of the day");
    expect(history).toMatch(/<ins>[^<]*approved-by: Lead nurse/);
    const back = { file: address, basedOn: contentHash(last), hash: contentHash(BEFORE) };
    expect(await post("restore", { ...back, hash: contentHash("never saved") })).toMatchObject({
      refused: expect.stringContaining("kept no longer") as string,
    });
    expect(await post("restore", { ...back, basedOn: contentHash("read long ago") })).toMatchObject({
      refused: expect.stringContaining("changed elsewhere") as string,
    });
    expect(text()).toBe(last);
    expect(await post("restore", back)).toMatchObject({ saved: true });
    expect(text()).toBe(BEFORE);
    expect(await post("undo", { file: address })).toMatchObject({ saved: true });
    expect(text()).toBe(last);
  }, 60_000);
});
