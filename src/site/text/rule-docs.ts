/** The documentation of every rule, made from the rule and from the good and bad examples that its test runs. */
import examples from "../../rules/examples.json" with { type: "json" };
import { rules } from "../../rules/all.ts";
import { FIXED_GROUPS } from "../../schema/rule-names.ts";
import type { Severity } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";

/** A line of an example; what differs from the other one is marked. */
interface ExampleLine {
  readonly text: string;
  readonly marked?: boolean;
}

/** A good or a bad example: the few lines around what differs. */
export interface Example {
  readonly file: string;
  readonly lines: readonly ExampleLine[];
}

/** What is shown of a rule's examples; a part that cannot be shown in a few lines of text is missing. */
export interface RuleExamples {
  readonly good?: Example;
  readonly bad?: Example;
  /** What the check says to the bad example. */
  readonly says?: { readonly message: string; readonly fix: string };
}

interface RuleDoc extends RuleExamples {
  readonly id: string;
  readonly group: string;
  readonly severity: Severity;
  /** Whether a service can switch it off or change its severity. */
  readonly firm: boolean;
  readonly asks: string;
  readonly why: string;
  /** On whose word, and what is not yet certain of it: written from memory, or as others quote it. */
  readonly source: { readonly text: string; readonly not?: "memory" | "quoted" };
}

interface RuleGroup {
  readonly id: string;
  readonly title: string;
  readonly docs: readonly RuleDoc[];
}

const TITLES: Readonly<Record<string, string>> = {
  get text() {
    return heard("ruleGroups").whatTheFilesSay;
  },
  get bands() {
    return heard("ruleGroups").bands;
  },
  get parts() {
    return heard("ruleGroups").parts;
  },
  get fastening() {
    return heard("ruleGroups").fastenings;
  },
  get plan() {
    return heard("ruleGroups").waysFromOneArrangement;
  },
  get load() {
    return heard("ruleGroups").load;
  },
  get photo() {
    return heard("ruleGroups").photos;
  },
  get wording() {
    return heard("ruleGroups").wording;
  },
  get record() {
    return heard("ruleGroups").records;
  },
  get card() {
    return heard("ruleGroups").cards;
  },
};

/** The groups of rules in the order of the table of rules, each with its rules. */
export function ruleGroups(): RuleGroup[] {
  const docs = rules.map(docOf);
  return [...new Set(docs.map(({ group }) => group))].map((id) => ({
    id,
    title: TITLES[id] ?? id,
    docs: docs.filter(({ group }) => group === id),
  }));
}

function docOf({ id, severity, asks, why, source }: (typeof rules)[number]): RuleDoc {
  const group = id.slice(0, id.indexOf("/"));
  return {
    id,
    group,
    severity,
    firm: group === "text" || FIXED_GROUPS.includes(group),
    asks,
    why,
    source: sourceOf(source),
    ...(examples as Readonly<Record<string, RuleExamples>>)[id],
  };
}

/** What a rule says of its source, without the words that say how it is known: the page has a mark for these. */
function sourceOf(source: string): RuleDoc["source"] {
  if (/from memory/.test(source)) {
    const text = source
      .replace(/\((?:the last three )?from memory: /g, "(")
      .replace(/ ?\((?:the last three )?from memory\)/g, "")
      .replace(/[;,] from memory/g, "");
    return { text, not: "memory" };
  }
  if (/second hand/.test(source)) return { text: source.replace(/, second hand/g, ""), not: "quoted" };
  return { text: source };
}
