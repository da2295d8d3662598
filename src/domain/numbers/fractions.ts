/**
 * Exact fractions of whole numbers, for weights that a slip multiplies or divides (a kilogram is no whole number of
 * pounds).
 */

/** `n / d` with `d` above 0; not reduced. */
export interface Fraction {
  readonly n: bigint;
  readonly d: bigint;
}

/** A fraction; `d` is 1 if left out. */
export function fraction(n: bigint, d = 1n): Fraction {
  return d < 0n ? { n: -n, d: -d } : { n, d };
}

/** Negative, zero or positive as `a` is below, equal to or above `b`. */
export function compareFractions(a: Fraction, b: Fraction): number {
  const left = a.n * b.d,
    right = b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

/** `a × b`. */
export function times(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.n, a.d * b.d);
}

/** `a ÷ b`; `b` is not 0. */
export function dividedBy(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.d, a.d * b.n);
}

/** The largest whole number not above the fraction. */
export function floorOf({ n, d }: Fraction): bigint {
  const whole = n / d;
  return n < 0n && whole * d !== n ? whole - 1n : whole;
}

/** The smallest whole number not below the fraction. */
export function ceilOf(value: Fraction): bigint {
  return -floorOf(fraction(-value.n, value.d));
}
