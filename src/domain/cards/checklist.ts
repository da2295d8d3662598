/**
 * The checklist of a configuration as its card is read: its own lines, then those of its options, numbered through,
 * each option for the patients whom it concerns.
 */
import type { Band, Configuration, Option, Platform, Requirement } from "../../schema/collection.ts";
import { covers, meetBands, sayBand, shareOf } from "../bands/bands.ts";
import { areApart } from "../parts/arrangements.ts";
import type { CardContent, CardLine } from "./card-content.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { fittedAlways, ifFitted } from "./editions.ts";
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
  /** Patients on the card who are never without the option: `all`, or each band that asks for it; absent for none. */
  readonly always?: "all" | readonly Band[];
}

/** A line with its number; 0 for a hold, which has none. */
interface NumberedLine {
  readonly line: CardLine;
  readonly number: number;
}

/**
 * The parts of a card for the patients of `band` of a configuration, its own first, numbered through. Options for none
 * of these patients are left out, and those without lines unless `keep` says that they stand on the card anyhow.
 */
export function layChecklist(
  content: CardContent,
  { options }: Platform,
  { band: whole, requires = [] }: Pick<Configuration, "band" | "requires">,
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
    const always = alwaysFor(option, requires, whole);
    parts.push({
      option,
      lines,
      from: next,
      ...(weight || age ? { only: { ...(weight ? { weight } : {}), ...(age ? { age } : {}) } } : {}),
      ...(always ? { always } : {}),
    });
    next += countChecks(lines);
  }
  return parts;
}

/** Every requirement of the option counts: one may ask for it by weight and another by age. */
function alwaysFor({ id }: Option, requires: readonly Requirement[], whole: Band): ChecklistPart["always"] {
  const bands = requires.flatMap(({ option, band }) => (option === id && meetBands(band, whole) ? [band] : []));
  if (bands.some((band) => shareOf(band, whole) === "all")) return "all";
  return bands.length > 0 ? bands : undefined;
}

/** For whom an option is never left out, in words: `under 2.5 kg`; empty for everybody on the card, or nobody. */
export function sayAlways({ always }: Pick<ChecklistPart, "always">): string {
  return always && always !== "all" ? sayList(always.map(sayBand), "or") : "";
}

/**
 * What stands above an option's lines where options stand apart, on paper and page alike: `If fitted: Gas shelf`,
 * `Fitted always under 2.5 kg: Roll supports`, `Fitted always: Roll supports`.
 */
export function sayOptionHead(part: Pick<ChecklistPart, "always">, { title }: Pick<Option, "title">): string {
  if (!part.always) return `${ifFitted()}${title}`;
  return `${[fittedAlways(), sayAlways(part)].filter(Boolean).join(" ")}: ${title}`;
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
