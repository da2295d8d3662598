/** Editions of cards: what was frozen of a card with its number and its day, and which edition holds on a day. */
import type { Band, CardEdition, Collection } from "../../schema/collection.ts";
import { isSameBand } from "./band-cards.ts";
import type { CardContent } from "./card-content.ts";
import { codeOf } from "./check-code.ts";
import { thawBand } from "../force/thaw.ts";
import type { Content, RangeContent } from "../records/content.ts";
import { canonicalJson, hashOf } from "../records/freeze.ts";
import { remember } from "../words/remember.ts";
import { heard } from "../../words/heard.ts";

/** Everything that is printed on a card but its edition, its day and its check code; plain JSON. */
export type Ink = Readonly<Record<string, unknown>>;

/** How the heading of an option's lines begins on a card; its title follows. */
export function ifFitted(): string {
  return `${heard("checklist").ifFitted} `;
}

/** How it begins for an option that these patients need; for whom else, if not all, and the title follow. */
export function fittedAlways(): string {
  return heard("checklist").fittedAlways;
}

/** A card of an edition: the configuration's own, or that of one of its elementary bands. */
export interface EditionCard {
  readonly code: string;
  readonly ink: Ink;
  readonly content: CardContent;
  /** The patients whom it is for, if it is the card of an elementary band. */
  readonly band?: { readonly weight: RangeContent; readonly age: RangeContent };
}

/** The file of an edition: everything but `hash` is bound by it. */
export interface EditionFile {
  readonly form: 1;
  readonly kind: "card";
  readonly platform: string;
  /** Id of the configuration. */
  readonly id: string;
  readonly edition: number;
  /** The day on which it was issued, and from which on it is in force. */
  readonly issued: string;
  readonly effective: string;
  /** The check code of the configuration's own card. */
  readonly code: string;
  /** What differs from the edition before, in words; empty for the first. */
  readonly differs: readonly string[];
  /** All that was in force on the platform then, `procedure/seat-capsule@3`, sorted. */
  readonly documents: readonly string[];
  /** The configuration's own card first, then those of its elementary bands. */
  readonly cards: readonly EditionCard[];
  readonly hash: string;
}

/** The check code of a card: of its ink, its edition and the day from which it is in force, as far as it has them. */
export function codeOfInk(ink: Ink, edition: number | undefined, from: string | undefined): string {
  return codeOf(hashOf({ ...ink, edition: edition ?? null, effective: from ?? null }));
}

/** Editions of a configuration's card in rising order; empty if there is none, or all were altered since. */
export function editionsOf({ editions = [] }: Collection, platform: string, card: string): CardEdition[] {
  return editions.filter((edition) => edition.platform === platform && edition.card === card && isAsIssued(edition));
}

/** The edition in force on a day; `undefined` before the first. Without a day, the newest. */
export function editionOn(editions: readonly CardEdition[], day: string | undefined): CardEdition | undefined {
  return editions.findLast(({ effective }) => day === undefined || effective <= day);
}

/** Whether an edition is as it was written: its hash fits it, and its name is its own. Hashed once. */
export const isAsIssued = remember(({ file, platform, card, edition, frozen, hash }: CardEdition): boolean => {
  const name = file.split("/").slice(-2).join("/");
  return hashOf(frozen) === hash && frozen.platform === platform && name === `${platform}/card-${card}@${edition}.json`;
});

/** The cards of an edition. */
export function cardsOf({ frozen }: CardEdition): readonly EditionCard[] {
  return (frozen as unknown as EditionFile).cards;
}

/** `procedure/seat-capsule@3`: a document in force, as an edition names it. */
export function documentName({ kind, id, revision }: Pick<Content, "kind" | "id" | "revision">): string {
  return `${kind}/${id}@${revision}`;
}

/** The documents that were in force when an edition was made, as `documentName` names them. */
export function documentsOfEdition({ frozen }: CardEdition): readonly string[] | undefined {
  return (frozen as unknown as EditionFile).documents;
}

/** The documents that came into force between an edition and the one before it; `undefined` for the first. */
export function newDocuments(editions: readonly CardEdition[], number: number): ReadonlySet<string> | undefined {
  const documentsOf = (edition: number) => {
    const found = editions.find((each) => each.edition === edition);
    return found && documentsOfEdition(found);
  };
  const [before, now] = [documentsOf(number - 1), documentsOf(number)];
  return before && now && new Set(now.filter((name) => !before.includes(name)));
}

/** The patients whom a card of an edition is for; `undefined` for the configuration's own. */
export function patientsOf({ band }: EditionCard): Band | undefined {
  return band && thawBand(band);
}

/** The card of an edition for these patients (`undefined`: the configuration's own); `undefined` if it has none. */
export function cardFor(edition: CardEdition, band: Band | undefined): EditionCard | undefined {
  return cardsOf(edition).find((card) => {
    const itsBand = patientsOf(card);
    return band && itsBand ? isSameBand(band, itsBand) : !band && !itsBand;
  });
}

/** The card of an edition that prints this ink, for these patients; `undefined` if it has none. */
export function cardWith(edition: CardEdition, ink: Ink, band: Band | undefined): EditionCard | undefined {
  const own = cardFor(edition, band);
  return own && canonicalJson(own.ink) === canonicalJson(ink) ? own : undefined;
}
