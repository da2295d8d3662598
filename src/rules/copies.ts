/** Copies of cards in folders with the card that each is, for the card rules. */
import type { Collection, Folder, FolderCopy } from "../schema/collection.ts";
import { everyCard, type IssuedCard } from "../domain/cards-issued.ts";
import { normalizeCode } from "../domain/check-code.ts";

export interface KnownCopy {
  readonly folder: Folder;
  readonly copy: FolderCopy;
  /** The platform of its card. */
  readonly platform: string;
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
  const cards = collection.platforms.flatMap((platform) => everyCard(collection, platform).map((card) => ({ ...card, platform: platform.id })));
  return collection.folders.flatMap((folder) =>
    folder.copies.flatMap((copy) => {
      const own = cards.filter(({ configuration }) => configuration === copy.card);
      if (!own.length) return [];
      const current = own.find(({ isCurrent }) => isCurrent);
      const found = copy.check ? own.findLast(({ code }) => code === normalizeCode(copy.check!)) : undefined;
      return [{ folder, copy, platform: own[0]!.platform, cards: own, ...(current ? { current } : {}), ...(found ? { found } : {}) }];
    }),
  );
}

/** Whether the card in force is not known: what it is made of could not be read whole. */
export function isInDoubt(platform: string, damaged: ReadonlySet<string>): boolean {
  return damaged.has("service.yaml") || [...damaged].some((file) => file.startsWith(`${platform}/`) && !/^[^/]+\/(?:photos|reading)\//.test(file));
}
