/** What a run used, wore, opened or emptied, and what is done about it: from the acts and from what was fitted. */
import type { AfterRun, Item, Option, Place, Platform, Service } from "../../schema/collection.ts";
import { type Arrangement, layoutOf, placesOnPlatform } from "../parts/arrangements.ts";
import { takenFromStart } from "../parts/handling.ts";
import { lookup } from "../parts/lookup.ts";
import { placesUnder } from "../parts/support.ts";
import { modelOf } from "../states/model.ts";
import type { PlannedStep } from "../parts/reading.ts";
import { plansBetween } from "../time/plans.ts";

/** The order in which things are done after a run (common practice, no source). */
const AFTER_RUN: readonly AfterRun[] = ["clean", "charge", "refill", "reseal"];

/**
 * Why a thing is on the sheet. `worn`: it held the patient. `emptied`: it gave gas or ran on its battery. `used`: it
 * stood mounted during the run. `opened`: something was taken out of it, or a fastening that holds it was opened.
 * `moved`: the changeover moved it, and it was not mounted. `along`: it travelled, and no act touched it.
 */
type Reason = "worn" | "emptied" | "used" | "opened" | "moved" | "along";

/** A thing to see to after a run. */
interface RestockRow {
  readonly of: Item | Place;
  /** Pieces; 1 for a place. */
  readonly count: number;
  /** Where they stand at the end of the run: a place's id; for a place, itself. */
  readonly at: string;
  readonly reasons: readonly Reason[];
  readonly acts: readonly AfterRun[];
  /** Whether it is known that it has to be done; if not, only if it was used. */
  readonly sure: boolean;
}

interface Restock {
  /** In the order of the platform's places, then of its equipment; empty if nothing is to be done. */
  readonly rows: readonly RestockRow[];
  /** What was mounted and has no `after-run`, so that nobody takes the silence for a clean bill. */
  readonly unsaid: readonly Item[];
}

/**
 * What is to be done after a run in an arrangement to which the steps led; no steps: it stood already. Of several ways
 * (for different patients), each is given as a list of its steps, and what any of them touched counts.
 */
export function restockAfter(
  platform: Platform,
  { contents }: Pick<Arrangement, "contents">,
  ways: readonly (readonly PlannedStep[])[],
): Restock {
  const { items, places } = lookup(platform);
  const touched = ways.map((steps) => touch(platform, steps));
  const moved = (item: string) => Math.max(0, ...touched.map((each) => each.moved.get(item) ?? 0));
  const isOpened = (place: string) => touched.some(({ opened }) => opened.has(place));
  const aboard = placesOnPlatform(layoutOf(platform), contents),
    isAboard = (place: string) => aboard.has(place);
  const mounted = contents.filter(({ place }) => isAboard(place) && places.get(place)!.kind === "mount");
  const ofItems = contents.flatMap((entry): RestockRow[] => {
    const item = items.get(entry.item);
    if (!item?.afterRun) return [];
    const isMounted = mounted.includes(entry),
      wasMoved = Math.min(moved(item.id), entry.count),
      // What carries nothing is no container: a mattress under a canopy is not opened with it.
      wasOpened = item.carries && item.places.some(isOpened);
    const reasons: Reason[] = [
      ...(isMounted && item.restrains ? (["worn"] as const) : []),
      ...(isMounted && (item.contentsLitres ?? item.runsSeconds) !== undefined ? (["emptied"] as const) : []),
      ...(isMounted && !item.restrains ? (["used"] as const) : []),
      ...(wasOpened ? (["opened"] as const) : []),
      ...(!isMounted && wasMoved > 0 ? (["moved"] as const) : []),
    ];
    if (reasons.length === 0 && !isAboard(entry.place)) return [];
    return [
      {
        of: item,
        count: reasons.length === 1 && reasons[0] === "moved" ? wasMoved : entry.count,
        at: entry.place,
        reasons: reasons.length ? reasons : ["along"],
        acts: AFTER_RUN.filter((act) => item.afterRun!.includes(act)),
        sure: reasons.some((reason) => reason !== "moved"),
      },
    ];
  });
  const ofPlaces = platform.places.flatMap((place): RestockRow[] => {
    if (!place.afterRun || !(isAboard(place.id) || isOpened(place.id))) return [];
    const wasOpened = isOpened(place.id);
    return [
      {
        of: place,
        count: 1,
        at: place.id,
        reasons: [wasOpened ? "opened" : "along"],
        acts: AFTER_RUN.filter((act) => place.afterRun!.includes(act)),
        sure: wasOpened,
      },
    ];
  });
  return {
    rows: [...ofPlaces, ...ofItems].sort(inOrder(platform)),
    unsaid: platform.items.filter(
      ({ id, afterRun }) => !afterRun && mounted.some(({ item, count }) => item === id && count > 0),
    ),
  };
}

/** What is to be done after a run in an arrangement, built from another one for any patient of its band. */
export function restockOf(
  platform: Platform,
  service: Pick<Service, "band" | "crew">,
  from: Arrangement,
  to: Arrangement,
): Restock {
  const plans = from.name === to.name ? [] : plansBetween(modelOf(platform), service, from, to);
  return restockAfter(
    platform,
    to,
    plans.flatMap(({ changeover }) => (changeover ? [changeover.steps] : [])),
  );
}

/** Pieces that steps take from where they stood, by item; and the places that they open or take something out of. */
function touch(
  { fastenings }: Platform,
  steps: readonly PlannedStep[],
): { readonly moved: ReadonlyMap<string, number>; readonly opened: ReadonlySet<string> } {
  const moved = new Map<string, number>(),
    opened = new Set<string>(),
    byId = new Map(fastenings.map((fastening) => [fastening.id, fastening]));
  for (const { item, place, count } of takenFromStart(steps.map(({ step }) => step))) {
    moved.set(item, (moved.get(item) ?? 0) + count);
    opened.add(place);
  }
  for (const { step } of steps)
    for (const operation of step.operations) {
      if (operation.kind !== "turn") continue;
      const fastening = byId.get(operation.fastening);
      if (fastening && operation.to !== fastening.secure) for (const place of fastening.holds) opened.add(place);
    }
  return { moved, opened };
}

/** When a row of a configuration's sheet holds: always, with any or none of some options, or only in these. */
type When =
  | { readonly kind: "always" }
  | { readonly kind: "any" | "none"; readonly options: readonly Option[] }
  | { readonly kind: "these"; readonly arrangements: readonly Arrangement[] };

interface RestockSheet {
  readonly rows: readonly (RestockRow & { readonly when: When })[];
  readonly unsaid: readonly Item[];
}

/** One sheet for a configuration with all its options: each row with the arrangements in which it holds. */
export function restockSheet(
  platform: Platform,
  service: Pick<Service, "band" | "crew">,
  from: Arrangement,
  all: readonly Arrangement[],
): RestockSheet {
  const found = new Map<string, { row: RestockRow; holds: Arrangement[] }>(),
    unsaid = new Set<Item>();
  for (const arrangement of all) {
    const restock = restockOf(platform, service, from, arrangement);
    for (const item of restock.unsaid) unsaid.add(item);
    for (const row of restock.rows) {
      const key = JSON.stringify([row.of.id, row.at, row.count, row.reasons]);
      const known = found.get(key) ?? { row, holds: [] };
      known.holds.push(arrangement);
      found.set(key, known);
    }
  }
  const compare = inOrder(platform);
  return {
    rows: [...found.values()]
      .map(({ row, holds }) => ({ ...row, when: whenOf(holds, all) }))
      .sort((a, b) => compare(a, b)),
    unsaid: platform.items.filter((item) => unsaid.has(item)),
  };
}

/** The fewest options, three at most, by which some arrangements are told from all; else the arrangements. */
function whenOf(some: readonly Arrangement[], all: readonly Arrangement[]): When {
  if (some.length === all.length) return { kind: "always" };
  const options = [...new Set(all.flatMap((each) => each.options))];
  for (const set of setsUpTo(options, 3)) {
    const withAny = all.filter((each) => each.options.some((option) => set.includes(option)));
    if (isSame(withAny, some)) return { kind: "any", options: set };
    if (withAny.length + some.length === all.length && !withAny.some((each) => some.includes(each)))
      return { kind: "none", options: set };
  }
  return { kind: "these", arrangements: some };
}

const isSame = (a: readonly unknown[], b: readonly unknown[]) =>
  a.length === b.length && a.every((each) => b.includes(each));

/** All sets of 1 up to `most` of a list, the smaller ones first. */
function setsUpTo<T>(list: readonly T[], most: number): T[][] {
  const sets: T[][] = [[]];
  for (const one of list) for (const set of [...sets]) if (set.length < most) sets.push([...set, one]);
  return sets.filter((set) => set.length > 0).sort((a, b) => a.length - b.length);
}

/**
 * As somebody walks: the platform's places in the order of its file, the places on an item after the place in which it
 * is first fitted, or is at home; there the place itself first, then by the order of the equipment.
 */
function inOrder(platform: Platform): (a: RestockRow, b: RestockRow) => number {
  const { places } = lookup(platform),
    fitted = [...platform.configurations, ...platform.options].flatMap((document) => document.fitted);
  const order = new Map(platform.places.map(({ id }, index) => [id, index])),
    itemOrder = new Map(platform.items.map(({ id }, index) => [id, index + 1]));
  const stands = (id: string) => {
    const place = fitted.find(({ item }) => item === id)?.place ?? platform.items.find((item) => item.id === id)?.home;
    return place === undefined ? [] : [place];
  };
  const pathTo = (id: string) =>
    placesUnder(id, places, stands)
      .map((place) => order.get(place) ?? 0)
      .toReversed();
  return (a, b) => {
    const [left, right] = [pathTo(a.at), pathTo(b.at)];
    const at = left.findIndex((step, index) => step !== right[index]);
    if (at >= 0) return right[at] === undefined ? 1 : left[at]! - right[at];
    return left.length - right.length || (itemOrder.get(a.of.id) ?? 0) - (itemOrder.get(b.of.id) ?? 0);
  };
}
