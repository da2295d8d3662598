/** Words tell when they are read, also when what was made of them is handed out again. Common practice, no source. */
import { resolve } from "node:path";
import { afterEach, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { isProse } from "../../../src/domain/parts/prose.ts";
import { digestOfAllButWords } from "../../../src/build/kept/all-but-words.ts";
import { watchedBodies, watchedWords, watchWords } from "../../../src/domain/parts/watched-words.ts";
import { kept, keepOn } from "../../../src/domain/words/keep.ts";
import { resultOf, noteReads, withoutTelling } from "../../../src/domain/words/reads.ts";
import { bandOfProcedure } from "../../../src/domain/words/procedure-facts.ts";
import { remember } from "../../../src/domain/words/remember.ts";
import { Findings } from "../../../src/findings/finding.ts";
import type { Collection, Platform, Procedure } from "../../../src/schema/collection.ts";

const SLED = resolve(import.meta.dirname, "../../fixtures/collections/sled");
const load = async (): Promise<Collection> => loadCollection(SLED, new Findings());
/** The documents whose words are read; `toldBy`: all that is told. */
const readBy = (work: () => unknown): readonly string[] => toldBy(work).filter((name) => !/[#=]/.test(name));
const toldBy = (work: () => unknown): readonly string[] => [...(noteReads(work).reads ?? [])].sort();
const nameOf = ({ platform, id }: Procedure) => `${platform}/procedures/${id}`;

afterEach(() => {
  keepOn(undefined);
});

it("say the same as before, and tell of their document", async () => {
  const plain = await load(),
    files = watchWords(await load());
  expect(files).toEqual(plain);
  expect(structuredClone(files)).toEqual(structuredClone(plain));
  const [one, other] = files.platforms[0]!.procedures as readonly [Procedure, Procedure];
  expect(readBy(() => JSON.stringify(one.steps[0]!.instruction))).toEqual([nameOf(one)]);
  expect(readBy(() => [one, other].map(({ steps }) => steps[0]!.where.line))).toEqual([nameOf(one), nameOf(other)]);
  // A copy of a record reads none of the words below it.
  expect(readBy(() => ({ ...one, steps: one.steps.map((step) => ({ ...step, number: 1 })) }))).toEqual([]);
  expect(readBy(() => withoutTelling(() => JSON.stringify(one)))).toEqual([]);
});

it("stand in a body, which tells as a whole, and a fact of it for itself", async () => {
  const [platform] = watchWords(await load()).platforms as readonly [Platform],
    [one] = platform.procedures as readonly [Procedure];
  expect(toldBy(() => [one.id, one.title, one.status, one.revision])).toEqual([]);
  expect(toldBy(() => one.band)).toEqual([`${nameOf(one)}#body`]);
  expect(toldBy(() => bandOfProcedure(one))).toEqual([`band=${nameOf(one)}`]);
  expect(bandOfProcedure(one)).toBe(one.band);
  // A copy of a record is another one, whose body was read when it was made.
  const copy = { ...one };
  expect(toldBy(() => bandOfProcedure(copy))).toEqual([]);
  const said = watchedBodies({ platforms: [platform] } as unknown as Collection);
  expect(said.get(`band=${nameOf(one)}`)).toBe(one.band);
  expect(Object.keys(said.get(`${nameOf(one)}#body`) as object)).toContain("steps");
});

it("are told again with each result that was made of them, to all who ask through one another", async () => {
  const [platform] = watchWords(await load()).platforms as readonly [Platform],
    [one, other] = platform.procedures as readonly [Procedure, Procedure];
  const inner = remember((procedure: Procedure) => JSON.stringify(procedure.purpose) + JSON.stringify(procedure.steps)),
    outer = remember((_: Platform) => inner(one));
  inner(one);
  expect(readBy(() => outer(platform))).toEqual([nameOf(one)]);
  expect(readBy(() => outer(platform))).toEqual([nameOf(one)]);
  expect(readBy(() => [outer(platform), inner(other)])).toEqual([nameOf(one), nameOf(other)]);
  const told = noteReads(() => inner(other));
  expect(readBy(() => resultOf(told))).toEqual([nameOf(other)]);
  const fails = () => {
    inner(one);
    throw new Error("no");
  };
  expect(
    readBy(() => {
      try {
        return noteReads(fails);
      } catch {
        return undefined;
      }
    }),
  ).toEqual([nameOf(one)]);
});

it("are not read by kept work that is given none, but by who reads its result", async () => {
  const shelf = new Map<string, string>();
  keepOn({
    find: (name, question) => shelf.get(name + question),
    put: (name, question, answer) => void shelf.set(name + question, answer),
  });
  const first = kept("first", isProse, (platform: Platform) => ({ step: platform.procedures[0]!.steps[0]! }));
  const [platform] = watchWords(await load()).platforms as readonly [Platform];
  for (let time = 0; time < 2; time += 1) {
    expect(readBy(() => first(platform))).toEqual([]);
    expect(readBy(() => JSON.stringify(first(platform).step.instruction))).toEqual([nameOf(platform.procedures[0]!)]);
  }
});

it("are all that an edit of words changes", async () => {
  const before = watchWords(await load()),
    after = await load(),
    edited = after.platforms[0]!.procedures[0]!;
  const text = edited.steps[0]!.instruction.children.find((each) => each.kind === "text")!;
  Object.assign(text, { text: "Other words.", where: { ...text.where, column: text.where.column + 7 } });
  watchWords(after);
  expect(digestOfAllButWords(after)).toBe(digestOfAllButWords(before));
  const words = watchedWords(before);
  const otherWords = [...watchedWords(after)].filter(([document, said]) => words.get(document) !== said);
  expect(otherWords.map(([document]) => document)).toEqual([nameOf(edited)]);
  const [step, ...others] = edited.steps as readonly [Procedure["steps"][number], ...Procedure["steps"]],
    turned = { ...edited, steps: [{ ...step, critical: !step.critical }, ...others] },
    [platform] = after.platforms as readonly [Platform];
  const withTurned = (each: Procedure) => {
    const procedures = platform.procedures.map((procedure) => (procedure === edited ? each : procedure));
    return digestOfAllButWords({ ...after, platforms: [{ ...platform, procedures }] });
  };
  expect(withTurned(edited)).toBe(digestOfAllButWords(before));
  expect(withTurned(turned)).not.toBe(digestOfAllButWords(before));
});
