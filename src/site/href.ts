/**
 * Addresses relative to the page that they stand on, so that the site works in any folder, on any host, and from a
 * memory stick.
 */

/**
 * Gives a function that turns an address of the site (`tern/procedures/seat-capsule/`, without a leading `/`; empty for
 * home) into
 * one relative to the page `from`. A fragment or query may follow. Other addresses (`https:`, `#here`) come back as
 * they are.
 */
export function linksFrom(from: URL): (address: string) => string {
  // Nobody knows at which address a server shows the page for lost ones: its links count from the top.
  const up = /^\/404\b/.test(from.pathname) ? "/" : "../".repeat(from.pathname.split("/").length - 2);
  return (address) =>
    /^([a-z][a-z0-9+.-]*:|#)/i.test(address) ? address : `${up}${address.replace(/^\//, "")}` || "./";
}

/** A rule's id in the page of its group. */
export function anchorOfRule(rule: string): string {
  return rule.replace("/", "-");
}

/** The address of what a rule asks, from the site's root: `rules/card/#card-folder-stale`. */
export function addressOfRule(rule: string): string {
  return `rules/${rule.split("/")[0]}/#${anchorOfRule(rule)}`;
}
