/** What a line of a card is about, which line takes its place, and where a card contradicts what is fitted. */
import type { Check, Configuration, Option, Platform } from "../../schema/collection.ts";
import { type Arrangement, validArrangements } from "../parts/arrangements.ts";
import { remember } from "../words/remember.ts";

/** A thing that a line can be about. */
export interface Subject {
  readonly kind: "item" | "place" | "fastening";
  readonly id: string;
}

/** Words of a challenge as they are compared: case, spaces and a plural s don't matter. */
const fold = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, " ").replace(/s$/, "");

/**
 * What a line is about: what its author says in `about`, else the item, place and fastening whose name its challenge
 * is exactly (`otherNames` of a word count as that word). Empty if it is about nothing known.
 */
export function subjectsOf(
  { challenge, about }: Pick<Check, "challenge" | "about">,
  platform: Platform,
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): Subject[] {
  const words = new Set([
    fold(challenge),
    ...Object.entries(otherNames).flatMap(([word, others]) =>
      others.some((other) => fold(other) === fold(challenge)) ? [fold(word)] : [],
    ),
  ]);
  return namedOn(platform).flatMap(({ subject, name }) =>
    (about ? about.includes(subject.id) : words.has(name)) ? [subject] : [],
  );
}

/** All that a line can be about, with its name as names are compared: of very many lines the same is asked. */
const namedOn = remember(({ items, places, fastenings }: Platform) => {
  const named = (kind: Subject["kind"], all: readonly { readonly id: string; readonly name: string }[]) =>
    all.map(({ id, name }) => ({ subject: { kind, id }, name: fold(name) }));
  return [...named("item", items), ...named("place", places), ...named("fastening", fastenings)];
});

/**
 * Whether a line of an option takes the place of one of the configuration's: it asks the same challenge, or its author
 * says so in `replaces`. The one owner of this for cards, pages and findings.
 */
export function takesPlaceOf(
  other: { readonly challenge: string; readonly replaces?: string },
  { challenge }: { readonly challenge: string },
): boolean {
  return [other.challenge, other.replaces ?? ""].some(
    (words) => words.trim().toLowerCase() === challenge.trim().toLowerCase(),
  );
}

/** A line as far as it says in whose place it is read. */
interface Replacing {
  readonly challenge: string;
  readonly replaces?: string;
}

/**
 * Whether a line is left out because another one is read in its place. `groups`: the configuration's own lines, then
 * each fitted option's, in its order; `own` is the line's group. Where two options ask the same challenge the later
 * one's line is read, as the later one is read on top. The one owner of this for cards, pages and proofs.
 */
export function isReplaced(line: Replacing, own: number, groups: readonly (readonly Replacing[])[]): boolean {
  return groups.some(
    (lines, at) =>
      at > 0 &&
      at !== own &&
      lines.some((other) => takesPlaceOf(other, line) && !(own > at && takesPlaceOf(line, other))),
  );
}

/** A line of a card that is wrong in an arrangement. */
interface Contradiction {
  readonly configuration: Configuration;
  /** Whose line it is: the configuration, or an option of it. */
  readonly record: Configuration | Option;
  readonly check: Check;
  readonly subject: Subject;
  /** The first arrangement in which it is wrong: the one with the fewest options. */
  readonly arrangement: Arrangement;
}

/**
 * Lines of a configuration's card that stop being true when an option is fitted. A line is written for its
 * configuration alone, or with its option alone; it is wrong where what it is about is then another way (an item
 * elsewhere, other contents of a place, another state of a fastening) and no line of an option fitted there replaces
 * it. Each line once; empty if there is none.
 */
export function contradictionsOf(
  platform: Platform,
  configuration: Configuration,
  otherNames?: Readonly<Record<string, readonly string[]>>,
): Contradiction[] {
  const arrangements = validArrangements(platform).filter((each) => each.configuration === configuration);
  const options = new Set(arrangements.flatMap((each) => each.options));
  return [configuration, ...options].flatMap((record) => {
    const isOwn = record === configuration;
    const written = arrangements.find((each) =>
      isOwn ? each.options.length === 0 : each.options.length === 1 && each.options[0] === record,
    );
    if (!written) return [];
    return record.checks
      .flatMap((check) =>
        subjectsOf(check, platform, otherNames).flatMap((subject) => {
          const before = wayOf(written, subject);
          const arrangement = arrangements.find(
            (each) =>
              (isOwn || each.options.includes(record as Option)) &&
              wayOf(each, subject) !== before &&
              standingChecks(each).includes(check),
          );
          return arrangement ? [{ configuration, record, check, subject, arrangement }] : [];
        }),
      )
      .filter(({ check }, at, all) => all.findIndex((other) => other.check === check) === at);
  });
}

/** The written lines that are read with an arrangement: of its configuration and options, without those replaced. */
export const standingChecks: (arrangement: Arrangement) => Check[] = remember(
  ({ configuration, options }: Arrangement) => {
    const groups = [configuration, ...options].map(({ checks }) => checks);
    return groups.flatMap((checks, own) => checks.filter((check) => !isReplaced(check, own, groups)));
  },
);

/**
 * What is asked about a fastening, with its answer: lines of cards first, then checks of steps; the same words once,
 * in the order of the files; empty if nothing is about it.
 */
export function linesAbout(
  platform: Platform,
  { id }: Pick<Platform["fastenings"][number], "id">,
  otherNames?: Readonly<Record<string, readonly string[]>>,
): Pick<Check, "challenge" | "answer">[] {
  const all = [
    ...[...platform.configurations, ...platform.options].flatMap(({ checks }) => checks),
    ...platform.procedures.flatMap(({ steps }) => steps.flatMap(({ checks }) => checks)),
  ];
  const about = all.filter((check) =>
    subjectsOf(check, platform, otherNames).some((subject) => subject.kind === "fastening" && subject.id === id),
  );
  const words = ({ challenge, answer }: Check) => `${fold(challenge)}\n${fold(answer)}`;
  return [...new Map(about.reverse().map((check) => [words(check), check])).values()].reverse();
}

/** How a thing is in an arrangement, in words that are compared: where an item is, what a place holds, a state. */
export function wayOf({ contents, fastenings }: Arrangement, { kind, id }: Subject): string {
  if (kind === "fastening") return fastenings.get(id) ?? "";
  const key = kind === "item" ? "item" : "place";
  return contents
    .filter((each) => each[key] === id)
    .map(({ item, place, count }) => `${item} ${place} ${count}`)
    .sort()
    .join(", ");
}

/** Fastenings and items that no line of a card is about, at the record that brings them in. */
interface NotLookedAt {
  readonly record: Configuration | Option;
  readonly subjects: readonly Subject[];
}

/**
 * What holds something in an arrangement, a brake, or what holds a patient, and is the subject of no line of its card:
 * neither of a line of its own nor of what is looked at at a hold (`looked`, the checks of the holds on the card).
 */
export function notLookedAt(
  platform: Platform,
  configuration: Configuration,
  looked: readonly Pick<Check, "challenge" | "about">[],
  otherNames?: Readonly<Record<string, readonly string[]>>,
): NotLookedAt[] {
  const arrangements = validArrangements(platform).filter((each) => each.configuration === configuration);
  const named = (checks: readonly Pick<Check, "challenge" | "about">[]) =>
    new Set(checks.flatMap((check) => subjectsOf(check, platform, otherNames)).map(({ kind, id }) => `${kind} ${id}`));
  const known = new Set<string>();
  const found = new Map<Configuration | Option, Subject[]>();
  for (const { options, contents, fastenings } of arrangements) {
    const lines = named([configuration, ...options].flatMap(({ checks }) => checks).concat(looked as Check[]));
    const fitted = new Set([configuration, ...options].flatMap((record) => record.fitted.map(({ place }) => place)));
    const filled = new Set(contents.map(({ place }) => place));
    const subjects = [
      ...platform.fastenings
        .filter(
          ({ id, kind, holds }) => fastenings.has(id) && (kind === "brake" || holds.some((place) => filled.has(place))),
        )
        .map(({ id }): Subject => ({ kind: "fastening", id })),
      ...platform.items
        .filter(
          ({ id, restrains }) => restrains && contents.some(({ item, place }) => item === id && fitted.has(place)),
        )
        .map(({ id }): Subject => ({ kind: "item", id })),
    ];
    for (const subject of subjects) {
      const key = `${subject.kind} ${subject.id}`;
      if (known.has(key)) continue;
      known.add(key);
      if (lines.has(key)) continue;
      const record = options.at(-1) ?? configuration;
      found.set(record, [...(found.get(record) ?? []), subject]);
    }
  }
  return [...found].map(([record, subjects]) => ({ record, subjects }));
}
