/** Every card that a collection's issues have ever made, so that a code on a laminated copy can be looked up. */
import type { Collection, Platform } from "../schema/collection.ts";
import { cardCodeOf, cardContentOf, type CardContent } from "./card-content.ts";
import type { ConfigurationContent, Content } from "./content.ts";
import { contentOf, contentOfIssue } from "./freeze.ts";

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
}

/**
 * The card of each configuration by the present files: approved records, and for one that is a draft or in review, its newest issue. A configuration that is
 * withdrawn, or was never approved, has none.
 */
export function currentCards(collection: Collection, platform: Platform): IssuedCard[] {
  const contents = contentsInForce(collection, platform);
  return contents
    .filter((content): content is ConfigurationContent => content.kind === "configuration")
    .map((configuration) => cardFrom(configuration, contents, true, latestDate([configuration])));
}

/**
 * Every card of a platform that was ever in force, in order of time: at each day on which an issue took effect, the cards made from the issues in force then; last the current ones.
 * A card that comes out the same as the one before is listed once.
 */
export function everyCard(collection: Collection, platform: Platform): IssuedCard[] {
  const issues = collection.issued.filter((issue) => issue.platform === platform.id).flatMap((issue) => contentOfIssue(issue) ?? []);
  const days = [...new Set(issues.map(({ effective }) => effective ?? ""))].sort();
  const cards = days.flatMap((day) => {
    const inForce = newestOfEach(issues.filter(({ effective }) => (effective ?? "") <= day));
    return inForce.filter((content): content is ConfigurationContent => content.kind === "configuration").map((configuration) => cardFrom(configuration, inForce, false, day || undefined));
  });
  const current = currentCards(collection, platform);
  const codes = new Set(current.map((card) => `${card.configuration} ${card.code}`));
  const seen = new Set<string>();
  const past = cards.filter((card) => {
    const key = `${card.configuration} ${card.code}`;
    return !codes.has(key) && !seen.has(key) && seen.add(key);
  });
  const firstDay = (card: IssuedCard) => cards.find((other) => other.configuration === card.configuration && other.code === card.code)?.from ?? card.from;
  return [...past, ...current.map((card) => ({ ...card, ...(firstDay(card) ? { from: firstDay(card)! } : {}) }))];
}

/** What is in force of each document: the present text if approved, else its newest issue; nothing of what is withdrawn. */
export function contentsInForce(collection: Collection, platform: Platform): Content[] {
  return [...platform.procedures, ...platform.configurations, ...platform.options].flatMap((record): Content[] => {
    if (record.status === "withdrawn") return [];
    const now = contentOf(record, platform);
    if (record.status === "approved") return [now];
    const issued = collection.issued.filter((issue) => issue.platform === platform.id && issue.kind === now.kind && issue.id === now.id).flatMap((issue) => contentOfIssue(issue) ?? []);
    return newestOfEach(issued);
  });
}

function newestOfEach(contents: readonly Content[]): Content[] {
  const newest = new Map<string, Content>();
  for (const content of contents) {
    const key = `${content.kind} ${content.id}`;
    if ((newest.get(key)?.revision ?? 0) <= content.revision) newest.set(key, content);
  }
  return [...newest.values()];
}

function cardFrom(configuration: ConfigurationContent, contents: readonly Content[], isCurrent: boolean, from: string | undefined): IssuedCard {
  const content = cardContentOf(configuration, contents);
  return { platform: configuration.platform, configuration: configuration.id, code: cardCodeOf(content), ...(from ? { from } : {}), isCurrent, content };
}

function latestDate(contents: readonly Content[]): string | undefined {
  return contents.flatMap(({ effective }) => effective ?? []).sort().at(-1);
}
