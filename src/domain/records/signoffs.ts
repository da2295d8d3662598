/** Who must be signed off again, because of which change, for which steps; and whose sign-off lapses soon. */
import type { Check, Collection, Configuration, Procedure, Step } from "../../schema/collection.ts";
import type { SignOff } from "../../schema/sign-off.ts";
import { isSameCheck } from "./change-class.ts";
import type { Content } from "./content.ts";
import { contentOf } from "./freeze.ts";
import { contentsBefore } from "./issues.ts";
import { changesToSee, differenceBetween, earliestStanding, type StepChange } from "./revisions.ts";
import { plainText, sayInstruction } from "../words/say.ts";
import { heard } from "../../words/heard.ts";

/** A change that a sign-off does not outlast. */
interface Cause {
  readonly document: Procedure | Configuration;
  readonly revision: number;
  readonly date?: string;
  readonly summary: string;
  readonly reason?: string;
}

/** A line to be seen again: a step of a procedure, or a check of a card. */
export interface SeenAgain {
  readonly procedure?: string;
  /** Number in the procedure as it is now; absent for a card's check. */
  readonly step?: number;
  readonly text: string;
  /** The patients for whom the step is, in the author's words; absent where it is for all of the document's. */
  readonly whom?: string;
  readonly critical: boolean;
  readonly checks: readonly Check[];
  /**
   * `changed`: it is new or other than it was; `depends`: it works on the same things as one that changed, or follows
   * it; `whole`: all of it is to be seen.
   */
  readonly why: "changed" | "depends" | "whole";
}

/** What became of a person's latest sign-off for a document. */
export interface Judgement {
  readonly signOff: SignOff;
  readonly state: "again" | "lapsed" | "soon" | "stands" | "withdrawn" | "ahead";
  /** The earliest revision at which a sign-off still stands. */
  readonly earliest: number;
  /** For `again`: the day from which the old one no longer counts, if it is still to come; for `ahead`: its first. */
  readonly from?: string;
  readonly because: readonly Cause[];
  /** What is to be seen again, in the order of the document. Empty for all but `again` and `lapsed`. */
  readonly lines: readonly SeenAgain[];
  /** Steps that are no longer there: to be told, not to be seen. */
  readonly removed: readonly string[];
}

/** The challenges that are safety-critical on a configuration's card: the card owns these marks. */
export type CardMarks = (configuration: Configuration) => ReadonlySet<string>;

/**
 * Judges each person's latest sign-off for each document. `soonDays`: how many days ahead a lapse is soon. By document,
 * then person.
 */
export function judgeSignOffs(
  collection: Collection,
  signOffs: readonly SignOff[],
  today: string,
  soonDays: number,
  marks: CardMarks,
): Judgement[] {
  const latest = new Map<string, SignOff>();
  for (const signOff of signOffs) {
    const key = personAndDocument(signOff);
    const other = latest.get(key);
    if (
      !other ||
      signOff.revision > other.revision ||
      (signOff.revision === other.revision && signOff.date > other.date)
    )
      latest.set(key, signOff);
  }
  const soon = addDays(today, soonDays);
  return [...latest.values()]
    .map((signOff) => judge(collection, signOff, today, soon, marks))
    .sort(
      (a, b) =>
        compare(a.signOff.document.code, b.signOff.document.code) || compare(a.signOff.person, b.signOff.person),
    );
}

/** Whose sign-off it is, and for which document: the same text for each of a person's sign-offs for it. */
export function personAndDocument({ person, document }: SignOff): string {
  return JSON.stringify([person.toLowerCase(), document.platform, "steps" in document, document.id]);
}

/** The day on which the signed revision was written, `YYYY-MM-DD`, if somebody signed it before; else `undefined`. */
export function writtenAfter({ document, revision, date }: SignOff): string | undefined {
  const written = document.changes.find((change) => change.revision === revision)?.date;
  return written !== undefined && date < written ? written : undefined;
}

function judge(collection: Collection, signOff: SignOff, today: string, soon: string, marks: CardMarks): Judgement {
  const { document, lapses } = signOff;
  const chain = chainOf(collection, document);
  const earliest = earliestStanding(chain);
  const rest = { signOff, earliest, because: [], lines: [], removed: [] };
  if (document.status === "withdrawn") return { ...rest, state: "withdrawn" };
  const included = staleIncludes(collection, signOff);
  const because = [...causesAfter(document, chain, signOff.revision), ...included.flatMap(({ causes }) => causes)];
  const hasLapsed = lapses !== undefined && lapses < today;
  if (because.length > 0 || hasLapsed) {
    const { lines, removed } = hasLapsed
      ? { lines: wholeOf(document, marks), removed: [] }
      : seenAgain(collection, signOff, chain, included, marks);
    const from = document.effective && document.effective > today ? { from: document.effective } : {};
    return { ...rest, state: because.length > 0 ? "again" : "lapsed", because, lines, removed, ...from };
  }
  return { ...rest, state: lapses !== undefined && lapses <= soon ? "soon" : "stands" };
}

/**
 * A document's whole frozen issues in rising order, the last one as it is now. One that was altered since it was frozen
 * is left out; so is the present text while it is a draft or in review.
 */
export function chainOf({ platforms, issued }: Collection, document: Procedure | Configuration): Content[] {
  const platform = platforms.find(({ id }) => id === document.platform);
  const frozen = contentsBefore({ issued }, document);
  // Text that nobody has approved takes no sign-off away.
  const isProposal = document.status === "draft" || document.status === "in review";
  return platform && !isProposal ? [...frozen, contentOf(document, platform)] : frozen;
}

/** The revisions after `revision` at which sign-offs lapsed, with what their authors wrote. */
function causesAfter(document: Procedure | Configuration, chain: readonly Content[], revision: number): Cause[] {
  const current = chain.at(-1);
  const causes: Cause[] = [];
  for (let later = revision + 1; current && later <= document.revision; later++) {
    // The chain up to that revision: a sign-off lapses at it if no earlier one stands there.
    const upTo = chain.filter((issue) => issue.revision <= later);
    const known = upTo.at(-1)?.revision === later ? upTo : [...upTo, { ...current, revision: later }];
    if (earliestStanding(known) !== later) continue;
    const change = document.changes.find((each) => each.revision === later);
    causes.push({
      document,
      revision: later,
      summary: change?.summary ?? heard("approving").noEntrySaysWhat,
      ...(change ? { date: change.date } : {}),
      ...(change?.reason ? { reason: change.reason } : {}),
    });
  }
  return causes;
}

interface StaleInclude {
  readonly procedure: Procedure;
  /** The revision that was in force when the sign-off was given. */
  readonly revision: number;
  readonly causes: readonly Cause[];
}

/** Included procedures that have changed since the sign-off so that it does not stand. */
function staleIncludes(collection: Collection, { document, date }: SignOff): StaleInclude[] {
  if (!("steps" in document)) return [];
  const procedures = collection.platforms.find(({ id }) => id === document.platform)?.procedures ?? [];
  const ids = [...new Set(document.steps.map(({ procedure }) => procedure))].filter((id) => id !== document.id);
  return ids.flatMap((id) => {
    const procedure = procedures.find((each) => each.id === id);
    if (!procedure) return [];
    const chain = chainOf(collection, procedure);
    const inForce = (revision: number) =>
      chain.find((issue) => issue.revision === revision)?.effective ??
      procedure.changes.find((change) => change.revision === revision)?.date;
    let revision = procedure.revision;
    while (revision > 1 && (inForce(revision) ?? "") > date) revision--;
    const causes = causesAfter(procedure, chain, revision);
    return causes.length ? [{ procedure, revision, causes }] : [];
  });
}

/**
 * The changed lines and those that depend on them; everything if no issue of the signed revision is kept to compare
 * with.
 */
function seenAgain(
  collection: Collection,
  { document, revision }: SignOff,
  chain: readonly Content[],
  included: readonly StaleInclude[],
  marks: CardMarks,
): Pick<Judgement, "lines" | "removed"> {
  const isStale = causesAfter(document, chain, revision).length > 0;
  if (!("steps" in document)) return { lines: changedChecks(document, chain, revision, marks), removed: [] };
  const own = isStale ? changesSince(chain, revision) : [];
  const others = included.map(({ procedure, revision: inForce }) => ({
    procedure,
    changes: changesSince(chainOf(collection, procedure), inForce),
  }));
  if (!own || others.some(({ changes }) => !changes)) return { lines: wholeOf(document, marks), removed: [] };
  const changes = [
    { procedure: document, changes: own },
    ...others.map(({ procedure, changes }) => ({ procedure, changes: changes! })),
  ];
  const changed = new Set<Step>();
  const things = new Set<string>();
  const removed: string[] = [];
  for (const { procedure, changes: steps } of changes) {
    const ownSteps = document.steps.filter((step) => step.procedure === procedure.id);
    for (const change of changesToSee({ steps })) {
      const now = change.after && ownSteps[change.after.number - 1];
      if (now) changed.add(now);
      else if (change.before) removed.push(plainText(change.before.step.instruction));
      for (const side of [change.before, change.after])
        for (const operation of side?.step.operations ?? [])
          things.add(operation.kind === "turn" ? `f ${operation.fastening}` : `i ${operation.item}`);
    }
  }
  const lines = document.steps.flatMap((step): SeenAgain[] => {
    const why = changed.has(step)
      ? "changed"
      : dependsOn(step, document.steps, changed, things)
        ? "depends"
        : undefined;
    return why ? [lineOf(step, document, why)] : [];
  });
  return { lines: lines.length ? lines : wholeOf(document, marks), removed };
}

/** Step changes since a revision; `undefined` if its issue is not kept. */
function changesSince(chain: readonly Content[], revision: number): readonly StepChange[] | undefined {
  const before = chain.find((issue) => issue.revision === revision);
  const after = chain.at(-1);
  return before && after ? differenceBetween(before, after).steps : undefined;
}

/** A step depends on a changed one if it follows it by name, or moves or turns the same things. */
function dependsOn(
  step: Step,
  steps: readonly Step[],
  changed: ReadonlySet<Step>,
  things: ReadonlySet<string>,
): boolean {
  if (
    step.operations.some((operation) =>
      things.has(operation.kind === "turn" ? `f ${operation.fastening}` : `i ${operation.item}`),
    )
  )
    return true;
  return step.after.some(({ id }) =>
    steps.some((other) => changed.has(other) && other.id === id && other.procedure === step.procedure),
  );
}

function lineOf(step: Step, document: Procedure, why: SeenAgain["why"]): SeenAgain {
  const whom = [step.ownWeight?.text, step.ownAge?.text].filter(Boolean).join(", ");
  return {
    procedure: document.id,
    step: step.number,
    text: sayInstruction(step),
    ...(whom ? { whom } : {}),
    critical: step.critical,
    checks: step.checks,
    why,
  };
}

/**
 * Checks of a card that are new or other than at that revision; all of them if that can't be told, or if what is fitted
 * or how fastenings are left changed.
 */
function changedChecks(
  configuration: Configuration,
  chain: readonly Content[],
  revision: number,
  marks: CardMarks,
): SeenAgain[] {
  const before = chain.find((issue) => issue.revision === revision);
  const after = chain.at(-1);
  if (!before || !after || before.kind !== "configuration") return wholeOf(configuration, marks);
  const fields = new Set(differenceBetween(before, after).fields.map(({ field }) => field));
  if (fields.has("fitted") || fields.has("fastenings")) return wholeOf(configuration, marks);
  const critical = marks(configuration);
  const lines = configuration.checks
    .filter((check) => !before.checks.some((earlier) => isSameCheck(earlier, check)))
    .map((check) => checkLine(check, critical, "changed"));
  return lines.length ? lines : wholeOf(configuration, marks);
}

function checkLine(check: Check, critical: ReadonlySet<string>, why: SeenAgain["why"]): SeenAgain {
  return { text: check.challenge, critical: critical.has(check.challenge), checks: [check], why };
}

/**
 * Every safety-critical step, every step with a check or a warning, that guards against an incident or that the change
 * of this revision names; every check of a card.
 */
export function wholeOf(document: Procedure | Configuration, marks: CardMarks): SeenAgain[] {
  if (!("steps" in document)) {
    const critical = marks(document);
    return document.checks.map((check) => checkLine(check, critical, "whole"));
  }
  const named = new Set(
    document.changes.filter(({ revision }) => revision === document.revision).flatMap(({ steps }) => steps ?? []),
  );
  const lines = document.steps.filter(
    (step) =>
      step.critical ||
      step.checks.length > 0 ||
      // What can hurt somebody is watched, whoever looks at it otherwise.
      [...step.alerts, ...step.alertsAfter].some(({ signal }) => signal === "warning") ||
      step.guards.length > 0 ||
      named.has(step.id ?? ""),
  );
  return (lines.length ? lines : document.steps).map((step) => lineOf(step, document, "whole"));
}

/** A day some days later, both `YYYY-MM-DD`. */
export function addDays(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
