/**
 * What makes a question worth answering: wrong answers that somebody could take for right, patients who exist, and a
 * prompt that says whose steps are meant. That implausible wrong answers are no test is T. M. Haladyna, S. M. Downing,
 * M. C. Rodriguez, A review of multiple-choice item-writing guidelines, Applied Measurement in Education 15 (2002) 309,
 * guideline 29 (from memory); what is near is common practice, no source. Looked at a second time, naively.
 */
import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { listQuestions } from "../../../src/domain/study/questions.ts";
import type { Question } from "../../../src/domain/study/questions/question.ts";
import type { Collection, Platform, Procedure } from "../../../src/schema/collection.ts";
import { exactly, inBand, said, textOf } from "./questions-prove.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");
const others = join(root, "tests/fixtures/collections");
const folders = [join(root, "procedures"), ...readdirSync(others).map((name) => join(others, name))];

/** What a procedure handles, by name of kind and id; a store is everybody's and makes nobody a neighbour. */
function handled({ steps }: Procedure, { places }: Platform): string[] {
  const stores = places.filter(({ kind }) => kind === "store").map(({ id }) => id);
  return steps.flatMap(({ operations }) =>
    operations.flatMap((each) =>
      each.kind === "turn"
        ? [each.fastening]
        : [each.item, ...[each.from, each.to].filter((place) => !stores.includes(place) && place !== "aside")],
    ),
  );
}

/** Ids of configurations and options of which a procedure moves a piece into or out of where they have it. */
function worksOn({ steps }: Procedure, { configurations, options }: Platform): string[] {
  return [...configurations, ...options]
    .filter(({ fitted }) =>
      fitted.some((piece) =>
        steps.some(({ operations }) =>
          operations.some(
            (each) => each.kind === "move" && each.item === piece.item && [each.from, each.to].includes(piece.place),
          ),
        ),
      ),
    )
    .map(({ id }) => id);
}

function isNear(one: Procedure, other: Procedure, platform: Platform): boolean {
  return (
    one === other ||
    handled(one, platform).some((thing) => handled(other, platform).includes(thing)) ||
    worksOn(one, platform).some((document) => worksOn(other, platform).includes(document))
  );
}

/** The approved procedures that say a wrong answer: as an instruction, a reason, an answer, or a mark of its photos. */
function whoSay(text: string, sayers: Sayers): readonly Procedure[] {
  return sayers.get(text.toLowerCase()) ?? [];
}

type Sayers = ReadonlyMap<string, readonly Procedure[]>;

/** Every text that an approved procedure says, in lower case. */
function sayersOf({ procedures, photos }: Platform): Sayers {
  const sayers = new Map<string, Procedure[]>();
  for (const procedure of procedures.filter(({ status }) => status === "approved"))
    for (const step of procedure.steps) {
      const marks = photos
        .filter(({ id }) => step.photos.some((photo) => photo.id === id))
        .flatMap((each) => each.marks);
      for (const text of [
        said(step),
        step.reason ? textOf(step.reason.children).trim() : "",
        ...step.checks.flatMap(({ answer, challenge }) => [answer, challenge]),
        ...marks.map(({ label }) => label),
      ])
        sayers.set(text.toLowerCase(), [...(sayers.get(text.toLowerCase()) ?? []), procedure]);
    }
  return sayers;
}

/** Wrong answers of a question that come from elsewhere. */
function farAnswers({ kind, source, wrong }: Question, platform: Platform, sayers: Sayers): string[] {
  if (!["next", "missing", "reason", "check", "mark", "applies", "critical"].includes(kind)) return [];
  const own = platform.procedures.find(({ id }) => source.kind === "procedure" && id === source.id);
  if (!own) return [];
  return wrong
    .map(({ text }) => text)
    .filter((text) => {
      const from = whoSay(text, sayers);
      // A line of a card is near what builds the card's arrangement.
      const onCard = platform.configurations.some(
        ({ id, checks }) =>
          worksOn(own, platform).includes(id) &&
          checks.some(({ answer, challenge }) => answer === text || challenge === text),
      );
      return from.length > 0 && !onCard && !from.some((each) => isNear(own, each, platform));
    });
}

describe.each(folders)("questions about %s", (folder) => {
  let collection: Collection;
  const banks = new Map<string, readonly Question[]>();

  beforeAll(async () => {
    collection = await readCollection(folder);
    for (const platform of collection.platforms) banks.set(platform.id, listQuestions(collection.service, platform));
  }, 120_000);

  it("take no wrong answer from elsewhere", () => {
    for (const platform of collection.platforms) {
      const bank = banks.get(platform.id)!,
        sayers = sayersOf(platform);
      const far = bank.flatMap((question) =>
        farAnswers(question, platform, sayers).map((text) => `${question.prompt}\n  ${text}`),
      );
      expect(far).toEqual([]);
    }
  }, 120_000);

  it("take no step and no reason of another procedure where three of their own are there to be wrong", () => {
    for (const platform of collection.platforms)
      for (const { kind, source, prompt, wrong } of banks.get(platform.id)!) {
        if (!["next", "missing", "reason"].includes(kind) || source.kind !== "procedure") continue;
        const own = wrong.filter(({ means }) => !means.includes("/") || means.startsWith(`${source.id}/`));
        expect(own.length < 3 ? 3 : wrong.length, prompt).toBe(Math.max(own.length, 3));
        expect(wrong.length, prompt).toBeLessThanOrEqual(Math.max(own.length, 3));
      }
  });

  it("tell the answer to a challenge neither by its own words nor by its length", () => {
    // Haladyna, Downing, Rodriguez, guidelines 24 (choices of about equal length) and 28b (no clang associations: a
    // choice that repeats words of the stem), from memory.
    for (const bank of banks.values())
      for (const { kind, asks, prompt, key, wrong } of bank) {
        if (kind !== "check") continue;
        const words = asks["challenge"]!.toLowerCase()
          .split(/[^a-z]+/)
          .filter((word) => word.length > 4)
          .map((word) => word.replace(/s$/, ""));
        const repeats = (text: string) => words.some((word) => text.toLowerCase().includes(word));
        const answer = key[0]!.text;
        expect(repeats(answer) && !wrong.some(({ text }) => repeats(text)), prompt).toBe(false);
        const longest = Math.max(...wrong.map(({ text }) => text.length));
        if (answer.length > 30) expect(answer.length, prompt).toBeLessThanOrEqual(2 * longest);
      }
  });

  it("ask about nobody who does not exist", () => {
    // WHO Child Growth Standards, weight-for-age, ±3 SD, the wider of boys and girls: at 12 months 6.273 to 13.341 kg,
    // at 60 months 12.053 to 29.545 kg; at 1 month up to 6.6 kg (printed table, from memory).
    const rows = [
      { days: 31, most: 6.6 },
      { days: 366, most: 13.35 },
      { days: 1827, most: 29.55 },
    ];
    const least = [
      // Born early: nobody who lived weighed under 0.25 kg, and who is born early gains 12 g and more a day for each kg
      // once the first two weeks are over (15 to 20 is usual; from memory): 0.61 kg at 89 days.
      { days: 89, least: 0.61 },
      { days: 365, least: 6.3 },
      { days: 1826, least: 12.1 },
    ];
    for (const bank of banks.values())
      for (const { prompt } of bank) {
        const { weight, age } = exactly(prompt);
        if (weight === undefined || age === undefined) continue;
        const kg = Number(weight) / 1e20,
          days = Number(age) / 1e16;
        const most = rows.find((row) => days <= row.days)?.most ?? Infinity,
          fewest = least.findLast((row) => days >= row.days)?.least ?? 0;
        expect(kg, prompt).toBeLessThanOrEqual(most);
        expect(kg, prompt).toBeGreaterThanOrEqual(fewest);
      }
  });

  it("name a patient wherever the steps differ between patients, and it is a patient with just these steps", () => {
    for (const platform of collection.platforms)
      for (const { prompt, asks, kind } of banks.get(platform.id)!) {
        if (!asks["steps"] || kind === "critical") continue;
        const procedure = platform.procedures.find(({ id }) => id === asks["procedure"])!;
        const told = /, for a patient of ([^.]*?(?:\d\.\d[^.]*?)?)\. /.exec(prompt)?.[1];
        const { weight, age } = exactly(told ?? "");
        const own = told
          ? procedure.steps.filter(
              (step) =>
                inBand(step.band, weight, age) &&
                inBand(platform.procedures.find(({ id }) => id === step.procedure)!.band, weight, age),
            )
          : procedure.steps;
        // Where nobody is named, all steps are for all of its patients whom the service carries.
        expect(own.map(({ number }) => number).join(" "), prompt).toBe(asks["steps"]);
      }
  });
});
