/** Runs every rule over a collection and applies the service's policy. */
import { type Finding, Findings, type Remark, type Rule, type RuleContext } from "../findings/finding.ts";
import { BESIDE } from "../domain/force/as-before.ts";
import { forceOn } from "../domain/force/force.ts";
import { remember } from "../domain/words/remember.ts";
import type { Collection, Platform, Severity, Where } from "../schema/collection.ts";
import { rules } from "./all.ts";
import { FIXED_GROUPS } from "../schema/rule-names.ts";

/** Groups that judge what is in force, and what would be with the proposals; the others judge the files. */
const OF_FORCE: ReadonlySet<string> = new Set(["bands", "parts", "fastening", "plan", "load", "card"]);

/** Rules that only judge what is in force: what lies in a folder or is due is not so by a proposal. */
const ONLY_OF_FORCE: ReadonlySet<string> = new Set([
  "card/folder-stale",
  "card/unknown-check",
  "record/review-overdue",
  "record/out-of-date",
]);

/** Whether a rule judges what is in force and, marked, what a proposal would bring; the others judge the files. */
export function judgesForce(rule: string): boolean {
  return OF_FORCE.has(rule.slice(0, rule.indexOf("/"))) || ONLY_OF_FORCE.has(rule);
}

/**
 * What reading found and what the rules find on a day (`YYYY-MM-DD`), after the policy. Not sorted. `collection` is the
 * files as they were read; what only comes with a proposal (`domain/force`) is marked as proposed.
 */
export function runRules(collection: Collection, read: Findings, today: string): Finding[] {
  const inTurn = rulesInTurn(collection, read, today);
  for (let next = inTurn.next(); ; next = inTurn.next()) if (next.done) return next.value;
}

/** As `runRules`, with a pause after each rule: who judges beside other work goes on when it likes. */
export function* rulesInTurn(collection: Collection, read: Findings, today: string): Generator<void, Finding[]> {
  const findings = new Findings();
  for (const finding of read.list) findings.keep(finding);
  const damaged = new Set(read.list.filter(({ severity }) => severity === "error").map(({ file }) => file));
  const force = forceOn(collection, today);
  for (const rule of rules) {
    const run = (judged: Collection, proposed: boolean) => {
      const { said, fault } = judgedBy(rule, judged, { today, damaged });
      for (const { where, ...remark } of said)
        findings.add(rule.id, rule.severity, where, { ...remark, ...(proposed ? { proposed } : {}) });
      // A fault of the program in one rule must not cost the educator the findings of all others.
      if (fault) findings.error(rule.id, collection.service.where, fault);
    };
    const isOfForce = judgesForce(rule.id);
    run(isOfForce ? force.collection : collection, false);
    if (isOfForce && !ONLY_OF_FORCE.has(rule.id) && force.proposed !== force.collection) run(force.proposed, true);
    yield;
  }
  return findings.list.flatMap((finding) => {
    const severity = severityOf(collection, finding);
    return severity === "off" ? [] : [{ ...finding, severity }];
  });
}

/** What a rule says of a collection, with the place of each, and what is said where it broke down. */
interface Judged {
  readonly said: readonly (Remark & { readonly where: Where })[];
  readonly fault?: Remark;
}

/** What a rule says; known where the very same collection was judged before, which an edit may leave alone. */
function judgedBy(rule: Rule, collection: Collection, context: RuleContext): Judged {
  const known = saidOf(collection),
    question = questionOf(rule, context);
  const before = known.get(question);
  if (before) return before;
  const judged = rule.byPlatform ? judgedByPlatform(rule, collection, context) : judge(rule, collection, context);
  if (!judged.fault) known.set(question, judged);
  return judged;
}

const questionOf = ({ id }: Rule, { today, damaged }: RuleContext) => JSON.stringify([id, today, [...damaged].sort()]);

const saidOf = remember((_: Collection) => new Map<string, Judged>());

function judge(rule: Rule, collection: Collection, context: RuleContext): Judged {
  const said: Judged["said"][number][] = [];
  try {
    rule.check?.(collection, (where, remark) => said.push({ ...remark, where }), context);
  } catch (error) {
    return { said, fault: unfinished(rule.id, error) };
  }
  return { said };
}

/** What a rule says of each platform alone; known of a platform that stood in the same collection before. */
function judgedByPlatform(rule: Rule, collection: Collection, context: RuleContext): Judged {
  const said: Judged["said"][number][] = [],
    question = questionOf(rule, context);
  for (const platform of collection.platforms) {
    const alone = aloneIn(collection, platform),
      known = saidOf(alone);
    const judged = known.get(question) ?? judge(rule, alone, context);
    said.push(...judged.said);
    if (judged.fault) return { said, fault: judged.fault };
    known.set(question, judged);
  }
  return { said };
}

/** The collection with one of its platforms: the same one for as long as what stands beside it is the same. */
function aloneIn(collection: Collection, platform: Platform): Collection {
  const last = alone.get(platform)?.find((each) => BESIDE.every((field) => each[field] === collection[field]));
  if (last) return last;
  const made = { ...collection, platforms: [platform] };
  alone.set(platform, [made, ...(alone.get(platform) ?? []).slice(0, VIEWS)]);
  return made;
}

const alone = new WeakMap<Platform, readonly Collection[]>();
/** A platform may stand in the files and in what is in force. */
const VIEWS = 2;

/** What stands in the place of a rule's findings where the rule itself broke down. */
function unfinished(id: string, error: unknown): Remark {
  const reason = error instanceof Error ? error.message : String(error);
  return {
    message: `The rule \`${id}\` could not be finished, so this collection is not proved: ${reason}`,
    fix: "This is a fault in Rerig, not in your files: report it with these files. The other findings hold",
  };
}

function severityOf({ service }: Collection, { rule, severity }: Finding): Severity | "off" {
  const group = rule.slice(0, rule.indexOf("/"));
  const asked = Object.hasOwn(service.policy, rule) ? service.policy[rule] : undefined;
  if (!asked || group === "text" || (FIXED_GROUPS.includes(group) && asked === "off")) return severity;
  return asked;
}
