/** Bands that touch joined into as few as the eye needs, for saying which patients something is for. */
import type { Band } from "../../schema/collection.ts";
import { compareCuts, isSameRange, lowerCut, rangeBetween, upperCut } from "./bands.ts";

/**
 * The same patients in fewer bands: two with the same weights whose ages touch become one, then two with the same ages
 * whose weights touch.
 * The bands must not overlap. They come back in the order of the first of each.
 */
export function joinBands(bands: readonly Band[]): Band[] {
  const byAge = joinAlong(bands, "age", "weight");
  return joinAlong(byAge, "weight", "age");
}

function joinAlong(bands: readonly Band[], along: "weight" | "age", same: "weight" | "age"): Band[] {
  const joined: Band[] = [];
  for (const band of bands.toSorted((a, b) => compareCuts(lowerCut(a[along]), lowerCut(b[along])))) {
    const at = joined.findIndex(
      (other) =>
        isSameRange(other[same], band[same]) && compareCuts(upperCut(other[along]), lowerCut(band[along])) === 0,
    );
    if (at < 0) joined.push(band);
    else
      joined[at] = {
        ...joined[at]!,
        [along]: rangeBetween(
          lowerCut(joined[at]![along]),
          upperCut(band[along]),
          along === "weight" ? "any weight" : "any age",
        ),
      };
  }
  return joined;
}
