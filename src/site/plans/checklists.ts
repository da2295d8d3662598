/**
 * The checklist of a configuration as its card prints it: its own lines, then those of its options, each for the
 * patients whom it concerns.
 */
import type { Band, Configuration, Option, Platform } from "../../schema/collection.ts";
import { addressOfBand, bandCardsOf } from "../../domain/cards/band-cards.ts";
import { covers, meetBands } from "../../domain/bands/bands.ts";
import { cardContentOf, type CardContent, type CardLine } from "../../domain/cards/card-content.ts";
import { contentsInForce, currentBandCards, currentCards, type IssuedCard } from "../../domain/cards/cards-issued.ts";
import type { ConfigurationContent } from "../../domain/records/content.ts";
import { contentOf } from "../../domain/records/freeze.ts";
import { printedCodes } from "../../paper/printed-card.ts";
import { takesPlaceOf } from "../../domain/cards/subjects.ts";
import { once, type Site } from "../site.ts";

/** Lines that belong together. */
interface ChecklistPart {
  readonly lines: readonly CardLine[];
  /** Number of its first check; holds have no number. */
  readonly from: number;
  /** The option that the lines are for; missing for the configuration's own. */
  readonly option?: Option;
  /** For whom the option is, where that is not everybody on the card. */
  readonly only?: Partial<Band>;
}

/** The card in force of a configuration with its check code; `undefined` when none is in force. */
export function cardOf(site: Site, platform: Platform, configuration: Configuration): IssuedCard | undefined {
  return once(site, `cards/${platform.id}`, () => currentCards(platform, printedCodes(site.collection))).find(
    (card) => card.configuration === configuration.id,
  );
}

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
export function bandsOf(
  site: Site,
  platform: Platform,
  configuration: Configuration,
): readonly { readonly band: Band; readonly code?: string; readonly address: string }[] {
  return once(site, `band-cards/${platform.id}/${configuration.id}`, () => {
    const approved = configuration.status === "approved";
    const cards = approved
      ? once(site, `band-cards/${platform.id}`, () => currentBandCards(platform, printedCodes(site.collection))).filter(
          (card) => card.configuration === configuration.id,
        )
      : bandCardsOf(contentOf(configuration, platform) as ConfigurationContent, contentsInForce(platform));
    return cards.map((card) => ({
      band: card.band!,
      ...("code" in card ? { code: card.code } : {}),
      address: `${platform.id}/cards/${configuration.id}/band/${addressOfBand(card.band!)}/`,
    }));
  });
}

/**
 * The parts of a configuration's checklist, numbered through. Options without lines, or for none of its patients, are
 * left out.
 */
export function checklistOf(site: Site, platform: Platform, configuration: Configuration): ChecklistPart[] {
  const content = once(site, `card/${platform.id}/${configuration.id}`, () =>
    contentFor(site, platform, configuration),
  );
  const parts: ChecklistPart[] = [{ lines: content.lines, from: 1 }];
  let next = countChecks(content.lines) + 1;
  for (const option of optionsOf(platform, configuration)) {
    const lines = content.options.find(({ id }) => id === option.id)?.lines ?? [];
    const band = meetBands(configuration.band, option.band);
    if (lines.length === 0 || !band) continue;
    const weight = covers(option.band.weight, configuration.band.weight) ? undefined : band.weight;
    const age = covers(option.band.age, configuration.band.age) ? undefined : band.age;
    parts.push({
      option,
      lines,
      from: next,
      ...(weight || age ? { only: { ...(weight ? { weight } : {}), ...(age ? { age } : {}) } } : {}),
    });
    next += countChecks(lines);
  }
  return parts;
}

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

/** How many of the lines are checks. */
export function countChecks(lines: readonly CardLine[]): number {
  return lines.filter(({ kind }) => kind === "check").length;
}

/**
 * Rows that an option's row replaces, because both ask the same challenge: number of the configuration's row -> the
 * option's rows. A crew
 * that reads both would get two answers to one question.
 */
export function replacedRows(
  parts: readonly ChecklistPart[],
): ReadonlyMap<number, readonly { readonly number: number; readonly option: Option }[]> {
  const [own, ...extra] = parts;
  const replaced = new Map<number, { number: number; option: Option }[]>();
  own?.lines
    .filter((line) => line.kind === "check")
    .forEach((line, index) => {
      const same = extra.flatMap(({ option, lines, from }) =>
        lines
          .filter((other) => other.kind === "check")
          .flatMap((other, at) => (option && takesPlaceOf(other, line) ? [{ number: from + at, option }] : [])),
      );
      if (same.length > 0) replaced.set(own.from + index, same);
    });
  return replaced;
}

/** The option records of a configuration, in its order. */
export function optionsOf(platform: Platform, configuration: Configuration): Option[] {
  return configuration.options.flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? []);
}
