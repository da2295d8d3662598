/**
 * Every rule against its good and its bad example, which are also its documentation.
 *
 * A fixture is a folder `tests/fixtures/rules/GROUP/NAME/` for the rule `GROUP/NAME`:
 *
 *     ok/…             files laid over the collection tests/fixtures/collections/sled: no finding may come out
 *     not-ok/…         files laid over the same collection, in which one thing is wrong
 *     findings.txt     all findings of not-ok, golden; written by `UPDATE=1 npx vitest run tests/rules/rules.test.ts`
 *
 * `removed.txt` in either folder lists files of the collection to leave out, one a line. A folder of the form NAME.CASE
 * beside it (`missing.sidecar`) holds
 * a further case of the same rule; those need no ok/. Change as little as possible between ok and not-ok: what differs
 * is printed as the example.
 * Today is 2026-06-01. `policy` applies, so switch on in service.yaml what the collection switches off.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { Finding } from "../../src/findings/finding.ts";
import { rules } from "../../src/rules/all.ts";
import { FIXTURES_TODAY, judgeFolder, layOver } from "./judge.ts";

const fixtures = resolve(import.meta.dirname, "../fixtures/rules");
const work = mkdtempSync(join(tmpdir(), "rerig-rules-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const list = (folder: string) =>
  existsSync(folder)
    ? readdirSync(folder, { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map((entry) => entry.name)
    : [];
const cases = list(fixtures).flatMap((group) =>
  list(join(fixtures, group)).map((name) => ({
    group,
    name,
    rule: `${group}/${name.split(".")[0]}`,
    folder: join(fixtures, group, name),
  })),
);

/** All findings of the base collection with a folder's files laid over it. */
async function findIn(overlay: string): Promise<Finding[]> {
  return (await judgeFolder(layOver(overlay, work), FIXTURES_TODAY)).findings;
}

function print(findings: readonly Finding[]): string {
  return findings
    .map(
      ({ file, line, column, severity, rule, message, fix }) =>
        `${file}:${line}:${column} ${severity} ${rule}\n  ${message}\n  fix: ${fix}\n`,
    )
    .join("");
}

describe("the collection that the examples are laid over", () => {
  it("has no finding", async () => {
    expect(print(await findIn(join(work, "none")))).toBe("");
  });
});

describe.each(cases)("$group/$name", ({ name, rule, folder }) => {
  it("is a rule that there is", () => {
    expect(rules.map(({ id }) => id)).toContain(rule);
  });

  // Further bad examples (`gap.inside`) share the good one of their rule (`gap`).
  if (existsSync(join(folder, "ok")) || !name.includes("."))
    it("says nothing about the good example", async () => {
      expect(existsSync(join(folder, "ok"))).toBe(true);
      expect(print(await findIn(join(folder, "ok")))).toBe("");
    });

  it("finds what is wrong in the bad example, at its place, with at most two findings that follow", async () => {
    const findings = await findIn(join(folder, "not-ok"));
    const golden = join(folder, "findings.txt");
    if (process.env["UPDATE"]) writeFileSync(golden, print(findings));
    expect(print(findings)).toBe(readFileSync(golden, "utf8"));
    const own = findings.filter((finding) => finding.rule === rule);
    expect(own.length).toBeGreaterThan(0);
    expect(own[0]!.severity).toBe(rules.find(({ id }) => id === rule)!.severity);
    expect(findings.length - own.length).toBeLessThanOrEqual(2);
  });
});
