/**
 * Whom a difference between two cards concerns: what differs between the one that someone holds and the one in force,
 * and whether that is there only while some option is fitted.
 */
import type { Collection } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { canonicalJson } from "../records/freeze.ts";
import { cardDifference } from "./card-difference.ts";
import type { IssuedCard } from "./cards-issued.ts";
import { cardFor, editionsOf, fittedAlways, ifFitted, type Ink } from "./editions.ts";
import type { Words } from "../../words/hear.ts";
import { heard } from "../../words/heard.ts";

/** What an old card's difference to the one in force is about. */
interface Concern {
  /** What differs, in words; empty where nothing but the day does, or nothing is known. */
  readonly differs: readonly string[];
  /** Options without which nothing differs: whoever holds the old card without them reads the same lines. */
  readonly onlyWith: readonly string[];
}

/** The difference of a card to the one that took its place, from what was frozen of both, else from their lines. */
export function concernOf(collection: Collection, was: IssuedCard, now: IssuedCard): Concern {
  const [old, is] = [inkOf(collection, was), inkOf(collection, now)];
  if (old && is) {
    const found = differencesOf(old, is),
      options = differingParts(old, is);
    // The number of a revision is no line: whoever works from the card looks at the same things.
    const others = found.filter(({ text, isOfOptions }) => !isOfOptions && text !== heard("cardConcern").theRevision);
    return {
      differs: found.map(({ text }) => text),
      onlyWith: others.length === 0 && !options.includes("") ? options : [],
    };
  }
  const same = (id: string) => id;
  const changes = cardDifference(was.content, now.content, { item: same, place: same, crew: [] });
  const options = [...new Set(changes.map(({ option }) => option))];
  return { differs: [], onlyWith: options.every((option) => option !== undefined) ? options : [] };
}

/** `Differs only with Gas shelf fitted.`; empty where the difference concerns every arrangement. */
export function sayConcern({ onlyWith }: Pick<Concern, "onlyWith">): string {
  return onlyWith.length > 0 ? heard("cardConcern").differsOnlyWithFitted({ onlyWith: sayList(onlyWith) }) : "";
}

/** What was frozen of a card; `undefined` for one that was not. */
function inkOf(collection: Collection, { platform, configuration, edition, band }: IssuedCard): Ink | undefined {
  const frozen = editionsOf(collection, platform, configuration).find((each) => each.edition === edition);
  return frozen && cardFor(frozen, band)?.ink;
}

/** Parts of the ink, as they are called on a card. */
const partsOfInk = (say: Words["cardConcern"]): readonly (readonly [keys: readonly string[], name: string])[] => [
  [["title", "code", "complete"], say.itsName],
  [["revision"], say.theRevision],
  [["band", "isPart"], say.thePatients],
  [["reviewBy"], say.theLastDay],
  [["leftLooks", "rightLooks"], say.whoLooks],
  [["warnings"], say.warnings],
  [["bare"], say.neverWithout],
  [["rail", "tab"], say.theScale],
  [["plan"], say.theDrawing],
  [["site", "paper"], say.theAddress],
  [["layout"], say.layout],
];

/**
 * What differs between two inks of a card, in words: lines of the configuration, lines of each option, counts piece by
 * piece, loads, and the rest by name; empty if they are alike.
 */
export function inkDifferences(before: Ink, after: Ink): string[] {
  const found = differencesOf(before, after),
    [first] = found;
  if (found.length === 1 && first?.isOfOptions) return [heard("cardConcern").only({ found: first.text })];
  return found.map(({ text }) => text);
}

interface Difference {
  readonly text: string;
  /** Whether it is there only while some option is fitted. */
  readonly isOfOptions: boolean;
}

function differencesOf(before: Ink, after: Ink): Difference[] {
  const same = (key: string) => canonicalJson(before[key] ?? null) === canonicalJson(after[key] ?? null);
  const lines = differingParts(before, after, ["count", "drawn"]);
  const own = lines.includes("") ? [heard("cardConcern").itsLines] : [];
  const options = lines.filter((title) => title !== "");
  const counted = differingParts(before, after).filter((title) => !lines.includes(title)),
    counts = counted.filter((title) => title !== "");
  const always = (text: string): Difference => ({ text, isOfOptions: false }),
    withOptions = (text: string): Difference => ({ text, isOfOptions: true });
  return [
    ...own.map(always),
    ...(options.length > 0
      ? [withOptions(heard("cardConcern").theLinesWithFitted({ options: sayList(options) }))]
      : []),
    ...(counts.length > 0 ? [withOptions(heard("cardConcern").theCount({ counts: sayList(counts) }))] : []),
    ...[
      ...(counted.includes("") ? [heard("cardConcern").itsCount] : []),
      ...differingCounts(before, after),
      ...(same("loads") ? [] : [heard("cardConcern").massesAndBalance]),
      ...partsOfInk(heard("cardConcern")).flatMap(([keys, name]) => (keys.every(same) ? [] : [name])),
    ].map(always),
  ];
}

interface InkPart {
  readonly title?: string;
}

/** Titles of the parts that differ, but for some of their fields; empty text for the configuration's own lines. */
function differingParts(before: Ink, after: Ink, but: readonly string[] = []): string[] {
  const partsOf = (ink: Ink) =>
    new Map(
      ((ink["parts"] ?? []) as readonly InkPart[]).map((part) => {
        const seen = Object.fromEntries(Object.entries(part).filter(([key]) => !but.includes(key)));
        return [optionOf(part), canonicalJson(unnumbered(seen))];
      }),
    );
  const [was, is] = [partsOf(before), partsOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])].filter((title) => was.get(title) !== is.get(title));
}

/** The title of the option that a part of a card is for; empty for the configuration's own lines. */
function optionOf({ title = "" }: InkPart): string {
  if (title.startsWith(ifFitted())) return title.slice(ifFitted().length);
  // `Fitted always under 2.5 kg: Roll supports`
  return title.startsWith(fittedAlways()) ? title.slice(title.indexOf(": ") + 2) : title;
}

/** Without the numbers of lines, which move when another part gets longer. */
function unnumbered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(unnumbered);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, entry]) => (key === "number" ? [] : [[key, unnumbered(entry)]])),
  );
}

interface InkCount {
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

function differingCounts(before: Ink, after: Ink): string[] {
  const countsOf = (ink: Ink) =>
    new Map(
      ((ink["count"] ?? []) as readonly InkCount[]).map(({ item, place, count }) => [`${item}, ${place}`, count]),
    );
  const [was, is] = [countsOf(before), countsOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((row) => {
    const [old, now] = [was.get(row) ?? 0, is.get(row) ?? 0];
    return old === now ? [] : [heard("cardConcern").theCountOfBefore({ row, old, now })];
  });
}
