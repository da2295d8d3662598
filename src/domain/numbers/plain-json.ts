/** Results as JSON without the dust that binary fractions leave behind. */

/**
 * A value as JSON. Numbers have twelve significant digits at most, so that `1170.6000000000001` is `1170.6`: far more
 * than any mass, place or time here is known to, and none of them is rounded for reading.
 */
export function plainJson(value: unknown, indent: number): string {
  const dusted = (_key: string, each: unknown): unknown =>
    typeof each === "number" && Number.isFinite(each) && !Number.isSafeInteger(each)
      ? Number(each.toPrecision(12))
      : each;
  return JSON.stringify(value, dusted, indent);
}
