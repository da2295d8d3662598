/** What `rerig folders --json` prints and `data/folders.json` holds. */
import { slipsIn } from "../domain/cards/amendment-slips.ts";
import type { Collection } from "../schema/collection.ts";
import { type AuditedFolder, type FolderCard, isStale, printOrders } from "./folder-audit.ts";

/**
 * Folders and copies in walking order, with the slips of temporary amendments, and what to print first.
 * `null` where nothing is known; a changeover's card has
 * no revision.
 */
export function foldersResult(audited: readonly AuditedFolder[], collection: Collection, today: string) {
  return {
    today,
    print: printOrders(audited).map(({ card, copies }) => ({
      platform: card.platform,
      card: card.configuration,
      code: card.content.code,
      ...versionOf(card),
      copies: copies.map(({ folder, copy }) => ({ folder: folder.id, copy: copy.copy })),
    })),
    folders: audited.map(({ folder, copies, absent }) => ({
      folder: folder.id,
      name: folder.name,
      stale: copies.filter(isStale).length,
      copies: copies.map((each) => {
        const { copy, state, now, next, found, onlyWith = [] } = each;
        return {
          card: copy.card,
          platform: copy.platform ?? null,
          copy: copy.copy,
          state,
          stale: isStale(each),
          current: now
            ? {
                platform: now.platform,
                code: now.content.code,
                ...versionOf(now),
              }
            : null,
          next: next ? versionOf(next) : null,
          found: found ? versionOf(found) : null,
          onlyWith,
          check: copy.check ?? null,
          placed: copy.placed ?? null,
        };
      }),
      slips: slipsIn(collection, folder, today).map(({ amendment: { number, from, until }, code, over }) => ({
        number,
        check: code,
        from,
        until,
        over: over.map(({ platform, id }) => ({ platform, card: id })),
      })),
      absent: absent.map(({ platform, configuration }) => ({ platform, card: configuration })),
    })),
  };
}

function versionOf({ content, edition, code, from }: FolderCard) {
  return { revision: content.revision ?? null, edition: edition ?? null, check: code, from: from ?? null };
}
