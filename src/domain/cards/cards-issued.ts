/** Every card that a collection's issues have ever made, so that a code on a laminated copy can be looked up. */
import type { Band, Collection, Platform } from "../../schema/collection.ts";
import { bandCardsOf } from "./band-cards.ts";
import { cardCodeOf, cardContentOf, type CardContent } from "./card-content.ts";
import type { ConfigurationContent, Content } from "../records/content.ts";
import { contentOf, contentOfIssue } from "../records/freeze.ts";

/** A card in force from a day on, until the next of the same configuration. */
export interface IssuedCard {
  readonly platform: string;
  readonly configuration: string;
  readonly code: string;
  /** In force from; absent if no date is known. */
  readonly from?: string;
  /** Whether it is the one in force on the collection's day. */
  readonly isCurrent: boolean;
  readonly content: CardContent;
  /** The patients whom it is for, if it is the card of an elementary band; absent for the configuration's own card. */
  readonly band?: Band;
}

/** Makes the cards of a configuration from what is in force with it. */
type MakeCards = (
  configuration: ConfigurationContent,
  contents: readonly Content[],
) => readonly { readonly content: CardContent; readonly band?: Band }[];

const wholeCards: MakeCards = (configuration, contents) => [{ content: cardContentOf(configuration, contents) }];

/** The card of each configuration in force; `platform` is what is in force on a day (`forceOn`). */
export function currentCards(platform: Platform): IssuedCard[] {
  return presentCards(platform, wholeCards);
}

/** The cards of elementary bands in force, for those configurations whose lines are not the same for every patient. */
export function currentBandCards(platform: Platform): IssuedCard[] {
  return presentCards(platform, bandCardsOf);
}

/**
 * Every card of a platform that was ever in force or will be, in order of time: at each day on which an issue took
 * effect, the cards made from the issues in force then; after those up to the collection's day the current ones.
 * A card that comes out the same as one before is listed once.
 */
export function everyCard(collection: Collection, platform: Platform): IssuedCard[] {
  return listOnce(cardsByDay(collection, platform, wholeCards), currentCards(platform), collection.on);
}

/** Every card of an elementary band that was ever in force, as `everyCard` lists those of whole configurations. */
export function everyBandCard(collection: Collection, platform: Platform): IssuedCard[] {
  return listOnce(bandCardsByDay(collection, platform), currentBandCards(platform), collection.on);
}

const bandDays = new WeakMap<Collection, Map<string, readonly DayOfCards[]>>();

/** The cards of elementary bands on each day on which an issue took effect, in order of time; worked out once. */
export function bandCardsByDay(collection: Collection, platform: Platform): readonly DayOfCards[] {
  const known = bandDays.get(collection) ?? new Map<string, readonly DayOfCards[]>();
  bandDays.set(collection, known);
  const own = known.get(platform.id) ?? cardsByDay(collection, platform, bandCardsOf);
  known.set(platform.id, own);
  return own;
}

/** The cards that were in force from a day on; the day is empty for issues without one. */
interface DayOfCards {
  readonly day: string;
  readonly cards: readonly IssuedCard[];
}

function presentCards(platform: Platform, make: MakeCards): IssuedCard[] {
  const contents = contentsInForce(platform);
  return configurationsIn(contents).flatMap((configuration) =>
    cardsFrom(configuration, contents, make, true, configuration.effective),
  );
}

function cardsByDay(collection: Collection, platform: Platform, make: MakeCards): DayOfCards[] {
  const issues = collection.issued
    .filter((issue) => issue.platform === platform.id)
    .flatMap((issue) => contentOfIssue(issue) ?? []);
  const days = [...new Set(issues.map(({ effective }) => effective ?? ""))].sort();
  const { on } = collection,
    now = contentsInForce(platform),
    frozen = new Set(issues.map(keyOf)),
    neverIssued = now.filter((content) => !frozen.has(keyOf(content)));
  return days.map((day) => {
    const come = issues.filter(({ effective }) => (effective ?? "") <= day);
    // After the collection's day what is in force then stays so until an issue takes its place.
    const inForce =
      on !== undefined && day > on
        ? newestOfEach([...now, ...come.filter(({ effective }) => (effective ?? "") > on)])
        : newestOfEach([...neverIssued, ...come]);
    return {
      day,
      cards: configurationsIn(inForce).flatMap((configuration) =>
        cardsFrom(configuration, inForce, make, false, day || undefined),
      ),
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
      const from = past.get(cardKey(card))?.from ?? card.from;
      return { ...card, ...(from ? { from } : {}) };
    }),
    ...[...coming].filter(([key]) => !codes.has(key) && !past.has(key)).map(([, card]) => card),
  ];
}

/** What the documents in force say; nothing of one that is a draft, in review, coming or withdrawn. */
export function contentsInForce(platform: Platform): Content[] {
  return [...platform.procedures, ...platform.configurations, ...platform.options]
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

function cardsFrom(
  configuration: ConfigurationContent,
  contents: readonly Content[],
  make: MakeCards,
  isCurrent: boolean,
  from: string | undefined,
): IssuedCard[] {
  const { platform, id } = configuration;
  return make(configuration, contents).map(({ content, band }) => ({
    platform,
    configuration: id,
    code: cardCodeOf(content),
    ...(from ? { from } : {}),
    isCurrent,
    content,
    ...(band ? { band } : {}),
  }));
}
