/**
 * Exact fractions, so that a limit met exactly is told from one just broken (0.1 kg + 0.2 kg is 0.3 kg here), and a
 * weight that a slip multiplies or divides stays exact (a kilogram is no whole number of pounds).
 */

/** `n / d` in lowest terms, `d` above 0. */
export interface Rational {
  readonly n: bigint;
  readonly d: bigint;
}

/** 0 in lowest terms, 0/1. */
export const ZERO: Rational = { n: 0n, d: 1n };

/** The fraction of two whole numbers in lowest terms. Throws a RangeError when `d` is 0. */
export function fraction(n: bigint, d = 1n): Rational {
  if (d === 0n) throw new RangeError("A fraction needs a denominator other than 0");
  if (d === 1n) return { n, d };
  let [a, b] = [n < 0n ? -n : n, d < 0n ? -d : d];
  while (b !== 0n) [a, b] = [b, a % b];
  const divisor = d < 0n ? -a : a;
  return { n: n / divisor, d: d / divisor };
}

/**
 * The decimal that a number is written as (0.05 is 5/100, not the nearest binary fraction). Throws a RangeError for NaN
 * and infinities.
 */
export function exactly(value: number): Rational {
  const known = decimals.get(value);
  if (known) return known;
  const read = readDecimal(value);
  if (decimals.size < MOST_KEPT) decimals.set(value, read);
  return read;
}

/** The same few masses and places come back in every arrangement. */
const decimals = new Map<number, Rational>();
const MOST_KEPT = 10_000;

function readDecimal(value: number): Rational {
  const match = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(value));
  if (!match) throw new RangeError(`${value} is not a finite number`);
  const [, sign, whole, decimals = "", exponent = "0"] = match;
  const digits = BigInt(whole! + decimals) * (sign ? -1n : 1n);
  const power = Number(exponent) - decimals.length;
  return power >= 0 ? fraction(digits * 10n ** BigInt(power)) : fraction(digits, 10n ** BigInt(-power));
}

/** The sum of any number of fractions; 0 for none. */
export function sum(...terms: readonly Rational[]): Rational {
  let total = ZERO;
  for (const term of terms) {
    if (total.n === 0n) total = term;
    else if (term.n !== 0n)
      total =
        total.d === term.d
          ? fraction(total.n + term.n, term.d)
          : fraction(total.n * term.d + term.n * total.d, total.d * term.d);
  }
  return total;
}

/** `a - b`. */
export function minus(a: Rational, b: Rational): Rational {
  return fraction(a.n * b.d - b.n * a.d, a.d * b.d);
}

/** The product of any number of fractions; 1 for none. */
export function times(...factors: readonly Rational[]): Rational {
  const [first = fraction(1n), ...rest] = factors;
  return rest.reduce((a, b) => fraction(a.n * b.n, a.d * b.d), first);
}

/** `a / b`. Throws a RangeError when `b` is 0. */
export function over(a: Rational, b: Rational): Rational {
  return fraction(a.n * b.d, a.d * b.n);
}

/** Below 0, 0 or above 0 as `a` is less than, equal to or more than `b`. */
export function compare(a: Rational, b: Rational): number {
  const difference = a.n * b.d - b.n * a.d;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** The largest whole number not above the fraction: -2 for -3/2. */
export function floorOf({ n, d }: Rational): bigint {
  const whole = n / d;
  return n < 0n && whole * d !== n ? whole - 1n : whole;
}

/** The smallest whole number not below the fraction: -1 for -3/2. */
export function ceilOf({ n, d }: Rational): bigint {
  return -floorOf({ n: -n, d });
}

/** The nearest number (within one unit in the last place). */
export function toNumber({ n, d }: Rational): number {
  const size = n < 0n ? -n : n;
  const places = Math.max(0, 25 - (size.toString().length - d.toString().length));
  return Number(`${n < 0n ? "-" : ""}${(size * 10n ** BigInt(places)) / d}e-${places}`);
}

/** Decimal text rounded half away from zero to at most `places` decimals, without closing zeros: `12.35`. */
export function toText({ n, d }: Rational, places: number): string {
  const scale = 10n ** BigInt(places);
  const size = n < 0n ? -n : n;
  const scaled = ((size * scale * 2n) / d + 1n) / 2n;
  const decimals = places === 0 ? "" : (scaled % scale).toString().padStart(places, "0").replace(/0+$/, "");
  return `${n < 0n && scaled > 0n ? "-" : ""}${scaled / scale}${decimals ? `.${decimals}` : ""}`;
}

/** Whether the fraction is a decimal of at most `places` decimals, so that `toText` writes it exactly. */
export function isDecimal({ n, d }: Rational, places: number): boolean {
  return (n * 10n ** BigInt(places)) % d === 0n;
}
