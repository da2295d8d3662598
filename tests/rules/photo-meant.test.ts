/**
 * A photo's name with a slip in it is told of once, at the step, with the photo that is meant; and nobody is told to
 * delete that photo (that a step whose picture is lost is done from memory: common practice, no source).
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-photo-meant-"));
afterAll(() => rmSync(work, { recursive: true }));

describe("a photo's name with a slip in it", () => {
  it.each(["Bed", "bde", "bedd"])("%s: the one that is meant is named, and not said to be unused", async (slip) => {
    const folder = join(work, slip);
    cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
    for (const name of ["fit-oxygen", "remove-oxygen", "change-to-shell", "change-to-mattress"]) {
      const file = join(folder, `sled/${name}.mdx`);
      writeFileSync(file, readFileSync(file, "utf8").replaceAll("photo=bed", `photo=${slip}`));
    }
    const findings = new Findings(),
      found = runRules(await loadCollection(folder, findings), findings, "2026-11-28");
    const about = found.filter(({ rule }) => rule.startsWith("photo/"));
    expect(about.length).toBeGreaterThan(0);
    expect(about.map(({ rule }) => rule)).not.toContain("photo/unused");
    for (const { fix } of about) expect(fix).toContain("If the photo `bed` is meant, write that name");
  });
});
