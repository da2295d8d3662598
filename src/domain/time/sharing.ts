/**
 * What steps share, so that it is known which must follow which: the same item, place or fastening, `after`, and holds.
 */
import type { Item, Place, Platform } from "../../schema/collection.ts";
import { isConfirming } from "../parts/confirming.ts";
import { type PlannedStep, readsCard } from "../parts/reading.ts";
import { itemsUnder } from "../parts/support.ts";
import type { Edge } from "./schedule.ts";

/** What of a platform ties steps. */
export type Shared = Pick<Platform, "items" | "places" | "fastenings" | "confirms">;

/** Things a step works on alone, and things it only needs to stay as they are. */
interface Use {
  readonly alone: ReadonlySet<string>;
  readonly still: ReadonlySet<string>;
}

/**
 * Which steps must wait for which, as pairs of indices, the earlier written one first. Two steps are tied when both
 * touch the same item, the same place (from or to; the kit room and `aside` are places too) or the same fastening; when
 * one fills or empties a place that the other's fastening holds; when one moves an item and the other works in a place
 * on it (on whatever it may stand on, too); or when the later one names the earlier one in its `after`. Two fastenings
 * that hold the same place may be turned at once. A hold comes after all before it and before all after it; the reading
 * of the card comes after all before it; nothing begins before what confirms the patient has ended. An `after` that
 * names a later step, or one that is not in the run, ties nothing: the written order is what is proved to run.
 */
export function tieSteps(run: readonly PlannedStep[], platform: Shared): Edge[] {
  const confirms = run.map((each) => isConfirming(platform, each));
  const uses = findUses(run, platform);
  const edges: Edge[] = [];
  // Steps so far by the things that they work on, so that only those are asked that a step may be tied to: most steps
  // of a long run touch nothing.
  const alone = new Map<string, number[]>(),
    still = new Map<string, number[]>(),
    holds: number[] = [],
    confirming: number[] = [];
  for (let later = 0; later < run.length; later++) {
    const { step } = run[later]!,
      use = uses[later]!;
    const tied = new Uint8Array(later);
    const tie = (steps: readonly number[] = []) => {
      for (const each of steps) tied[each] = 1;
    };
    if (step.hold || readsCard(step)) tied.fill(1);
    tie(holds);
    if (!confirms[later]) tie(confirming);
    for (const at of namedBefore(run, later)) if (at >= 0) tied[at] = 1;
    for (const thing of use.alone) {
      tie(alone.get(thing));
      tie(still.get(thing));
    }
    for (const thing of use.still) tie(alone.get(thing));
    for (let earlier = 0; earlier < later; earlier++) if (tied[earlier]) edges.push([earlier, later]);
    if (step.hold) holds.push(later);
    if (confirms[later]) confirming.push(later);
    for (const thing of use.alone) listIn(alone, thing).push(later);
    for (const thing of use.still) listIn(still, thing).push(later);
  }
  return edges;
}

function listIn(lists: Map<string, number[]>, thing: string): number[] {
  const list = lists.get(thing) ?? [];
  lists.set(thing, list);
  return list;
}

function findUses(run: readonly PlannedStep[], { items, places, fastenings }: Shared): Use[] {
  const placeOf = new Map(places.map((place) => [place.id, place]));
  const carriers = findCarriers(run, items, placeOf);
  const holds = new Map(fastenings.map((fastening) => [fastening.id, fastening.holds]));
  return run.map(({ step }) => {
    const alone = new Set<string>();
    const still = new Set<string>();
    const touch = (place: string) => {
      for (const item of carriers(place)) still.add(`item ${item}`);
    };
    for (const operation of step.operations) {
      if (operation.kind === "move") {
        alone.add(`item ${operation.item}`);
        for (const place of [operation.from, operation.to]) (alone.add(`place ${place}`), touch(place));
      } else {
        alone.add(`fastening ${operation.fastening}`);
        for (const place of holds.get(operation.fastening) ?? []) (still.add(`place ${place}`), touch(place));
      }
    }
    return { alone, still };
  });
}

/** The items under a place: the one it is on, and those that this one stands on at home or anywhere in the run. */
function findCarriers(
  run: readonly PlannedStep[],
  items: readonly Item[],
  placeOf: ReadonlyMap<string, Place>,
): (place: string) => Set<string> {
  const stands = new Map(items.map((item) => [item.id, new Set([item.home])]));
  for (const { step } of run)
    for (const operation of step.operations)
      if (operation.kind === "move")
        for (const place of [operation.from, operation.to]) stands.get(operation.item)?.add(place);
  const everywhere = new Map([...stands].map(([item, all]) => [item, [...all]]));
  return (place) => itemsUnder(place, placeOf, (item) => everywhere.get(item) ?? []);
}

/**
 * The earlier steps that a step names in `after`: of several runs of one step, the last before it; -1 for what is not
 * before it.
 */
function namedBefore(run: readonly PlannedStep[], later: number): Set<number> {
  const { procedure, step } = run[later]!;
  if (step.after.length === 0) return new Set();
  const earlier = run.slice(0, later);
  return new Set(
    step.after.map(({ id }) => {
      const own = earlier.findLastIndex((other) => other.step.id === id && other.step.procedure === step.procedure);
      return own >= 0
        ? own
        : earlier.findLastIndex((other) => other.step.id === id && other.procedure.id === procedure.id);
    }),
  );
}
