/** The note that `rerig new` writes beside the starter: what it shows can be typed off and is read without an error. */
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runHere } from "./run-here.ts";

/** `In FILE[, under KEY]:` or `New file FILE:`, and the example that follows. */
const EXAMPLE = /^(In|New file) `([^`]+)`(?:, under `([^`]+)`)?:\n\n```\w+\n([^]*?)^```$/gm;

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rerig-guide-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

interface Checked {
  readonly findings: readonly { rule: string; severity: string; file: string; message: string }[];
}

async function check(collection: string): Promise<Checked["findings"]> {
  const { stdout } = await runHere(["check", "--procedures", collection, "--json"], "2026-11-28");
  return (JSON.parse(stdout) as Checked).findings;
}

async function typeOff(guide: string, collection: string): Promise<string[]> {
  const files: string[] = [];
  for (const [, how, file, key, text] of guide.matchAll(EXAMPLE)) {
    const path = join(collection, file!);
    await mkdir(dirname(path), { recursive: true });
    const before = how === "In" ? await readFile(path, "utf8") : "";
    if (key !== undefined) expect(before).toContain(`\n${key}:\n`);
    await writeFile(path, key === undefined ? before + text! : before.replace(`\n${key}:\n`, `\n${key}:\n${text!}`));
    files.push(file!);
  }
  return files;
}

// Compared against the collection's own reader; the starter and its note are invented.
describe("the note of `rerig new`", () => {
  it("is taken for no procedure, and what it shows is read without a finding of text or photo", async () => {
    const collection = join(folder, "mine");
    expect((await runHere(["new", collection])).status).toBe(0);
    expect(await check(collection)).toEqual([]);
    const files = await typeOff(await readFile(join(collection, "README.md"), "utf8"), collection);
    expect(files).toHaveLength(7);
    const plain = sharp({ create: { width: 1200, height: 900, channels: 3, background: "#888" } });
    await plain.jpeg().toFile(join(collection, "trolley/photos/deck-lever.jpg"));
    const step = join(collection, "trolley/fit-small-seat.mdx");
    const before = await readFile(step, "utf8");
    const after = before.replace(
      ":::step{by=lead critical ",
      ":::step{by=lead critical photo=deck-lever guards=near-miss-1 ",
    );
    expect(after).not.toBe(before);
    await writeFile(step, after);
    // Warnings stay: no configuration allows the option yet.
    const wrong = (await check(collection)).filter(({ rule, severity }) => severity === "error" || /^text/.test(rule));
    expect(wrong).toEqual([]);
  });

  it("would be found out if it showed what can't be read", async () => {
    const collection = join(folder, "spoiled");
    expect((await runHere(["new", collection])).status).toBe(0);
    const guide = (await readFile(join(collection, "README.md"), "utf8")).replaceAll("holds: []", "hold: []");
    await typeOff(guide, collection);
    expect((await check(collection)).map(({ rule }) => rule)).toContain("text/unknown-field");
  });
});
