/** The cards of a site's configurations: the one in force, its checklist, and those for a part of its patients. */
import type { Band, Configuration, Option, Platform } from "../../schema/collection.ts";
import { addressOfBand, bandCardsOf } from "../../domain/cards/band-cards.ts";
import { cardContentOf, type CardContent, type CardLine } from "../../domain/cards/card-content.ts";
import { contentsInForce, currentBandCards, currentCards, type IssuedCard } from "../../domain/cards/cards-issued.ts";
import type { ConfigurationContent } from "../../domain/records/content.ts";
import { contentOf } from "../../domain/records/freeze.ts";
import { type Arrangement, validArrangements } from "../../domain/parts/arrangements.ts";
import { printedCodes } from "../../paper/printed-card.ts";
import { type ChecklistPart, layChecklist } from "../../domain/cards/checklist.ts";
import { remember } from "../../domain/words/remember.ts";
import type { Site } from "../site.ts";

/** The card in force of a configuration with its check code; `undefined` when none is in force. */
export function cardOf(site: Site, platform: Platform, configuration: Configuration): IssuedCard | undefined {
  return cardsOf(site, platform).find((card) => card.configuration === configuration.id);
}

const cardsOf = remember((site: Site, platform: Platform) => currentCards(platform, printedCodes(site.collection)));
const bandCardsInForce = remember((site: Site, platform: Platform) =>
  currentBandCards(platform, printedCodes(site.collection)),
);

/** What the card says: of the present text, also while that is not approved. */
export function contentFor(site: Site, platform: Platform, configuration: Configuration): CardContent {
  const card = configuration.status === "approved" ? cardOf(site, platform, configuration) : undefined;
  return (
    card?.content ??
    cardContentOf(contentOf(configuration, platform) as ConfigurationContent, contentsInForce(platform))
  );
}

/**
 * The elementary bands of a configuration that have cards of their own, with the address of each one's page; empty if
 * every patient has the same lines.
 */
export const bandsOf: (
  site: Site,
  platform: Platform,
  configuration: Configuration,
) => readonly { readonly band: Band; readonly code?: string; readonly address: string }[] = remember(
  (site: Site, platform: Platform, configuration: Configuration) => {
    const approved = configuration.status === "approved";
    const cards = approved
      ? bandCardsInForce(site, platform).filter((card) => card.configuration === configuration.id)
      : bandCardsOf(contentOf(configuration, platform) as ConfigurationContent, contentsInForce(platform));
    return cards.map((card) => ({
      band: card.band!,
      ...("code" in card ? { code: card.code } : {}),
      address: `${platform.id}/cards/${configuration.id}/band/${addressOfBand(card.band!)}/`,
    }));
  },
);

/** Sets of options of one configuration that have a page of their own; with more, only single options have. */
const MOST_FITTED = 64;

/**
 * The arrangements of a configuration that have a page with their printed card, fewer options first; empty without
 * options. `options` is the last part of the address: ids joined by `+`, in the configuration's order.
 */
export function fittedCards(
  platform: Platform,
  configuration: Configuration,
): readonly { readonly arrangement: Arrangement; readonly options: string; readonly address: string }[] {
  const all = validArrangements(platform).filter(
    (each) => each.configuration === configuration && each.options.length > 0,
  );
  return (all.length > MOST_FITTED ? all.filter(({ options }) => options.length === 1) : all).map((arrangement) => {
    const options = arrangement.options.map(({ id }) => id).join("+");
    return { arrangement, options, address: `${platform.id}/cards/${configuration.id}/with/${options}/` };
  });
}

/** The parts of a configuration's checklist (`layChecklist`) for all its patients. */
export function checklistOf(site: Site, platform: Platform, configuration: Configuration): ChecklistPart[] {
  return layChecklist(contentOnce(site, platform, configuration), platform, configuration);
}

const contentOnce = remember(contentFor);

/** The lines of an option by itself, marked as on the cards; its bare checks when no configuration has it. */
export function linesOfOption(site: Site, platform: Platform, option: Option): readonly CardLine[] {
  const parts = platform.configurations
    .filter(({ options }) => options.some(({ id }) => id === option.id))
    .flatMap((configuration) => checklistOf(site, platform, configuration));
  return (
    parts.find((part) => part.option === option)?.lines ??
    option.checks.map(({ challenge, answer, by }) => ({ kind: "check", challenge, answer, by, critical: false }))
  );
}

/** The option records of a configuration, in its order. */
export function optionsOf(platform: Platform, configuration: Configuration): Option[] {
  return configuration.options.flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? []);
}
