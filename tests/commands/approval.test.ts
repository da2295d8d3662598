/**
 * Approval that means something: what is issued is what was signed. The code that an approver signs is the one that the
 * review sheet prints, and `issue --signed` takes no other text, no other photo, and no code of nothing. That approval
 * is of a known content is ISO 9001:2015, 7.5.2 c; the rest is common practice, no source.
 */
import { documentsOf } from "../../src/schema/documents.ts";
import { appendFileSync, cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeEach, expect, it } from "vitest";
import { openCollection } from "../../src/build/open-collection.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { contentCodeOf } from "../../src/site/records/revisions.ts";
import { proposalsOf } from "../../src/site/records/proposals.ts";
import { makeSite } from "../../src/site/site.ts";
import { runHere } from "./run-here.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-approval-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
let folder = "",
  runs = 0;
const rerig = (today: string, ...args: string[]) => runHere([...args, "--procedures", folder], today);
const FILE = "sled/change-to-mattress.mdx",
  ISSUE = "issued/sled/change-to-mattress@1.json";
const edit = (old: RegExp, now: string) => {
  const text = readFileSync(join(folder, FILE), "utf8");
  expect(text).toMatch(old);
  writeFileSync(join(folder, FILE), text.replace(old, now));
};
/** The code on the review sheet of the procedure's newest text, as a build makes it. */
async function codeOnSheet(today: string): Promise<string> {
  const site = makeSite(folder, await openCollection(folder), today);
  const proposed = proposalsOf(site).find(({ document }) => document.id === "change-to-mattress");
  if (proposed) return contentCodeOf(proposed.view, proposed.platform, proposed.document);
  const platform = site.collection.platforms[0]!;
  return contentCodeOf(
    site,
    platform,
    documentsOf(platform).find(({ id }) => id === "change-to-mattress")!,
  );
}

beforeEach(() => {
  folder = join(work, String((runs += 1)));
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
});

it("issues what was signed, photos included, and binds its code", async () => {
  const code = await codeOnSheet("2026-02-01");
  const { status, stderr } = await rerig("2026-02-01", "issue", "change-to-mattress", "--signed", code);
  expect([status, stderr]).toEqual([0, "One document issued.\n"]);
  expect((JSON.parse(readFileSync(join(folder, ISSUE), "utf8")) as { signed: string }).signed).toBe(code);
  // The sheet of what is in force bears the code of what was issued.
  expect(await codeOnSheet("2026-02-02")).toBe(code);
});

it.each([
  ["a word", () => edit(/review-by: .*\n/, "review-by: 2031-01-12\n# same\n"), true],
  ["a word that a reader sees", () => edit(/\n:::step/, "\n:::note\nMind the edge.\n:::\n\n:::step"), false],
  ["a photo of the same size", () => appendFileSync(join(folder, "sled/photos/bed.jpg"), "x"), false],
])("after the sheet was signed, %s is changed", async (_what, change, isTheSame) => {
  const code = await codeOnSheet("2026-02-01");
  change();
  const { status, stderr } = await rerig("2026-02-01", "issue", "change-to-mattress", "--signed", code);
  expect(status).toBe(isTheSame ? 0 : 2);
  if (!isTheSame) expect(stderr).toContain("which nobody signed");
  expect(existsSync(join(folder, ISSUE))).toBe(isTheSame);
});

it("refuses a code of nothing that is to be issued", async () => {
  const code = await codeOnSheet("2026-02-01");
  const { status, stderr } = await rerig(
    ...(["2026-02-01", "issue", "change-to-mattress", "--signed", code, "7K3F-QS"] as const),
  );
  expect(status).toBe(2);
  expect(stderr).toContain("Nothing that is to be issued has the content code 7K3F-QS");
});

it("prints the code of a proposal on its own sheet, and that of what is in force on the other", async () => {
  const first = await codeOnSheet("2026-02-01");
  expect((await rerig("2026-02-01", "issue")).status).toBe(0);
  edit(/^revision: 1$/m, "revision: 2");
  edit(/\n:::step/, "\n:::note\nMind the edge.\n:::\n\n:::step");
  const site = makeSite(folder, await openCollection(folder), "2026-03-01");
  const [platform] = site.collection.platforms;
  const inForce = documentsOf(platform!).find(({ id }) => id === "change-to-mattress")!;
  expect([inForce.revision, contentCodeOf(site, platform!, inForce)]).toEqual([1, first]);
  expect(await codeOnSheet("2026-03-01")).not.toBe(first);
});

it("keeps with an issue the equipment that it names, should today's files have lost it", async () => {
  expect((await rerig("2026-02-01", "issue")).status).toBe(0);
  const files = await openCollection(folder);
  const without = {
    ...files,
    platforms: files.platforms.map((platform) => ({
      ...platform,
      items: platform.items.filter(({ id }) => id !== "oxygen-bottle"),
      fastenings: platform.fastenings.filter(({ id }) => id !== "bottle-latch"),
    })),
  };
  const plain = (value: unknown) =>
    JSON.parse(
      JSON.stringify(value, (key, entry: unknown) =>
        key === "where" || key === "at" ? undefined : typeof entry === "bigint" ? String(entry) : entry,
      ),
    ) as unknown;
  const [was, is] = [files, without].map((each) => forceOn(each, "2026-03-01").collection.platforms[0]!);
  const byId = (list: readonly { readonly id: string }[]) => [...list].sort((a, b) => (a.id < b.id ? -1 : 1));
  expect(is!.items).toHaveLength(was!.items.length);
  expect(plain(byId(is!.items))).toEqual(plain(byId(was!.items)));
  expect(plain(byId(is!.fastenings))).toEqual(plain(byId(was!.fastenings)));
});

it("says what is not chosen because it is not in force", async () => {
  const configuration = join(folder, "sled/configurations/child-shell.mdx");
  writeFileSync(configuration, readFileSync(configuration, "utf8").replace("status: approved", "status: draft"));
  const { stdout, stderr } = await rerig("2026-02-01", "choose", "--weight", "10 kg", "--json");
  expect((JSON.parse(stdout) as { configurations: string[] }).configurations).toEqual([]);
  expect(stderr).toBe("Not chosen: Child shell, revision 1, is a draft and not in force.\n");
});
