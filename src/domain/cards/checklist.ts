/**
 * The checklist of a configuration as its card is read: its own lines, then those of its options, numbered through,
 * each option for the patients whom it concerns.
 */
import type { Band, Option, Platform } from "../../schema/collection.ts";
import { covers, meetBands } from "../bands/bands.ts";
import { areApart } from "../parts/arrangements.ts";
import type { CardContent, CardLine } from "./card-content.ts";
import { lowerFirst } from "../../schema/wording.ts";
import { isReplaced, takesPlaceOf } from "./subjects.ts";
import { heard } from "../../words/heard.ts";

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

/** A line with its number; 0 for a hold, which has none. */
interface NumberedLine {
  readonly line: CardLine;
  readonly number: number;
}

/**
 * The parts of a card for the patients of `whole`, its own first, numbered through. Options for none of these patients
 * are left out, and those without lines unless `keep` says that they stand on the card anyhow.
 */
export function layChecklist(
  content: CardContent,
  { options }: Platform,
  whole: Band,
  keep: (option: Option) => boolean = () => false,
): ChecklistPart[] {
  const parts: ChecklistPart[] = [{ lines: content.lines, from: 1 }];
  let next = countChecks(content.lines) + 1;
  for (const { id, lines } of content.options) {
    const option = options.find((each) => each.id === id),
      band = option && meetBands(whole, option.band);
    if (!option || !band || (lines.length === 0 && !keep(option))) continue;
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

/** The lines of a part with their numbers. */
export function numberLines({ lines, from }: Pick<ChecklistPart, "lines" | "from">): NumberedLine[] {
  let next = from;
  return lines.map((line) => ({ line, number: line.kind === "check" ? next++ : 0 }));
}

/**
 * What stands below rows of which one is read in the place of another while its option is fitted, because both ask the
 * same challenge or the author says so: number of the row -> `With cooling unit: line 9 instead`, `Instead of line 3`.
 * A crew that reads both would get two answers to one question. Options that are never fitted together don't concern
 * each other. Empty if no row is replaced.
 */
export function notesOfReplaced(parts: readonly ChecklistPart[]): ReadonlyMap<number, string> {
  const notes = new Map<number, string[]>();
  const add = (number: number, note: string) => notes.set(number, [...(notes.get(number) ?? []), note]);
  const checks = parts.map((part) =>
    numberLines(part).flatMap(({ line, number }) => (line.kind === "check" ? [{ line, number }] : [])),
  );
  for (const [own, lines] of checks.entries())
    for (const { line, number } of lines)
      for (const [at, { option }] of parts.entries()) {
        const ownOption = parts[own]!.option;
        // The configuration's own lines stand beside every option.
        if (!option || at === own || (ownOption && areApart(ownOption, option))) continue;
        // As when only these two are fitted.
        const groups = checks.map((others, index) => (index === at ? others.map((each) => each.line) : []));
        if (!isReplaced(line, own, groups)) continue;
        for (const instead of checks[at]!)
          if (takesPlaceOf(instead.line, line)) {
            add(
              number,
              heard("checklist").withLineInstead({ option: lowerFirst(option.title), number: instead.number }),
            );
            add(instead.number, heard("checklist").insteadOfLine({ number }));
          }
      }
  return new Map([...notes].map(([number, words]) => [number, words.join("; ")]));
}
