/**
 * The plan of an arrangement seen from above, from the places' x and y: numbers only, in millimetres along (x) and
 * across (y).
 */
import type { Arrangement } from "../domain/parts/arrangements.ts";
import type { Platform } from "../schema/collection.ts";
import { itemsUnder, standingIn } from "../domain/parts/support.ts";
import { listRows, type LoadRow, placeLocator } from "../domain/load/load-rows.ts";
import { toNumber } from "../domain/numbers/rational.ts";
import { remember } from "../domain/words/remember.ts";

/** What stands in one place: a row of the table beside the plan. */
interface PlanEntry {
  /** Counts from 1, from the datum onwards; what cannot be drawn comes last. */
  readonly number: number;
  readonly item: string;
  readonly place: string;
  readonly count: number;
  readonly massKg: number;
  readonly hasMass: boolean;
  /** Where it acts; undefined when nothing says where: then it is not drawn. */
  readonly xMm: number | undefined;
  readonly yMm: number | undefined;
  /** Put there by the configuration or an option, not at home there. */
  readonly fitted: boolean;
}

/**
 * An outline. Only its cross is measured: a collection has no sizes, so a heavier thing is drawn larger, and what
 * carries the patient long.
 */
export interface PlanBox {
  readonly entry: PlanEntry;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Stands at the same spot as something that it is not on: above or below it. */
  readonly apart: boolean;
}

/** The centre of a number's circle. */
interface PlanNumber {
  readonly number: number;
  readonly x: number;
  readonly y: number;
  /** Where a line leads to when the number stands apart from its outline; undefined when it touches it. */
  readonly leadTo: { readonly x: number; readonly y: number } | undefined;
}

/**
 * A platform from above with what stands on it: x in millimetres along the platform (as `x-mm` of its places), y across
 * it from the middle line.
 */
export interface Plan {
  /** Ends of the drawing; all symbols are sized by `unit` (1 on a platform of about two metres). */
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
  readonly entries: readonly PlanEntry[];
  /** In drawing order: the largest first. */
  readonly boxes: readonly PlanBox[];
  readonly crosses: readonly { readonly x: number; readonly y: number; readonly place: string }[];
  readonly numbers: readonly PlanNumber[];
  /** The same for a small drawing, with circles of 42 units. */
  readonly largeNumbers: readonly PlanNumber[];
  readonly patient: { readonly x: number; readonly y: number } | undefined;
  /** Distance between the ticks of the scale. */
  readonly tickMm: number;
  readonly ticks: readonly number[];
}

/** Radius of a number's circle in units: usually, and on a small drawing, where 14 px are more of the platform. */
export const NUMBER_RADIUS = 25;
/** The radius on a small drawing. */
export const LARGE_NUMBER_RADIUS = 42;

/**
 * Lays out an arrangement. `alsoMm` are further points along the platform that must be on the drawing, such as limits
 * and balance points.
 * A place without y is drawn on the middle line. Undefined when no place on the platform has an x: there is nothing to
 * draw.
 */
export function layoutPlan(
  { items, places, patient }: Platform,
  { contents }: Pick<Arrangement, "contents">,
  alsoMm: readonly number[] = [],
): Plan | undefined {
  const known = plansOf(items, places),
    key = JSON.stringify([patient?.xMm, contents.map(({ item, place, count }) => [item, place, count]), alsoMm]);
  if (!known.has(key)) known.set(key, makePlan({ items, places, ...(patient ? { patient } : {}) }, contents, alsoMm));
  return known.get(key);
}

/**
 * Cards, their options, what a revision changes of them: all draw the same things in the same places, on platforms of
 * which only texts differ. The plan rests on what is written here, and is made once for it.
 */
const plansOf = /* @__PURE__ */ remember(
  (_items: Platform["items"], _places: Platform["places"]) => new Map<string, Plan | undefined>(),
);

/** What of a platform is drawn. */
type Drawn = Pick<Platform, "items" | "places" | "patient">;

function makePlan(platform: Drawn, contents: Arrangement["contents"], alsoMm: readonly number[]): Plan | undefined {
  const locate = placeLocator(platform, contents);
  const own = platform.places.filter(
    (place) => place.kind !== "store" && place.on === undefined && place.xMm !== undefined,
  );
  if (own.length === 0) return undefined;
  const entries = numberEntries(platform, listRows(platform, { contents }), locate);
  const spots = entries.filter((entry) => entry.xMm !== undefined);
  const patient = platform.patient && { x: platform.patient.xMm, y: 0 };
  const xs = [
    0,
    ...own.map((place) => place.xMm!),
    ...spots.map(({ xMm }) => xMm!),
    ...alsoMm,
    ...(patient ? [patient.x] : []),
  ];
  const span = Math.max(...xs) - Math.min(...xs) || 1000;
  const unit = span / 1700;
  const tickMm = niceStep(span / 17);
  const fromMm = floorTo(Math.min(...xs) - 60 * unit, tickMm);
  const toMm = -floorTo(-Math.max(...xs) - 60 * unit, tickMm);
  const across = [...own.map((place) => Math.abs(place.yMm ?? 0)), ...spots.map(({ yMm }) => Math.abs(yMm ?? 0))];
  const halfWidthMm = Math.max(280 * unit, Math.max(...across) + 80 * unit);
  const boxes = boxEntries(platform, spots, { fromMm, toMm, halfWidthMm, unit, patientX: patient?.x });
  const crosses = [
    ...new Map(spots.map(({ xMm, yMm, place }) => [`${xMm} ${yMm}`, { x: xMm!, y: yMm ?? 0, place }])).values(),
  ];
  const frame = { fromMm, toMm, halfWidthMm, unit };
  const [numbers, largeNumbers] = [NUMBER_RADIUS, LARGE_NUMBER_RADIUS].map((radius) =>
    placeNumbers(boxes, crosses, patient, frame, radius * unit),
  ) as [PlanNumber[], PlanNumber[]];
  return {
    ...frame,
    entries,
    boxes,
    crosses,
    numbers,
    largeNumbers,
    patient,
    tickMm,
    ticks: range(fromMm, toMm, tickMm),
  };
}

/**
 * The number that the plan gives to each `item place`, so that a table beside it uses the same; empty when nothing is
 * drawn.
 */
export function planNumbers(platform: Platform, arrangement: Arrangement): ReadonlyMap<string, number> {
  return new Map(
    layoutPlan(platform, arrangement)?.entries.map(({ item, place, number }) => [`${item} ${place}`, number]),
  );
}

function numberEntries(
  platform: Drawn,
  rows: readonly LoadRow[],
  locate: ReturnType<typeof placeLocator>,
): PlanEntry[] {
  const homes = new Map(platform.items.map(({ id, home }) => [id, home]));
  const entries = rows.map((row) => {
    const at = locate(row.place);
    return {
      item: row.item,
      place: row.place,
      count: row.count,
      massKg: toNumber(row.massKg),
      hasMass: row.hasMass,
      xMm: row.xMm && toNumber(row.xMm),
      yMm: row.xMm && at?.yMm ? toNumber(at.yMm) : undefined,
      fitted: homes.get(row.item) !== row.place,
    };
  });
  const key = (xMm: number | undefined) => xMm ?? Infinity;
  const sorted = entries.toSorted((a, b) =>
    key(a.xMm) === key(b.xMm) ? (a.yMm ?? 0) - (b.yMm ?? 0) : key(a.xMm) - key(b.xMm),
  );
  return sorted.map((entry, at) => ({ number: at + 1, ...entry }));
}

interface Frame {
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
  readonly patientX?: number | undefined;
}

function boxEntries(platform: Drawn, spots: readonly PlanEntry[], frame: Frame): PlanBox[] {
  const { unit, halfWidthMm } = frame;
  const places = new Map(platform.places.map((place) => [place.id, place])),
    stands = standingIn(spots);
  const restraining = new Set(platform.items.filter(({ restrains }) => restrains).map(({ id }) => id));
  /** Items under an entry, from the one it stands on downwards. */
  const chains = new Map(
    spots.map((entry) => [entry, [...itemsUnder(entry.place, places, (item) => stands(item).slice(0, 1))]]),
  );
  const isLong = (entry: PlanEntry) =>
    restraining.has(entry.item) ||
    spots.some((other) => restraining.has(other.item) && chains.get(other)!.includes(entry.item));
  const boxes = spots.map((entry) => {
    const depth = chains.get(entry)!.length;
    // What restrains across (straps on a cradle) is drawn across; what carries the patient from the deck up, along.
    const acrossPatient = restraining.has(entry.item) && chains.get(entry)!.some((item) => restraining.has(item));
    const side = clamp(60 * Math.cbrt(entry.massKg), 76, 220) * unit;
    const width = acrossPatient
      ? 52 * unit
      : isLong(entry)
        ? Math.min((1000 - depth * 90) * unit, (frame.toMm - frame.fromMm) * 0.62)
        : side * 1.1;
    const height = acrossPatient
      ? Math.min(400 * unit, halfWidthMm * 1.4)
      : isLong(entry)
        ? Math.min((380 - depth * 40) * unit, halfWidthMm * 1.3)
        : side;
    return { entry, x: entry.xMm! - width / 2, y: (entry.yMm ?? 0) - height / 2, width, height, apart: false };
  });
  // What lies along on something that lies along stays inside its outline, wherever its own middle is.
  const nested = boxes.map((box) => {
    const base = boxes.find((other) => other.entry.item === chains.get(box.entry)![0]);
    if (!base || !isLong(box.entry) || box.height >= base.height) return box;
    const x = Math.max(box.x, base.x + 20 * unit);
    return { ...box, x, width: Math.min(box.x + box.width, base.x + base.width - 20 * unit) - x };
  });
  const ordered = nested.toSorted((a, b) => b.width * b.height - a.width * a.height);
  return ordered.map((box, at) => {
    const apart = ordered
      .slice(0, at)
      .some(
        (larger) =>
          !chains.get(box.entry)!.includes(larger.entry.item) &&
          larger.entry.place !== box.entry.place &&
          !shareBase(chains, box.entry, larger.entry) &&
          meets(box, larger),
      );
    return { ...box, apart };
  });
}

function shareBase(chains: ReadonlyMap<PlanEntry, readonly string[]>, a: PlanEntry, b: PlanEntry): boolean {
  return chains.get(a)!.some((item) => chains.get(b)!.includes(item));
}

function meets(a: PlanBox, b: PlanBox): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/**
 * Puts each number where it covers no other number, no cross and not the patient, as near to its cross as can be;
 * smallest boxes first.
 */
function placeNumbers(
  boxes: readonly PlanBox[],
  crosses: Plan["crosses"],
  patient: Plan["patient"],
  { fromMm, toMm, halfWidthMm, unit }: Frame,
  radius: number,
): PlanNumber[] {
  const placed: PlanNumber[] = [];
  // The word "patient" stands above its sign (upright: beside it).
  const word = patient
    ? [-36, 0, 36].flatMap((along) => [
        { x: patient.x + along * unit, y: -40 * unit },
        { x: patient.x, y: -40 * unit + along * unit },
      ])
    : [];
  const marks = [...crosses, ...(patient ? [patient] : []), ...word];
  for (const { entry, x, y, width, height } of boxes.toReversed()) {
    const centre = { x: entry.xMm!, y: entry.yMm ?? 0 };
    const inside = [
      [x + radius * 1.3, y + radius * 1.3],
      [x + width - radius * 1.3, y + radius * 1.3],
      [x + radius * 1.3, y + height - radius * 1.3],
      [x + width - radius * 1.3, y + height - radius * 1.3],
    ] as const;
    const around = [1.9, 2.6, 3.4, 4.4, 5.6, 7].flatMap((reach) =>
      Array.from(
        { length: 12 },
        (_, turn) =>
          [
            centre.x + Math.cos((turn * Math.PI) / 6) * reach * radius,
            centre.y + Math.sin((turn * Math.PI) / 6) * reach * radius,
          ] as const,
      ),
    );
    const long = width > 8 * radius;
    const candidates = long ? [...inside, ...around] : around;
    const isFree = ([px, py]: readonly [number, number]) =>
      px - radius >= fromMm &&
      px + radius <= toMm &&
      Math.abs(py) + radius <= halfWidthMm &&
      placed.every((other) => Math.hypot(other.x - px, other.y - py) >= 2.2 * radius) &&
      marks.every((mark) => Math.hypot(mark.x - px, mark.y - py) >= 1.7 * radius) &&
      (long
        ? boxes.every(
            (box) =>
              box.entry === entry ||
              box.width > width ||
              !meets(box, { ...box, x: px - radius, y: py - radius, width: 2 * radius, height: 2 * radius }),
          )
        : true);
    const [px, py] = candidates.find(isFree) ?? [centre.x, centre.y];
    const edge = { x: clamp(px, x, x + width), y: clamp(py, y, y + height) };
    placed.push({
      number: entry.number,
      x: px,
      y: py,
      leadTo: Math.hypot(edge.x - px, edge.y - py) > radius ? edge : undefined,
    });
  }
  return placed.toSorted((a, b) => a.number - b.number);
}

/** The step 1, 2 or 5 times a power of ten that is nearest above. */
export function niceStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((factor) => factor * power).find((step) => step >= least - power * 1e-9)!;
}

function floorTo(value: number, step: number): number {
  return Math.floor(value / step) * step;
}

function range(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, at) => from + at * step);
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
