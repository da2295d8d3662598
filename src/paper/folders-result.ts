/** What `rerig folders --json` prints and `data/folders.json` holds. */
import { type AuditedFolder, isStale, printOrders } from "./folder-audit.ts";

/**
 * Folders and copies in walking order, and what to print first. `null` where nothing is known; a changeover's card has
 * no revision.
 */
export function foldersResult(audited: readonly AuditedFolder[], today: string) {
  return {
    today,
    print: printOrders(audited).map(({ card, copies }) => ({
      platform: card.platform,
      card: card.configuration,
      code: card.content.code,
      revision: card.content.revision ?? null,
      check: card.code,
      copies: copies.map(({ folder, copy }) => ({ folder: folder.id, copy: copy.copy })),
    })),
    folders: audited.map(({ folder, copies, absent }) => ({
      folder: folder.id,
      name: folder.name,
      stale: copies.filter(isStale).length,
      copies: copies.map((each) => {
        const { copy, state, now, next, found } = each;
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
                revision: now.content.revision ?? null,
                check: now.code,
                from: now.from ?? null,
              }
            : null,
          next: next ? { revision: next.content.revision ?? null, check: next.code, from: next.from ?? null } : null,
          found: found
            ? { revision: found.content.revision ?? null, check: found.code, from: found.from ?? null }
            : null,
          check: copy.check ?? null,
          placed: copy.placed ?? null,
        };
      }),
      absent: absent.map(({ platform, configuration }) => ({ platform, card: configuration })),
    })),
  };
}
