/** Which cards a pack holds: the copies of a folder, one of every card in force, or the cards for some patients. */
import type { Band, Collection, Folder, FolderCopy, Platform } from "../schema/collection.ts";
import { holdsPatient, meetBands, type Patient } from "../domain/bands/bands.ts";
import { cardContentOf, type CardContent } from "../domain/cards/card-content.ts";
import { contentForArrangement } from "../domain/cards/band-cards.ts";
import {
  configurationOf as configurationOfCard,
  type Arrangement,
  findArrangement,
  validArrangements,
} from "../domain/parts/arrangements.ts";
import { bandStandings } from "../domain/cards/card-standing.ts";
import { asIssued } from "../domain/force/amendments.ts";
import { contentsInForce, currentBandCards, currentCards, type IssuedCard } from "../domain/cards/cards-issued.ts";
import { type ChangeoverCards, changeoverCards } from "./changeover-card.ts";
import { normalizeCode } from "../domain/cards/check-code.ts";
import type { Force } from "../domain/force/force.ts";
import type { ConfigurationContent } from "../domain/records/content.ts";
import { canonicalJson, contentOf } from "../domain/records/freeze.ts";
import { inkOfCard, printCard, type PrintedCard, printedCodes } from "./printed-card.ts";
import { heard } from "../words/heard.ts";

/** A card that is to be printed, once; with `copy` it is the one for that place in a folder. */
export interface CardRequest {
  readonly platform: string;
  readonly card: PrintedCard;
  readonly copy?: { readonly folder: string; readonly number: number };
  /** What the card says; absent for a changeover's. */
  readonly content?: CardContent;
}

/**
 * What is asked for; `changeover` holds pairs `from--to`, `card` ids of configurations, or of one arrangement of them:
 * `configuration+option+option`, with or without their platform: `tern/newborn-capsule`.
 */
export interface Asked {
  readonly folder?: string;
  readonly platform?: string;
  readonly changeover?: readonly string[];
  readonly card?: readonly string[];
  /**
   * Only cards for this patient: where lines are not the same for everybody, the card of the patient's elementary band.
   */
  readonly patient?: Patient;
  /** Only cards for any of these patients, each of its own elementary band. */
  readonly band?: Band;
  /**
   * The cards of all elementary bands in the place of a configuration's, where its lines are not the same for
   * everybody.
   */
  readonly eachBand?: boolean;
}

interface Requested {
  readonly requests: CardRequest[];
  /** What there is not, in words. */
  readonly unknown: string[];
  /** Copies of the folder of whose card none is in force: they stop no other one. In words; absent if there is none. */
  readonly left?: string[];
}

/**
 * The cards asked for, in the order of the folder or of the collection. `today` decides which card takes the place of
 * an older one in a folder.
 */
export function requestCards(collection: Collection, asked: Asked, today = ""): Requested {
  const { folder, platform, changeover = [], card = [] } = asked;
  const platforms = collection.platforms.filter(({ id }) => platform === undefined || id === platform);
  if (platforms.length === 0)
    return {
      requests: [],
      unknown: [
        heard("cardRequests").thereIsNoPlatform({
          whichPlatform: platform!,
          whichPlatforms: collection.platforms.map(({ id }) => id).join(", ") || "none",
        }),
      ],
    };
  const found = collection.folders.find(({ id }) => id === folder);
  if (folder !== undefined && !found)
    return {
      requests: [],
      unknown: [
        heard("cardRequests").thereIsNoFolder({
          folder,
          folders: collection.folders.map(({ id }) => id).join(", ") || "none",
        }),
      ],
    };
  const finder = cardFinder(collection, platforms, found !== undefined);
  if (found) return copiesIn(collection, platforms, found, finder, today);
  const known = platforms.flatMap((own) => currentCards(own, printedCodes(collection)));
  const unknown = card.flatMap((name) => {
    if (!known.some((each) => isNamed(each, name)))
      return [heard("cardRequests").thereIsNoCard({ whole: partsOf(name).whole, known: namesOf(known) || "none" })];
    return platforms.some((own) => isOn(own, name) && arrangementNamed(own, name))
      ? []
      : [heard("cardRequests").isNoArrangement({ name, configuration: partsOf(name).configuration })];
  });
  const whole = changeover.length > 0 && card.length === 0;
  const requests = whole ? [] : platforms.flatMap((own) => cardsFor(collection, own, asked));
  if (!whole && unknown.length === 0 && requests.length === 0 && (asked.patient ?? asked.band))
    unknown.push(
      heard("cardRequests").noCard({
        card: card.length ? heard("cardRequests").ofCard({ card: card.join(", ") }) : "",
      }),
    );
  for (const pair of changeover) {
    // Two platforms may well have arrangements of the same names: which is meant is not guessed.
    const { on: own, name } = wayOf(pair);
    const found = platforms.flatMap(({ id }) => (own === undefined || own === id ? (finder(name, id) ?? []) : [])),
      on = [...new Set(found.map((request) => request.platform))];
    if (on.length === 0) unknown.push(heard("cardRequests").thereIsNoChangeover({ pair }));
    else if (on.length > 1)
      unknown.push(heard("everyCommand").sayWhichPlatform({ option: "--platform", there: on.join(", ") }));
    else requests.push(...found);
  }
  return { requests, unknown };
}

/** The cards of a platform's configurations for the patients asked for. */
function cardsFor(
  collection: Collection,
  platform: Platform,
  { card = [], patient, band, eachBand }: Asked,
): CardRequest[] {
  const parts = patient || band || eachBand ? currentBandCards(platform, printedCodes(collection)) : [];
  return currentCards(platform, printedCodes(collection))
    .flatMap((whole) => {
      const names = card.length === 0 ? [whole.configuration] : card.filter((name) => isNamed(whole, name));
      return names.map((name) => ({ whole, name }));
    })
    .flatMap(({ whole, name }) => {
      const arrangement = name.includes("+") ? arrangementNamed(platform, name) : undefined;
      const isFor = (its: Band) => (!patient || holdsPatient(its, patient)) && (!band || meetBands(its, band));
      if (arrangement)
        return isFor(arrangement.band) ? (requestOf(collection, platform, whole, arrangement) ?? []) : [];
      const configuration = configurationOf(platform, whole);
      if (!configuration || !isFor(configuration.band)) return [];
      const own = parts.filter((part) => part.configuration === whole.configuration);
      return (own.length ? own.filter(({ band: its }) => isFor(its!)) : [whole]).flatMap(
        (each) => requestOf(collection, platform, each) ?? [],
      );
    });
}

/**
 * The parts of a name by which a card is asked for: `configuration` or `configuration+option+option`, with its platform
 * and a stroke before it or without; `whole` is what names the configuration.
 */
function partsOf(name: string): {
  readonly platform?: string;
  readonly configuration: string;
  readonly arrangement: string;
  readonly whole: string;
} {
  const [before = "", after] = name.split("/").map((part) => part.trim()),
    arrangement = after ?? before,
    configuration = arrangement.split("+")[0]!.trim();
  return after === undefined
    ? { configuration, arrangement, whole: configuration }
    : { platform: before, configuration, arrangement, whole: `${before}/${configuration}` };
}

/** The platform and the name `from--to` of a changeover that is asked for, with its platform before it or without. */
function wayOf(pair: string): { readonly on?: string; readonly name: string } {
  const [, on, from, to] = /^([^/]+)\/(.+?)--(.+)$/.exec(pair) ?? [];
  if (on === undefined || from === undefined || to === undefined) return { name: pair };
  return { on, name: `${from}--${to.startsWith(`${on}/`) ? to.slice(on.length + 1) : to}` };
}

type Named = Pick<IssuedCard, "platform" | "configuration">;

/** Whether a card is of the configuration that a name says. */
function isNamed(card: Named, name: string): boolean {
  return isOn({ id: card.platform }, name) && card.configuration === partsOf(name).configuration;
}

/** Whether a name is of a card of this platform, as far as it says. */
function isOn({ id }: Pick<Platform, "id">, name: string): boolean {
  const { platform = id } = partsOf(name);
  return platform === id;
}

function arrangementNamed(platform: Platform, name: string): Arrangement | undefined {
  return findArrangement(validArrangements(platform), partsOf(name).arrangement);
}

/** The names by which cards can be asked for, the shortest that says which one is meant. */
function namesOf(cards: readonly Named[]): string {
  const isAlone = ({ configuration }: Named) =>
    cards.filter((each) => each.configuration === configuration).length === 1;
  return cards
    .map((each) => (isAlone(each) ? each.configuration : `${each.platform}/${each.configuration}`))
    .join(", ");
}

/**
 * The cards that proposals would change, or make, as they would be printed: marked on every side, without edition, day
 * and check code. Only those asked for by `card` and `platform`.
 */
export function requestProposed({ collection, proposed }: Force, { platform, card = [] }: Asked): Requested {
  const inkIn = (view: Collection, id: string, configuration: string) => {
    const own = view.platforms.find((each) => each.id === id),
      found = own?.configurations.find((each) => each.id === configuration);
    if (!own || !found) return undefined;
    const content = cardContentOf(contentOf(found, own) as ConfigurationContent, contentsInForce(own));
    return canonicalJson(inkOfCard(view.service, { platform: own, configuration, content }));
  };
  const requests = proposed.platforms
    .filter(({ id }) => platform === undefined || id === platform)
    .flatMap((own) =>
      own.configurations
        .filter(
          ({ id }) => card.length === 0 || card.some((name) => isNamed({ platform: own.id, configuration: id }, name)),
        )
        .filter(({ id }) => inkIn(proposed, own.id, id) !== inkIn(collection, own.id, id))
        .map((configuration): CardRequest => ({
          platform: own.id,
          card: printCard(proposed, own, configuration, { proposed: true }),
        })),
    );
  return {
    requests,
    unknown:
      requests.length > 0
        ? []
        : [
            heard("cardRequests").noProposalWouldChange({
              card: card.length
                ? heard("cardRequests").theCard({ card: card.join(", ") })
                : heard("cardRequests").aCard,
            }),
          ],
  };
}

function configurationOf(platform: Platform, { configuration }: IssuedCard) {
  return platform.configurations.find(({ id }) => id === configuration);
}

function requestOf(
  collection: Collection,
  platform: Platform,
  card: IssuedCard,
  arrangement?: Arrangement,
): CardRequest | undefined {
  const configuration = configurationOf(platform, card);
  if (!configuration) return undefined;
  const content = arrangement
    ? contentForArrangement(
        contentOf(configuration, platform) as ConfigurationContent,
        contentsInForce(platform),
        arrangement,
      )
    : card.content;
  return {
    platform: platform.id,
    card: printCard(collection, platform, configuration, {
      ...(card.band ? { band: card.band } : {}),
      ...(arrangement ? { arrangement } : {}),
    }),
    content,
  };
}

type Finder = (id: string, on: string) => CardRequest[] | undefined;

/**
 * Cards by the id that folders use: a configuration's, an arrangement's (`configuration+option`), or `from--to`, which
 * is one for each different list of steps; of the platform `on`. `forFolder`: as what lies there is made and looked up,
 * without what a temporary amendment does to it, since its slip lies over it.
 */
function cardFinder(collection: Collection, platforms: readonly Platform[], forFolder: boolean): Finder {
  const changeovers = new Map<Platform, ChangeoverCards>();
  return (id, on) => {
    for (const platform of platforms) {
      if (platform.id !== on) continue;
      const whole = currentCards(platform, printedCodes(collection)).find(
        ({ configuration }) => configuration === configurationOfCard(id),
      );
      const arrangement = id.includes("+") ? arrangementNamed(platform, id) : undefined;
      const exists = whole !== undefined && (arrangement !== undefined || !id.includes("+"));
      const request = exists ? requestOf(collection, platform, whole, arrangement) : undefined;
      if (request) return [request];
      if (!id.includes("--")) continue;
      if (!changeovers.has(platform))
        changeovers.set(platform, changeoverCards(collection, forFolder ? asIssued(platform) : platform));
      const cards = changeovers.get(platform)!(id);
      if (cards.length) return cards.map((card) => ({ platform: platform.id, card }));
    }
    return undefined;
  };
}

function copiesIn(
  collection: Collection,
  platforms: readonly Platform[],
  folder: Folder,
  finder: Finder,
  today: string,
): Requested {
  const requests: CardRequest[] = [],
    left: string[] = [];
  // With a platform beside the folder, only its copies are asked for.
  const isAskedFor = ({ platform: on }: FolderCopy) =>
    platforms.some(({ id }) => id === on) || !collection.platforms.some(({ id }) => id === on);
  for (const each of folder.copies.filter(isAskedFor)) {
    const { card, copy, check, platform = "" } = each,
      cards = bandCardOf(collection, platforms, each, today) ?? finder(card, platform);
    // Of a changeover's cards the copy is the one with its code, while that is in force; else nothing says which, and
    // all are printed.
    const same =
      cards?.filter(
        ({ card: { checkCode } }) =>
          checkCode !== undefined && check !== undefined && checkCode === normalizeCode(check),
      ) ?? [];
    if (cards)
      requests.push(
        ...(same.length ? same : cards).map((request) => ({ ...request, copy: { folder: folder.name, number: copy } })),
      );
    else left.push(heard("cardRequests").theFolderHoldsCopy({ folder: folder.id, copy, card }));
  }
  return { requests, unknown: [], ...(left.length ? { left } : {}) };
}

/** What a copy has to be replaced by whose code is of an elementary band's card; `undefined` for any other copy. */
function bandCardOf(
  collection: Collection,
  platforms: readonly Platform[],
  { card, check, platform: on }: FolderCopy,
  today: string,
): CardRequest[] | undefined {
  if (check === undefined) return undefined;
  const code = normalizeCode(check),
    own = platforms.filter(({ id }) => id === on),
    isWhole = own.some((platform) =>
      currentCards(platform, printedCodes(collection)).some((whole) => whole.code === code),
    );
  for (const platform of isWhole ? [] : own) {
    const now = bandStandings(collection, platform, today, printedCodes(collection)).findLast(
      ({ card: part }) => part.configuration === card && part.code === code,
    )?.now;
    const request = now && requestOf(collection, platform, now);
    if (request) return [request];
  }
  return undefined;
}
