/** The checklist of a configuration: its own final checks, then those of its options, each for the patients whom it concerns. */
import type { Band, Check, Configuration, Option, Platform } from "../schema/collection.ts";
import { covers, meetBands } from "../domain/bands.ts";

/** Rows that belong together. */
export interface ChecklistPart {
  readonly checks: readonly Check[];
  /** Number of its first row on the card. */
  readonly from: number;
  /** The option that the rows are for; missing for the configuration's own. */
  readonly option?: Option;
  /** For whom the option is, where that is not everybody on the card. */
  readonly only?: Partial<Band>;
}

/** The parts of a configuration's checklist, numbered through. Options without checks, or for none of its patients, are left out. */
export function checklistOf(platform: Platform, configuration: Configuration): ChecklistPart[] {
  const parts: ChecklistPart[] = [{ checks: configuration.checks, from: 1 }];
  let next = configuration.checks.length + 1;
  for (const option of optionsOf(platform, configuration)) {
    const band = meetBands(configuration.band, option.band);
    if (option.checks.length === 0 || !band) continue;
    const weight = covers(option.band.weight, configuration.band.weight) ? undefined : band.weight;
    const age = covers(option.band.age, configuration.band.age) ? undefined : band.age;
    parts.push({ option, checks: option.checks, from: next, ...(weight || age ? { only: { ...(weight ? { weight } : {}), ...(age ? { age } : {}) } } : {}) });
    next += option.checks.length;
  }
  return parts;
}

/** The option records of a configuration, in its order. */
export function optionsOf(platform: Platform, configuration: Configuration): Option[] {
  return configuration.options.flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? []);
}
