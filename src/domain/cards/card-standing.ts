/** Whether a card that someone holds is still in force, what took its place, and which issues did that. */
import type { Collection, Platform } from "../../schema/collection.ts";
import { documentsOf } from "../../schema/documents.ts";
import { isSameBand } from "./band-cards.ts";
import { covers } from "../bands/bands.ts";
import { documentName, documentsOfEdition, editionsOf, newDocuments } from "./editions.ts";
import { cardCodeOf, cardContentOf } from "./card-content.ts";
import {
  bandCardsByDay,
  type CodeOf,
  contentsInForce,
  everyBandCard,
  everyCard,
  type IssuedCard,
  newestOfEach,
} from "./cards-issued.ts";
import type { ConfigurationContent, Content } from "../records/content.ts";
import { kindOf } from "../records/freeze.ts";
import { contentsOnPlatform } from "../records/issues.ts";

/**
 * `current`: in force today; `coming`: takes effect on a later day; `replaced`; `withdrawn`: its configuration is no
 * longer used.
 */
type CardState = "current" | "coming" | "replaced" | "withdrawn";

/** A document whose issue made a card come out otherwise. */
export interface CardCause {
  readonly kind: Content["kind"];
  readonly id: string;
  readonly title: string;
  readonly revision: number;
}

/** A card with what has become of it by a day. Days are `YYYY-MM-DD`. */
export interface CardStanding {
  readonly card: IssuedCard;
  readonly state: CardState;
  /**
   * The card in force today of the same configuration, for the same patients if there is one; absent if there is none.
   */
  readonly now?: IssuedCard;
  /** The day on which the next card of the configuration took its place, or will. */
  readonly until?: string;
  /** The card that takes effect next, in the place of the one in force or as the first. */
  readonly next?: IssuedCard;
}

/** Every card of a platform that was ever in force, with what has become of it by `today`. */
export function cardStandings(
  collection: Collection,
  platform: Platform,
  today: string,
  codeOf: CodeOf,
): CardStanding[] {
  const cards = everyCard(collection, platform, codeOf);
  return cards.map((card) =>
    standingOf(
      card,
      cards.filter(({ configuration }) => configuration === card.configuration),
      today,
    ),
  );
}

/**
 * Every card of an elementary band that was ever in force, with what has become of it. Where bands are cut elsewhere
 * since, the card of a band that holds all of its
 * patients took its place; else the configuration's own card, which says for whom each line is.
 */
export function bandStandings(
  collection: Collection,
  platform: Platform,
  today: string,
  codeOf: CodeOf,
): CardStanding[] {
  const cards = everyBandCard(collection, platform, codeOf);
  if (cards.length === 0) return [];
  const days = bandCardsByDay(collection, platform, codeOf),
    wholes = everyCard(collection, platform, codeOf);
  const sameBand = (card: IssuedCard) => (other: IssuedCard) =>
    other.configuration === card.configuration && isSameBand(other.band!, card.band!);
  const chains = cards.map((card) => cards.filter(sameBand(card)));
  return cards.map((card, at) => {
    const own = wholes.filter(({ configuration }) => configuration === card.configuration),
      chain = chains[at]!;
    const standing = standingOf(card, chain, today);
    const takesEffectLater = (card.from ?? "") > today;
    if (standing.state !== "withdrawn" || !own.some(({ isCurrent }) => isCurrent)) return standing;
    const follower = followerOf(card, chain);
    const until =
      follower?.from ?? days.find(({ day, cards: then }) => day > (card.from ?? "") && !then.some(sameBand(card)))?.day;
    if (until && until > today && !takesEffectLater) return { card, state: "current", now: card, until };
    const inForce = chains.flatMap((others) => others.find(({ isCurrent }) => isCurrent) ?? []);
    const now =
      inForce.find(
        ({ configuration, band }) =>
          configuration === card.configuration &&
          covers(band!.weight, card.band!.weight) &&
          covers(band!.age, card.band!.age),
      ) ?? own.find(({ isCurrent }) => isCurrent);
    return {
      card,
      state: takesEffectLater ? "coming" : "replaced",
      ...(now ? { now } : {}),
      ...(until ? { until } : {}),
    };
  });
}

/**
 * The card of a later day that took the place of this one, or will; not the same lines under a code of the whole card.
 */
function followerOf(card: IssuedCard, cards: readonly IssuedCard[]): IssuedCard | undefined {
  const areEditions = ({ edition }: IssuedCard) => edition !== undefined && card.edition !== undefined;
  return cards.slice(cards.indexOf(card) + 1).find((other) => other.from !== card.from || areEditions(other));
}

/** What has become of a card among all the cards of its configuration in order of time. */
export function standingOf(card: IssuedCard, cards: readonly IssuedCard[], today: string): CardStanding {
  const now = cards.find(({ isCurrent }) => isCurrent);
  const next = comingAmong(cards, today);
  const follower = followerOf(card, cards);
  const state: CardState =
    card === now ? "current" : isComing(card, today) ? "coming" : now === undefined ? "withdrawn" : "replaced";
  return {
    card,
    state,
    ...(now ? { now } : {}),
    ...(follower?.from ? { until: follower.from } : {}),
    ...(next ? { next } : {}),
  };
}

/** Whether a card takes effect on a later day, whether or not another one is in force until then. */
export function isComing({ isCurrent, from = "" }: IssuedCard, today: string): boolean {
  return !isCurrent && from > today;
}

/** The next card to take effect among those of a configuration, in order of time; `undefined` if none is coming. */
export function comingAmong(cards: readonly IssuedCard[], today: string): IssuedCard | undefined {
  return cards.find((card) => isComing(card, today));
}

/**
 * The issues that made the card in force on the day `after.from` differ from the one before it: those that took effect
 * on that day and without which the card
 * would have come out as another. Empty if no issue is frozen.
 */
export function causesOf(collection: Collection, platform: Platform, after: IssuedCard): CardCause[] {
  const day = after.from;
  if (!day) return [];
  const issues = contentsOnPlatform(collection, platform.id);
  const frozen = new Set(issues.map(keyOf));
  // What is approved and in force but not frozen yet counts as an issue, too.
  const all = [...issues, ...contentsInForce(platform).filter((content) => !frozen.has(keyOf(content)))];
  const inForce = newestOfEach(all.filter(({ effective }) => (effective ?? "") <= day));
  // Between two editions it is what came into force between them, whatever day it was to take effect.
  const came = after.edition && newDocuments(editionsOf(collection, platform.id, after.configuration), after.edition);
  return inForce
    .filter((content) => (came ? came.has(documentName(content)) : content.effective === day))
    .flatMap((content) => {
      const earlier = newestOfEach(
        all.filter(
          (other) => other.kind === content.kind && other.id === content.id && other.revision < content.revision,
        ),
      )[0];
      const without = [...inForce.filter((other) => other !== content), ...(earlier ? [earlier] : [])];
      const configuration = without.find(
        (other): other is ConfigurationContent => other.kind === "configuration" && other.id === after.configuration,
      );
      if (configuration && cardCodeOf(cardContentOf(configuration, without)) === cardCodeOf(after.content)) return [];
      return [{ kind: content.kind, id: content.id, title: content.title, revision: content.revision }];
    });
}

/**
 * The documents of which a card still prints something and nothing is in force any more: what was withdrawn made it an
 * old one, and no issue did. Of a card that was never frozen it is not known what it was made of: all are.
 */
export function withdrawnFrom(collection: Collection, platform: Platform, card: IssuedCard): CardCause[] {
  const inForce = contentsInForce(platform),
    codeOf = (contents: readonly Content[]) => {
      const own = contents.find(
        (content): content is ConfigurationContent =>
          content.kind === "configuration" && content.id === card.configuration,
      );
      return own && cardCodeOf(cardContentOf(own, contents));
    };
  const code = codeOf(inForce),
    edition = editionsOf(collection, platform.id, card.configuration).find(({ edition }) => edition === card.edition);
  const madeOf = edition && documentsOfEdition(edition);
  return newestOfEach(contentsOnPlatform(collection, platform.id)).flatMap((gone) => {
    const { kind, id, title, revision } = gone;
    if (code === undefined || inForce.some((content) => content.kind === kind && content.id === id)) return [];
    if (madeOf && !madeOf.some((name) => name.startsWith(`${kind}/${id}@`))) return [];
    const isWithdrawn = documentsOf(platform).some(
      (record) => record.status === "withdrawn" && record.id === id && kindOf(record) === kind,
    );
    return isWithdrawn && codeOf([...inForce, gone]) !== code ? [{ kind, id, title, revision }] : [];
  });
}

function keyOf({ kind, id, revision }: Content): string {
  return `${kind} ${id} ${revision}`;
}
