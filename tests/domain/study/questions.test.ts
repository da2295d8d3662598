/**
 * Questions: every key proved right and every distractor proved wrong by a second, naive look; papers that a seed
 * repeats.
 */
import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { packBank, unpackBank } from "../../../src/domain/study/bank.ts";
import { drawPaper, isRight } from "../../../src/domain/study/paper.ts";
import { type Worth, worthsOf } from "../../../src/domain/study/worth.ts";
import { listQuestions } from "../../../src/domain/study/questions.ts";
import type { Question } from "../../../src/domain/study/questions/question.ts";
import type { Collection } from "../../../src/schema/collection.ts";
import { Judge } from "./questions-prove.ts";
import { readCollection } from "../../read-collection.ts";

/** Whether every question of the demo is proved. */
const isEvery = process.env["RERIG_EVERY"] === "1";
const root = resolve(import.meta.dirname, "../../..");
const others = join(root, "tests/fixtures/collections");
const folders = [join(root, "procedures"), ...readdirSync(others).map((name) => join(others, name))];

describe.each(folders)("questions about %s", (folder) => {
  let collection: Collection;
  const banks = new Map<string, readonly Question[]>();

  beforeAll(async () => {
    collection = await readCollection(folder);
    for (const platform of collection.platforms) banks.set(platform.id, listQuestions(collection.service, platform));
  }, 60_000);

  it("have a key that is right and answers beside it that are wrong", () => {
    for (const platform of collection.platforms) {
      const judge = new Judge(collection, platform);
      // Of thousands every third of each kind, all of them before a release.
      const asked = new Map<string, number>(),
        bank = banks.get(platform.id)!;
      const isAsked = ({ kind }: Question) => {
        asked.set(kind, (asked.get(kind) ?? 0) + 1);
        return isEvery || bank.length < 1000 || asked.get(kind)! % 3 === 1;
      };
      const faults = bank
        .filter(isAsked)
        .flatMap((question) =>
          judge.prove(question).map((fault) => `${question.id}\n  ${question.prompt}\n  ${fault}`),
        );
      expect(faults).toEqual([]);
    }
  }, 300_000);

  it("ask about every approved procedure and configuration, and of each procedure about each critical step", () => {
    for (const platform of collection.platforms) {
      // A platform with one arrangement and nothing to mistake it for may have no question about it.
      const bank = banks.get(platform.id)!;
      const spread = new Map<string, number>();
      for (const { source } of bank)
        spread.set(`${source.kind} ${source.id}`, (spread.get(`${source.kind} ${source.id}`) ?? 0) + 1);
      const documents = [
        ...platform.procedures
          .filter(({ status, steps }) => status === "approved" && steps.length > 2)
          .map(({ id }) => `procedure ${id}`),
        ...(platform.configurations.length > 1 ? platform.configurations : [])
          .filter(({ status }) => status === "approved")
          .map(({ id }) => `configuration ${id}`),
      ];
      expect(documents.filter((document) => !spread.has(document))).toEqual([]);
      // A step that several procedures include is one step: where it is asked about does not matter.
      const whereOf = (id: string, number?: number) =>
        JSON.stringify(
          platform.procedures.find((each) => each.id === id)?.steps.find((step) => step.number === number)?.where,
        );
      const asked = new Set(bank.map(({ source }) => whereOf(source.id, source.step)));
      // Of two steps nothing near can be asked: what is far away would be seen to be wrong by anybody.
      const missed = platform.procedures
        .filter(({ status, steps }) => status === "approved" && steps.length > 2)
        .flatMap((procedure) =>
          procedure.steps
            .filter(({ critical, where }) => critical && !asked.has(JSON.stringify(where)))
            .map(({ number }) => `${procedure.id} step ${number}`),
        );
      expect(missed).toEqual([]);
      console.log(
        `${platform.name}: ${bank.length} questions over ${spread.size} ` +
          `documents, ${Math.min(...spread.values())} to ${Math.max(...spread.values())} ` +
          `each: ${[...spread].map(([id, count]) => `${id} ${count}`).join(", ")}`,
      );
    }
  });

  it("stay the same, with their ids, as long as the content does", () => {
    for (const platform of collection.platforms) {
      const bank = banks.get(platform.id)!;
      expect(listQuestions(collection.service, structuredClone(platform)).map(({ id }) => id)).toEqual(
        bank.map(({ id }) => id),
      );
      expect(new Set(bank.map(({ id }) => id)).size).toBe(bank.length);
    }
  }, 60_000);

  it("give the same paper for the same seed, with the key at the place that the paper says", () => {
    for (const platform of collection.platforms) {
      const bank = banks.get(platform.id)!;
      fc.assert(
        fc.property(fc.string(), fc.integer({ min: 1, max: 30 }), (seed, count) => {
          const paper = drawPaper(bank, seed, count);
          expect(drawPaper(bank, seed, count)).toEqual(paper);
          expect(paper).toHaveLength(Math.min(count, bank.length));
          for (const asked of paper) {
            const { question, choices, right } = asked;
            expect(right.map((at) => choices[at])).toEqual(question.key.map(({ text }) => text));
            expect(new Set(choices).size).toBe(choices.length);
            expect(
              choices
                .filter((choice) => !question.key.some(({ text }) => text === choice))
                .every((choice) => question.wrong.some(({ text }) => text === choice)),
            ).toBe(true);
            expect(choices.length).toBeGreaterThan(2);
            expect(isRight(asked, right)).toBe(true);
            if (question.kind === "order") expect(right).not.toEqual(choices.map((_, at) => at));
            else choices.forEach((_, at) => expect(isRight(asked, [at])).toBe(at === right[0]));
          }
        }),
        { numRuns: 100 },
      );
    }
  }, 60_000);

  it("tell weights as a scale or the file does, and never answer that a thing is on itself (common practice)", () => {
    for (const platform of collection.platforms)
      for (const { kind, prompt, asks, wrong } of banks.get(platform.id)!) {
        expect(prompt).not.toMatch(/\d\.\d{4,} kg/);
        if (kind !== "home") continue;
        const onIt = platform.places.filter(({ on }) => on === asks["item"]).map(({ id }) => id);
        expect(wrong.filter(({ means }) => onIt.includes(means))).toEqual([]);
      }
  });

  it("come out of a packed bank as they went in", () => {
    for (const platform of collection.platforms) {
      const bank = banks.get(platform.id)!;
      // Of thousands what they are worth is worked out in worth.test.ts; here it is only packed.
      const worths =
        bank.length < 1000
          ? worthsOf(collection.service, platform, collection.incidents, bank)
          : new Map(bank.map(({ id, prompt }, at) => [id, inventWorth(at, prompt)]));
      const plain = bank.map(({ id, kind, source, prompt, given, photo, drawn, proof, why, shows, key, wrong }) => ({
        id,
        kind,
        source,
        prompt,
        given,
        ...(photo === undefined ? {} : { photo }),
        ...(drawn === undefined ? {} : { drawn }),
        proof,
        why,
        ...(shows === undefined ? {} : { shows }),
        key: key.map(({ text }) => ({ text })),
        wrong: wrong.map(({ text }) => ({ text })),
        worth: worths.get(id)!,
      }));
      expect(unpackBank(JSON.parse(JSON.stringify(packBank(bank, worths))), platform.id)).toEqual(plain);
    }
  });
});

/** A worth of any kind, for what comes of it in a packed bank. */
const inventWorth = (at: number, prompt: string): Worth => ({
  points: (at % 40) / 2,
  firstWeek: at % 3 === 0,
  because: at % 4 === 0 ? [] : [prompt.slice(0, at % 7), "of a hold"],
});

/** Kinds whose answers are free texts, of which there are enough of all lengths in the demo. */
const FREE = new Set(["next", "missing", "home", "check", "left-out", "reason", "mark"]);

let ofDemo: Promise<readonly Question[]> | undefined;
/** The questions about the demo's platform, listed once for all kinds. */
function questionsOfDemo(): Promise<readonly Question[]> {
  ofDemo ??= readCollection(folders[0]!).then(({ service, platforms }) => listQuestions(service, platforms[0]!));
  return ofDemo;
}

it("ask of a look for its numbers and colours: the wrong answer beside it is the look in a hurry", async () => {
  // Haladyna, Downing, Rodriguez 2002, guidelines 27 and 29 (from memory): plausible distractors, typical errors.
  const bank = (await questionsOfDemo()).filter(({ kind }) => kind === "check");
  const slips = (id: string, challenge: string) =>
    bank
      .find(({ source, asks }) => source.id === id && asks["challenge"] === challenge)!
      .wrong.filter(({ means }) => means.startsWith(`${challenge}, `))
      .map(({ text }) => text);
  const [bolts, dots] = slips("load-to-vehicle", "Floor lock");
  expect([bolts, dots]).toEqual(["three bolts, two green dots", "two bolts, three green dots"]);
  // A ring that must not be there is not there in red either.
  expect(slips("fit-child-cradle", "Buckles")).toEqual(["three clicks, no yellow ring"]);
  const all = bank.flatMap(({ key, wrong, asks }) =>
    wrong.filter(({ means }) => means.startsWith(`${asks["challenge"]}, `)).map(({ text }) => [key[0]!.text, text]),
  );
  expect(all.length).toBeGreaterThan(100);
  for (const [key, text] of all) {
    const words = key!.split(/\P{L}+/u),
      others = text!.split(/\P{L}+/u).filter((word, at) => word !== words[at]);
    expect([key, text, others.length]).toEqual([key, text, 1]);
    expect(text).not.toMatch(/\bof (?:two|three)\b|(\b\w+\b) and \1\b/);
  }
});

it.each([...FREE])(
  "of the kind %s cannot be answered by the length of the choices",
  async (kind) => {
    // Haladyna, Downing, Rodriguez 2002, guideline 25 (from memory): keep the length of choices about equal.
    const bank = (await questionsOfDemo()).filter((question) => question.kind === kind);
    expect(bank.length).toBeGreaterThan(90);
    let longest = 0,
      shortest = 0,
      chance = 0,
      asked = 0;
    for (const seed of ["a", "b", "c"])
      for (const { choices, right } of drawPaper(bank, seed, bank.length)) {
        const own = choices[right[0]!]!.length,
          others = choices.filter((_, at) => at !== right[0]).map(({ length }) => length);
        asked += 1;
        chance += 1 / choices.length;
        if (others.every((length) => length < own)) longest += 1;
        if (others.every((length) => length > own)) shortest += 1;
      }
    // An eighth above chance is more than two and a half standard deviations of ninety questions.
    expect(longest / asked).toBeLessThan(chance / asked + 0.12);
    expect(shortest / asked).toBeLessThan(chance / asked + 0.12);
    expect((longest + shortest) / asked).toBeGreaterThan(0.25);
  },
  120_000,
);
