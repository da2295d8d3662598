/** Runs every rule over a collection and applies the service's policy. */
import { createHash } from "node:crypto";
import { type Finding, Findings, type Remark, type Rule, type RuleContext } from "../findings/finding.ts";
import { BESIDE } from "../domain/force/as-before.ts";
import { aloneIn } from "../domain/force/alone.ts";
import { type Force, forceOfOne, forceOn } from "../domain/force/force.ts";
import { findKept, isKeeping, putKept } from "../domain/words/keep.ts";
import { remember } from "../domain/words/remember.ts";
import type { Collection, Platform, Severity, Where } from "../schema/collection.ts";
import { rules } from "./all.ts";
import { sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";
import { sayList } from "../schema/wording.ts";
import { readingOf } from "../schema/platform-facts.ts";
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

/** Rules whose findings a document can mend that is approved, and counts only from a later day. */
const ONLY_DATED: ReadonlySet<string> = new Set(["plan/unreachable", "plan/no-way-back"]);

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

/**
 * Judges these platforms of a collection alone, one after the other as their names come: what that comes to is known
 * when all rules are run, and kept as it is then.
 */
export function judgePlatforms(collection: Collection, read: Findings, today: string, names: Iterable<string>): void {
  const damaged = damagedBy(read);
  for (const name of names) {
    const platform = collection.platforms.find(({ id }) => id === name);
    if (!platform) continue;
    const judging = judgePlatform(collection, platform, { today, damaged });
    while (!judging.next().done);
  }
}

/** Files with an error found while reading. */
const damagedBy = ({ list }: Findings): ReadonlySet<string> =>
  new Set(list.filter(({ severity }) => severity === "error").map(({ file }) => file));

/** As `runRules`, with a pause after each rule: who judges beside other work goes on when it likes. */
export function* rulesInTurn(collection: Collection, read: Findings, today: string): Generator<void, Finding[]> {
  const findings = new Findings();
  for (const finding of read.list) findings.keep(finding);
  const damaged = damagedBy(read),
    ofPlatforms: Judged[] = [];
  for (const platform of collection.platforms)
    ofPlatforms.push(yield* judgePlatform(collection, platform, { today, damaged }));
  for (const rule of rules) {
    // Where there is no platform, what such a rule says of the service is asked of the whole.
    const judged =
      rule.byPlatform && ofPlatforms.length > 0
        ? ofPlatforms
        : (rule.when?.(collection) ?? true)
          ? [judgeBoth(rule, collection, () => forceOn(collection, today), { today, damaged })]
          : [];
    for (const { where, rule: _, ...remark } of judged.flatMap(({ said }) =>
      said.filter((each) => each.rule === rule.id),
    ))
      findings.add(rule.id, rule.severity, where, remark);
    // A fault of the program in one rule must not cost the educator the findings of all others.
    for (const { rule: id, ...fault } of judged.flatMap(({ faults }) => faults))
      if (id === rule.id) findings.error(id, collection.service.where, fault);
    yield;
  }
  return findings.list.flatMap((finding) => {
    const severity = severityOf(collection, finding);
    return severity === "off" ? [] : [{ ...finding, severity }];
  });
}

/** What rules say of a collection, with the place of each, and what is said where one broke down. */
interface Judged {
  readonly said: readonly (Remark & { readonly rule: string; readonly where: Where })[];
  readonly faults: readonly (Remark & { readonly rule: string })[];
}

/**
 * What the rules that judge each platform alone say of one: known of a platform that was judged before with the same
 * beside it, in this process or in an earlier one. Errors of another platform's files are nothing to it.
 */
function* judgePlatform(
  collection: Collection,
  platform: Platform,
  { today, damaged: all }: RuleContext,
): Generator<void, Judged> {
  const alone = aloneIn(collection, platform),
    others = new Set(collection.platforms.map(({ id }) => id).filter((id) => id !== platform.id)),
    damaged = [...all].filter((file) => !others.has(file.slice(0, Math.max(0, file.indexOf("/")))));
  const about = JSON.stringify([today, damaged.toSorted()]),
    known = judgedAlone(alone),
    before = known.get(about);
  if (before) return before;
  const key = isKeeping() ? readingOf(platform) : undefined,
    question = key && JSON.stringify([key, textBeside(collection), about]),
    kept = question && findKept("judged", question);
  const judged = kept ? (kept as Judged) : yield* judgeAlone(collection, alone, { today, damaged: new Set(damaged) });
  if (judged.faults.length > 0) return judged;
  known.set(about, judged);
  if (question && !kept) putKept("judged", question, judged);
  return judged;
}

const judgedAlone = remember((_: Collection) => new Map<string, Judged>());

function* judgeAlone(collection: Collection, alone: Collection, context: RuleContext): Generator<void, Judged> {
  const judged: Judged[] = [];
  for (const rule of rules) {
    if (!rule.byPlatform) continue;
    judged.push(judgeBoth(rule, alone, () => forceOfOne(collection, alone, context.today), context));
    yield;
  }
  return { said: judged.flatMap(({ said }) => said), faults: judged.flatMap(({ faults }) => faults) };
}

/** What a rule says of the files, or of what is in force and, marked, of what would be with the proposals. */
function judgeBoth(rule: Rule, files: Collection, forceOf: () => Force, context: RuleContext): Judged {
  if (!rule.check) return { said: [], faults: [] };
  if (!judgesForce(rule.id)) return judge(rule, files, context);
  const force = forceOf(),
    { collection, proposed } = force;
  const said = judge(rule, collection, context),
    inForce = ONLY_DATED.has(rule.id) ? sayWaiting(rule, said, force, context) : said;
  if (ONLY_OF_FORCE.has(rule.id) || proposed === collection) return inForce;
  const coming = judge(rule, proposed, context);
  return {
    said: [...inForce.said, ...coming.said.map((each) => ({ ...each, proposed: true }))],
    faults: [...inForce.faults, ...coming.faults],
  };
}

/**
 * What a rule says of what is in force, and for what is only so until a later day, on which documents that are approved
 * by now come into force, which ones and when.
 */
function sayWaiting(rule: Rule, said: Judged, { day, files, proposals }: Force, context: RuleContext): Judged {
  const waiting = proposals.filter(
    ({ status, effective }) => (status === "coming" || status === "approved") && (effective ?? "") > day,
  );
  const days = [...new Set(waiting.map(({ effective }) => effective!))].sort();
  if (said.said.length === 0 || days.length === 0) return said;
  const later = days.map((each) => ({
    day: each,
    said: judge(rule, forceOn(files, each).collection, context).said,
  }));
  return {
    ...said,
    said: said.said.map((remark) => {
      const end = later.find(({ said: then }) => !then.some(({ where }) => isSamePlace(where, remark.where)));
      if (!end) return remark;
      const own = waiting.filter(({ effective }) => effective === end.day),
        procedures = own.filter(({ kind }) => kind === "procedure");
      const named = (procedures.length > 0 ? procedures : own).map(({ id }) => `\`${id}\``),
        date = sayDate(end.day);
      const facts = { documents: sayList(named), count: named.length, date };
      return {
        ...remark,
        message: heard("planFindings").alsoLater({ ...facts, message: remark.message }),
        fix: heard("planFindings").onlyLater(facts),
      };
    }),
  };
}

const isSamePlace = (a: Where, b: Where) => a.file === b.file && a.line === b.line && a.column === b.column;

/** What a rule says; known where the very same collection was judged before, which an edit may leave alone. */
function judge(rule: Rule, collection: Collection, context: RuleContext): Judged {
  const known = saidOf(collection),
    question = JSON.stringify([rule.id, context.today, [...context.damaged].sort()]);
  const before = known.get(question);
  if (before) return before;
  const said: Judged["said"][number][] = [];
  try {
    rule.check?.(collection, (where, remark) => said.push({ ...remark, rule: rule.id, where }), context);
  } catch (error) {
    return { said, faults: [{ rule: rule.id, ...unfinished(rule.id, error) }] };
  }
  known.set(question, { said, faults: [] });
  return { said, faults: [] };
}

const saidOf = remember((_: Collection) => new Map<string, Judged>());

/** All that stands beside the platforms, as a text: equal texts, equal things. */
export const textBeside = remember((collection: Collection): string => {
  const plain = (_key: string, value: unknown) => {
    if (typeof value === "bigint") return { bigint: value.toString() };
    return value instanceof Map || value instanceof Set ? { all: [...(value as Iterable<unknown>)] } : value;
  };
  return createHash("sha256")
    .update(
      JSON.stringify(
        BESIDE.map((field) => collection[field] ?? null),
        plain,
      ),
    )
    .digest("hex");
});

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
