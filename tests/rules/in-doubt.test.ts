/**
 * A file that could not be read whole is said at its place, and nothing that rests on it: whoever obeyed such a finding
 * would put right what is right. Files of a collection, and what another one's issued cards are made of, are damaged in
 * each of these ways in turn; what is then found beside the damage itself was found before.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { judgeFolder } from "./judge.ts";

const TODAY = "2026-11-20";
const root = resolve(import.meta.dirname, "../fixtures/collections"),
  work = mkdtempSync(join(tmpdir(), "rerig-in-doubt-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** How a slip of the keyboard leaves a file; the same text where it holds nothing of the kind. */
const damages: Readonly<Record<string, (text: string) => string>> = {
  "a tab where YAML indents": (text) => text.replace(/\n {2}(?=\S)/, "\n\t").replace(/\nfitted: /, "\nfitted:\n\t"),
  "a tab and a sign between attributes": (text) =>
    text.replace(/(::(?:check|move|turn|step)[^\n]*\{[^}\n]*) /, "$1\t="),
  "a number that is none": (text) => text.replace(/(count[=:] ?)\d/, "$1four"),
  "a field that there is not": (text) => text.replace(/\n(title|home|kind): /, "\nrubbish: 1\n$1: "),
  "a name that there is not": (text) =>
    text
      .replace(/\{item=/, "{item=x")
      .replace(/(fitted: \{ \S+: \[)/, "$1x")
      .replace(/\{fastening=/, "{fastening=x"),
  "a step that is not closed": (text) => text.replace(/\n:::\r?\n/, "\n"),
};

describe.each([
  ["slope", /yaml$|configurations\/long|options\/liner|fit-long|to-wheels/],
  ["dental", /(?:platform|equipment)\.yaml$/],
] as const)("what is said of %s while a file of it can't be read", (name, which) => {
  it("is nothing that rests on it", async () => {
    const folder = join(root, name),
      copy = mkdtempSync(join(work, "c-")),
      say = async (of: string) => (await judgeFolder(of, TODAY)).findings,
      before = new Set((await say(folder)).map(({ rule, file }) => `${rule} ${file}`));
    cpSync(folder, copy, { recursive: true });
    const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
      (file) => /\.(?:mdx|yaml)$/.test(file) && which.test(file) && !/^_|issued|photos/.test(file),
    );
    const done = new Set<string>();
    for (const file of files)
      for (const [way, damage] of Object.entries(damages)) {
        const text = readFileSync(join(folder, file), "utf8"),
          changed = damage(text);
        if (changed === text) continue;
        writeFileSync(join(copy, file), changed);
        const found = await say(copy);
        writeFileSync(join(copy, file), text);
        if (!found.some((each) => each.severity === "error" && each.rule.startsWith("text/"))) continue;
        done.add(way);
        const follows = found.filter((each) => !/^text\//.test(each.rule) && !before.has(`${each.rule} ${each.file}`));
        expect([file, way, follows.map((each) => `${each.rule} ${each.file}: ${each.message}`)]).toEqual([
          file,
          way,
          [],
        ]);
      }
    expect(done.size).toBeGreaterThanOrEqual(name === "slope" ? Object.keys(damages).length : 1);
  }, 300_000);
});
