/** Danger weights: patients whom a usual slip with the weight would put into another arrangement. */
import type { Range } from "../../schema/collection.ts";
import { MASS_PER_KG, MASS_PER_LB, MASS_UNITS } from "../../schema/units.ts";
import { compareCuts, cutsOf, holds, lowerCut, upperCut, type Cut } from "./bands.ts";
import { compare, over, floorOf, fraction, times, type Rational } from "../numbers/rational.ts";

/** What goes wrong between the scales and the crew. */
export type SlipKind = "pounds-as-kilograms" | "kilograms-as-pounds" | "ten-times" | "a-tenth" | "rounded" | "estimate";

/** A row of the table of bands. */
export interface BandRow {
  readonly id: string;
  readonly weight: Range;
}

/** An end of a stretch of weights, in units of mass; fractions, since pounds do not divide evenly. */
export interface DangerEnd {
  readonly value: Rational;
  readonly owned: boolean;
}

/** True weights from one end to the other that the slip takes from their arrangements to others. */
export interface Danger {
  readonly slip: SlipKind;
  readonly from: DangerEnd;
  readonly to: DangerEnd;
  /** Arrangements that are right for the true weight. */
  readonly right: readonly string[];
  /** Arrangements that would be taken; for an estimate, those on the other side of the end that can't be told apart. */
  readonly taken: readonly string[];
}

const POUND = fraction(MASS_PER_LB, MASS_PER_KG);

/** What is read for a true weight of 1: a patient of 1 kg is 2.2 pounds, and "2.2" is read as kilograms. */
const FACTORS: Readonly<Partial<Record<SlipKind, Rational>>> = {
  "pounds-as-kilograms": over(fraction(1n), POUND),
  "kilograms-as-pounds": POUND,
  "ten-times": fraction(10n),
  "a-tenth": fraction(1n, 10n),
};

/** A stretch of weights in which the arrangements are the same. */
interface Piece {
  readonly from: DangerEnd;
  readonly to: DangerEnd;
  readonly ids: readonly string[];
}

/**
 * Every danger of a table of bands, slip by slip, in rising weight. Weights outside every band are not listed: the
 * chooser asks again for those.
 */
export function findDangers(rows: readonly BandRow[]): Danger[] {
  const pieces = piecesOf(rows);
  const scaled = Object.entries(FACTORS).flatMap(([slip, factor]) => scaledDangers(slip as SlipKind, factor, pieces));
  return [...scaled, ...roundedDangers(pieces), ...estimateDangers(pieces)];
}

/** The table cut into stretches with the same arrangements; stretches without any are left out. */
function piecesOf(rows: readonly BandRow[]): Piece[] {
  const cuts = cutsOf(rows.map((row) => row.weight)).map((cut) => (cut.value < 0n ? { value: 0n, after: false } : cut));
  return cuts.slice(1).flatMap((high, at) => {
    const low = cuts[at]!;
    const ids = rows
      .filter(({ weight }) => compareCuts(lowerCut(weight), low) <= 0 && compareCuts(upperCut(weight), high) >= 0)
      .map(({ id }) => id);
    return ids.length ? [{ from: endAbove(low), to: endBelow(high), ids }] : [];
  });
}

const endAbove = ({ value, after }: Cut): DangerEnd => ({ value: fraction(value), owned: !after });
const endBelow = ({ value, after }: Cut): DangerEnd => ({ value: fraction(value), owned: after });

/** True weights in one piece whose reading (true weight × factor) is in another that shares no arrangement with it. */
function scaledDangers(slip: SlipKind, factor: Rational, pieces: readonly Piece[]): Danger[] {
  return pieces.flatMap((truth) =>
    pieces.flatMap((read) => {
      if (shares(truth, read)) return [];
      const back = (end: DangerEnd) => ({ value: over(end.value, factor), owned: end.owned });
      return meeting(truth, back(read.from), back(read.to)).map((stretch) => ({
        slip,
        ...stretch,
        right: truth.ids,
        taken: read.ids,
      }));
    }),
  );
}

/** True weights that rounding to whole kilograms (halves upwards) takes into another piece. */
function roundedDangers(pieces: readonly Piece[]): Danger[] {
  const dangers: Danger[] = [];
  for (const truth of pieces) {
    for (const end of [truth.from, truth.to]) {
      const near = floorOf(over(end.value, fraction(MASS_PER_KG)));
      for (const whole of end === truth.from ? [near] : [near, near + 1n]) {
        const read = pieceAt(pieces, fraction(whole * MASS_PER_KG));
        if (!read || shares(truth, read)) continue;
        const half = MASS_PER_KG / 2n;
        for (const stretch of meeting(
          truth,
          { value: fraction(whole * MASS_PER_KG - half), owned: true },
          { value: fraction(whole * MASS_PER_KG + half), owned: false },
        ))
          dangers.push({ slip: "rounded", ...stretch, right: truth.ids, taken: read.ids });
      }
    }
  }
  return withoutTwins(dangers);
}

/** True weights that an estimate within a tenth of the truth can't tell from those across an end between two pieces. */
function estimateDangers(pieces: readonly Piece[]): Danger[] {
  return pieces.flatMap((truth) =>
    pieces.flatMap((other) => {
      if (shares(truth, other)) return [];
      const reach = {
        from: { value: times(other.from.value, fraction(10n, 11n)), owned: other.from.owned },
        to: { value: times(other.to.value, fraction(10n, 9n)), owned: other.to.owned },
      };
      return meeting(truth, reach.from, reach.to).map((stretch) => ({
        slip: "estimate" as const,
        ...stretch,
        right: truth.ids,
        taken: other.ids,
      }));
    }),
  );
}

const shares = (a: Piece, b: Piece): boolean => a.ids.some((id) => b.ids.includes(id));

function pieceAt(pieces: readonly Piece[], value: Rational): Piece | undefined {
  return pieces.find(({ from, to }) => isWithin(value, from, to));
}

/** Whether the weight lies between the ends. */
export function isWithin(value: Rational, from: DangerEnd, to: DangerEnd): boolean {
  const low = compare(value, from.value),
    high = compare(value, to.value);
  return (low > 0 || (low === 0 && from.owned)) && (high < 0 || (high === 0 && to.owned));
}

/** The part of a piece between two ends; empty when there is none. */
function meeting(piece: Piece, from: DangerEnd, to: DangerEnd): { from: DangerEnd; to: DangerEnd }[] {
  const low = compare(piece.from.value, from.value),
    high = compare(piece.to.value, to.value);
  const start = low > 0 ? piece.from : low < 0 ? from : { value: from.value, owned: from.owned && piece.from.owned };
  const stop = high < 0 ? piece.to : high > 0 ? to : { value: to.value, owned: to.owned && piece.to.owned };
  const span = compare(start.value, stop.value);
  return span < 0 || (span === 0 && start.owned && stop.owned) ? [{ from: start, to: stop }] : [];
}

function withoutTwins(dangers: readonly Danger[]): Danger[] {
  const same = (a: Danger, b: Danger) =>
    a.right === b.right &&
    a.taken === b.taken &&
    compare(a.from.value, b.from.value) === 0 &&
    compare(a.to.value, b.to.value) === 0;
  return dangers.filter((danger, at) => dangers.findIndex((other) => same(danger, other)) === at);
}

/** A reading that a slip may have hidden: what the true weight would then be, and the arrangements for it. */
export interface OtherReading {
  readonly slip: SlipKind | "digits-exchanged";
  /** The true weight, or where it may lie, if the slip has happened. */
  readonly from: Rational;
  readonly to: Rational;
  readonly ids: readonly string[];
}

/** The units in which a weight is told. */
export type MassUnit = keyof typeof MASS_UNITS;

/** A weight as it was told: `7.2 kg` has one decimal. Its mass is `digits × unit ÷ 10^decimals`. */
export interface ToldWeight {
  readonly digits: bigint;
  readonly decimals: number;
  readonly unit: MassUnit;
}

/** The exact mass of a weight as it was told. */
export function massTold({ digits, decimals, unit }: ToldWeight): bigint {
  return (digits * MASS_UNITS[unit]) / 10n ** BigInt(decimals);
}

/**
 * The readings of a told weight that would lead to other arrangements, if a usual slip has happened. Readings outside
 * every band
 * are left out. An estimate is taken to be within a tenth of the truth.
 */
export function otherReadings(rows: readonly BandRow[], told: ToldWeight, isEstimate = false): OtherReading[] {
  const mass = massTold(told),
    now = holdersOf(rows, mass),
    scale = 10n ** BigInt(told.decimals);
  const asUnit = (unit: MassUnit) => fraction(told.digits * MASS_UNITS[unit], scale);
  const points: { slip: SlipKind; value: Rational }[] = [
    ...(told.unit === "kg" ? [{ slip: "pounds-as-kilograms" as const, value: asUnit("lb") }] : []),
    ...(told.unit === "lb" ? [{ slip: "kilograms-as-pounds" as const, value: asUnit("kg") }] : []),
    { slip: "ten-times", value: fraction(mass, 10n) },
    { slip: "a-tenth", value: fraction(mass * 10n) },
  ];
  const exchanged = exchangedDigits(told).map((digits) => fraction(digits * MASS_UNITS[told.unit], scale));
  const half = fraction(MASS_UNITS[told.unit], 2n * scale);
  const pieces = piecesOf(rows);
  const spread = (slip: SlipKind, from: DangerEnd, to: DangerEnd): OtherReading[] =>
    pieces.flatMap((piece) =>
      differs(piece.ids, now)
        ? meeting(piece, from, to).map((stretch) => ({
            slip,
            from: stretch.from.value,
            to: stretch.to.value,
            ids: piece.ids,
          }))
        : [],
    );
  return [
    ...points.flatMap(({ slip, value }) => {
      const piece = pieceAt(pieces, value);
      return piece && differs(piece.ids, now) ? [{ slip, from: value, to: value, ids: piece.ids }] : [];
    }),
    // The first of those that would mean the same is enough to be heard.
    ...exchanged
      .flatMap((value): OtherReading[] => {
        const piece = pieceAt(pieces, value);
        return piece && differs(piece.ids, now)
          ? [{ slip: "digits-exchanged", from: value, to: value, ids: piece.ids }]
          : [];
      })
      .filter(({ ids }, at, all) => all.findIndex((other) => other.ids === ids) === at),
    ...spread(
      "rounded",
      { value: fraction(mass * half.d - half.n, half.d), owned: true },
      { value: fraction(mass * half.d + half.n, half.d), owned: false },
    ),
    ...(isEstimate
      ? spread(
          "estimate",
          { value: fraction(mass * 10n, 11n), owned: true },
          { value: fraction(mass * 10n, 9n), owned: true },
        )
      : []),
  ];
}

/**
 * The digits of a told weight with two neighbours in each other's place: 41.2 gives 14.2. Digits on the two sides of
 * the point are no neighbours, and nobody says a weight with a 0 before its digits.
 */
export function exchangedDigits({ digits, decimals }: Pick<ToldWeight, "digits" | "decimals">): bigint[] {
  const text = String(digits).padStart(decimals + 1, "0"),
    wholes = text.length - decimals;
  return [...text].flatMap((digit, at) => {
    const next = text[at + 1];
    if (next === undefined || next === digit || at + 1 === wholes) return [];
    const other = text.slice(0, at) + next + digit + text.slice(at + 2);
    return wholes > 1 && other.startsWith("0") ? [] : [BigInt(other)];
  });
}

const differs = (ids: readonly string[], now: readonly string[]): boolean => !ids.some((id) => now.includes(id));

function holdersOf(rows: readonly BandRow[], mass: bigint): string[] {
  return rows.filter(({ weight }) => holds(weight, mass)).map(({ id }) => id);
}
