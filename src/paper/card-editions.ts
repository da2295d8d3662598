/** Which editions of cards are due: where a card prints something else than its newest edition froze. */
import type { CardEdition, Collection, Configuration, Platform } from "../schema/collection.ts";
import { bandCardsOf } from "../domain/cards/band-cards.ts";
import { cardContentOf } from "../domain/cards/card-content.ts";
import { contentsInForce } from "../domain/cards/cards-issued.ts";
import {
  cardsOf,
  cardWith,
  codeOfInk,
  documentName,
  type EditionCard,
  type EditionFile,
  editionOn,
  editionsOf,
  type Ink,
} from "../domain/cards/editions.ts";
import { forceOn, nameOf } from "../domain/force/force.ts";
import type { ConfigurationContent } from "../domain/records/content.ts";
import { canonicalJson, contentOf, contentOfIssue, hashOf, rangeOf } from "../domain/records/freeze.ts";
import { sayList } from "../schema/wording.ts";
import { inkOfCard } from "./printed-card.ts";

/** A card that prints something else than the edition in force on a day. */
interface DueCard {
  readonly platform: Platform;
  readonly configuration: Configuration;
  readonly day: string;
  /** The edition before it; absent for the first. */
  readonly last?: CardEdition;
  readonly differs: readonly string[];
  /** What it prints: the configuration's own card first, then those of its elementary bands. */
  readonly cards: ReturnType<typeof cardsNow>;
}

/**
 * The days on which cards are judged: today, and those of issues that are still coming. Rising, each once.
 */
export function daysOfCards({ issued }: Collection, today: string): string[] {
  const coming = issued.flatMap((issue) => contentOfIssue(issue)?.effective ?? []).filter((day) => day > today);
  return [today, ...new Set(coming)].sort();
}

/**
 * The cards of issued configurations that print something else on one of these days than the edition in force then
 * froze, in the order of the days; empty if every card is as it was issued. `files`: the collection as it was read.
 */
export function dueCards(files: Collection, days: readonly string[]): DueCard[] {
  return days.flatMap((day) => {
    const { collection, notIssued } = forceOn(files, day);
    return collection.platforms.flatMap((platform) =>
      platform.configurations.flatMap((configuration): DueCard[] => {
        if (notIssued.has(nameOf(configuration, "configuration"))) return [];
        const last = editionOn(editionsOf(files, platform.id, configuration.id), day);
        const cards = cardsNow(files, platform, configuration);
        const isSame =
          last !== undefined &&
          cards.length === cardsOf(last).length &&
          cards.every(({ ink, band }) => cardWith(last, ink, band));
        if (isSame) return [];
        const differs = last ? differencesOf(cardsOf(last)[0]!.ink, cards[0]!.ink) : [];
        return [{ platform, configuration, day, ...(last ? { last } : {}), differs, cards }];
      }),
    );
  });
}

/**
 * The editions to freeze so that every card printed from these days on is frozen, in the order of the days. A day
 * before a card's newest edition makes none: what was issued for it stays. `issued`: today.
 */
export function editionsDue(files: Collection, days: readonly string[], issued: string): EditionFile[] {
  const made: EditionFile[] = [];
  let so: Collection = files;
  for (const day of days)
    for (const due of dueCards(so, [day])) {
      if (editionsOf(so, due.platform.id, due.configuration.id).at(-1) !== due.last) continue;
      const edition = freezeEdition(due, issued);
      made.push(edition);
      so = { ...so, editions: [...(so.editions ?? []), asRead(edition)] };
    }
  return made;
}

function cardsNow({ service }: Collection, platform: Platform, configuration: Configuration) {
  const own = contentOf(configuration, platform) as ConfigurationContent,
    contents = contentsInForce(platform);
  const shared = { platform, configuration: configuration.id };
  return [{ content: cardContentOf(own, contents), band: undefined }, ...bandCardsOf(own, contents)].map(
    ({ content, band }) => ({
      content,
      band,
      ink: inkOfCard(service, { ...shared, content, ...(band ? { band } : {}) }),
    }),
  );
}

function freezeEdition(
  { platform, configuration, day, last, differs, cards: now }: DueCard,
  issued: string,
): EditionFile {
  const edition = (last?.edition ?? 0) + 1;
  const cards = now.map(({ content, ink, band }): EditionCard => ({
    code: codeOfInk(ink, edition, day),
    ...(band ? { band: { weight: rangeOf(band.weight), age: rangeOf(band.age) } } : {}),
    ink,
    content,
  }));
  const head = {
    form: 1 as const,
    kind: "card" as const,
    platform: platform.id,
    id: configuration.id,
    edition,
    issued,
    effective: day,
    code: cards[0]!.code,
    differs,
  };
  const documents = contentsInForce(platform).map(documentName).sort();
  const rest = JSON.parse(JSON.stringify({ documents, cards })) as Pick<EditionFile, "documents" | "cards">;
  return { ...head, hash: hashOf({ ...head, ...rest }), ...rest };
}

/** The edition as it will be read back. */
function asRead(file: EditionFile): CardEdition {
  const { hash, ...frozen } = file;
  const path = `issued/${file.platform}/card-${file.id}@${file.edition}.json`;
  return {
    file: path,
    platform: file.platform,
    card: file.id,
    edition: file.edition,
    effective: file.effective,
    code: file.code,
    frozen,
    hash,
    where: { file: path, line: 1, column: 1 },
    at: {},
  };
}

/** Parts of the ink, as they are called on a card. */
const PARTS: readonly (readonly [keys: readonly string[], name: string])[] = [
  [["title", "code", "complete"], "its name"],
  [["revision"], "the revision"],
  [["band", "isPart"], "the patients"],
  [["reviewBy"], "the day after which it is not to be used"],
  [["leftLooks", "rightLooks"], "who looks"],
  [["warnings"], "warnings"],
  [["rail", "tab"], "the scale of weights"],
  [["plan"], "the drawing"],
  [["site", "paper"], "the address and the paper"],
];

/**
 * What differs between two inks of a card, in words: lines of the configuration, lines of each option, counts piece by
 * piece, loads, and the rest by name; empty if they are alike.
 */
function differencesOf(before: Ink, after: Ink): string[] {
  const same = (key: string) => canonicalJson(before[key] ?? null) === canonicalJson(after[key] ?? null);
  const lines = differingParts(before, after);
  const own = lines.includes("") ? ["its lines"] : [];
  const options = lines.filter((title) => title !== "");
  const found = [
    ...own,
    ...(options.length > 0 ? [`the lines with ${sayList(options)} fitted`] : []),
    ...differingCounts(before, after),
    ...(same("loads") ? [] : ["masses and balance"]),
    ...PARTS.flatMap(([keys, name]) => (keys.every(same) ? [] : [name])),
  ];
  const isOnlyOptions = found.length === 1 && options.length > 0;
  return isOnlyOptions ? [`only ${found[0]!}`] : found;
}

interface InkPart {
  readonly title?: string;
}

/** Titles of the parts whose lines differ; empty text for the configuration's own. */
function differingParts(before: Ink, after: Ink): string[] {
  const partsOf = (ink: Ink) =>
    new Map(
      ((ink.parts ?? []) as readonly InkPart[]).map((part) => [part.title ?? "", canonicalJson(unnumbered(part))]),
    );
  const [was, is] = [partsOf(before), partsOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])].filter((title) => was.get(title) !== is.get(title));
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
    new Map(((ink.count ?? []) as readonly InkCount[]).map(({ item, place, count }) => [`${item}, ${place}`, count]));
  const [was, is] = [countsOf(before), countsOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((row) => {
    const [old, now] = [was.get(row) ?? 0, is.get(row) ?? 0];
    return old === now ? [] : [`the count of ${row}: ${old} before, ${now} now`];
  });
}
