/**
 * What the load rules share: the broken loads that may be judged, where a finding stands, and exact weights in words.
 */
import { type BrokenLimit, type BrokenRating, findBrokenLoads } from "../../domain/load/broken-loads.ts";
import { isDecimal, type Rational, toText } from "../../domain/numbers/rational.ts";
import { whereOf } from "../../findings/finding.ts";
import type { Collection, Platform, Where } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";

/** Broken loads of all platforms, without those that rest on a file with an error of its own. */
export function brokenLoads(
  { service, platforms }: Collection,
  damaged: ReadonlySet<string>,
): (BrokenLimit | BrokenRating)[] {
  return platforms
    .filter((platform) => isWhole(platform, damaged))
    .flatMap((platform) =>
      findBrokenLoads(platform, service.band).filter(
        ({ arrangement }) => ![arrangement.configuration, ...arrangement.options].some(({ file }) => damaged.has(file)),
      ),
    );
}

/** Whether the files that give masses and places were read without an error. */
export function isWhole(platform: Platform, damaged: ReadonlySet<string>): boolean {
  return !["service.yaml", `${platform.id}/platform.yaml`, `${platform.id}/equipment.yaml`].some((file) =>
    damaged.has(file),
  );
}

/** A weight in kg, exact where it is a decimal of at most six places, else to the gram with "about". */
export function sayKg(value: Rational): string {
  return isDecimal(value, 6) ? `${toText(value, 6)} kg` : `about ${toText(value, 3)} kg`;
}

/** A distance in mm to a tenth. */
export function sayMm(value: Rational): string {
  return `${toText(value, 1)} mm`;
}

/** A force: below 1 kN in newtons to a hundredth, else in kN to a tenth of a newton. */
export function sayForce(value: Rational): string {
  return value.n < 1000n * value.d ? `${toText(value, 2)} N` : `${toText({ n: value.n, d: value.d * 1000n }, 4)} kN`;
}

/** A weight at which a band may `end` or `begin`: exact, or rounded to a gram towards the inside of the band. */
export function sayBandEnd(value: Rational, side: "end" | "begin"): string {
  const grams = (value.n * 1000n) / value.d;
  return isDecimal(value, 3) ? sayKg(value) : `${toText({ n: grams + (side === "begin" ? 1n : 0n), d: 1000n }, 3)} kg`;
}

/** Where a broken load is reported: at what the option changes, else at the configuration's band. */
export function placeOfBlame({ arrangement, option }: BrokenLimit | BrokenRating): Where {
  if (!option) return whereOf(arrangement.configuration, "weight");
  return whereOf(option, option.fitted.length > 0 ? "fitted" : "empty");
}

/** ` (so do …)` for further arrangements with the same fault, at most three of them named; empty for none. */
export function sayAlso(also: readonly string[]): string {
  if (also.length === 0) return "";
  const named = also
    .slice(0, 3)
    .map((name) => `\`${name}\``)
    .join(", ");
  return `; the same goes for ${named}${also.length > 3 ? ` and ${also.length - 3} more` : ""}`;
}

/** For which patients of the band a limit is broken, with the first weight that crosses it. */
export function sayBrokenFor({ crossing: { broken, atKg }, always }: BrokenLimit): string {
  if (always || !atKg) return heard("loadFindings").forAll;
  return broken === "over"
    ? heard("loadFindings").forHeavier({ weight: sayKg(atKg) })
    : heard("loadFindings").forLighter({ weight: sayKg(atKg) });
}
