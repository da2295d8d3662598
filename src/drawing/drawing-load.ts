/**
 * What the load drawings show: the balance point over a band on a rail with its limits, and bars of how much of each
 * limit is used.
 */
import type { Band, End, Platform } from "../schema/collection.ts";
import { findHeld } from "../domain/load/inertia.ts";
import { listRows, type Loadable } from "../domain/load/load-rows.ts";
import { bandEnds, brokenLimits, totalLoad } from "../domain/load/load.ts";
import { exactly, type Rational, toNumber } from "../domain/numbers/rational.ts";
import { sayMeasure } from "../domain/words/measures.ts";
import { heard } from "../words/heard.ts";

/** The load with the patient at one end of the band. */
interface LoadEnd {
  readonly side: "light" | "heavy";
  readonly patientKg: number;
  /** The author's words for the end, with whether it belongs to the band: `at 5 kg`, `under 40 kg`, `over 5 kg`. */
  readonly text: string;
  /** A filled pin if the band owns the end. */
  readonly owned: boolean;
  readonly massKg: number;
  /** Undefined when there is no mass at all. */
  readonly balanceMm: number | undefined;
  /** Mass and balance are within the limits. */
  readonly within: boolean;
}

/**
 * The load at both ends of the band; one end alone when the other is open without limit and the service does not say
 * either.
 */
export function findLoadEnds(platform: Platform, loadable: Loadable, band: Band, service: Band): LoadEnd[] {
  const weight = { from: band.weight.from ?? service.weight.from, to: band.weight.to ?? service.weight.to };
  const { fromKg, toKg } = bandEnds({ ...band, weight: { ...band.weight, ...weight } });
  const lightest: End = weight.from ?? { value: 0n, owned: true, text: "0 kg" };
  const ends = [endOf(platform, loadable, "light", fromKg, lightest)];
  if (weight.to && toKg && weight.to.value !== lightest.value)
    ends.push(endOf(platform, loadable, "heavy", toKg, weight.to));
  return ends;
}

function endOf(
  platform: Platform,
  loadable: Loadable,
  side: LoadEnd["side"],
  patientKg: Rational,
  { owned, text }: End,
): LoadEnd {
  const totals = totalLoad(platform, loadable, patientKg);
  const end = sayMeasure(text);
  return {
    side,
    owned,
    text: owned
      ? heard("ranges").at({ end })
      : side === "light"
        ? heard("ranges").over({ low: end })
        : heard("ranges").under({ high: end }),
    patientKg: toNumber(patientKg),
    massKg: toNumber(totals.massKg),
    balanceMm: totals.balanceMm && toNumber(totals.balanceMm),
    within: brokenLimits(platform, totals).length === 0,
  };
}

/** A balance rail: everything in millimetres from the datum. */
export interface BalanceRail {
  readonly fromMm: number | undefined;
  readonly toMm: number | undefined;
  /** Where the label of each pin goes: outwards, so that two close pins keep their labels apart. */
  readonly pins: readonly { readonly end: LoadEnd; readonly x: number; readonly label: "before" | "after" }[];
}

/**
 * The balance points of a band against the platform's limits; undefined when there is no mass and so no balance point.
 */
export function layoutRail(platform: Platform, ends: readonly LoadEnd[]): BalanceRail | undefined {
  const known = ends.flatMap((end) => (end.balanceMm === undefined ? [] : [{ end, x: end.balanceMm }]));
  if (known.length === 0) return undefined;
  const lowest = Math.min(...known.map(({ x }) => x));
  const first = known.find(({ x }) => x === lowest);
  return {
    fromMm: platform.limits.balance?.fromMm,
    toMm: platform.limits.balance?.toMm,
    pins: known.map((pin) => ({ ...pin, label: pin === first && known.length > 1 ? "before" : "after" })),
  };
}

/** One limit as a bar. `share` is used over allowed: 1 is just met, more is broken. */
interface LimitBar {
  readonly kind: "mass" | "fastening";
  /** Fastening id; undefined for the mass. */
  readonly fastening: string | undefined;
  /**
   * The direction with the largest load and its factor; undefined for the mass, and where no direction has a factor.
   */
  readonly direction: string | undefined;
  readonly factor: number | undefined;
  /** kg for the mass, newtons for a fastening; undefined where nothing can be worked out. */
  readonly used: number | undefined;
  readonly allowed: number;
  readonly share: number | undefined;
  /** Directions without a factor: "no factor in this rule", not checked. */
  readonly unchecked: readonly string[];
  /** Items without a mass among what is held: it is then more than shown. */
  readonly noMass: readonly string[];
}

/**
 * Bars for the mass limit and for every rated fastening that holds something, with a patient of that weight; none when
 * there is no limit.
 */
export function layoutBars(platform: Platform, loadable: Loadable, patientKg: number | undefined): LimitBar[] {
  const patient = patientKg === undefined ? undefined : exactly(patientKg);
  const bars: LimitBar[] = [];
  const { massKg: most } = platform.limits;
  const rows = listRows(platform, loadable);
  if (most !== undefined) {
    const used = toNumber(totalLoad(platform, loadable, patient).massKg);
    const noMass = [...new Set(rows.filter(({ hasMass }) => !hasMass).map(({ item }) => item))];
    bars.push({
      kind: "mass",
      fastening: undefined,
      direction: undefined,
      factor: undefined,
      used,
      allowed: most,
      share: used / most,
      unchecked: [],
      noMass,
    });
  }
  for (const { fastening, directions, noMass } of findHeld(platform, rows, patient)) {
    if (fastening.ratedN === undefined) continue;
    const loads = directions.flatMap(({ name, factor, newtons }) =>
      factor && newtons ? [{ name, factor: toNumber(factor), newtons: toNumber(newtons) }] : [],
    );
    const worst = loads.toSorted((a, b) => b.newtons - a.newtons)[0];
    bars.push({
      kind: "fastening",
      fastening: fastening.id,
      direction: worst?.name,
      factor: worst?.factor,
      used: worst?.newtons,
      allowed: fastening.ratedN,
      share: worst && worst.newtons / fastening.ratedN,
      unchecked: directions.filter(({ factor }) => !factor).map(({ name }) => name),
      noMass,
    });
  }
  return bars;
}
