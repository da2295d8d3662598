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

/**
 * Rows that an option's row replaces, because both ask the same challenge: number of the configuration's row -> the option's rows. A crew
 * that reads both would get two answers to one question.
 */
export function replacedRows(parts: readonly ChecklistPart[]): ReadonlyMap<number, readonly { readonly number: number; readonly option: Option }[]> {
  const [own, ...extra] = parts;
  const replaced = new Map<number, { number: number; option: Option }[]>();
  own?.checks.forEach((check, index) => {
    const same = extra.flatMap(({ option, checks, from }) => checks.flatMap((other, at) => (option && wordsOf(other) === wordsOf(check) ? [{ number: from + at, option }] : [])));
    if (same.length > 0) replaced.set(own.from + index, same);
  });
  return replaced;
}

const wordsOf = ({ challenge }: Check): string => challenge.trim().toLowerCase();

/** The option records of a configuration, in its order. */
export function optionsOf(platform: Platform, configuration: Configuration): Option[] {
  return configuration.options.flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? []);
}
