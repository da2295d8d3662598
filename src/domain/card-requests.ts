/** Which cards a pack holds: the copies of a folder, or one of every card in force. */
import type { Collection, Folder, Platform } from "../schema/collection.ts";
import type { CardContent } from "./card-content.ts";
import { currentCards } from "./cards-issued.ts";
import { type ChangeoverCards, changeoverCards } from "./changeover-card.ts";
import { printCard, type PrintedCard } from "./printed-card.ts";

export interface CardRequest {
  readonly platform: string;
  readonly card: PrintedCard;
  readonly copy?: { readonly folder: string; readonly number: number };
}

/** What is asked for; `changeover` holds pairs `from--to`. */
export interface Asked {
  readonly folder?: string;
  readonly platform?: string;
  readonly changeover?: readonly string[];
}

/** The cards asked for, in the order of the folder or of the collection; `unknown` says in words what there is not. */
export function requestCards(collection: Collection, { folder, platform, changeover = [] }: Asked): { requests: CardRequest[]; unknown: string[] } {
  const platforms = collection.platforms.filter(({ id }) => platform === undefined || id === platform);
  if (platforms.length === 0) return { requests: [], unknown: [`There is no platform \`${platform}\`; there is ${collection.platforms.map(({ id }) => id).join(", ") || "none"}`] };
  const found = collection.folders.find(({ id }) => id === folder);
  if (folder !== undefined && !found) return { requests: [], unknown: [`There is no folder \`${folder}\`; there is ${collection.folders.map(({ id }) => id).join(", ") || "none"}`] };
  const finder = cardFinder(collection, platforms);
  if (found) return copiesIn(found, finder);
  const requests: CardRequest[] = changeover.length ? [] : platforms.flatMap((own) => currentCards(collection, own).flatMap(({ configuration }) => finder(configuration) ?? []));
  const unknown: string[] = [];
  for (const pair of changeover) {
    const cards = finder(pair);
    if (cards) requests.push(...cards);
    else unknown.push(`There is no changeover \`${pair}\`: write it as from--to with the ids of two configurations that are in use`);
  }
  return { requests, unknown };
}

/** The content behind a configuration's card; `undefined` for a changeover's. */
export function contentOfCard(collection: Collection, { platform, card }: CardRequest): CardContent | undefined {
  const own = collection.platforms.find(({ id }) => id === platform);
  return own && currentCards(collection, own).find(({ configuration }) => configuration === card.id)?.content;
}

type Finder = (id: string) => CardRequest[] | undefined;

/** Cards by the id that folders use: a configuration's, or `from--to`, which is one for each different list of steps. */
function cardFinder(collection: Collection, platforms: readonly Platform[]): Finder {
  const changeovers = new Map<Platform, ChangeoverCards>();
  return (id) => {
    for (const platform of platforms) {
      const configuration = platform.configurations.find((record) => record.id === id);
      if (configuration && currentCards(collection, platform).some((card) => card.configuration === id)) return [{ platform: platform.id, card: printCard(collection, platform, configuration, { inForce: true }) }];
      if (!id.includes("--")) continue;
      if (!changeovers.has(platform)) changeovers.set(platform, changeoverCards(collection, platform));
      const cards = changeovers.get(platform)!(id);
      if (cards.length) return cards.map((card) => ({ platform: platform.id, card }));
    }
    return undefined;
  };
}

function copiesIn(folder: Folder, finder: Finder): { requests: CardRequest[]; unknown: string[] } {
  const requests: CardRequest[] = [], unknown: string[] = [];
  for (const { card, copy } of folder.copies) {
    const cards = finder(card);
    if (cards) requests.push(...cards.map((request) => ({ ...request, copy: { folder: folder.name, number: copy } })));
    else unknown.push(`The folder \`${folder.id}\` holds copy ${copy} of \`${card}\`, of which there is no card in force: take it out of folders.yaml, or approve it`);
  }
  return { requests, unknown };
}
