/**
 * Text in a file under a number that was issued with other words: a proposal with an address of its own, beside what
 * was issued, and only that takes the place of what is in force. ISO 9001:2015, 7.5.3 (changes under control); the
 * collection is invented.
 */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, expect, it } from "vitest";
import { proposalsOf, successorsOf } from "../../../src/site/records/proposals.ts";
import { revisionOf } from "../../../src/site/records/revisions.ts";
import { makeSite } from "../../../src/site/site.ts";
import { runHere } from "../../commands/run-here.ts";
import { CONFIGURATION, edit } from "./eight-days.ts";
import { readCollection } from "../../read-collection.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-number-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const DAY = "2026-06-01";

it("has two addresses, and only what was issued takes its place", async () => {
  cpSync(resolve(import.meta.dirname, "../../fixtures/collections/sled"), folder, { recursive: true });
  const issue = async () => {
    const { status, stderr } = await runHere(["issue", "--procedures", folder], DAY);
    expect(status, stderr).toBe(0);
  };
  await issue();
  edit(
    folder,
    CONFIGURATION,
    [/^(owner: .*)$/m, "revision: 2\neffective: 2026-09-01\n$1"],
    [/\n---\n/, "\nchanges: [{ revision: 2, date: 2026-05-20, by: Training officer, summary: Both pins. }]\n---\n"],
    [/two, clip across/, "two, clip across and down"],
  );
  await issue();
  edit(folder, CONFIGURATION, [/clip across and down/, "clip across and up"]);
  const site = makeSite(folder, await readCollection(folder), DAY);
  const proposals = proposalsOf(site);
  expect(proposals.map(({ address, isTwin, said: { status } }) => [address, isTwin, status])).toEqual([
    ["sled/configurations/child-shell/proposed/2/", false, "coming"],
    ["sled/configurations/child-shell/proposed/2-as-written/", true, "approved"],
  ]);
  const words = proposals.map(({ document }) => JSON.stringify("checks" in document ? document.checks : []));
  expect(words.map((text) => /across and (\w+)/.exec(text)![1])).toEqual(["down", "up"]);
  // Each has a review sheet: what it would change of what is in force.
  const revisions = proposals.map(({ platform, shown, proposal }) => revisionOf(site, platform, shown, proposal));
  expect(revisions.map(({ number, before, after }) => [number, before?.revision, after.revision])).toEqual([
    [2, 1, 2],
    [2, 1, 2],
  ]);
  expect(
    revisions.map(({ after }) => /across and (\w+)/.exec(JSON.stringify("checks" in after ? after.checks : []))![1]),
  ).toEqual(["down", "up"]);
  const [own] = proposals;
  expect(successorsOf(site, own!.shown).map(({ address }) => address)).toEqual([own!.address]);
});
