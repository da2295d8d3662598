/** What a procedure's page shows of the omission proof: for each act how far a slip gets, as a length and in words. */
import type { Crew, Operation, Platform, Procedure } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { capital, sayDuration, sayNumber, sayWho } from "../words/say.ts";
import { silenceReason, STRETCHES, stretchOf } from "./ends.ts";
import type { Outcome, SlipProof, SlipRow } from "./prove.ts";
import type { SlipWay } from "./slip.ts";
import { heard } from "../../words/heard.ts";

const WAYS: Readonly<Record<SlipWay, () => string>> = {
  "left out": () => heard("slips").leftOut,
  "one too few": () => heard("slips").doneToOnePiece,
  "half turned": () => heard("slips").halfTurned,
};

/** A slip of one act, or several that end alike. */
export interface ShownSlip {
  readonly step: number;
  readonly critical: boolean;
  /** `Turn deck lever to locked`. */
  readonly act: string;
  /** `left out or half turned`. */
  readonly ways: string;
  /** How many slips these are. */
  readonly count: number;
  readonly outcome: Outcome;
  /** How far it gets: 0 to 100, over the five stretches. */
  readonly reach: number;
  /** Who notices what, and how long after; or that nobody does. */
  readonly told: string;
  /** The author's reason why nobody can notice it; empty if there is none, or somebody does. */
  readonly reason: string;
  /** In how many changeovers it ends otherwise; empty if in none. */
  readonly elsewhere: string;
}

/** The slips of a procedure as its page shows them, in the order of its acts; empty if it moves and turns nothing. */
export function showSlips(
  { rows }: SlipProof,
  { id }: Procedure,
  platform: Platform,
  crew: readonly Crew[],
): readonly ShownSlip[] {
  const shown: (ShownSlip & { readonly operation: number })[] = [];
  for (const row of rows) {
    if (row.slip.procedure.id !== id) continue;
    const { step, operation, kind } = row.slip;
    const own = {
      step: step.number,
      operation,
      critical: step.critical,
      act: sayAct(step.operations[operation]!, platform),
      ways: WAYS[kind](),
      count: 1,
      outcome: row.worst.noticed.outcome,
      reach: reachOf(row),
      told: tell(row, crew),
      reason: silenceReason(row),
      elsewhere: sayElsewhere(row),
    };
    const same = shown.findIndex(
      (other) =>
        other.step === own.step &&
        other.operation === own.operation &&
        other.told === own.told &&
        other.elsewhere === own.elsewhere,
    );
    if (same < 0) shown.push(own);
    else {
      const { ways, count } = shown[same]!;
      shown[same] = { ...shown[same]!, ways: sayList([ways, own.ways], "or"), count: count + 1 };
    }
  }
  return shown;
}

function sayAct(operation: Operation, { items, places, fastenings }: Platform): string {
  const name = (list: readonly { readonly id: string; readonly name: string }[], id: string) =>
    list.find((each) => each.id === id)?.name ?? id;
  if (operation.kind === "turn") return `${name(fastenings, operation.fastening)}: ${operation.to}`;
  const to = operation.to === "aside" ? "aside" : name(places, operation.to);
  return `${operation.count > 1 ? `${operation.count} × ` : ""}${name(items, operation.item)}: ${to}`;
}

/** To the end of the stretch in which it ends; within its own procedure as many steps as it survives. */
function reachOf(row: SlipRow): number {
  const stretch = 100 / STRETCHES.length,
    last = stretchOf(row);
  const { slip, worst } = row;
  if (last === 1 && worst.noticed.outcome !== "made good") return 1.5 * stretch;
  if (last > 0) return (last + 1) * stretch;
  const { length } = slip.procedure.steps;
  const later = Math.max(0.25, (worst.noticed.at?.step.number ?? slip.step.number) - slip.step.number);
  return Math.max(2, (later / Math.max(1, length)) * stretch);
}

function tell({ slip, worst: { noticed } }: SlipRow, crew: readonly Crew[]): string {
  const { outcome, at, check, afterSeconds } = noticed;
  const when =
    afterSeconds > 0 ? heard("slips").later({ afterSeconds: sayDuration(afterSeconds) }) : heard("slips").atOnce;
  const who = sayWho(noticed.by, crew);
  if (outcome === "silent") return heard("slips").nobodyNoticesNothingStops;
  if (outcome === "made good") return heard("slips").nobodyNoticesALater;
  if (outcome === "counted") return heard("slips").theCount({ when });
  if (noticed.onCard) return heard("slips").seenWhenTheCard({ challenge: check!.challenge, when });
  const place =
    at!.procedure.id === slip.procedure.id
      ? heard("slips").step({ number: at!.step.number })
      : heard("slips").stepOf({ number: at!.step.number, procedure: at!.procedure.title });
  return outcome === "stopped"
    ? heard("slips").stoppedAtItCannot({
        who: capital(who),
        are: areSeveral(noticed.by) ? heard("slips").are : heard("slips").is,
        place,
        when,
      })
    : heard("slips").whoSee({
        who: capital(who),
        see: areSeveral(noticed.by) ? heard("slips").see : heard("slips").sees,
        challenge: check!.challenge,
        place,
        when,
      });
}

const areSeveral = (by: readonly string[]): boolean => by.length > 1;

const ENDS: Readonly<Record<Outcome, string>> = {
  get stopped() {
    return heard("slips").somebodyIsStopped;
  },
  get seen() {
    return heard("slips").aLineSees;
  },
  get counted() {
    return heard("slips").theCountDiffers;
  },
  get "made good"() {
    return heard("slips").itIsMadeGood;
  },
  get silent() {
    return heard("slips").nobodyNotices;
  },
};

/** The other ends that a slip comes to, with their numbers. */
function sayElsewhere({ outcomes, worst: { context, noticed } }: SlipRow): string {
  const others = (Object.entries(outcomes) as [Outcome, number][]).filter(
    ([outcome, count]) => count > 0 && outcome !== noticed.outcome,
  );
  if (others.length === 0) return "";
  const all = Object.values(outcomes).reduce((sum, count) => sum + count, 0);
  const what = context.from === context.to ? "arrangement" : "changeover";
  return (
    `So it is in ${outcomes[noticed.outcome]} of ${sayNumber(all, what)}; ` +
    `${others.map(([outcome, count]) => heard("slips").inCountEnds({ count, ends: ENDS[outcome] })).join(", ")}.`
  );
}
