/**
 * The checklist of a configuration as its card is read: its own lines, then those of its options, numbered through,
 * each option for the patients whom it concerns.
 */
import type { Band, Option, Platform } from "../../schema/collection.ts";
import { covers, meetBands } from "../bands/bands.ts";
import type { CardContent, CardLine } from "./card-content.ts";
import { takesPlaceOf } from "./subjects.ts";

/** Lines that belong together. */
export interface ChecklistPart {
  readonly lines: readonly CardLine[];
  /** Number of its first check, from 1; holds have no number. */
  readonly from: number;
  /** The option that the lines are for; missing for the configuration's own. */
  readonly option?: Option;
  /** For whom the option is, where that is not everybody on the card. */
  readonly only?: Partial<Band>;
}

/**
 * The parts of a card for the patients of `whole`, its own first, numbered through. Options without lines, or for none
 * of these patients, are left out.
 */
export function layChecklist(content: CardContent, { options }: Platform, whole: Band): ChecklistPart[] {
  const parts: ChecklistPart[] = [{ lines: content.lines, from: 1 }];
  let next = countChecks(content.lines) + 1;
  for (const { id, lines } of content.options) {
    const option = options.find((each) => each.id === id),
      band = option && meetBands(whole, option.band);
    if (lines.length === 0 || !option || !band) continue;
    const weight = covers(option.band.weight, whole.weight) ? undefined : band.weight;
    const age = covers(option.band.age, whole.age) ? undefined : band.age;
    parts.push({
      option,
      lines,
      from: next,
      ...(weight || age ? { only: { ...(weight ? { weight } : {}), ...(age ? { age } : {}) } } : {}),
    });
    next += countChecks(lines);
  }
  return parts;
}

/** How many of the lines are checks. */
export function countChecks(lines: readonly CardLine[]): number {
  return lines.filter(({ kind }) => kind === "check").length;
}

/**
 * Rows that an option's row replaces, because both ask the same challenge: number of the configuration's row -> the
 * option's rows. A crew that reads both would get two answers to one question. Empty if no row is replaced.
 */
export function replacedRows(
  parts: readonly ChecklistPart[],
): ReadonlyMap<number, readonly { readonly number: number; readonly option: Option }[]> {
  const [own, ...extra] = parts;
  const replaced = new Map<number, { number: number; option: Option }[]>();
  own?.lines
    .filter((line) => line.kind === "check")
    .forEach((line, index) => {
      const same = extra.flatMap(({ option, lines, from }) =>
        lines
          .filter((other) => other.kind === "check")
          .flatMap((other, at) => (option && takesPlaceOf(other, line) ? [{ number: from + at, option }] : [])),
      );
      if (same.length > 0) replaced.set(own.from + index, same);
    });
  return replaced;
}
