/** The documentation of the rules, made from their words and their examples. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { extname, join, relative, resolve } from "node:path";
import { editsBetween } from "../../src/domain/records/edits.ts";
import type { Rule } from "../../src/findings/finding.ts";

const fixtures = resolve(import.meta.dirname, "../fixtures/rules");
const base = resolve(import.meta.dirname, "../fixtures/collections/sled");
const READABLE = new Set([".mdx", ".yaml"]);

/**
 * The page for authors: each rule with what it asks, why, whose rule it is, and what differs between its bad and its
 * good example.
 */
export function documentRules(rules: readonly Rule[]): string {
  const groups = [...new Set(rules.map(({ id }) => id.split("/")[0]!))];
  return [
    "# The rules",
    "",
    "What `rerig check` reports. An **error** stops the build, a **warning** does not. A service may change " +
      "that in `policy`, except for the groups `bands`, `parts`, `fastening` and `load`,",
    "which it can't switch off. Each example is run as a test. This page is made from the rules and their " +
      "examples; `UPDATE=1` makes it anew (`tests/rules/documentation.test.ts`).",
    ...groups.flatMap((group) => [
      "",
      `## ${group}`,
      ...rules.filter(({ id }) => id.startsWith(`${group}/`)).flatMap(documentRule),
    ]),
    "",
  ].join("\n");
}

function documentRule({ id, severity, asks, why, source }: Rule): string[] {
  const folder = join(fixtures, id);
  const examples = filesIn(join(folder, "not-ok"))
    .filter((file) => READABLE.has(extname(file)))
    .flatMap((file) => documentFile(file, join(folder, "not-ok", file), goodFile(folder, file)));
  const findings = existsSync(join(folder, "findings.txt"))
    ? readFileSync(join(folder, "findings.txt"), "utf8").trimEnd()
    : "";
  return [
    "",
    `### \`${id}\` (${severity})`,
    "",
    asks,
    "",
    `Why: ${why}`,
    "",
    `Source: ${source.replace(/\.$/, "")}.`,
    ...examples,
    ...(findings ? ["", "```text", findings, "```"] : []),
  ];
}

/** What stands in the bad example and not in the good one, and the other way round. */
function documentFile(file: string, bad: string, good: string | undefined): string[] {
  const lines = (path: string | undefined) => (path ? readFileSync(path, "utf8").trimEnd().split("\n") : []);
  const edits = editsBetween(lines(bad), lines(good));
  const only = (kind: "added" | "removed") => edits.filter((edit) => edit.kind === kind).map(({ value }) => value);
  const block = (title: string, text: readonly string[]) =>
    text.some((line) => line.trim())
      ? ["", `${title} \`${file}\`:`, "", "````" + extname(file).slice(1), ...text, "````"]
      : [];
  const [wrong, right] = [only("removed"), only("added")];
  return [
    ...block(wrong.length && right.length ? "Not so, in" : "Not so, with this in", wrong),
    ...block(wrong.length ? "But so, in" : "Not so, without this in", right),
  ];
}

function goodFile(folder: string, file: string): string | undefined {
  return [join(folder, "ok", file), join(base, file)].find((path) => existsSync(path));
}

function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
}
