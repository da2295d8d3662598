/** `rerig approve` writes four fields and nothing else (compared with the file before; the documents are invented). */
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const work = await mkdtemp(join(tmpdir(), "rerig-approve-"));
afterAll(() => rm(work, { recursive: true, force: true }));

const file = join(work, "own/trolley/wipe-down.mdx"),
  review = join(work, "own/reviews/wipe-down.yaml");
const DOCUMENT = `---\r
# Kept as it is.\r
title:   Wipe the deck down\r
code: P9 # ours\r
revision: 1\r
status: in review   # until she has read it\r
owner: 'Clinical educator'\r
---\r
Before the next call.\r
\r
:::step{#wipe-deck by=second takes="60 s"}\r
Wipe the deck from the head end to the foot end.\r
:::\r
`;
const APPROVED = DOCUMENT.replace("status: in review", "status: approved");

beforeEach(async () => {
  await rm(join(work, "own"), { recursive: true, force: true });
  await cp(join(root, "src/starter"), join(work, "own"), { recursive: true });
  await writeFile(file, DOCUMENT);
});

const approve = (...rest: string[]) =>
  runHere(
    ["approve", "wipe-down", "--procedures", join(work, "own"), "--effective", "2026-11-29", ...rest],
    "2026-11-28",
  );
const LEAD = ["--as", "Lead nurse", "--review-by", "2027-11-29"];

describe("rerig approve", () => {
  it("sets status, approver and dates, and leaves every other byte as it was", async () => {
    const { status, stdout } = await approve(...LEAD);
    expect({ status, stdout }).toEqual({
      status: 0,
      stdout: "Lead nurse approves revision 1 of trolley/wipe-down, from 29 Nov 2026\n",
    });
    const text = await readFile(file, "utf8");
    const added = ["effective: 2026-11-29", "review-by: 2027-11-29", "approved-by: Lead nurse"];
    for (const line of added) expect(text).toContain(`${line}\r\n`);
    expect(added.reduce((rest, line) => rest.replace(`${line}\r\n`, ""), text)).toBe(APPROVED);
  });

  it("refuses the author, and says so", async () => {
    const { status, stdout, stderr } = await approve("--as", "Clinical educator", "--review-by", "2027-11-29");
    expect({ status, stdout }).toEqual({ status: 1, stdout: "" });
    expect(stderr).toContain("Clinical educator wrote revision 1");
    expect(await readFile(file, "utf8")).toBe(DOCUMENT);
  });

  it("refuses while a remark waits for its answer, and approves and issues once it has one", async () => {
    await mkdir(join(work, "own/reviews"));
    const remark =
      "document: wipe-down\nrevision: 1\nremarks:\n" +
      "  - { step: wipe-deck, by: Nurse, date: 2026-11-20, text: Which cloth?";
    await writeFile(review, `${remark} }\n`);
    const refused = await approve(...LEAD);
    expect(refused.status).toBe(1);
    expect(refused.stderr).toContain("One remark has no answer: Nurse (reviews/wipe-down.yaml, line 4)");
    expect(await readFile(file, "utf8")).toBe(DOCUMENT);
    await writeFile(review, `${remark}, answer: The blue one }\n`);
    const { status, stdout, stderr } = await approve(...LEAD, "--issue");
    expect({ status, stderr }).toMatchObject({ status: 0 });
    expect(stdout).toContain("issued trolley/wipe-down revision 1  issued/trolley/wipe-down@1.json");
  });

  it("refuses a file with errors, a day that is none, and a document that there is not", async () => {
    await writeFile(file, DOCUMENT.replace("by=second", "by=nobody"));
    expect(await approve(...LEAD)).toMatchObject({ status: 1, stdout: "" });
    expect(await approve("--as", "Lead nurse", "--review-by", "next year")).toMatchObject({ status: 2, stdout: "" });
    const unknown = await runHere(
      ["approve", "wipe-dwn", "--procedures", join(work, "own"), "--as", "Lead nurse", "--effective", "2026-11-29"],
      "2026-11-28",
    );
    expect(unknown).toMatchObject({ status: 2, stdout: "" });
    expect(unknown.stderr).toContain("did you mean `wipe-down`");
  });

  it("approves several, all or none", async () => {
    const second = join(work, "own/trolley/wipe-rail.mdx");
    const other = DOCUMENT.replace("P9", "P8").replace("#wipe-deck", "#wipe-rail");
    await writeFile(second, other.replace("by=second", "by=nobody"));
    const both = (...rest: string[]) =>
      runHere(
        [
          ...["approve", "wipe-down", "trolley/wipe-rail", "wipe-down", "--procedures", join(work, "own")],
          ...["--effective", "2026-11-29", ...rest],
        ],
        "2026-11-28",
      );
    const refused = await both(...LEAD);
    expect(refused).toMatchObject({ status: 1, stdout: "" });
    expect(refused.stderr).toContain("`wipe-rail` is not approved");
    expect(refused.stderr).toContain("The others are not approved either");
    expect(await readFile(file, "utf8")).toBe(DOCUMENT);
    await writeFile(second, other);
    const { status, stdout, stderr } = await both(...LEAD);
    expect({ status, lines: stdout.trim().split("\n").length }).toEqual({ status: 0, lines: 2 });
    expect(stderr).toContain("issue trolley/wipe-down trolley/wipe-rail");
    for (const each of [file, second]) expect(await readFile(each, "utf8")).toContain("status: approved");
  });
});
