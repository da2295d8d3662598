/**
 * A copy of the card for one arrangement that folders.yaml orders is one card everywhere: the pack prints it, the audit
 * names it and its code, the checks find it old or impossible. Compared with each other; the collection is invented.
 */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, expect, it } from "vitest";
import { forceOn } from "../../src/domain/force/force.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { auditFolders, isStale, printOrders } from "../../src/paper/folder-audit.ts";
import { addressOfCard } from "../../src/site/records/folder-pages.ts";
import { runHere } from "../commands/run-here.ts";
import { readCollection } from "../read-collection.ts";

const TODAY = "2026-11-28";
const folder = mkdtempSync(join(tmpdir(), "rerig-copies-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
cpSync(resolve(import.meta.dirname, "../fixtures/collections/pod"), folder, { recursive: true });

async function withCopies(...copies: readonly string[]) {
  const list = copies.map((copy) => `    - { ${copy} }\n`).join("");
  writeFileSync(join(folder, "folders.yaml"), `van:\n  name: Van folder\n  copies:\n${list}`);
  const { collection } = forceOn(await readCollection(folder), TODAY);
  const checked = await runHere(["check", "--procedures", folder, "--json"], TODAY);
  const { findings } = JSON.parse(checked.stdout) as {
    findings: { rule: string; file: string; line: number; message: string }[];
  };
  return { collection, findings: findings.filter(({ file }) => file === "folders.yaml") };
}

it("is printed with its options, under the code that the audit asks for", async () => {
  const first = await withCopies(
    "card: pod/fine-nest, copy: 1",
    "card: pod/fine-nest+gas+humid, copy: 2",
    "card: fine-nest+humid+gas, copy: 3",
    "card: pod/broad-nest+gas, copy: 4",
  );
  expect(first.findings).toEqual([]);
  const { requests, unknown } = requestCards(first.collection, { folder: "van" }, TODAY);
  expect(unknown).toEqual([]);
  expect(requests.map(({ card, copy }) => [copy!.number, card.title, card.fitted ?? []])).toEqual([
    [1, "Fine nest", []],
    [2, "Fine nest", ["Humid air", "Gas bottle"]],
    [3, "Fine nest", ["Humid air", "Gas bottle"]],
    [4, "Broad nest", ["Gas bottle"]],
  ]);
  const [audited] = auditFolders(first.collection, TODAY);
  expect(audited!.copies.map(({ now }) => now?.code)).toEqual(requests.map(({ card }) => card.checkCode));
  expect(audited!.copies.every(isStale)).toBe(true);
  // One order for each different card, and each has its own page.
  expect(
    printOrders([audited!]).map(({ card, copies }) => [card.content.title, addressOfCard(first, card), copies.length]),
  ).toEqual([
    ["Fine nest", "pod/cards/fine-nest/", 1],
    ["Fine nest with humid air and gas bottle", "pod/cards/fine-nest/with/humid+gas/", 2],
    ["Broad nest with gas bottle", "pod/cards/broad-nest/with/gas/", 1],
  ]);
  const codes = requests.map(({ card }) => card.checkCode!);
  const again = await withCopies(
    `card: pod/fine-nest+humid+gas, copy: 2, check: ${codes[1]}`,
    `card: pod/broad-nest+gas, copy: 4, check: ${codes[0]}`,
  );
  expect(auditFolders(again.collection, TODAY)[0]!.copies.map(({ state }) => state)).toEqual(["current", "wrong-code"]);
  expect(again.findings.map(({ rule, line }) => [rule, line])).toEqual([["card/unknown-check", 5]]);
});

it("is pulled, not printed and found out where its options are none of the configuration's", async () => {
  const { collection, findings } = await withCopies("card: pod/broad-nest+humid, copy: 1");
  expect(auditFolders(collection, TODAY)[0]!.copies.map(({ state }) => state)).toEqual(["withdrawn"]);
  expect(requestCards(collection, { folder: "van" }, TODAY)).toMatchObject({
    requests: [],
    unknown: [],
    left: [expect.stringMatching(/copy 1 of `broad-nest\+humid` in the folder `van`, of which there is no card/)],
  });
  expect(findings.map(({ rule, line }) => [rule, line])).toEqual([["card/folder-stale", 4]]);
});
