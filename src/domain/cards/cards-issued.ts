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
  /** Whether it is the one in force by the present files. */
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

/**
 * The card of each configuration by the present files: approved records, and for one that is a draft or in review, its
 * newest issue. A configuration that is
 * withdrawn, or was never approved, has none.
 */
export function currentCards(collection: Collection, platform: Platform): IssuedCard[] {
  return presentCards(collection, platform, wholeCards);
}

/**
 * The cards of elementary bands by the present files, for those configurations whose lines are not the same for every
 * patient.
 */
export function currentBandCards(collection: Collection, platform: Platform): IssuedCard[] {
  return presentCards(collection, platform, bandCardsOf);
}

/**
 * Every card of a platform that was ever in force, in order of time: at each day on which an issue took effect, the
 * cards made from the issues in force then; last the current ones.
 * A card that comes out the same as the one before is listed once.
 */
export function everyCard(collection: Collection, platform: Platform): IssuedCard[] {
  return listOnce(cardsByDay(collection, platform, wholeCards), currentCards(collection, platform));
}

/** Every card of an elementary band that was ever in force, as `everyCard` lists those of whole configurations. */
export function everyBandCard(collection: Collection, platform: Platform): IssuedCard[] {
  return listOnce(bandCardsByDay(collection, platform), currentBandCards(collection, platform));
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
export interface DayOfCards {
  readonly day: string;
  readonly cards: readonly IssuedCard[];
}

function presentCards(collection: Collection, platform: Platform, make: MakeCards): IssuedCard[] {
  const contents = contentsInForce(collection, platform);
  return configurationsIn(contents).flatMap((configuration) =>
    cardsFrom(configuration, contents, make, true, configuration.effective),
  );
}

function cardsByDay(collection: Collection, platform: Platform, make: MakeCards): DayOfCards[] {
  const issues = collection.issued
    .filter((issue) => issue.platform === platform.id)
    .flatMap((issue) => contentOfIssue(issue) ?? []);
  const days = [...new Set(issues.map(({ effective }) => effective ?? ""))].sort();
  return days.map((day) => {
    const inForce = newestOfEach(issues.filter(({ effective }) => (effective ?? "") <= day));
    return {
      day,
      cards: configurationsIn(inForce).flatMap((configuration) =>
        cardsFrom(configuration, inForce, make, false, day || undefined),
      ),
    };
  });
}

function listOnce(days: readonly DayOfCards[], current: readonly IssuedCard[]): IssuedCard[] {
  const keyOf = ({ configuration, code }: IssuedCard) => `${configuration} ${code}`;
  const first = new Map<string, IssuedCard>();
  for (const card of days.flatMap(({ cards }) => cards)) if (!first.has(keyOf(card))) first.set(keyOf(card), card);
  const codes = new Set(current.map(keyOf));
  return [
    ...[...first].filter(([key]) => !codes.has(key)).map(([, card]) => card),
    ...current.map((card) => {
      const from = first.get(keyOf(card))?.from ?? card.from;
      return { ...card, ...(from ? { from } : {}) };
    }),
  ];
}

/**
 * What is in force of each document: the present text if approved, else its newest issue; nothing of what is withdrawn.
 */
export function contentsInForce(collection: Collection, platform: Platform): Content[] {
  return [...platform.procedures, ...platform.configurations, ...platform.options].flatMap((record): Content[] => {
    if (record.status === "withdrawn") return [];
    const now = contentOf(record, platform);
    if (record.status === "approved") return [now];
    const issued = collection.issued
      .filter((issue) => issue.platform === platform.id && issue.kind === now.kind && issue.id === now.id)
      .flatMap((issue) => contentOfIssue(issue) ?? []);
    return newestOfEach(issued);
  });
}

/** Of several issues of the same documents, the one of the highest revision of each. */
export function newestOfEach(contents: readonly Content[]): Content[] {
  const newest = new Map<string, Content>();
  for (const content of contents) {
    const key = `${content.kind} ${content.id}`;
    if ((newest.get(key)?.revision ?? 0) <= content.revision) newest.set(key, content);
  }
  return [...newest.values()];
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
