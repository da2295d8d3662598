/**
 * A collection read from kept files is the one that is read anew, findings included, after every edit; a shelf that is
 * damaged is as good as none. Compared with reading without a shelf. Common practice, no source.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { deserialize, serialize } from "node:v8";
import { afterAll, describe, expect, it } from "vitest";
import { compiledIn } from "../../src/build/shelf.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { writeGraph } from "../../src/domain/words/graph.ts";
import { Findings } from "../../src/findings/finding.ts";
import type { CompiledShelf } from "../../src/compile/kept/keep-compiled.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-compiled-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const fixtures = resolve(import.meta.dirname, "../fixtures");
const collections = [
  resolve(import.meta.dirname, "../../procedures"),
  ...readdirSync(join(fixtures, "collections")).map((name) => join(fixtures, "collections", name)),
];

async function readWith(folder: string, compiled?: CompiledShelf) {
  const findings = new Findings(),
    collection = await loadCollection(folder, findings, compiled ? { compiled } : {});
  return { collection, findings: findings.list };
}

const textOf = (value: unknown) =>
  JSON.stringify(value, (_key, each: unknown) => {
    if (each instanceof Map || each instanceof Set) return [...(each as Iterable<unknown>)];
    return typeof each === "bigint" ? `${each}n` : each;
  });

/** The same values, with their fields in the same order. */
function expectSame(read: Awaited<ReturnType<typeof readWith>>, plain: Awaited<ReturnType<typeof readWith>>): void {
  expect(read).toEqual(plain);
  expect(textOf(read)).toBe(textOf(plain));
}

/** A shelf that counts what it had to put. */
function counting(shelf: CompiledShelf) {
  const put: string[] = [];
  return {
    put,
    shelf: { ...shelf, put: (...given: Parameters<CompiledShelf["put"]>) => (put.push(given[0]), shelf.put(...given)) },
  };
}

describe("compiled files that are kept", () => {
  it.each(collections)("give the same collection and findings: %s", async (folder) => {
    const plain = await readWith(folder),
      kept = join(work, "kept");
    const first = counting(compiledIn(folder, kept, "1")),
      again = counting(compiledIn(folder, kept, "1"));
    const fresh = await readWith(folder, first.shelf),
      found = await readWith(folder, again.shelf);
    expectSame(fresh, plain);
    expectSame(found, plain);
    expect(again.put).toEqual([]);
    // Also what they share: else the second check of a collection asks for its proofs as if they were others.
    const graphOf = (read: typeof found) => writeGraph(deserialize(serialize(read.collection.platforms)));
    expect(graphOf(found)).toBe(graphOf(fresh));
  });

  it("are read once more where the file, a name that it may use, or the version of the code is another", async () => {
    const folder = join(work, "sled"),
      kept = join(work, "edited");
    cpSync(join(fixtures, "collections/sled"), folder, { recursive: true });
    const read = async (version = "1") => {
      const { shelf, put } = counting(compiledIn(folder, kept, version)),
        found = await readWith(folder, shelf);
      expectSame(found, await readWith(folder));
      return put;
    };
    const all = await read(),
      one = all[0]!,
      file = join(folder, one);
    expect(await read()).toEqual([]);
    writeFileSync(file, `${readFileSync(file, "utf8")}\nOne more line, with :::nonsense in it.\n\n:::nonsense\n:::\n`);
    expect(await read()).toEqual([one]);
    const service = join(folder, "service.yaml");
    writeFileSync(service, readFileSync(service, "utf8").replace("tail: Tail hand", "rear: Tail hand"));
    expect((await read()).length).toBe(all.length);
    const equipment = join(folder, "sled/equipment.yaml");
    writeFileSync(equipment, readFileSync(equipment, "utf8").replace("oxygen-bottle:", "air-bottle:"));
    expect((await read()).length).toBe(all.length);
    expect((await read("2")).length).toBe(all.length);
  });

  it("are worked out again where a file of the shelf was cut or changed", async () => {
    const folder = join(fixtures, "collections/sled"),
      plain = await readWith(folder);
    for (const [name, damage] of Object.entries({
      cut: (file: string) => truncateSync(file, 100),
      empty: (file: string) => truncateSync(file, 0),
      changed: (file: string) => {
        const bytes = readFileSync(file);
        bytes[bytes.length >> 1]! ^= 4;
        writeFileSync(file, bytes);
      },
    })) {
      const kept = join(work, name);
      await readWith(folder, compiledIn(folder, kept, "1"));
      const other = join(work, `${name}-seen-by-another-process`);
      cpSync(kept, other, { recursive: true });
      for (const file of readdirSync(other)) damage(join(other, file));
      const { shelf, put } = counting(compiledIn(folder, other, "1"));
      expectSame(await readWith(folder, shelf), plain);
      expect(put.length).toBeGreaterThan(0);
    }
  });
});
