/**
 * A changeover one step at a time, for a phone: what to do now, who, what the others are doing meanwhile, where all
 * stop, and what is counted at the end.
 */
import type { Alert, Crew, Platform, Procedure, Step } from "../../schema/collection.ts";
import { ASIDE } from "../../schema/units.ts";
import type { Changeover } from "../states/changeover.ts";
import { countParts } from "../states/counts.ts";
import { alertsOfPlan } from "../parts/plan-alerts.ts";
import { readsCard, sayPlanned } from "../parts/reading.ts";
import { linesOf, sayDuration, sayRole, sayWho } from "../words/say.ts";
import { sayTurn } from "../words/turns.ts";
import { inStartingOrder, type TimedStep, type Timeline } from "../time/timeline.ts";
import { sayList, smallFirst } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";

/** A challenge with its answer, and who answers (empty: nobody named). */
interface WalkCheck {
  readonly challenge: string;
  readonly answer: string;
  readonly who: string;
}

/** One stop on the way, all in words. */
export interface WalkStop {
  /** Number of the step in the changeover, from 1. */
  readonly number: number;
  readonly procedure: string;
  readonly title: string;
  readonly code: string;
  /** Number of the step in its procedure. */
  readonly step: number;
  readonly who: string;
  readonly critical: boolean;
  readonly hold: boolean;
  readonly text: string;
  readonly detail: readonly string[];
  readonly alerts: readonly { readonly signal: Alert["signal"]; readonly text: string }[];
  readonly acts: readonly string[];
  readonly checks: readonly WalkCheck[];
  readonly takes: string;
  readonly takesSeconds: number;
  /** Of the procedure. */
  readonly revision: number;
  /** When the plan begins and ends it, in seconds. */
  readonly start: number;
  readonly end: number;
  readonly photos: readonly string[];
  /** What everybody else does while this step is done, in words: `Second: 4, turn the base pins out`. */
  readonly meanwhile: readonly string[];
  /** Index of the stop at which its group begins: where to go back to after an interruption. */
  readonly group: number;
}

/** One line of the count at the end. */
export interface WalkCount {
  readonly list: "out" | "in" | "moved";
  readonly count: number;
  readonly item: string;
  readonly place: string;
  readonly stowed: boolean;
  /** Whether it is now in a store: who counts at the platform can't touch it. */
  readonly away: boolean;
}

/** A changeover as it is stepped through on a device, in words: nothing is worked out from it any more. */
export interface Walk {
  /** Tells one changeover in one set of revisions from all others; names no patient. */
  readonly key: string;
  readonly platform: string;
  /** Names of the arrangements. */
  readonly from: string;
  readonly to: string;
  readonly title: string;
  readonly people: readonly string[];
  /** In starting order, then as written: the order in which a crew reads the score. The reading is not among them. */
  readonly stops: readonly WalkStop[];
  readonly count: readonly WalkCount[];
  /** The reading of the card, after the count: it ends the changeover. Absent where the steps are of no changeover. */
  readonly reading?: WalkStop;
}

/**
 * Lays out the walk through a changeover. `title` names it for people. `numbers`: by which number each step is called,
 * where some of those that are printed are left out.
 */
export function layWalk(
  changeover: Changeover,
  timeline: Timeline,
  platform: Platform,
  crew: readonly Crew[],
  title: string,
  numbers: readonly number[] = changeover.steps.map((_, at) => at + 1),
): Walk {
  const names = partNames(platform);
  const ordered = inStartingOrder(timeline);
  const groups = groupsOf(ordered);
  const alerts = alertsOfPlan(timeline.steps, platform);
  const all = ordered.map((timed, at): WalkStop => {
    const { step, procedure } = timed;
    return {
      number: numbers[timed.index]!,
      procedure: procedure.id,
      title: procedure.title,
      code: heard("onDevice").revision({ code: procedure.code, revision: procedure.revision }),
      step: step.number,
      who: sayWho(timed.by, crew),
      critical: step.critical,
      hold: step.hold,
      text: sayPlanned(timed),
      detail: step.detail.flatMap(linesOf),
      alerts: [...alerts[timed.index]!.between, ...alerts[timed.index]!.own].map(({ signal, children }) => ({
        signal,
        text: children.flatMap(linesOf).join(" "),
      })),
      acts: step.operations.map((operation) => names.operation(operation)),
      checks: step.checks.map(({ challenge, answer, by }) => ({
        challenge,
        answer,
        who: by.length ? sayWho(by, crew) : "",
      })),
      takes: sayDuration(step.takesSeconds),
      takesSeconds: step.takesSeconds,
      revision: procedure.revision,
      start: timed.start,
      end: timed.end,
      photos: step.photos.map(({ id }) => id),
      meanwhile: sayMeanwhile(timed, timeline, crew, numbers),
      group: groups[at]!,
    };
  });
  const reading = ordered.findLastIndex(({ step }) => readsCard(step)),
    stops = all.filter((_, at) => at !== reading);
  const { out, into, moved } = countParts(changeover, platform);
  const line =
    (list: WalkCount["list"]) =>
    ({ item, count, to, stowed }: (typeof out)[number]): WalkCount => ({
      list,
      count,
      item: names.item(item),
      place: names.place(to),
      stowed,
      away: platform.places.some(({ id, kind }) => id === to && kind === "store"),
    });
  return {
    key: keyOf(changeover, platform),
    platform: platform.id,
    from: changeover.from,
    to: changeover.to,
    title,
    people: crew.map(({ id }) => sayRole(id)),
    stops,
    ...(reading < 0 ? {} : { reading: all[reading]! }),
    count: [...out.map(line("out")), ...into.map(line("in")), ...moved.map(line("moved"))],
  };
}

/**
 * Arrangements, procedures with their revisions and the steps that apply: if any of it is another one, so is the key.
 */
function keyOf({ from, to, steps }: Changeover, platform: Platform): string {
  const parts: string[] = [];
  for (const { procedure, step } of steps) {
    const name = `${procedure.id}@${procedure.revision}`;
    if (parts.at(-1)?.startsWith(`${name}:`)) parts.push(`${parts.pop()!},${step.number}`);
    else parts.push(`${name}:${step.number}`);
  }
  return [platform.id, from, to, ...parts].join(" ");
}

/** For each stop, where its group begins: at the start, after each hold, and at the first step of each procedure. */
function groupsOf(ordered: readonly TimedStep[]): number[] {
  const seen = new Set<Procedure>();
  let group = 0;
  return ordered.map(({ procedure }, at) => {
    if (ordered[at - 1]?.step.hold || !seen.has(procedure)) group = at;
    seen.add(procedure);
    return group;
  });
}

/** What the others do during a step; a step of no length is met by what runs at its moment. */
function sayMeanwhile(
  timed: TimedStep,
  { steps, waits, elapsed }: Timeline,
  crew: readonly Crew[],
  numbers: readonly number[],
): string[] {
  return crew
    .filter(({ id }) => !timed.by.includes(id))
    .map(({ id }) => {
      const theirs = steps.filter(
        (other) =>
          other.by.includes(id) && other.start < Math.max(timed.end, timed.start + 1) && timed.start < other.end,
      );
      if (theirs.length > 0)
        return (
          `${sayRole(id)}: ` +
          theirs
            .map((other) => `${numbers[other.index]!}, ${smallFirst(sayPlanned(other))}`)
            .join(heard("onDevice").then)
        );
      const wait = waits.find((each) => each.person === id && each.start <= timed.start && timed.start < each.end);
      if (wait)
        return heard("onDevice").waitsForStep({
          id: sayRole(id),
          forSteps: sayList(wait.forSteps.map((index) => String(numbers[index]!))),
        });
      const hasMore = steps.some(
        (other) => other.by.includes(id) && other.start >= timed.start && other.start < elapsed,
      );
      return `${sayRole(id)}: ${hasMore ? "waits." : heard("onDevice").hasNothingLeft}`;
    });
}

/** Words for a platform's ids. */
interface Names {
  readonly item: (id: string) => string;
  readonly place: (id: string) => string;
  readonly operation: (operation: Step["operations"][number]) => string;
}

/** Names of items and places, and moves and turns in words; an unknown id stays as it is. */
function partNames({ items, places, fastenings }: Pick<Platform, "items" | "places" | "fastenings">): Names {
  const byId = new Map([...items, ...places].map(({ id, name }) => [id, name])),
    turned = new Map(fastenings.map((fastening) => [fastening.id, fastening]));
  const item = (id: string) => byId.get(id) ?? id,
    place = (id: string) => (id === ASIDE ? heard("onDevice").asideWithinReach : (byId.get(id) ?? id));
  return {
    item,
    place,
    operation: (operation) =>
      operation.kind === "move"
        ? heard("onDevice").move({
            count: operation.count,
            item: item(operation.item),
            from: place(operation.from),
            to: place(operation.to),
          })
        : sayTurn(turned.get(operation.fastening) ?? { name: operation.fastening }, operation.to),
  };
}
