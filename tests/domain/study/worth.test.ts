/**
 * What questions are worth, against a naive reading of the collection: what the slip of a step comes to (as `data/`
 * says it), incidents, holds, critical steps, and weights that a slip takes into another arrangement. That these make a
 * question worth asking, and in which order, is common practice, no source; 1 lb = 0.45359237 kg is NIST SP 811.
 */
import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { slipsResult } from "../../../src/domain/slips/slips-result.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { listQuestions } from "../../../src/domain/study/questions.ts";
import type { Question } from "../../../src/domain/study/questions/question.ts";
import { FIRST_WEEK, type Worth, worthsOf } from "../../../src/domain/study/worth.ts";
import { Findings } from "../../../src/findings/finding.ts";
import type { Collection, Platform } from "../../../src/schema/collection.ts";
import { exactly, inBand, said } from "./questions-prove.ts";

const root = resolve(import.meta.dirname, "../../..");
const others = join(root, "tests/fixtures/collections");
const folders = [join(root, "procedures"), ...readdirSync(others).map((name) => join(others, name))];
const ORDER = ["made good", "stopped", "seen", "counted", "silent"];

/** The configuration for a weight in kilograms; `undefined` outside all. */
function configurationAt(kg: number, { configurations }: Platform): string | undefined {
  const weight = BigInt(Math.round(kg * 1e9)) * 10n ** 11n;
  return configurations.find(({ status, band }) => status === "approved" && inBand(band, weight, undefined))?.id;
}

/** Points of a weight by the slips that take another arrangement: what the patient belies counts less. */
function pointsOfWeight(kg: number, platform: Platform): number {
  const right = configurationAt(kg, platform);
  const misleads = (read: number) => {
    const taken = configurationAt(read, platform);
    return right !== undefined && taken !== undefined && taken !== right;
  };
  if ([kg / 0.45359237, kg * 0.45359237, Math.floor(kg + 0.5), kg * 1.1, kg * 0.9].some(misleads)) return 9;
  const isAtEnd = platform.configurations.some(({ band: { weight } }) =>
    [weight.from, weight.to].some((end) => end && Math.abs(Number(end.value) / 1e20 - kg) < 0.4989),
  );
  return [kg * 10, kg / 10].some(misleads) || isAtEnd ? 7 : 2;
}

describe.each(folders)("the worth of questions about %s", (folder) => {
  let collection: Collection;
  const banks = new Map<string, { bank: readonly Question[]; worths: ReadonlyMap<string, Worth> }>();

  beforeAll(async () => {
    collection = await loadCollection(folder, new Findings());
    for (const platform of collection.platforms) {
      const bank = listQuestions(collection.service, platform);
      banks.set(platform.id, { bank, worths: worthsOf(collection.service, platform, collection.incidents, bank) });
    }
  }, 300_000);

  it("is what the files and the omission proof say of its step or its weight", () => {
    for (const platform of collection.platforms) {
      const { slips } = slipsResult(modelOf(platform), collection.service);
      const { bank, worths } = banks.get(platform.id)!;
      for (const { id, kind, source, prompt } of bank) {
        const { points } = worths.get(id)!;
        const share = ["home", "count", "photo", "mark", "critical", "who"].includes(kind) ? 2 : 1;
        if (source.step !== undefined) {
          const procedure = platform.procedures.find((each) => each.id === source.id)!,
            step = procedure.steps[source.step - 1]!;
          // A step that is run in another procedure has its slips there too: this reads those of its own run.
          if (step.procedure !== procedure.id) continue;
          const rows = slips.filter((row) => row.procedure === procedure.id && row.step === step.number);
          const pointsOf = (row: (typeof rows)[number]) =>
            [1, 1, "card" in row.worst ? 4 : 3, 4, 6][ORDER.indexOf(row.worst.outcome)]!;
          const expected =
            Math.max(0, ...rows.map(pointsOf)) +
            (step.guards.length > 0 ? 5 : 0) +
            (step.critical ? 3 : 0) +
            (step.hold ? 3 : 0);
          expect(points * share, `${prompt} (step ${step.number})`).toBe(expected);
        } else if (kind === "arrangement") {
          const { weight } = exactly(prompt);
          expect(points, prompt).toBe(pointsOfWeight(Number(weight) / 1e20, platform));
        }
      }
    }
  }, 300_000);

  it("makes a first week of the most: whatever is left out of it is worth no more than what it holds", () => {
    for (const platform of collection.platforms) {
      const { bank, worths } = banks.get(platform.id)!;
      const week = bank.filter(({ id }) => worths.get(id)!.firstWeek);
      expect(week).toHaveLength(Math.min(FIRST_WEEK, bank.length));
      const subject = ({ id, kind, source, key }: Question) => {
        const slip = kind === "arrangement" ? (worths.get(id)!.because[0] ?? "") : "";
        const step = platform.procedures.find((each) => each.id === source.id)?.steps[(source.step ?? 0) - 1];
        return step
          ? said(step)
              .toLowerCase()
              .replace(/[^\p{L}\p{N}]+/gu, " ")
              .trim()
          : `${source.kind} ${source.id} ${key[0]!.means} ${slip}`;
      };
      const inWeek = (question: Question) => week.filter((each) => subject(each) === subject(question));
      // The last one taken of a subject counts half of the one before it, and so on.
      const least = Math.min(
        ...week.map((question) => {
          const points = inWeek(question).map(({ id }) => worths.get(id)!.points);
          return Math.min(...points) / 2 ** (points.length - 1);
        }),
      );
      for (const question of bank.filter((each) => !week.includes(each)))
        expect(worths.get(question.id)!.points / 2 ** inWeek(question).length, question.prompt).toBeLessThanOrEqual(
          least,
        );
      // Each slip with a weight that nothing later tells is asked about in the first week, for each arrangement.
      const weights = bank.filter(({ id, kind }) => kind === "arrangement" && worths.get(id)!.points === 9);
      for (const question of weights) expect(inWeek(question).length, question.prompt).toBeGreaterThan(0);
      // What has happened once is asked about in the first week.
      const guarded = new Set(
        platform.procedures
          .filter(({ status }) => status === "approved")
          .flatMap(({ steps }) => steps.flatMap(({ guards }) => guards.map(({ id }) => id))),
      );
      const asked = new Set(
        week.flatMap(({ source }) =>
          source.step === undefined
            ? []
            : platform.procedures
                .find(({ id }) => id === source.id)!
                .steps[source.step - 1]!.guards.map(({ id }) => id),
        ),
      );
      expect([...guarded].filter((id) => !asked.has(id))).toEqual([]);
    }
  });
});
