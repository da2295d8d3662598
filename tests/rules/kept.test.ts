/**
 * Findings with results kept from run to run are those without: over every bad example of the rules that are proved,
 * and after random edits. Compared against the same rules with nothing kept.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { shelfIn } from "../../src/build/shelf.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { keepOn, type ResultShelf } from "../../src/domain/words/keep.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { proveSlips } from "../../src/domain/slips/prove.ts";
import { slipsResult } from "../../src/domain/slips/slips-result.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { FIXTURES_TODAY, layOver } from "./judge.ts";

/** Edits that are tried, ten to a collection; `RERIG_EDITS` says another number, and `RERIG_SEED` takes others. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 60),
  SEED = Number(process.env["RERIG_SEED"] ?? 31);
const fixtures = resolve(import.meta.dirname, "../fixtures");
const work = mkdtempSync(join(tmpdir(), "rerig-kept-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
afterEach(() => keepOn(undefined));

/** A shelf over another, which counts what it was asked and what it knew. */
function counting(under: ResultShelf): ResultShelf & { asked: number; known: number } {
  return {
    asked: 0,
    known: 0,
    find(name, question) {
      const answer = under.find(name, question);
      this.asked += 1;
      if (answer !== undefined) this.known += 1;
      return answer;
    },
    put: under.put,
  };
}

/** A folder as it is read, and what was found while it was. */
interface Reading {
  readonly files: Collection;
  readonly read: Findings;
}

async function readFrom(folder: string): Promise<Reading> {
  const read = new Findings();
  return { files: await loadCollection(folder, read), read };
}

/**
 * What is found in a collection, and the proof of its slips, with this shelf. It is given a copy: of the records
 * themselves the process remembers what it has worked out.
 */
function found({ files, read }: Reading, shelf: ResultShelf | undefined, day = FIXTURES_TODAY): string {
  keepOn(shelf);
  const collection = structuredClone(files),
    findings = inFileOrder(runRules(collection, read, day));
  const slips = collection.platforms.map((platform) => {
    try {
      return [
        slipsResult(modelOf(platform), collection.service),
        proveSlips(modelOf(platform), collection.service).rows.map(({ slip, worst }) => [slip.step, worst]),
      ];
    } catch (error) {
      return String(error);
    }
  });
  return JSON.stringify([findings, slips], (_, value: unknown) =>
    typeof value === "bigint" ? String(value) : value instanceof Map ? [...value] : value,
  );
}

const folders = (folder: string) =>
  readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name);

describe("what is found with results kept", () => {
  it("is the same in every bad example of the rules that are proved, the first time and the second", async () => {
    const shelf = counting(shelfIn(join(work, "examples"), "1"));
    for (const group of ["bands", "parts", "fastening", "plan"])
      for (const name of folders(join(fixtures, "rules", group))) {
        const folder = layOver(join(fixtures, "rules", group, name, "not-ok"), work),
          reading = await readFrom(folder),
          bare = found(reading, undefined);
        for (const time of ["first", "second"]) expect([name, time, found(reading, shelf)]).toEqual([name, time, bare]);
        rmSync(folder, { recursive: true });
      }
    expect(shelf.known).toBeGreaterThanOrEqual(shelf.asked / 2);
  });

  it.each(["dolly", "theatre", "workshop"])("is the same in the collection %s", async (name) => {
    const reading = await readFrom(join(fixtures, "collections", name)),
      shelf = shelfIn(join(work, name), "1");
    const bare = found(reading, undefined);
    for (let time = 0; time < 2; time++) expect(found(reading, shelf)).toBe(bare);
  });

  it("is the same on other days, whichever day was asked about first", async () => {
    const reading = await readFrom(join(fixtures, "collections/theatre")),
      shelf = counting(shelfIn(join(work, "days"), "1"));
    const days = ["2026-03-01", "2026-12-01", "2027-07-01"];
    for (const day of [...days, ...days.toReversed()])
      expect([day, found(reading, shelf, day)]).toEqual([day, found(reading, undefined, day)]);
    expect(shelf.known).toBeGreaterThanOrEqual(shelf.asked / 2);
  });

  it("is the same without any sort of field, taken out where it stands first and where it stands last", async () => {
    const shelf = counting(shelfIn(join(work, "fields"), "1")),
      sled = join(fixtures, "collections/sled"),
      folder = join(work, "lacking");
    cpSync(sled, folder, { recursive: true });
    found(await readFrom(folder), shelf);
    const sorts = Map.groupBy(
      textsOf(sled).flatMap((file) => fieldsIn(readFileSync(join(sled, file), "utf8")).map((at) => ({ ...at, file }))),
      ({ sort }) => sort,
    );
    expect([...sorts.keys()]).toEqual(expect.arrayContaining(["step critical", "move from", "room", "title"]));
    for (const [sort, all] of sorts)
      for (const { file, from, to } of new Set([all[0]!, all.at(-1)!])) {
        const text = readFileSync(join(sled, file), "utf8");
        writeFileSync(join(folder, file), text.slice(0, from) + text.slice(to));
        const reading = await readFrom(folder);
        writeFileSync(join(folder, file), text);
        expect([sort, file, found(reading, shelf)]).toEqual([sort, file, found(reading, undefined)]);
      }
    expect(shelf.known).toBeGreaterThan(0);
    expect(shelf.known).toBeLessThan(shelf.asked);
  }, 300_000);

  it("is the same once a step whose slip nobody notices is no longer critical", async () => {
    const shelf = counting(shelfIn(join(work, "critical"), "1")),
      folder = layOver(join(fixtures, "rules/plan/silent-slip/not-ok"), work),
      before = found(await readFrom(folder), shelf);
    for (const file of textsOf(folder)) {
      const path = join(folder, file),
        text = readFileSync(path, "utf8");
      writeFileSync(path, text.replaceAll(/^(:::+step.*?)\bcritical\b/gm, "$1"));
    }
    const reading = await readFrom(folder),
      after = found(reading, undefined);
    expect(after).not.toBe(before);
    expect(found(reading, shelf)).toBe(after);
    expect(shelf.known).toBeGreaterThan(0);
  });

  it(`is the same after each of ${TRIED} random edits, with kept files damaged on the way`, async () => {
    const shelfFolder = join(work, "edits"),
      shelf = counting(shelfIn(shelfFolder, "1"));
    const folder = join(work, "edited");
    const sled = join(fixtures, "collections/sled");
    const files = textsOf(sled);
    const edit = fc.record({
      file: fc.constantFrom(...files),
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      how: fc.constantFrom("word", "number", "line out", "line twice", "undo", "damage"),
    });
    let rounds = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(edit, { minLength: 10, maxLength: 10 }), async (edits) => {
        rmSync(folder, { recursive: true, force: true });
        cpSync(sled, folder, { recursive: true });
        for (const { file, at, how } of edits) {
          if (how === "damage") damage(shelfFolder, at);
          else if (how === "undo") cpSync(join(sled, file), join(folder, file));
          else writeFileSync(join(folder, file), change(readFileSync(join(folder, file), "utf8"), how, at));
          const reading = await readFrom(folder);
          expect(found(reading, shelf)).toBe(found(reading, undefined));
          rounds += 1;
        }
      }),
      { numRuns: TRIED / 10, endOnFailure: true, seed: SEED },
    );
    expect(rounds).toBe(TRIED);
    expect(shelf.known).toBeGreaterThan(0);
    expect(shelf.known).toBeLessThan(shelf.asked);
  }, 900_000);
});

/** The files of a collection that authors write, by their names. */
const textsOf = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => /\.(?:mdx|yaml)$/.test(file))
    .sort();

/**
 * Where fields stand in a text: of directives (`step critical`), of maps in one line (`count`), and in lines of their
 * own (`title`). A field that a proof reads and that is taken for words is then missed by what was kept.
 */
function fieldsIn(text: string): { readonly sort: string; readonly from: number; readonly to: number }[] {
  const directives = [...text.matchAll(/^:+([a-z]+)(?:\[[^\]\n]*\])?\{([^}\n]*)\}/gm)].flatMap((found) => {
    const [whole, name, inside = ""] = found,
      begin = found.index + whole.length - 1 - inside.length;
    return [...inside.matchAll(/\s?[#.]?([\w-]+)(?:=(?:"[^"]*"|[^\s"]+))?/g)].map((field) => ({
      sort: `${name} ${field[0].trim().startsWith("#") ? "#" : field[1]}`,
      from: begin + field.index,
      to: begin + field.index + field[0].length,
    }));
  });
  const fields = [
    ...text.matchAll(/(?<=[{,] *)([a-z-]+): (?:"[^"]*"|\[[^\]]*\]|[^,{}[\]\n]+),?/g),
    ...text.matchAll(/^ *([a-z-]+): (?![{|])[^\n]+\n/gm),
  ].map((field) => ({ sort: field[1]!, from: field.index, to: field.index + field[0].length }));
  return [...directives, ...fields];
}

/** A text with one word, number or line of it otherwise. */
function change(text: string, how: string, at: number): string {
  if (how === "line out" || how === "line twice") {
    const lines = text.split("\n"),
      line = Math.min(lines.length - 1, Math.floor(at * lines.length));
    return lines.toSpliced(line, 1, ...(how === "line out" ? [] : [lines[line]!, lines[line]!])).join("\n");
  }
  const found = [...text.matchAll(how === "word" ? /[a-z]{4,}/g : /\d+/g)],
    one = found[Math.min(found.length - 1, Math.floor(at * found.length))];
  if (!one) return text;
  const other = how === "word" ? `${one[0].slice(1)}x` : String(Number(one[0]) + 1);
  return text.slice(0, one.index) + other + text.slice(one.index + one[0].length);
}

/** Cuts one kept file, or turns a bit of it. */
function damage(folder: string, at: number): void {
  let names: string[] = [];
  try {
    names = readdirSync(folder);
  } catch {
    return;
  }
  const name = names[Math.floor(at * names.length)];
  if (name === undefined) return;
  const file = join(folder, name),
    bytes = readFileSync(file);
  if (at < 0.5) truncateSync(file, Math.floor(bytes.length * at));
  else {
    bytes[Math.floor(bytes.length * at)]! ^= 4;
    writeFileSync(file, bytes);
  }
}
