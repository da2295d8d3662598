/** What lies in each folder against what should: which copies to reprint, where they go, and which to destroy. */
import type { Collection, Folder, FolderCopy } from "../schema/collection.ts";
import { everyCard, type IssuedCard } from "./cards-issued.ts";
import { cardInForce } from "./card-standing.ts";
import { isValidCode, normalizeCode } from "./check-code.ts";

/**
 * `current`: keep it. `replace`: an older card. `coming`: the next card lies there before its day. `unread`: no code was written down, but it was placed since the card
 * in force took effect. `unclear`: nothing says which card it is. `wrong-code`: its code belongs to no card. `withdrawn`: pull it, nothing goes in.
 * `not-tracked`: a card of a changeover, which has no issue of its own: compare it with its page.
 */
export type CopyState = "current" | "replace" | "coming" | "unread" | "unclear" | "wrong-code" | "withdrawn" | "not-tracked";

export interface AuditedCopy {
  readonly copy: FolderCopy;
  readonly state: CopyState;
  /** The card that should lie there today. */
  readonly now?: IssuedCard;
  /** The card that takes its place on a later day. */
  readonly next?: IssuedCard;
  /** The card that lies there, as far as its code says. */
  readonly found?: IssuedCard;
}

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
export function auditFolders(collection: Collection, today: string, cards: readonly IssuedCard[] = collection.platforms.flatMap((platform) => everyCard(collection, platform))): AuditedFolder[] {
  const inForce = [...Map.groupBy(cards, ({ platform, configuration }) => `${platform} ${configuration}`).values()].filter((own) => own.some(({ isCurrent }) => isCurrent)).flatMap((own) => cardInForce(own, today) ?? []);
  return collection.folders.map((folder) => {
    const copies = folder.copies.map((copy) => auditCopy(copy, cards, today));
    return { folder, copies, absent: inForce.filter(({ configuration }) => !folder.copies.some(({ card }) => configurationOf(card) === configuration)) };
  });
}

/** The configuration of a card's name: `newborn-capsule` of `newborn-capsule+gas-shelf`; `undefined` for a changeover's `from--to`. */
export function configurationOf(card: string): string | undefined {
  return card.includes("--") ? undefined : card.split("+")[0];
}

function auditCopy(copy: FolderCopy, cards: readonly IssuedCard[], today: string): AuditedCopy {
  const configuration = configurationOf(copy.card);
  if (configuration === undefined) return { copy, state: "not-tracked" };
  const own = cards.filter((card) => card.configuration === configuration);
  const code = copy.check === undefined ? undefined : normalizeCode(copy.check);
  const found = code === undefined ? undefined : own.findLast((card) => card.code === code);
  const inUse = own.some(({ isCurrent }) => isCurrent);
  const now = inUse ? cardInForce(own, today) : undefined;
  const last = inUse ? own.at(-1) : undefined;
  const rest = { copy, ...(now ? { now } : {}), ...(last && last !== now ? { next: last } : {}), ...(found ? { found } : {}) };
  if (!now && !last) return { ...rest, state: "withdrawn" };
  if (found) return { ...rest, state: found === now ? "current" : found === last ? "coming" : "replace" };
  if (code !== undefined) return { ...rest, state: "wrong-code" };
  if (!copy.placed) return { ...rest, state: "unclear" };
  return { ...rest, state: now?.from && copy.placed < now.from ? "replace" : "unread" };
}

/** Why a recorded code can't be a card's: `misread` if its check symbol does not fit, else `unknown`. */
export function faultOfCode(code: string): "misread" | "unknown" {
  return isValidCode(code) ? "unknown" : "misread";
}

/** Copies to print of one card: how many, and where each goes. */
export interface PrintOrder {
  readonly card: IssuedCard;
  readonly copies: readonly { readonly folder: Folder; readonly copy: FolderCopy }[];
}

/** What to print before walking: each card once, with the copies and folders in walking order. */
export function printOrders(folders: readonly AuditedFolder[]): PrintOrder[] {
  const orders = new Map<IssuedCard, { folder: Folder; copy: FolderCopy }[]>();
  for (const { folder, copies } of folders)
    for (const audited of copies) {
      if (!isStale(audited) || !audited.now) continue;
      orders.set(audited.now, [...(orders.get(audited.now) ?? []), { folder, copy: audited.copy }]);
    }
  return [...orders].map(([card, copies]) => ({ card, copies }));
}
