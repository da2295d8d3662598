/** What was in force before a card, and why it is another one now, for the page of its code. */
import type { Platform } from "../../schema/collection.ts";
import { causesOf, type CardCause } from "../../domain/cards/card-standing.ts";
import { everyCard, type IssuedCard } from "../../domain/cards/cards-issued.ts";
import { printedCodes } from "../../paper/printed-card.ts";
import { ofCollection } from "../of-collection.ts";
import type { Site } from "../site.ts";

/** Every card of a platform's whole configurations that was ever in force or will be (`everyCard`). */
export const everyCardOf: (site: Site, platform: Platform) => readonly IssuedCard[] = ofCollection(
  (collection, platform: Platform) => everyCard(collection, platform, printedCodes(collection)),
);

/** The issues that made a card differ from the one before it (`causesOf`). */
export const causesFor: (site: Site, platform: Platform, after: IssuedCard) => readonly CardCause[] = ofCollection(
  (collection, platform: Platform, after: IssuedCard) => causesOf(collection, platform, after),
);
