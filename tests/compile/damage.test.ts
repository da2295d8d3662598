/** Whatever happens to a file: the reader never throws, and every finding lies inside its file. */
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { NoCollection, loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import type { Collection } from "../../src/schema/collection.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-damage-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");

function copy(name: string): string {
  const folder = join(work, name);
  cpSync(sled, folder, { recursive: true });
  return folder;
}

async function load(folder: string): Promise<{ collection: Collection; findings: Findings }> {
  const findings = new Findings();
  return { collection: await loadCollection(folder, findings), findings };
}

/** Findings that do not lie inside their file. */
function outside(folder: string, { list }: Findings): unknown[] {
  return list.filter(({ file, line, column }) => {
    if (!existsSync(join(folder, file))) return line !== 1 || column !== 1;
    const lines = readFileSync(join(folder, file), "utf8")
      .replace(/^\ufeff/, "")
      .split(/\r\n?|\n/);
    return !(line >= 1 && line <= lines.length && column >= 1 && column <= lines[line - 1]!.length + 1);
  });
}

describe("a damaged collection", () => {
  it("never makes the reader throw, and every finding lies inside its file", async () => {
    const folder = copy("random");
    const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
      (file) => /\.(?:mdx|yaml)$/.test(file) && !file.includes("reading"),
    );
    const originals = new Map(files.map((file) => [file, readFileSync(join(folder, file), "utf8")]));
    const scraps = fc.constantFrom(
      ":::",
      "::::",
      "::: step",
      ":::step{",
      "{",
      "}",
      "<",
      "<5",
      "<b>",
      "</b>",
      '"',
      "'",
      "[",
      "]",
      ":",
      "::move",
      "::move{item=",
      "---\n",
      "\t",
      "\r",
      "\u0000",
      "\ufeff",
      "&a",
      "*a",
      "!!x",
      "|",
      ">",
      "- ",
      "#",
      "import x",
      "export ",
      "\n\n",
      "`",
      "```\n",
      "\ud800",
      "é",
      "{/*",
      "__proto__: 1\n",
      "? ",
      "%",
      "@",
      ":item[x]",
      "![a](b)",
      "[a]: b\n",
      "## ",
      "> ",
      "    ",
      "under 5",
      ",",
    );
    const damage = fc.record({
      file: fc.constantFrom(...files),
      cuts: fc.array(fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), length: fc.nat(12), scrap: scraps }), {
        minLength: 1,
        maxLength: 4,
      }),
    });
    await fc.assert(
      fc.asyncProperty(damage, async ({ file, cuts }) => {
        let text = originals.get(file)!;
        for (const { at, length, scrap } of cuts) {
          const start = Math.floor(at * text.length);
          text = text.slice(0, start) + scrap + text.slice(start + length);
        }
        writeFileSync(join(folder, file), text);
        try {
          const { findings } = await load(folder);
          expect(outside(folder, findings)).toEqual([]);
          for (const { message, fix, rule } of findings.list) {
            expect(rule).toMatch(/^(?:text|bands)\//);
            expect(message.length).toBeGreaterThan(5);
            expect(fix.length).toBeGreaterThan(5);
            expect(message + fix).not.toMatch(/undefined|\[object|acorn|Invalid input|received|NaN/i);
          }
        } finally {
          writeFileSync(join(folder, file), originals.get(file)!);
        }
      }),
      { numRuns: 120 },
    );
  }, 120_000);

  it("is refused where there is none", async () => {
    await expect(load(join(work, "nowhere"))).rejects.toThrow(NoCollection);
    await expect(load(import.meta.dirname)).rejects.toThrow(/service\.yaml/);
  });

  it("reports a link that leaves it, and reads nothing behind it", async () => {
    const folder = copy("links"),
      secret = join(work, "secret.mdx");
    writeFileSync(secret, "---\ntitle: Secret\n---\n");
    symlinkSync(secret, join(folder, "sled/secret.mdx"));
    symlinkSync(work, join(folder, "other"));
    const { collection, findings } = await load(folder);
    expect(findings.list.map(({ rule, file }) => `${rule} ${file}`)).toEqual([
      "text/bad-value other",
      "text/bad-value sled/secret.mdx",
    ]);
    expect(collection.platforms[0]!.procedures.map((procedure) => procedure.id)).not.toContain("secret");
  });

  it("refuses a text of more than 2 MB, and text that is not UTF-8", async () => {
    const folder = copy("large");
    writeFileSync(join(folder, "sled/huge.mdx"), "a".repeat(2_000_001));
    writeFileSync(
      join(folder, "incidents.yaml"),
      Buffer.from("near-miss-1: { date: 2025-12-20, summary: caf\xe9 }\n", "latin1"),
    );
    const { findings } = await load(folder);
    expect(findings.list.map(({ rule, file, line, column }) => `${rule} ${file}:${line}:${column}`)).toEqual([
      "text/syntax incidents.yaml:1:46",
      "text/bad-value sled/huge.mdx:1:1",
    ]);
  });

  it("is read whole when a platform's equipment is missing: the gap is reported, and nothing else", async () => {
    const folder = copy("bare");
    rmSync(join(folder, "sled/equipment.yaml"));
    const { findings } = await load(folder);
    expect(findings.list.map(({ rule, file, line }) => `${rule} ${file}:${line}`)).toEqual([
      "text/missing-field sled/platform.yaml:1",
    ]);
  });

  it("survives deep nesting and long lines", async () => {
    const folder = copy("deep");
    writeFileSync(join(folder, "incidents.yaml"), `a: ${"[".repeat(20_000)}`);
    writeFileSync(
      join(folder, "sled/deep.mdx"),
      `---\ntitle: Deep\n---\n${"> ".repeat(300)}x\n\n${"*".repeat(5000)}\n\n${"[".repeat(2000)}\n`,
    );
    const { findings } = await load(folder);
    expect(outside(folder, findings)).toEqual([]);
    expect(findings.list.some(({ file }) => file === "incidents.yaml")).toBe(true);
  }, 60_000);
});
