/** Every card that a collection's issues have ever made, so that a code on a laminated copy can be looked up. */
import type { Band, CardEdition, Collection, Platform } from "../../schema/collection.ts";
import { documentsOf } from "../../schema/documents.ts";
import { bandCardsOf } from "./band-cards.ts";
import { cardCodeOf, cardContentOf, type CardContent } from "./card-content.ts";
import type { ConfigurationContent, Content } from "../records/content.ts";
import { contentOf, contentOfIssue } from "../records/freeze.ts";
import { contentsOnPlatform } from "../records/issues.ts";
import { forceOn } from "../force/force.ts";
import { rememberInForce } from "../force/in-force.ts";
import { patientsOf, cardsOf, editionOn, isAsIssued } from "./editions.ts";
import { remember } from "../words/remember.ts";
import { heard } from "../../words/heard.ts";

/** A card in force from a day on, until the next of the same configuration. */
export interface IssuedCard {
  readonly platform: string;
  readonly configuration: string;
  readonly code: string;
  /** Number of the frozen edition; absent for a card that was never frozen. */
  readonly edition?: number;
  /** In force from; absent if no date is known. */
  readonly from?: string;
  /** Whether it is the one in force on the collection's day. */
  readonly isCurrent: boolean;
  readonly content: CardContent;
  /** The patients whom it is for, if it is the card of an elementary band; absent for the configuration's own card. */
  readonly band?: Band;
}

/**
 * `revision 3, edition 2`, and with a way to say days `revision 3, edition 2, from 14 Sep 2026`: how a card is told
 * from others of its configuration. A card of a changeover has neither number.
 */
export function sayVersion(
  {
    content,
    edition,
    from,
  }: {
    readonly content: { readonly revision?: number };
    readonly edition?: number;
    readonly from?: string;
  },
  sayDay?: (day: string) => string,
): string {
  return [
    ...(content.revision === undefined ? [] : [heard("cardDifference").revision({ revision: content.revision })]),
    ...(edition === undefined ? [] : [heard("cardDifference").edition({ edition })]),
    ...(sayDay && from ? [heard("cardDifference").fromFrom({ from: sayDay(from) })] : []),
  ].join(", ");
}

/** A card whose check code is asked for; `platform` is what is in force on the card's day. */
export interface CodedCard {
  readonly platform: Platform;
  readonly configuration: string;
  readonly content: CardContent;
  /** The patients whom it is for, if it is the card of an elementary band. */
  readonly band?: Band;
  /** The day on which it is asked for; the collection's own if absent. */
  readonly day?: string;
}

/** What tells a card from every other: its check code and, if it was frozen, its edition and the day of that. */
interface CardMark {
  readonly code: string;
  readonly edition?: number;
  readonly from?: string;
}

/**
 * The mark of a card, of everything that is printed on it: `printedCodes` in `paper/`, which knows how cards are
 * printed.
 */
export type CodeOf = (card: CodedCard) => CardMark;

/** Makes the cards of a configuration from what is in force with it. */
type MakeCards = (
  configuration: ConfigurationContent,
  contents: readonly Content[],
) => readonly { readonly content: CardContent; readonly band?: Band }[];

const wholeCards: MakeCards = (configuration, contents) => [{ content: cardContentOf(configuration, contents) }];

/** The card of each configuration in force; `platform` is what is in force on a day (`forceOn`). */
export const currentCards: (platform: Platform, codeOf: CodeOf) => readonly IssuedCard[] =
  /* @__PURE__ */ rememberInForce((platform: Platform, codeOf: CodeOf) => presentCards(platform, wholeCards, codeOf));

/** The cards of elementary bands in force, for those configurations whose lines are not the same for every patient. */
export const currentBandCards: (platform: Platform, codeOf: CodeOf) => readonly IssuedCard[] =
  /* @__PURE__ */ rememberInForce((platform: Platform, codeOf: CodeOf) => presentCards(platform, bandCardsOf, codeOf));

/**
 * Every card of a platform that was ever in force or will be, in order of time: at each day on which an issue took
 * effect, the cards made from the issues in force then; after those up to the collection's day the current ones.
 * A card that comes out the same as one before is listed once. Cards of the time before the first issue of the second
 * form have the codes of their lines, which is what was printed then; later ones those of the whole card, as far as
 * names, counts, masses and drawing were then as they are now.
 */
export const everyCard: (collection: Collection, platform: Platform, codeOf: CodeOf) => readonly IssuedCard[] =
  /* @__PURE__ */ rememberInForce((collection: Collection, platform: Platform, codeOf: CodeOf) => {
    const days = withEditions(collection, platform, cardsByDay(collection, platform, wholeCards, codeOf), false);
    return listOnce(days, currentCards(platform, codeOf), collection.on);
  });

/** Every card of an elementary band that was ever in force, as `everyCard` lists those of whole configurations. */
export const everyBandCard: (collection: Collection, platform: Platform, codeOf: CodeOf) => readonly IssuedCard[] =
  /* @__PURE__ */ rememberInForce((collection: Collection, platform: Platform, codeOf: CodeOf) =>
    listOnce(bandCardsByDay(collection, platform, codeOf), currentBandCards(platform, codeOf), collection.on),
  );

/** The cards of elementary bands on each day on which an issue took effect, in order of time. */
export const bandCardsByDay: (collection: Collection, platform: Platform, codeOf: CodeOf) => readonly DayOfCards[] =
  /* @__PURE__ */ rememberInForce((collection: Collection, platform: Platform, codeOf: CodeOf) =>
    withEditions(collection, platform, cardsByDay(collection, platform, bandCardsOf, codeOf), true),
  );

/** The cards that were in force from a day on; the day is empty for issues without one. */
interface DayOfCards {
  readonly day: string;
  readonly cards: readonly IssuedCard[];
}

function presentCards(platform: Platform, make: MakeCards, codeOf: CodeOf): IssuedCard[] {
  const contents = contentsInForce(platform);
  return configurationsIn(contents).flatMap((configuration) =>
    cardsFrom(configuration, make(configuration, contents), configuration.effective).map((card) => ({
      ...card,
      ...codeOf({ ...card, platform }),
      isCurrent: true,
    })),
  );
}

function cardsByDay(collection: Collection, platform: Platform, make: MakeCards, codeOf: CodeOf): DayOfCards[] {
  const issues = contentsOnPlatform(collection, platform.id);
  const days = [...new Set(issues.map(({ effective }) => effective ?? ""))].sort();
  const { on } = collection,
    now = contentsInForce(platform),
    frozen = new Set(issues.map(keyOf)),
    neverIssued = now.filter((content) => !frozen.has(keyOf(content)));
  // Issues of the first form are of a time in which a code covered the lines only.
  const [firstWhole = "9999-12-31"] = collection.issued
    .filter(({ platform: own, form = 1 }) => own === platform.id && form > 1)
    .flatMap((issue) => contentOfIssue(issue)?.effective ?? [])
    .sort();
  return days.map((day, at) => {
    const come = issues.filter(({ effective }) => (effective ?? "") <= day);
    // After the collection's day what is in force then stays so until an issue takes its place.
    const isComing = on !== undefined && day > on;
    const inForce = isComing
      ? newestOfEach([...now, ...come.filter(({ effective }) => (effective ?? "") > on)])
      : newestOfEach([...neverIssued, ...come]);
    const made = configurationsIn(inForce).flatMap((configuration) =>
      cardsFrom(configuration, make(configuration, inForce), day || undefined),
    );
    const isOfLines = !isComing && day < firstWhole;
    if (isOfLines && (days[at + 1] ?? "") < firstWhole) return { day, cards: made };
    const view =
      forceOn(asIssues(collection), day).collection.platforms.find(({ id }) => id === platform.id) ?? platform;
    const whole = made.map((card) => ({ ...card, ...codeOf({ ...card, platform: view, day }) }));
    // What stood when codes came to cover all was printed with the one and the other.
    return { day, cards: isOfLines ? [...made, ...whole] : whole };
  });
}

/**
 * The collection without the files of withdrawn documents: what was issued of them was printed in its time, and of a
 * document without a file the issues speak. A withdrawal at once would take it out of every day that was.
 */
const asIssues: (collection: Collection) => Collection = /* @__PURE__ */ remember((collection: Collection) => {
  const isKept = ({ status }: { readonly status: string }) => status !== "withdrawn";
  const kept = (platform: Platform): Platform => {
    const { procedures, configurations, options } = platform;
    if (documentsOf(platform).every(isKept)) return platform;
    return {
      ...platform,
      procedures: procedures.filter(isKept),
      configurations: configurations.filter(isKept),
      options: options.filter(isKept),
    };
  };
  const platforms = collection.platforms.map(kept);
  // The very collection where nothing is withdrawn: what is known of it by then stays known.
  return platforms.every((platform, at) => platform === collection.platforms[at])
    ? collection
    : { ...collection, platforms };
});

/**
 * The days with the frozen editions in the place of what would be worked out for them: from the day of a card's first
 * edition on, its editions say what was printed. `ofBands`: cards of elementary bands, else configurations' own.
 */
function withEditions(
  collection: Collection,
  platform: Platform,
  days: readonly DayOfCards[],
  ofBands: boolean,
): DayOfCards[] {
  const { editions = [] } = collection,
    own = editions.filter((edition) => edition.platform === platform.id && isAsIssued(edition));
  if (own.length === 0) return [...days];
  const first = new Map(own.toReversed().map(({ card, effective }) => [card, effective]));
  const worked = days.map(({ day, cards }) => ({
    day,
    cards: cards.filter(({ configuration }) => day <= (first.get(configuration) ?? "9999-12-31")),
  }));
  const all = [...new Set([...days.map(({ day }) => day), ...own.map(({ effective }) => effective)])].sort();
  return all.map((day) => ({
    day,
    cards: [
      ...(worked.find((each) => each.day === day)?.cards ?? []),
      ...[...first.keys()].flatMap((card) => {
        const row = own.filter((each) => each.card === card),
          ofDay = row.filter(({ effective }) => effective === day),
          before = editionOn(row, day);
        // Two of one day: the first was issued, and may lie in a folder.
        return (ofDay.length > 0 ? ofDay : before ? [before] : []).flatMap((edition) =>
          cardsOfEdition(edition, ofBands),
        );
      }),
    ],
  }));
}

function cardsOfEdition(edition: CardEdition, ofBands: boolean): IssuedCard[] {
  return cardsOf(edition).flatMap((card) => {
    const band = patientsOf(card);
    if ((band !== undefined) !== ofBands) return [];
    return {
      platform: edition.platform,
      configuration: edition.card,
      code: card.code,
      edition: edition.edition,
      from: edition.effective,
      isCurrent: false,
      content: card.content,
      ...(band ? { band } : {}),
    };
  });
}

function listOnce(days: readonly DayOfCards[], current: readonly IssuedCard[], on = "9999-12-31"): IssuedCard[] {
  const cardKey = ({ configuration, code }: IssuedCard) => `${configuration} ${code}`;
  const firstOf = (cards: readonly IssuedCard[]) => {
    const first = new Map<string, IssuedCard>();
    for (const card of cards) if (!first.has(cardKey(card))) first.set(cardKey(card), card);
    return first;
  };
  const past = firstOf(days.filter(({ day }) => day <= on).flatMap(({ cards }) => cards));
  const coming = firstOf(days.filter(({ day }) => day > on).flatMap(({ cards }) => cards));
  const codes = new Set(current.map(cardKey));
  return [
    ...[...past].filter(([key]) => !codes.has(key)).map(([, card]) => card),
    ...current.map((card) => {
      // A card that was never frozen is in force from the day on which its lines came, whatever its code covered then.
      const ofLines = card.edition === undefined ? `${card.configuration} ${cardCodeOf(card.content)}` : "";
      const from = (past.get(cardKey(card)) ?? past.get(ofLines))?.from ?? card.from;
      return { ...card, ...(from ? { from } : {}) };
    }),
    ...[...coming].filter(([key]) => !codes.has(key) && !past.has(key)).map(([, card]) => card),
  ];
}

/** What the documents in force say; nothing of one that is a draft, in review, coming or withdrawn. */
export function contentsInForce(platform: Platform): Content[] {
  return documentsOf(platform)
    .filter(({ status }) => status === "approved")
    .map((record) => contentOf(record, platform));
}

/** Of several issues of the same documents, the one of the highest revision of each. */
export function newestOfEach(contents: readonly Content[]): Content[] {
  const newest = new Map<string, Content>();
  for (const content of contents) {
    const key = keyOf(content);
    if ((newest.get(key)?.revision ?? 0) <= content.revision) newest.set(key, content);
  }
  return [...newest.values()];
}

function keyOf({ kind, id }: Content): string {
  return `${kind} ${id}`;
}

function configurationsIn(contents: readonly Content[]): ConfigurationContent[] {
  return contents.filter((content): content is ConfigurationContent => content.kind === "configuration");
}

/** Cards with the codes of their lines alone. */
function cardsFrom(
  { platform, id }: ConfigurationContent,
  made: ReturnType<MakeCards>,
  from: string | undefined,
): IssuedCard[] {
  return made.map(({ content, band }) => ({
    platform,
    configuration: id,
    code: cardCodeOf(content),
    ...(from ? { from } : {}),
    isCurrent: false,
    content,
    ...(band ? { band } : {}),
  }));
}
