/**
 * What procedures handle: the parts to have ready before one begins, and every step that touches an item, a place or a
 * fastening.
 */
import type { Platform, Procedure, Range, Step } from "../../schema/collection.ts";
import { proceduresNaming } from "../words/procedure-facts.ts";
import { remember } from "../words/remember.ts";

/** Pieces that must be in a place before the procedure begins. */
interface Ready {
  readonly item: string;
  readonly place: string;
  readonly count: number;
  /** The patients for whom they are needed, where that is not everybody in the procedure's band. */
  readonly only?: { readonly weight?: Range; readonly age?: Range };
}

/** Pieces that a step takes from where they stood before the first step. */
interface Taken<S> {
  readonly step: S;
  /** Index of the step, from 0. */
  readonly at: number;
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

/**
 * What steps that are done one after the other take from where it stood at the start, in their order; a row for each
 * move that does, empty if none does. What a step has put somewhere is taken from there first, so that a part which is
 * put aside and picked up again is taken once. The one owner of what must be fetched or ready before somebody begins.
 *
 * Example: 2 pins from the tray to a seat, then 3 pins from the seat to the tray: 2 from the tray, and 1 from the seat.
 */
export function takenFromStart<S extends Pick<Step, "operations">>(steps: readonly S[]): Taken<S>[] {
  const brought = new Map<string, number>();
  return steps.flatMap((step, at) =>
    step.operations.flatMap((operation) => {
      if (operation.kind !== "move") return [];
      const { item, from, to, count } = operation;
      const here = brought.get(keyOf(item, from)) ?? 0;
      const ours = Math.min(here, count);
      brought.set(keyOf(item, from), here - ours);
      brought.set(keyOf(item, to), (brought.get(keyOf(item, to)) ?? 0) + count);
      return count === ours ? [] : [{ step, at, item, place: from, count: count - ours }];
    }),
  );
}

/**
 * The parts that a procedure's steps take from where they stood at the start (`takenFromStart`), those of the same
 * patients together, in the order in which they are first taken; empty if it takes nothing.
 */
export function partsToHaveReady({ steps }: Procedure): Ready[] {
  const ready = new Map<string, Ready>();
  for (const { step, item, place, count } of takenFromStart(steps)) {
    const only = onlyFor(step);
    const key = `${keyOf(item, place)} ${only?.weight?.text ?? ""} ${only?.age?.text ?? ""}`;
    const known = ready.get(key) ?? { item, place, count: 0, ...(only ? { only } : {}) };
    ready.set(key, { ...known, count: known.count + count });
  }
  return [...ready.values()];
}

/** The step's own ranges, where the author gave any. */
export function onlyFor({ ownWeight, ownAge }: Step): Ready["only"] {
  if (!ownWeight && !ownAge) return undefined;
  return { ...(ownWeight ? { weight: ownWeight } : {}), ...(ownAge ? { age: ownAge } : {}) };
}

/** A step of a procedure that touches something. Included steps are listed where they are written, once. */
export interface Touch {
  readonly procedure: Procedure;
  readonly step: Step;
}

/** Every step that touches each item, place and fastening, in the order of the procedures. */
interface Touches {
  readonly items: ReadonlyMap<string, readonly Touch[]>;
  readonly places: ReadonlyMap<string, readonly Touch[]>;
  readonly fastenings: ReadonlyMap<string, readonly Touch[]>;
}

/**
 * Collects the touches of a platform. A step touches a place that it moves something from or to, or whose fastening it
 * turns.
 */
export const findTouches: (platform: Pick<Platform, "procedures" | "fastenings">) => Touches = remember(
  ({ procedures, fastenings }: Pick<Platform, "procedures" | "fastenings">) => {
    const items = new Map<string, Touch[]>(),
      places = new Map<string, Touch[]>(),
      turned = new Map<string, Touch[]>();
    const holds = new Map(fastenings.map((fastening) => [fastening.id, fastening.holds]));
    for (const procedure of procedures) {
      for (const step of procedure.steps) {
        if (step.procedure !== procedure.id) continue;
        const touch = { procedure, step };
        for (const operation of step.operations) {
          if (operation.kind === "move") {
            add(items, operation.item, touch);
            for (const place of [operation.from, operation.to]) add(places, place, touch);
          } else {
            add(turned, operation.fastening, touch);
            for (const place of holds.get(operation.fastening) ?? []) add(places, place, touch);
          }
        }
      }
    }
    return { items, places, fastenings: turned };
  },
);

/** The steps that touch one item, place or fastening (`findTouches`); tells of no procedure that touches it nowhere. */
export function touchesOf(
  { procedures, fastenings }: Pick<Platform, "procedures" | "fastenings">,
  kind: keyof Touches,
  id: string,
): readonly Touch[] {
  const turned = kind === "places" ? fastenings.filter(({ holds }) => holds.includes(id)).map((each) => each.id) : [],
    touching = proceduresNaming({ procedures }, [id, ...turned]);
  return findTouches({ procedures: touching, fastenings })[kind].get(id) ?? [];
}

function add(map: Map<string, Touch[]>, key: string, touch: Touch): void {
  const list = map.get(key);
  if (!list) map.set(key, [touch]);
  else if (!list.includes(touch)) list.push(touch);
}

const keyOf = (item: string, place: string): string => `${item} ${place}`;
