/** The documentation of every rule, made from the rule and from the good and bad examples that its test runs. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { diffLines } from "diff";
import { rules } from "../../rules/all.ts";
import { FIXED_GROUPS } from "../../schema/rule-names.ts";
import type { Severity } from "../../schema/collection.ts";
import { once, type Site } from "../site.ts";

/** A line of an example; what differs from the other one is marked. */
interface ExampleLine {
  readonly text: string;
  readonly marked: boolean;
}

/** A good or a bad example: the few lines around what differs. */
export interface Example {
  readonly file: string;
  readonly lines: readonly ExampleLine[];
}

interface RuleDoc {
  readonly id: string;
  readonly group: string;
  readonly severity: Severity;
  /** Whether a service can switch it off or change its severity. */
  readonly firm: boolean;
  readonly asks: string;
  readonly why: string;
  readonly source: string;
  readonly good?: Example;
  readonly bad?: Example;
  /** What the check says to the bad example. */
  readonly says?: { readonly message: string; readonly fix: string };
}

/** Lines shown before and after a difference. */
const AROUND = 2;

interface RuleGroup {
  readonly id: string;
  readonly title: string;
  readonly docs: readonly RuleDoc[];
}

const TITLES: Readonly<Record<string, string>> = {
  text: "What the files say",
  bands: "Bands",
  parts: "Parts",
  fastening: "Fastenings",
  plan: "Ways from one arrangement to another",
  load: "Load",
  photo: "Photos",
  wording: "Wording",
  record: "Records",
  card: "Cards",
};

/** The groups of rules in the order of the table of rules, each with its rules. */
export function ruleGroups(site: Site): RuleGroup[] {
  const docs = once(site, "rule-docs", () => ruleDocs(site));
  return [...new Set(docs.map(({ group }) => group))].map((id) => ({
    id,
    title: TITLES[id] ?? id,
    docs: docs.filter(({ group }) => group === id),
  }));
}

function ruleDocs(site: Site): RuleDoc[] {
  return rules.map((rule) => {
    const group = rule.id.slice(0, rule.id.indexOf("/"));
    const folder = join(site.root, "tests/fixtures/rules", rule.id);
    return {
      id: rule.id,
      group,
      severity: rule.severity,
      firm: group === "text" || FIXED_GROUPS.includes(group),
      asks: rule.asks,
      why: rule.why,
      source: rule.source,
      ...examplesIn(folder, rule.id),
    };
  });
}

function examplesIn(folder: string, rule: string): Pick<RuleDoc, "good" | "bad" | "says"> {
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
function linesOf(other: string, text: string): ExampleLine[] {
  const lines: (ExampleLine & { readonly beside: boolean })[] = [];
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
  return shown.length ? shown : lines.slice(0, 6);
}

function firstFinding(path: string, rule: string): RuleDoc["says"] {
  const lines = readText(path).split("\n");
  const at = lines.findIndex((line) => line.endsWith(` ${rule}`));
  if (at < 0) return undefined;
  return { message: lines[at + 1]!.trim(), fix: lines[at + 2]!.trim().replace(/^fix: /, "") };
}
