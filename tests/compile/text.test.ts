/**
 * Golden findings of damaged files: each case is what it changes of the sled collection, beside the findings that it
 * gives.
 */
import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";

const fixtures = resolve(import.meta.dirname, "../fixtures");
const cases = readdirSync(join(fixtures, "text"));

/** Loads the sled collection with the files of a case over it; gives whole findings, one a paragraph. */
async function findingsOf(name: string): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "rerig-text-"));
  try {
    cpSync(join(fixtures, "collections/sled"), folder, { recursive: true });
    cpSync(join(fixtures, "text", name), folder, { recursive: true, filter: (file) => !file.endsWith("findings.txt") });
    const findings = new Findings();
    await loadCollection(folder, findings);
    return inFileOrder(findings.list)
      .map(
        ({ file, line, column, rule, message, fix, cause }) =>
          `${file}:${line}:${column} ${rule}\n  ${message}\n  ` +
          `fix: ${fix}\n${cause ? `  cause: ${cause.file}:${cause.line}:${cause.column}\n` : ""}`,
      )
      .join("\n");
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe("findings of the text", () => {
  it("have cases", () => expect(cases.length).toBeGreaterThan(50));

  it.each(cases)("%s", async (name) => {
    const golden = join(fixtures, "text", name, "findings.txt"),
      found = await findingsOf(name);
    if (process.env.UPDATE === "1") writeFileSync(golden, found);
    expect(existsSync(golden), `${golden} is missing: UPDATE=1 writes it`).toBe(true);
    expect(found).toBe(readFileSync(golden, "utf8"));
    if (name.startsWith("clean-")) expect(found).toBe("");
    else expect(found).not.toBe("");
  });
});
