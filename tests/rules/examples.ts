/** A good and a bad example of each rule, as the site shows them: made from the folders that the rules' test runs. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { diffLines } from "diff";
import type { Rule } from "../../src/findings/finding.ts";
import type { Example, RuleExamples } from "../../src/site/text/rule-docs.ts";

const fixtures = resolve(import.meta.dirname, "../fixtures/rules");
/** Lines shown before and after a difference. */
const AROUND = 2;

/** The examples by rule: what `src/rules/examples.json` holds. A rule without a readable one has no entry. */
export function examplesOf(rules: readonly Rule[]): Readonly<Record<string, RuleExamples>> {
  return Object.fromEntries(
    rules.flatMap(({ id }) => {
      const examples = examplesIn(join(fixtures, id), id);
      return Object.keys(examples).length > 0 ? [[id, examples]] : [];
    }),
  );
}

function examplesIn(folder: string, rule: string): RuleExamples {
  if (!existsSync(folder)) return {};
  const file = differingFile(folder);
  const says = firstFinding(join(folder, "findings.txt"), rule);
  if (!file) return says ? { says } : {};
  const [good, bad] = [readText(join(folder, "ok", file)), readText(join(folder, "not-ok", file))];
  return {
    ...(good ? { good: { file, lines: linesOf(bad, good) } } : {}),
    ...(bad ? { bad: { file, lines: linesOf(good, bad) } } : {}),
    ...(says ? { says } : {}),
  };
}

/** The text file that is not the same in both examples. */
function differingFile(folder: string): string | undefined {
  const list = (side: string) =>
    existsSync(join(folder, side)) ? readdirSync(join(folder, side), { recursive: true, encoding: "utf8" }) : [];
  const texts = [...new Set([...list("not-ok"), ...list("ok")])].filter((file) => /\.(?:mdx|yaml)$/.test(file)).sort();
  return texts.find((file) => readText(join(folder, "ok", file)) !== readText(join(folder, "not-ok", file)));
}

function readText(path: string): string {
  return existsSync(path) ? readFileSync(path, "utf8") : "";
}

/** The lines of `text` around what is not in `other`; all of a short text. */
function linesOf(other: string, text: string): Example["lines"] {
  const lines: { readonly text: string; readonly marked: boolean; readonly beside: boolean }[] = [];
  let lost = false;
  for (const { value, added, removed } of diffLines(other, text)) {
    // Where a line is only missing, there is nothing to mark: the lines beside it are shown.
    if (removed) lost = true;
    else
      for (const [at, line] of value.replace(/\n$/, "").split("\n").entries())
        lines.push({ text: line, marked: added ?? false, beside: lost && at === 0 });
    if (!removed) lost = false;
  }
  const near = (at: number) =>
    lines.slice(Math.max(0, at - AROUND), at + AROUND + 1).some(({ marked, beside }) => marked || beside);
  const shown = lines.filter((_, at) => near(at));
  return (shown.length ? shown : lines.slice(0, 6)).map(({ text: line, marked }) => ({
    text: line,
    ...(marked ? { marked } : {}),
  }));
}

function firstFinding(path: string, rule: string): RuleExamples["says"] {
  const lines = readText(path).split("\n");
  const at = lines.findIndex((line) => line.endsWith(` ${rule}`));
  if (at < 0) return undefined;
  return { message: lines[at + 1]!.trim(), fix: lines[at + 2]!.trim().replace(/^fix: /, "") };
}
