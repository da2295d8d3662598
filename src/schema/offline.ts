/**
 * What a set of pages saved on a device is: written by the build, read by the service worker and by the page about this
 * device.
 */

/** A file of the site with what it must hold. */
export interface SavedFile {
  /** Address from the site's root; a page's ends in `/` and the home page's is empty. */
  readonly address: string;
  readonly bytes: number;
  /** SHA-256 of its content, hexadecimal. */
  readonly hash: string;
}

/** A document of the set, to say which revisions a device holds. */
export interface SavedDocument {
  readonly code: string;
  readonly title: string;
  readonly revision: number;
  readonly address: string;
  /** The card in force of a configuration, by which the device tells whether it holds the site's. */
  readonly card?: SavedCard;
}

/** A card as a list of saved documents names it; `edition` is absent for one that was never frozen. */
export interface SavedCard {
  readonly code: string;
  readonly edition?: number;
  readonly from?: string;
}

/** The whole set. Two sets with the same files have the same version. */
export interface SavedSet {
  readonly version: string;
  /** Day of the build, `YYYY-MM-DD`. */
  readonly built: string;
  readonly bytes: number;
  readonly documents: readonly SavedDocument[];
  readonly files: readonly SavedFile[];
}

/** `offline.json`: the set without its files. */
export type SavedSetHead = Omit<SavedSet, "files"> & { readonly count: number };

/** What stands in the cache beside a set that is whole. */
export interface HeldSet extends SavedSetHead {
  /** When the set became whole on this device, ISO 8601. */
  readonly saved: string;
}

/**
 * After so many days without having compared itself with the site, a device says that its set may be old. No field of
 * service.yaml sets it.
 */
export const OLD_AFTER_DAYS = 30;
