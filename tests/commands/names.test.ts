/**
 * What commands print to be read calls things by their names (this project's issue 15, item 6: no ids where somebody
 * reads); an id stands there only to be typed: in backticks, in a call, in brackets behind the name.
 */
import { cp, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readCollection } from "../read-collection.ts";
import { runHere } from "./run-here.ts";

const demo = resolve(import.meta.dirname, "../../procedures"),
  ward = resolve(import.meta.dirname, "../fixtures/collections/ward");
/** What is there to be typed. */
const TYPED = /`[^`]*`|\brerig .*|\([a-z-]+\)/g;

let work: string, ids: Readonly<Record<"demo" | "ward", readonly string[]>>;
beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "names-"));
  await cp(ward, work, { recursive: true });
  const copies = ["bed/wide-air", "hoist/large"].map((card) => `    - { card: ${card}, copy: 1 }\n`);
  await writeFile(join(work, "folders.yaml"), `sister:\n  name: Sister's folder\n  copies:\n${copies.join("")}`);
  ids = { demo: await idsIn(demo), ward: await idsIn(ward) };
});
async function idsIn(collection: string): Promise<string[]> {
  const { platforms } = await readCollection(collection);
  return platforms.flatMap(({ items, places, configurations, options, procedures, fastenings }) =>
    [...items, ...places, ...configurations, ...options, ...procedures, ...fastenings].map(({ id }) => id),
  );
}
afterAll(() => rm(work, { recursive: true, force: true }));

/** What is asked where, and how the answer calls what it is about. */
const CALLS: readonly (readonly [where: "demo" | "ward", call: string, name: string])[] = [
  ["demo", "folders", "copy 1 of Newborn capsule: "],
  ["demo", "changeover --from deck-harness --to newborn-capsule --weight 1.9kg", "needs roll supports with it"],
  ["demo", "changeover --from deck-harness --to newborn-capsule --weight 40kg", "from “Deck harness” to “Newborn"],
  ["demo", "load --configuration newborn-capsule+roll-supports", "Newborn capsule with roll supports, no patient"],
  ["demo", "ready call --to newborn-capsule+roll-supports", "from newborn capsule to newborn capsule with roll"],
  ["demo", "choose --weight 2kg --read-back", "Newborn capsule (newborn-capsule)"],
  ["ward", "folders", "copy 1 of Large sling · Ceiling hoist"],
  [
    "ward",
    "changeover --platform bed --from foam --to wide-air+drip-pole",
    "Foam bed to long air bed with drip pole\n",
  ],
  [
    "ward",
    "changeover --platform bed --from foam --to foam+drip-pole --from-step to-air:2 --toward wide-air",
    "From where it was stopped to foam bed with drip pole\n",
  ],
  ["ward", "load --platform bed --configuration wide-air", "Long air bed, no patient"],
  ["ward", "ready --platform bed", "Ward bed, waiting as foam bed"],
  ["ward", "ready restock --platform bed --to wide-air+drip-pole", "After a run as long air bed with drip pole, built"],
  ["ward", "recall air-mattress --platform bed", "copy 1 of Long air bed · Ward bed\n"],
  ["ward", "recall drip-pole --platform bed", "rerig without drip-pole --platform bed\n"],
  ["ward", "without foot-extension --platform bed", "1 of 1: Foot extension"],
  ["ward", "drill --seed 5 --platform bed", "Ward bed: "],
];

it.each(CALLS)("says names: on the %s, %s", async (where, call, name) => {
  const folder = where === "demo" ? demo : work;
  const { stdout, stderr } = await runHere([...call.split(" "), "--procedures", folder], "2026-11-28"),
    said = `${stdout}\n${stderr}`,
    read = said.replace(TYPED, "");
  expect(said).toContain(name);
  // An id of one word is a word of its own language, too.
  expect(ids[where].filter((id) => id.includes("-") && new RegExp(`(?<![\\w-])${id}(?![\\w-])`).test(read))).toEqual(
    [],
  );
});

/** Calls that only one platform of the ward can be meant by: what is named is on no other. */
it.each([
  "recall air-mattress",
  "without foot-extension",
  "load --configuration wide-air",
  "changeover --from foam --to wide-air+drip-pole",
  "ready restock --to wide-air+drip-pole",
])("%s: asks for no platform where one alone has what is named, says which, and answers as for it", async (call) => {
  const asked = [...call.split(" "), "--procedures", ward, "--on", "2026-11-28"],
    bare = await runHere(asked),
    named = await runHere([...asked, "--platform", "bed"]);
  expect(bare.stderr).toContain("Ward bed: no other platform has it");
  expect(named.stderr).not.toContain("no other");
  expect([bare.status, bare.stdout]).toEqual([0, named.stdout]);
});

it.each(["ready", "without", "recall nothing-of-the-kind"])(
  "%s: asks which platform where any may be meant, or none",
  async (call) => {
    const { status, stderr } = await runHere([...call.split(" "), "--procedures", ward]);
    expect([status, stderr.trim()]).toEqual([2, "Say which platform with `--platform`: bed, hoist"]);
  },
);
