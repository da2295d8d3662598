/** What the load rules share: the broken loads that may be judged, where a finding stands, and exact weights in words. */
import { type BrokenLimit, type BrokenRating, findBrokenLoads } from "../../domain/broken-loads.ts";
import { isDecimal, type Rational, toText } from "../../domain/rational.ts";
import { whereOf } from "../../findings/finding.ts";
import type { Collection, Platform, Where } from "../../schema/collection.ts";

/** Broken loads of all platforms, without those that rest on a file with an error of its own. */
export function brokenLoads({ service, platforms }: Collection, damaged: ReadonlySet<string>): (BrokenLimit | BrokenRating)[] {
  return platforms.filter((platform) => isWhole(platform, damaged)).flatMap((platform) =>
    findBrokenLoads(platform, service.band).filter(({ arrangement }) => ![arrangement.configuration, ...arrangement.options].some(({ file }) => damaged.has(file))));
}

/** Whether the files that give masses and places were read without an error. */
export function isWhole(platform: Platform, damaged: ReadonlySet<string>): boolean {
  return !["service.yaml", `${platform.id}/platform.yaml`, `${platform.id}/equipment.yaml`].some((file) => damaged.has(file));
}

/** A weight in kg, exact where it is a decimal of at most six places, else to the gram with "about". */
export function sayKg(value: Rational): string {
  return isDecimal(value, 6) ? `${toText(value, 6)} kg` : `about ${toText(value, 3)} kg`;
}

/** A distance in mm to a tenth. */
export function sayMm(value: Rational): string {
  return `${toText(value, 1)} mm`;
}

/** A force in kN to a newton. */
export function sayKn(value: Rational): string {
  return `${toText({ n: value.n, d: value.d * 1000n }, 3)} kN`;
}

/** Where a broken load is reported: at what the option changes, else at the configuration's band. */
export function placeOfBlame({ arrangement, option }: BrokenLimit | BrokenRating): Where {
  if (!option) return whereOf(arrangement.configuration, "weight");
  return whereOf(option, option.fitted.length > 0 ? "fitted" : "empty");
}

/** ` (so do …)` for further arrangements with the same fault, at most three of them named; empty for none. */
export function sayAlso(also: readonly string[]): string {
  if (also.length === 0) return "";
  const named = also.slice(0, 3).map((name) => `\`${name}\``).join(", ");
  return `; the same goes for ${named}${also.length > 3 ? ` and ${also.length - 3} more` : ""}`;
}

/** For which patients of the band a limit is broken, with the first weight that crosses it. */
export function sayPatients({ crossing: { broken, atKg }, always }: BrokenLimit): string {
  if (always || !atKg) return "for every patient of the band";
  return broken === "over" ? `for every patient over ${sayKg(atKg)}` : `for every patient under ${sayKg(atKg)}`;
}
