/**
 * The stages of a changeover: each run of a procedure with its steps, its time, what it moves, and what stands where
 * after it. The page shows one row for each, and its drawing.
 */
import type { Platform, Procedure, Step } from "../../schema/collection.ts";
import type { Contents } from "../parts/arrangements.ts";
import { type StepAlerts, alertsOfPlan, startsRun } from "../parts/plan-alerts.ts";
import type { PlannedStep } from "../parts/reading.ts";
import { type NetMove, pairChanges } from "../states/changeover.ts";
import type { Timeline } from "./timeline.ts";

/** A run of a procedure in a changeover. */
export interface Stage {
  readonly procedure: Procedure;
  /** Its steps, numbered through the changeover from 1. */
  readonly steps: readonly Step[];
  /** The alerts before each of its steps. */
  readonly alerts: readonly StepAlerts[];
  /** Seconds from the changeover's start: when its first step begins and its last one ends. */
  readonly start: number;
  readonly end: number;
  /** Role ids of all who do something in it, in the order in which they begin. */
  readonly by: readonly string[];
  /** Net change of the run: what moved and moved back is not in it. */
  readonly parts: readonly NetMove[];
  /** Every piece of every item, where it stands after the run. */
  readonly contents: readonly Contents[];
}

/**
 * The stages in the order of the steps; none where there are no steps. `contents`: what stands where at the start.
 * `timeline` is that of the same steps.
 */
export function stagesOf(
  steps: readonly PlannedStep[],
  timeline: Pick<Timeline, "steps">,
  platform: Platform,
  contents: readonly Contents[],
): Stage[] {
  const alerts = alertsOfPlan(steps, platform);
  const timed = new Map(timeline.steps.map((each) => [each.index, each]));
  const firsts = steps.flatMap((_, index) => (startsRun(steps, index) ? [index] : []));
  let before = contents;
  return firsts.map((first, at) => {
    const indices = Array.from({ length: (firsts[at + 1] ?? steps.length) - first }, (_, more) => first + more);
    const parts = netOf(
      indices.map((index) => steps[index]!.step),
      platform,
    );
    before = movedOn(before, parts);
    const times = indices.map((index) => timed.get(index)!).toSorted((a, b) => a.start - b.start || a.index - b.index);
    return {
      procedure: steps[first]!.procedure,
      steps: indices.map((index) => ({ ...steps[index]!.step, number: index + 1 })),
      alerts: indices.map((index) => alerts[index]!),
      start: Math.min(...times.map(({ start }) => start)),
      end: Math.max(...times.map(({ end }) => end)),
      by: [...new Set(times.flatMap(({ by }) => by))],
      parts,
      contents: before,
    };
  });
}

/** What the moves of the steps come to, in the order of the equipment. */
function netOf(steps: readonly Pick<Step, "operations">[], { items, places }: Platform): NetMove[] {
  const order = new Map(places.map(({ id }, at) => [id, at]));
  const by = new Map<string, Map<string, number>>();
  for (const operation of steps.flatMap(({ operations }) => operations)) {
    if (operation.kind !== "move") continue;
    const { item, count, from, to } = operation;
    const changes = by.get(item) ?? new Map<string, number>();
    by.set(item, changes.set(from, (changes.get(from) ?? 0) - count).set(to, (changes.get(to) ?? 0) + count));
  }
  return items.flatMap(({ id }) =>
    pairChanges(
      id,
      [...(by.get(id) ?? [])].map(([place, more]) => ({ place, by: more, order: order.get(place) ?? places.length })),
    ),
  );
}

/** What stands where once the parts have moved. */
function movedOn(contents: readonly Contents[], parts: readonly NetMove[]): Contents[] {
  const counts = new Map(contents.map((each) => [`${each.item} ${each.place}`, each]));
  const add = (item: string, place: string, more: number) => {
    const count = (counts.get(`${item} ${place}`)?.count ?? 0) + more;
    counts.set(`${item} ${place}`, { item, place, count });
  };
  for (const { item, count, from, to } of parts) {
    add(item, from, -count);
    add(item, to, count);
  }
  return [...counts.values()].filter(({ count }) => count > 0);
}
