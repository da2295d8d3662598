/**
 * A weight in a doubt zone is never answered without its question: over a grid of weights and ages, on the page's data
 * and by the command. The zones of the demo are those of its own FCR-T-29, in grams; those of the sled are invented.
 */
import { cpSync, mkdtempSync, rmSync, writeFileSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { choose } from "../../src/domain/bands/choose.ts";
import { firstQuestionsOn, sayFirstQuestion } from "../../src/domain/bands/doubts.ts";
import { readAge, readWeight } from "../../src/domain/bands/entry.ts";
import { runHere } from "../commands/run-here.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-doubt-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const AGES = [undefined, "1 days", "6 months", "2 years", "12 years"] as const;
const weightOf = (text: string) => {
  const entry = readWeight(text);
  if (entry.kind !== "value") throw new Error(text);
  return entry.value;
};
const ageOf = (text: string | undefined) => {
  if (text === undefined) return undefined;
  const entry = readAge(text);
  if (entry.kind !== "value") throw new Error(text);
  return entry.value;
};

describe("what the service asks", () => {
  it("stands before every answer in the zones of FCR-T-29, and nowhere else", async () => {
    const collection = await readCollection(join(root, "procedures")),
      platform = collection.platforms[0]!;
    const table = {
      service: collection.service.band,
      rows: platform.configurations,
      questions: firstQuestionsOn(collection, platform),
    };
    const zones = [
      [4_500, 5_500],
      [36_000, 44_000],
    ] as const;
    // Every 50 g to 60 kg, every 500 g above, and each end of a zone a gram to either side.
    const grid = new Set(zones.flatMap((zone) => zone.flatMap((end) => [end - 1, end, end + 1])));
    for (let grams = 1_200; grams < 130_000; grams += grams < 60_000 ? 50 : 500) grid.add(grams);
    let asked = 0;
    for (const grams of grid)
      for (const unit of ["g", "kg"])
        for (const age of AGES) {
          const weight = weightOf(unit === "g" ? `${grams} g` : `${(grams / 1000).toFixed(4)} kg`);
          const first = choose(table, weight, ageOf(age)),
            after = choose(table, weight, ageOf(age), { isReadBack: true });
          const inZone = zones.some(([from, to]) => grams >= from && grams < to);
          if (inZone) asked++;
          expect([weight.text, age, first.kind]).toEqual([weight.text, age, inZone ? "asked" : "found"]);
          expect(after.kind === "found" && after.questions.length).toBe(inZone ? 1 : 0);
          if (first.kind === "asked")
            expect(first.questions[0]!.fetch.map(({ id }) => id)).toEqual(
              grams < 6_000 ? ["newborn-capsule", "child-cradle"] : ["child-cradle", "deck-harness"],
            );
        }
    expect(asked).toBeGreaterThan(1000);
  });
  it("stands before the command's answer too, in words and in JSON", async () => {
    const folder = join(work, "sled");
    cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
    const service = join(folder, "service.yaml");
    writeFileSync(
      service,
      readFileSync(service, "utf8") +
        "doubt: [{ weight: from 28 kg to under 32 kg, say: Ask for a weight of today, " +
        "fetch: [child-shell, vacuum-mattress] }, { weight: from 60 kg, age: under 12 years, say: Ask for the age }]\n",
    );
    const run = (weight: string, age: string | undefined, ...more: string[]) =>
      runHere(["choose", "--procedures", folder, "--weight", weight, ...(age ? ["--age", age] : []), ...more]);
    for (const kg of [8, 27.99, 28, 29.9, 30, 31.99, 32, 59.9, 60, 149])
      for (const age of [undefined, "11 years", "12 years"]) {
        const weight = `${kg} kg`,
          isZone = (kg >= 28 && kg < 32) || (kg >= 60 && age !== "12 years");
        const plain = await run(weight, age),
          json = JSON.parse((await run(weight, age, "--json")).stdout) as { configurations: string[]; ask?: unknown[] },
          read = await run(weight, age, "--read-back");
        expect([weight, age, plain.status, plain.stdout.startsWith("First: Ask for")]).toEqual([
          weight,
          age,
          0,
          isZone,
        ]);
        expect(/child-shell\)|vacuum-mattress\)/.test(plain.stdout)).toBe(!isZone);
        expect([json.configurations.length, json.ask?.length]).toEqual(isZone ? [0, 1] : [1, undefined]);
        expect(/\((child-shell|vacuum-mattress)\)/.test(read.stdout)).toBe(true);
        expect(read.stdout.startsWith("First: Ask for")).toBe(isZone);
      }
  });
  // WHO Child Growth Standards, weight-for-age: at 2 years the outermost lines are 8.1 and 17.8 kg (3 SD, girls, boys;
  // from memory, to a tenth); 6 months: up to 11.1 kg.
  it("is asked back for an age that does not fit, and an age alone chooses nothing", async () => {
    const choose = async (...args: string[]) => (await runHere(["choose", ...args], "2026-11-28")).stdout;
    const odd = JSON.parse(await choose("--weight", "3.9 kg", "--age", "2 years", "--json")) as object;
    expect(odd).toMatchObject({
      configurations: [],
      ask: [{ say: expect.stringMatching(/does not fit.*WHO/) as string }],
    });
    expect(await choose("--weight", "3.9 kg", "--age", "2 years")).not.toContain("(newborn-capsule)");
    expect(await choose("--weight", "3.9 kg", "--age", "2 years", "--read-back")).toContain("(newborn-capsule)");
    expect(await choose("--weight", "3.9 kg", "--age", "2 days")).toContain("(newborn-capsule)");
    expect(JSON.parse(await choose("--age", "6 months", "--json"))).toMatchObject({
      age: "6 months",
      configurations: [],
      open: ["newborn-capsule", "child-cradle", "deck-harness"],
    });
    expect(await choose("--age", "6 months")).toMatch(/An age chooses none of them.*Usual at 6 months: .*WHO/s);
    expect((await runHere(["choose"], "2026-11-28")).status).toBe(2);
  });
  it("says what to have at hand", () => {
    const fetch = [{ title: "Newborn capsule" }, { title: "Child cradle" }] as never[];
    expect(sayFirstQuestion({ say: "Ask for a weight of today", fetch })).toBe(
      "Ask for a weight of today. At hand until then: Newborn capsule and Child cradle.",
    );
    expect(sayFirstQuestion({ say: "Who weighed it?", fetch: [] })).toBe("Who weighed it?");
  });
});
