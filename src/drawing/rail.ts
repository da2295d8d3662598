/** The weight rail: where each band lies on a logarithmic scale, and who owns each of its ends. */
import type { Range } from "../schema/collection.ts";
import { writeDecimal } from "../schema/spoken.ts";
import { kgOf } from "../domain/bands/bands.ts";

/**
 * A segment of the rail, in per cent of its length from `a` to `b`. Segments that lie over one another get different
 * lanes (from 1).
 */
interface RailSegment {
  readonly id: string;
  readonly a: number;
  readonly b: number;
  readonly lane: number;
}

/**
 * An end of one or two bands. `joins` says which segment a filled pin belongs to; `clash` marks an end that two own.
 */
interface RailPin {
  readonly x: number;
  readonly lane: number;
  readonly owned: boolean;
  readonly joins?: "left" | "right";
  readonly pair?: "first" | "second";
}

/** A mark of the scale; `label` only where it is worth reading, `minor` labels go first where there is little room. */
interface RailTick {
  readonly x: number;
  readonly label?: string;
  readonly minor: boolean;
}

/**
 * The bands of a platform as bars over one logarithmic scale of weights: all x in per cent of its length; bands that
 * lie over one another have lanes of their own, from 1.
 */
export interface Rail {
  readonly segments: readonly RailSegment[];
  readonly pins: readonly RailPin[];
  /** Places that two bands own. */
  readonly clashes: readonly { readonly x: number; readonly lane: number }[];
  readonly ticks: readonly RailTick[];
  readonly lanes: number;
  /** Ends of the scale in kilograms. */
  readonly fromKg: number;
  readonly toKg: number;
}

const STEPS = [1, 1.5, 2, 3, 5, 7, 10];

/** Place of a weight on the scale, in per cent, kept on the rail. */
export function placeOnRail(rail: Pick<Rail, "fromKg" | "toKg">, kg: number): number {
  const place = (Math.log10(kg / rail.fromKg) / Math.log10(rail.toKg / rail.fromKg)) * 100;
  return Math.min(100, Math.max(0, place));
}

/** Lays bands out on a scale that reaches a little beyond the service's patients. */
export function layRail(bands: readonly { readonly id: string; readonly weight: Range }[], service?: Range): Rail {
  const ranges = [...bands.map((band) => band.weight), ...(service ? [service] : [])];
  const ends = ranges
    .flatMap(({ from, to }) => [from, to])
    .flatMap((end) => (end && end.value > 0n ? [kgOf(end.value)] : []));
  // An open end needs room beyond the last known weight.
  const below = ranges.some(({ from }) => !from || from.value === 0n) ? 0.4 : 1,
    above = ranges.some(({ to }) => !to) ? 2.5 : 1;
  const fromKg = roundDown((ends.length ? Math.min(...ends) : 1) * below);
  const toKg = roundUp(Math.max((ends.length ? Math.max(...ends) : 100) * above, fromKg * 10));
  const scale = { fromKg, toKg };
  const place = (end: Range["from"], otherwise: number) =>
    end ? placeOnRail(scale, Math.max(kgOf(end.value), fromKg / 10)) : otherwise;

  const free: number[] = [];
  const segments = bands.map(({ id, weight }) => {
    const a = place(weight.from, 0),
      b = place(weight.to, 100);
    let lane = free.findIndex((end) => end <= a + 1e-9);
    if (lane < 0) lane = free.length;
    free[lane] = Math.max(b, a);
    return { id, a, b, lane: lane + 1 };
  });

  const pins: RailPin[] = [],
    clashes: { x: number; lane: number }[] = [];
  bands.forEach(({ weight }, index) => {
    const { a, b, lane } = segments[index]!;
    const before = bands.findIndex(
      (other, at) =>
        segments[at]!.lane === lane &&
        other.weight.to?.value === weight.from?.value &&
        weight.from !== undefined &&
        at !== index,
    );
    if (weight.from && before < 0)
      pins.push({ x: a, lane, owned: weight.from.owned, ...(weight.from.owned ? { joins: "right" as const } : {}) });
    if (!weight.to) return;
    const after = bands.find(
      (other, at) => segments[at]!.lane === lane && other.weight.from?.value === weight.to?.value && at !== index,
    );
    if (!after?.weight.from)
      pins.push({ x: b, lane, owned: weight.to.owned, ...(weight.to.owned ? { joins: "left" as const } : {}) });
    else if (weight.to.owned !== after.weight.from.owned)
      pins.push({ x: b, lane, owned: true, joins: weight.to.owned ? "left" : "right" });
    else {
      pins.push(
        { x: b, lane, owned: weight.to.owned, pair: "first" },
        { x: b, lane, owned: weight.to.owned, pair: "second" },
      );
      if (weight.to.owned) clashes.push({ x: b, lane });
    }
  });
  return { segments, pins, clashes, ticks: markScale(scale, ranges), lanes: Math.max(1, free.length), fromKg, toKg };
}

/**
 * Marks at 1, 2, 3 … of every power of ten, and at every end of a band; ends are always labelled, others where they
 * fit.
 */
function markScale(scale: { fromKg: number; toKg: number }, ranges: readonly Range[]): RailTick[] {
  const ends = new Map<number, string>();
  for (const end of ranges.flatMap(({ from, to }) => [from, to]))
    if (end && end.value > 0n) ends.set(kgOf(end.value), formatEnd(kgOf(end.value)));
  const labelled = [...ends].map(([kg, label]) => ({ x: placeOnRail(scale, kg), label, minor: false }));
  const plain: RailTick[] = [];
  for (let power = Math.floor(Math.log10(scale.fromKg)); 10 ** power <= scale.toKg; power += 1) {
    for (let digit = 1; digit < 10; digit += 1) {
      const kg = digit * 10 ** power;
      if (kg < scale.fromKg * 0.999 || kg > scale.toKg * 1.001 || ends.has(kg)) continue;
      const x = placeOnRail(scale, kg);
      const fits =
        [1, 2, 3, 7].includes(digit) &&
        [...labelled, ...plain.filter((tick) => tick.label)].every((tick) => Math.abs(tick.x - x) > 6);
      plain.push(fits ? { x, label: sayKilograms(kg), minor: true } : { x, minor: true });
    }
  }
  return [...labelled, ...plain].sort((left, right) => left.x - right.x);
}

const sayKilograms = (kg: number): string => writeDecimal(String(Number(kg.toPrecision(6))));

/** The nearest round number below (or at) a weight. */
function roundDown(kg: number): number {
  const power = 10 ** Math.floor(Math.log10(kg));
  return Number((power * STEPS.findLast((step) => step * power <= kg * 1.0000001)!).toPrecision(3));
}

/** The nearest round number above a weight. */
function roundUp(kg: number): number {
  const power = 10 ** Math.floor(Math.log10(kg));
  return Number((power * (STEPS.find((step) => step * power > kg * 1.0000001) ?? 15)).toPrecision(3));
}

/**
 * An end of a band for the scale: `≈ 40.82` where it is no whole number of grams (pounds); the band's own words beside
 * it are exact.
 */
function formatEnd(kg: number): string {
  return Math.abs(kg - Number(kg.toFixed(3))) < 1e-9 ? sayKilograms(kg) : `≈ ${sayKilograms(Number(kg.toFixed(2)))}`;
}
