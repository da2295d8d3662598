/** Copies of cards in folders with the card that each is, for the card rules. */
import type { Collection, Folder, FolderCopy } from "../schema/collection.ts";
import { everyCard, type IssuedCard } from "../domain/cards-issued.ts";
import { normalizeCode } from "../domain/check-code.ts";

export interface KnownCopy {
  readonly folder: Folder;
  readonly copy: FolderCopy;
  /** The card by the present files, which may take effect later than today; absent if there is none. */
  readonly current?: IssuedCard;
  /** Every card of that configuration in order of time. */
  readonly cards: readonly IssuedCard[];
  /** The card that has the copy's check code; absent if it has none, or no card has it. */
  readonly found?: IssuedCard;
}

const known = new WeakMap<Collection, KnownCopy[]>();

/** Every copy of a configuration's card in every folder, looked up once. Changeover cards (`from--to`) and unknown cards are left out. */
export function copiesOf(collection: Collection): KnownCopy[] {
  const copies = known.get(collection) ?? lookUp(collection);
  known.set(collection, copies);
  return copies;
}

function lookUp(collection: Collection): KnownCopy[] {
  if (!collection.folders.some(({ copies }) => copies.length)) return [];
  const cards = collection.platforms.flatMap((platform) => everyCard(collection, platform));
  return collection.folders.flatMap((folder) =>
    folder.copies.flatMap((copy) => {
      const own = cards.filter(({ configuration }) => configuration === copy.card);
      if (!own.length) return [];
      const current = own.find(({ isCurrent }) => isCurrent);
      const found = copy.check ? own.findLast(({ code }) => code === normalizeCode(copy.check!)) : undefined;
      return [{ folder, copy, cards: own, ...(current ? { current } : {}), ...(found ? { found } : {}) }];
    }),
  );
}
