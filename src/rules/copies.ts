/** Copies of cards in folders with the card that each is, for the card rules. */
import type { Collection, Folder, FolderCopy } from "../schema/collection.ts";
import { everyCard, type IssuedCard } from "../domain/cards/cards-issued.ts";
import { normalizeCode } from "../domain/cards/check-code.ts";
import { printedCodes } from "../paper/printed-card.ts";
import { configurationOf } from "../domain/parts/arrangements.ts";
import { arrangementOf, titleOfCopy, type FolderCard, otherCards, type OtherCards } from "../paper/folder-audit.ts";

interface KnownCopy {
  readonly folder: Folder;
  readonly copy: FolderCopy;
  /** What its card is called: a title, with its options; of a changeover both. */
  readonly title: string;
  /** The platform of its card. */
  readonly platform: string;
  /** The card in force; absent if there is none, or several of a changeover. */
  readonly current?: FolderCard;
  /** The card that has the copy's check code; absent if it has none, or no card has it. */
  readonly found?: FolderCard;
  /** The one found is in force, or takes the place of that one on a later day. */
  readonly isRight: boolean;
  /** Its options are none of its configuration's, or can't be together: of such an arrangement there is no card. */
  readonly isOfNone?: true;
  /** Codes of a changeover's cards: no older one is known. */
  readonly changeover?: readonly string[];
}

const known = new WeakMap<Collection, KnownCopy[]>();

/** Every copy in every folder of which a card is known, looked up once for the day of the run. */
export function copiesOf(collection: Collection, today: string): KnownCopy[] {
  const copies = known.get(collection) ?? lookUp(collection, today);
  known.set(collection, copies);
  return copies;
}

function lookUp(collection: Collection, today: string): KnownCopy[] {
  if (!collection.folders.some(({ copies }) => copies.length)) return [];
  const cards = collection.platforms.flatMap((platform) => everyCard(collection, platform, printedCodes(collection))),
    others = otherCards(collection, today);
  return collection.folders.flatMap((folder) =>
    folder.copies.flatMap((copy): KnownCopy[] => {
      const code = copy.check && normalizeCode(copy.check);
      const one =
        configurationOf(copy.card) === undefined
          ? ofChangeover(copy, code, others)
          : ofConfiguration(copy, code, cards, others);
      const isOfNone = copy.card.includes("+") && !copy.card.includes("--") && !arrangementOf(collection, copy);
      return one
        ? [{ folder, copy, title: titleOfCopy(collection, copy), ...one, ...(isOfNone ? { isOfNone } : {}) }]
        : [];
    }),
  );
}

type Known = Omit<KnownCopy, "folder" | "copy" | "title">;

function ofConfiguration(
  { card, platform }: FolderCopy,
  code: string | undefined,
  cards: readonly IssuedCard[],
  others: OtherCards,
): Known | undefined {
  const configuration = configurationOf(card)!,
    own = cards.filter((each) => each.platform === platform && each.configuration === configuration);
  if (!own.length || platform === undefined) return undefined;
  const current = own.find(({ isCurrent }) => isCurrent);
  const found = code ? own.findLast((each) => each.code === code) : undefined;
  const part = code && !found && current ? others.band(platform, configuration, code) : undefined;
  if (part)
    return {
      platform,
      found: part.card,
      isRight: part.state === "current" || part.state === "coming",
      ...(part.now ? { current: part.now } : {}),
    };
  return {
    platform,
    isRight: found !== undefined && current !== undefined && own.indexOf(found) >= own.indexOf(current),
    ...(current ? { current } : {}),
    ...(found ? { found } : {}),
  };
}

function ofChangeover(
  { card: pair, platform }: FolderCopy,
  code: string | undefined,
  others: OtherCards,
): Known | undefined {
  const cards = others.changeovers(platform, pair),
    found = cards.find((card) => card.code === code),
    current = found ?? (cards.length === 1 ? cards[0] : undefined);
  if (!cards.length) return undefined;
  return {
    platform: cards[0]!.platform,
    isRight: found !== undefined,
    changeover: cards.map((card) => card.code),
    ...(current ? { current } : {}),
    ...(found ? { found } : {}),
  };
}
