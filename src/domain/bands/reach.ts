/** Which band would have to reach further so that a gap is closed. */
import type { Band, Range } from "../../schema/collection.ts";
import { compareCuts, covers, lowerCut, meetBands, rangeBetween, type Region, upperCut } from "./bands.ts";

/** A band of a list, by its index, and the limit of it that ends at the gap. */
interface Reach {
  readonly at: number;
  readonly key: "weight" | "age";
}

/**
 * The band whose one limit, moved to the far end of the gap, closes it and takes patients from no other: it ends where
 * the gap begins (or begins where it ends), and its other limit holds all who are missing. The band above in weight
 * comes first, then the one below, then those of higher and of lower ages; `undefined` if there is none.
 */
export function reachFor(gap: Region, bands: readonly Band[]): Reach | undefined {
  const sides = [
    ["weight", "above"],
    ["weight", "below"],
    ["age", "above"],
    ["age", "below"],
  ] as const;
  for (const [key, side] of sides) {
    const other = key === "weight" ? "age" : "weight";
    const at = bands.findIndex(
      (band, index) =>
        touches(band[key], gap[key], side) &&
        covers(band[other], gap[other]) &&
        !bands.some((each, place) => place !== index && takes(each, { ...band, [key]: gap[key] })),
    );
    if (at >= 0) return { at, key };
  }
  return undefined;
}

/** A band with its limit moved so far that it holds the gap. */
export function reached(band: Band, { key }: Reach, gap: Region): Band {
  const any = key === "weight" ? "any weight" : "any age";
  const [low, high] = [lowerCut(band[key]), upperCut(band[key])];
  const [from, to] = [lowerCut(gap[key]), upperCut(gap[key])];
  return {
    ...band,
    [key]: rangeBetween(compareCuts(from, low) < 0 ? from : low, compareCuts(to, high) > 0 ? to : high, any),
  };
}

function touches(range: Range, gap: Range, side: "above" | "below"): boolean {
  return side === "above"
    ? compareCuts(lowerCut(range), upperCut(gap)) === 0
    : compareCuts(upperCut(range), lowerCut(gap)) === 0;
}

const takes = (band: Band, more: Band): boolean => meetBands(band, more) !== undefined;
