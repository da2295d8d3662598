/** What lies in each folder against what should: which copies to reprint, where they go, and which to destroy. */
import type { Band, Collection, Folder, FolderCopy } from "../schema/collection.ts";
import { bandStandings, type CardStanding, comingAmong, isComing } from "../domain/cards/card-standing.ts";
import { everyCard, type IssuedCard } from "../domain/cards/cards-issued.ts";
import {
  type Arrangement,
  configurationOf,
  findArrangement,
  sayArrangement,
  sayWay,
  validArrangements,
} from "../domain/parts/arrangements.ts";
import { remember } from "../domain/words/remember.ts";
import { contentOfIssue } from "../domain/records/freeze.ts";
import { asIssued } from "../domain/force/amendments.ts";
import { changeoverCards } from "./changeover-card.ts";
import { printedCodes, titleOnCard } from "./printed-card.ts";
import { concernOf } from "../domain/cards/card-concern.ts";
import { isValidCode, normalizeCode } from "../domain/cards/check-code.ts";

/**
 * `current`: keep it. `replace`: an older card. `coming`: the next card lies there before its day. `unread`: no code
 * was written down, but it was placed since the card
 * in force took effect. `unclear`: nothing says which card it is. `wrong-code`: its code belongs to no card.
 * `withdrawn`: pull it, nothing goes in.
 * `not-tracked`: a card of a changeover with options, or to which there is no way: compare it with its page.
 */
type CopyState = "current" | "replace" | "coming" | "unread" | "unclear" | "wrong-code" | "withdrawn" | "not-tracked";

/**
 * What an audit knows of a card that may lie in a folder: an issued one of a configuration, or one of a changeover as
 * it is made today.
 */
export interface FolderCard {
  readonly platform: string;
  /** The id of its configuration, the name of an arrangement (`configuration+option`), or `from--to`. */
  readonly configuration: string;
  readonly code: string;
  /** Number of the frozen edition; absent for a card that was never frozen. */
  readonly edition?: number;
  readonly from?: string;
  /** The patients whom it is for, if these are only a part of the configuration's. */
  readonly band?: Band;
  /** A card of a changeover has no revision: its procedures have. */
  readonly content: { readonly title: string; readonly code: string; readonly revision?: number };
}

/** A copy in a folder, and what has become of the card that it is. */
export interface AuditedCopy {
  readonly copy: FolderCopy;
  readonly state: CopyState;
  /** The card that should lie there today. */
  readonly now?: FolderCard;
  /** The card that takes its place on a later day. */
  readonly next?: FolderCard;
  /** The card that lies there, as far as its code says. */
  readonly found?: FolderCard;
  /** Titles of the options without which the old card that lies there differs in nothing from the one in force. */
  readonly onlyWith?: readonly string[];
  /** Where nothing says which of a changeover's cards it is: all of them. */
  readonly oneOf?: readonly FolderCard[];
}

/** A folder with all its copies, in the order in which it lists them. */
export interface AuditedFolder {
  readonly folder: Folder;
  readonly copies: readonly AuditedCopy[];
  /** Cards in force of which the folder has no copy. */
  readonly absent: readonly IssuedCard[];
}

/** Whether a copy has to be taken out, and another put in its place (not for one that is withdrawn). */
export function isStale({ state }: AuditedCopy): boolean {
  return state === "replace" || state === "unclear" || state === "wrong-code" || state === "withdrawn";
}

/** Every folder in the order of folders.yaml, which is the order in which one walks, each copy in its order. */
export function auditFolders(
  collection: Collection,
  today: string,
  cards: readonly IssuedCard[] = collection.platforms.flatMap((platform) =>
    everyCard(collection, platform, printedCodes(collection)),
  ),
): AuditedFolder[] {
  const inForce = cards.filter(({ isCurrent }) => isCurrent);
  const others = otherCards(collection, today);
  return collection.folders.map((folder) => {
    const copies = folder.copies.map((copy) =>
      configurationOf(copy.card) === undefined
        ? auditChangeover(copy, others.changeovers(copy.platform, copy.card))
        : ofArrangement(collection, withConcern(collection, auditCopy(copy, cards, others, today))),
    );
    return {
      folder,
      copies,
      absent: inForce.filter(
        (each) =>
          !folder.copies.some(
            ({ card, platform }) => platform === each.platform && configurationOf(card) === each.configuration,
          ),
      ),
    };
  });
}

/** Cards that are looked up only if a copy asks for them. */
export interface OtherCards {
  /** What has become of the card of an elementary band, by its platform, configuration and code. */
  readonly band: (platform: string, configuration: string, code: string) => CardStanding | undefined;
  /** The cards of a platform's changeover `from--to` as they are made today; none without a platform. */
  readonly changeovers: (platform: string | undefined, pair: string) => readonly FolderCard[];
}

/** The cards of a collection beside those of whole configurations. */
export function otherCards(collection: Collection, today: string): OtherCards {
  let bands: readonly CardStanding[] | undefined;
  const known = new Map<string, readonly FolderCard[]>();
  return {
    band: (on, configuration, code) =>
      (bands ??= collection.platforms.flatMap((platform) =>
        bandStandings(collection, platform, today, printedCodes(collection)),
      )).findLast(({ card }) => card.platform === on && card.configuration === configuration && card.code === code),
    changeovers: (on, pair) => {
      const name = `${on}/${pair}`;
      const cards =
        known.get(name) ??
        collection.platforms
          .filter(({ id }) => id === on)
          .flatMap((platform) =>
            changeoverCards(
              collection,
              // A copy was printed without an amendment, and its slip lies over it.
              asIssued(platform),
            )(pair).map(({ title, code, checkCode = "", effective, band }) => ({
              platform: platform.id,
              configuration: pair,
              code: checkCode,
              ...(effective ? { from: effective } : {}),
              content: { title: `${title}, ${band}`, code },
            })),
          );
      known.set(name, cards);
      return cards;
    },
  };
}

/** A card of a changeover is current while one with its code is made today: no older one is known. */
function auditChangeover(copy: FolderCopy, cards: readonly FolderCard[]): AuditedCopy {
  if (cards.length === 0) return { copy, state: "not-tracked" };
  const code = copy.check === undefined ? undefined : normalizeCode(copy.check);
  const found = cards.find((card) => card.code === code),
    only = cards.length === 1 ? cards[0] : undefined;
  if (found) return { copy, state: "current", now: found, found };
  const rest = { copy, ...(only ? { now: only } : { oneOf: cards }) };
  if (code !== undefined && !isValidCode(code)) return { ...rest, state: "wrong-code" };
  if (!only || (code === undefined && !copy.placed)) return { ...rest, state: "unclear" };
  return { ...rest, state: code !== undefined || (only.from && copy.placed! < only.from) ? "replace" : "unread" };
}

/** An old card's copy with the arrangements that its difference concerns, as far as these are not all. */
function withConcern(collection: Collection, audited: AuditedConfiguration): AuditedCopy {
  const { state, found, now } = audited;
  if (state !== "replace" || !found || !now) return audited;
  const { onlyWith } = concernOf(collection, found, now);
  return onlyWith.length > 0 ? { ...audited, onlyWith } : audited;
}

/**
 * A copy of the card for one arrangement, which has the code of its configuration's: by the arrangement's name. Of
 * options that are none of the configuration's, or can't be together, there is no card.
 */
function ofArrangement(collection: Collection, audited: AuditedCopy): AuditedCopy {
  const { copy, now, next, found } = audited;
  if (!copy.card.includes("+") || copy.platform === undefined) return audited;
  const arrangement = arrangementOf(collection, copy);
  if (!arrangement) return { copy, state: "withdrawn" };
  return {
    ...audited,
    ...(now ? { now: cardWith(now, arrangement) } : {}),
    ...(next ? { next: cardWith(next, arrangement) } : {}),
    ...(found ? { found: cardWith(found, arrangement) } : {}),
  };
}

/** The arrangement of which a copy is the card; `undefined` if there is none, or it is the card of a changeover. */
export function arrangementOf(
  { platforms }: Collection,
  { card, platform: on }: Pick<FolderCopy, "card" | "platform">,
): Arrangement | undefined {
  const platform = platforms.find(({ id }) => id === on);
  return platform && findArrangement(validArrangements(platform), card);
}

/**
 * What a copy's card is called: its arrangement, or both of a changeover, with the platform as on paper; one that is
 * withdrawn as it was called when it was issued, and what no arrangement was ever called as the copy says it.
 */
export function titleOfCopy(collection: Collection, { card, platform }: Pick<FolderCopy, "card" | "platform">): string {
  const [from = card, to] = card.split("--").map((each) => {
    const arrangement = arrangementOf(collection, { card: each, ...(platform === undefined ? {} : { platform }) });
    return arrangement ? sayArrangement(arrangement) : (titleAsIssued(collection, platform, each) ?? each);
  });
  const on = collection.platforms.find(({ id }) => id === platform);
  return titleOnCard(collection.service, on, to === undefined ? from : sayWay(from, to));
}

/** What a configuration was called when it was last issued; `undefined` if it never was, or options stand with it. */
function titleAsIssued({ issued }: Collection, platform: string | undefined, id: string): string | undefined {
  return issued
    .filter((issue) => issue.kind === "configuration" && issue.platform === platform && issue.id === id)
    .sort((a, b) => a.revision - b.revision)
    .flatMap((issue) => contentOfIssue(issue)?.title ?? [])
    .at(-1);
}

const cardWith = remember((card: FolderCard, arrangement: Arrangement): FolderCard => ({
  ...card,
  configuration: arrangement.name,
  content: { ...card.content, title: sayArrangement(arrangement) },
}));

/** A copy of a configuration's card: what lies there and what should is issued. */
interface AuditedConfiguration extends AuditedCopy {
  readonly found?: IssuedCard;
  readonly now?: IssuedCard;
}

function auditCopy(
  copy: FolderCopy,
  cards: readonly IssuedCard[],
  others: OtherCards,
  today: string,
): AuditedConfiguration {
  // Which platform's card it is, a finding asks; nothing is ordered meanwhile.
  if (copy.platform === undefined) return { copy, state: "not-tracked" };
  const configuration = configurationOf(copy.card)!;
  const own = cards.filter((card) => card.platform === copy.platform && card.configuration === configuration);
  const code = copy.check === undefined ? undefined : normalizeCode(copy.check);
  const found = code === undefined ? undefined : own.findLast((card) => card.code === code);
  const now = own.find(({ isCurrent }) => isCurrent),
    next = comingAmong(own, today);
  const rest = {
    copy,
    ...(now ? { now } : {}),
    ...(next ? { next } : {}),
    ...(found ? { found } : {}),
  };
  // Its card lies there before its day, whether or not another one holds until then: it is no card of the past.
  if (found && isComing(found, today)) return { ...rest, state: "coming" };
  // Of a first card that is still coming nothing older can lie there.
  if (!now && own.length > 0 && own.every((card) => isComing(card, today)))
    return { ...rest, state: code === undefined ? "unread" : "wrong-code" };
  if (!now) return { ...rest, state: "withdrawn" };
  if (found) return { ...rest, state: found === now ? "current" : "replace" };
  const part = code === undefined ? undefined : others.band(copy.platform, configuration, code);
  if (part)
    return {
      copy,
      found: part.card,
      state: part.state === "replaced" ? "replace" : part.state,
      ...(part.now ? { now: part.now } : {}),
      ...(part.next ? { next: part.next } : {}),
    };
  if (code !== undefined) return { ...rest, state: "wrong-code" };
  if (!copy.placed) return { ...rest, state: "unclear" };
  return { ...rest, state: now?.from && copy.placed < now.from ? "replace" : "unread" };
}

/** Why a recorded code can't be a card's: `misread` if its check symbol does not fit, else `unknown`. */
export function faultOfCode(code: string): "misread" | "unknown" {
  return isValidCode(code) ? "unknown" : "misread";
}

/** Copies to print of one card: how many, and where each goes. */
interface PrintOrder {
  readonly card: FolderCard;
  readonly copies: readonly { readonly folder: Folder; readonly copy: FolderCopy }[];
}

/** What to print before walking: each card once, with the copies and folders in walking order. */
export function printOrders(folders: readonly AuditedFolder[]): PrintOrder[] {
  const orders = new Map<FolderCard, { folder: Folder; copy: FolderCopy }[]>();
  for (const { folder, copies } of folders)
    for (const audited of copies) {
      if (!isStale(audited) || !audited.now) continue;
      orders.set(audited.now, [...(orders.get(audited.now) ?? []), { folder, copy: audited.copy }]);
    }
  return [...orders].map(([card, copies]) => ({ card, copies }));
}
