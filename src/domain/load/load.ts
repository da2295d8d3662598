/**
 * Mass, moment and balance point of an arrangement, the patient weights at which a limit is broken, and what fastenings
 * have to hold.
 */
import type { Arrangement } from "../parts/arrangements.ts";
import { meetBands } from "../bands/bands.ts";
import type { Band, Platform, Service } from "../../schema/collection.ts";
import { MASS_PER_KG } from "../../schema/units.ts";
import { findHeld, type HeldLoad } from "./inertia.ts";
import { addUp, itemsWithoutMass, listRows, type Loadable, fractionOf, type Totals } from "./load-rows.ts";
import { compare, exactly, fraction, minus, over, type Rational, times, toNumber, ZERO } from "../numbers/rational.ts";

/** A limit of the platform. `balance-from` is the end of the balance range nearer the datum. */
export type LimitName = "mass" | "balance-from" | "balance-to";

/**
 * For which patients a limit is broken: for weights `over` a threshold, `under` one, `always` or `never`. A limit met
 * exactly holds.
 * `atKg` is exact; it may lie outside the band.
 */
export interface Crossing {
  readonly limit: LimitName;
  readonly limitValue: Rational;
  readonly broken: "over" | "under" | "always" | "never";
  readonly atKg?: Rational;
}

const THOUSAND = fraction(1000n);

/** A mass of the schema (units of 1e-20 kg) in kg. */
export function massOf(value: bigint): Rational {
  return fraction(value, MASS_PER_KG);
}

/** Totals of the bare platform, everything on it and a patient (none when `patientKg` is undefined). */
export function totalLoad(platform: Platform, loadable: Loadable, patientKg?: Rational): Totals {
  const rows = [ownRow(platform), ...listRows(platform, loadable)];
  return addUp(patientKg ? [...rows, { massKg: patientKg, xMm: fractionOf(platform.patient?.xMm) }] : rows);
}

function ownRow(platform: Platform): { massKg: Rational; xMm: Rational } {
  return { massKg: exactly(platform.own.massKg), xMm: exactly(platform.own.xMm) };
}

/**
 * The limits that totals break; empty when they break none, or the platform has none. An end of the balance range
 * belongs to it.
 */
export function brokenLimits(platform: Platform, { massKg, balanceMm }: Totals): LimitName[] {
  const { massKg: most, balance } = platform.limits;
  const broken: LimitName[] = [];
  if (most !== undefined && compare(massKg, exactly(most)) > 0) broken.push("mass");
  if (balance && balanceMm && compare(balanceMm, exactly(balance.fromMm)) < 0) broken.push("balance-from");
  if (balance && balanceMm && compare(balanceMm, exactly(balance.toMm)) > 0) broken.push("balance-to");
  return broken;
}

/**
 * For each limit of the platform, the exact patient weight at which it begins to be broken. The balance point with a
 * patient of w kg is
 * (m0 + w·xp) / (M0 + w); setting it to the limit L gives w = (L·M0 - m0) / (xp - L), on one side of which it is
 * broken.
 */
export function findCrossings(platform: Platform, loadable: Loadable): Crossing[] {
  const { massKg, momentKgm } = totalLoad(platform, loadable);
  const patientX = exactly(platform.patient?.xMm ?? 0);
  const crossings: Crossing[] = [];
  const { massKg: most, balance } = platform.limits;
  if (most !== undefined) crossings.push(crossingAt("mass", exactly(most), minus(exactly(most), massKg), 1));
  for (const [limit, value, sign] of balance
    ? ([
        ["balance-from", balance.fromMm, -1],
        ["balance-to", balance.toMm, 1],
      ] as const)
    : []) {
    // Broken when sign · (patientX - L) · w is more than sign · (L·M0 - m0).
    const side = exactly(value);
    const slope = times(fraction(BigInt(sign)), minus(patientX, side));
    const room = times(fraction(BigInt(sign)), minus(times(side, massKg), times(momentKgm, THOUSAND)));
    if (slope.n === 0n) crossings.push({ limit, limitValue: side, broken: room.n < 0n ? "always" : "never" });
    else crossings.push(crossingAt(limit, side, over(room, slope), compare(slope, ZERO)));
  }
  return crossings;
}

/**
 * Weights below 0 do not exist: a limit broken over a negative weight is always broken, one broken under it (or 0)
 * never.
 */
function crossingAt(limit: LimitName, limitValue: Rational, atKg: Rational, slope: number): Crossing {
  if (slope > 0)
    return atKg.n < 0n ? { limit, limitValue, broken: "always" } : { limit, limitValue, broken: "over", atKg };
  return atKg.n <= 0n ? { limit, limitValue, broken: "never" } : { limit, limitValue, broken: "under", atKg };
}

/**
 * Lowest and highest patient of a band in kg; an end counts as its value also when the band does not own it. No lower
 * end: 0. No upper end: undefined.
 */
export function bandEnds({ weight }: Band): { readonly fromKg: Rational; readonly toKg: Rational | undefined } {
  return {
    fromKg: weight.from ? massOf(weight.from.value) : ZERO,
    toKg: weight.to ? massOf(weight.to.value) : undefined,
  };
}

/**
 * `rerig load --json`: numbers are not rounded. `patient` is null, and its mass in nothing, when no weight is given.
 */
export interface LoadReport {
  readonly mass: { readonly kg: number; readonly limit: number | null };
  readonly moment: { readonly kgm: number };
  /** `mm` is null when there is no mass at all. */
  readonly balance: { readonly mm: number | null; readonly from: number | null; readonly to: number | null };
  /** Mass and balance are within the platform's limits; strengths are under `fastenings`. */
  readonly within: boolean;
  /** Limits that are broken. */
  readonly broken: readonly LimitName[];
  /**
   * What is on the platform; `kg` is of all the pieces together. `mm` is null where a place has no x: it counts at the
   * datum.
   */
  readonly items: readonly {
    readonly item: string;
    readonly place: string;
    readonly count: number;
    readonly kg: number;
    readonly mm: number | null;
    readonly kgm: number;
  }[];
  readonly own: { readonly kg: number; readonly mm: number; readonly kgm: number };
  readonly patient: { readonly kg: number; readonly mm: number | null; readonly kgm: number } | null;
  /** Item ids that count as 0 kg because the collection gives no mass. */
  readonly noMass: readonly string[];
  /**
   * For which patients each limit is broken; `kg` is the exact threshold as a number, null for `always` and `never`.
   */
  readonly crossings: readonly {
    readonly limit: LimitName;
    readonly broken: Crossing["broken"];
    readonly kg: number | null;
  }[];
  readonly fastenings: readonly HeldReport[];
  /** Published source of the factors, in the author's words; null when not given. */
  readonly factorSource: string | null;
}

/**
 * What one fastening has to hold. A direction is null when the platform gives no factor for it ("no factor in this
 * rule"): it is not checked.
 */
interface HeldReport {
  readonly fastening: string;
  readonly kg: number;
  readonly patient: boolean;
  readonly ratedN: number | null;
  readonly loads: Readonly<
    Record<string, { readonly factor: number; readonly newtons: number; readonly within: boolean | null } | null>
  >;
  /** null when there is nothing to check: no rating, or no factor. */
  readonly within: boolean | null;
}

/** The whole load of an arrangement with a patient of that weight as plain data. */
export function reportLoad(platform: Platform, loadable: Loadable, patientKg?: Rational): LoadReport {
  const rows = listRows(platform, loadable);
  const totals = totalLoad(platform, loadable, patientKg);
  const broken = brokenLimits(platform, totals);
  const { massKg: most, balance } = platform.limits;
  return {
    mass: { kg: toNumber(totals.massKg), limit: most ?? null },
    moment: { kgm: toNumber(totals.momentKgm) },
    balance: {
      mm: totals.balanceMm ? toNumber(totals.balanceMm) : null,
      from: balance?.fromMm ?? null,
      to: balance?.toMm ?? null,
    },
    within: broken.length === 0,
    broken,
    items: rows.map(({ item, place, count, massKg, xMm }) => ({ item, place, count, ...numbersOf(massKg, xMm) })),
    own: { ...numbersOf(ownRow(platform).massKg, ownRow(platform).xMm), mm: platform.own.xMm },
    patient: patientKg ? numbersOf(patientKg, fractionOf(platform.patient?.xMm)) : null,
    noMass: itemsWithoutMass(platform, rows).map(({ id }) => id),
    crossings: findCrossings(platform, loadable).map((crossing) => ({
      limit: crossing.limit,
      broken: crossing.broken,
      kg: crossing.atKg ? toNumber(crossing.atKg) : null,
    })),
    fastenings: findHeld(platform, rows, patientKg).map(reportHeld),
    factorSource: platform.factors?.source ?? null,
  };
}

function numbersOf(massKg: Rational, xMm: Rational | undefined): { kg: number; mm: number | null; kgm: number } {
  return {
    kg: toNumber(massKg),
    mm: xMm ? toNumber(xMm) : null,
    kgm: toNumber(over(times(massKg, xMm ?? ZERO), THOUSAND)),
  };
}

function reportHeld({ fastening, massKg, patient, directions }: HeldLoad): HeldReport {
  const checked = directions.flatMap((direction) => (direction.within === undefined ? [] : [direction.within]));
  return {
    fastening: fastening.id,
    kg: toNumber(massKg),
    patient,
    ratedN: fastening.ratedN ?? null,
    loads: Object.fromEntries(
      directions.map(({ name, factor, newtons, within }) => [
        name,
        factor === undefined || !newtons
          ? null
          : { factor: toNumber(factor), newtons: toNumber(newtons), within: within ?? null },
      ]),
    ),
    within: checked.length > 0 ? checked.every((within) => within) : null,
  };
}

/**
 * Mass of an arrangement with the lightest and the heaviest patient of its band that the service carries, in kilograms;
 * `undefined` if nothing has a mass.
 */
export function massRange(
  service: Service,
  platform: Platform,
  arrangement: Arrangement,
): { readonly fromKg: number; readonly toKg: number } | undefined {
  const band = meetBands(arrangement.band, service.band) ?? arrangement.band;
  const { fromKg, toKg } = bandEnds(band);
  const least = reportLoad(platform, arrangement, fromKg),
    most = reportLoad(platform, arrangement, toKg ?? fromKg);
  return least.own.kg === 0 && least.items.every(({ kg }) => kg === 0)
    ? undefined
    : { fromKg: least.mass.kg, toKg: most.mass.kg };
}
