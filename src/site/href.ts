/**
 * Addresses relative to the page that they stand on, so that the site works in any folder, on any host, and from a
 * memory stick.
 */

/**
 * Gives a function that turns an address of the site (`tern/procedures/seat-capsule/`, without a leading `/`; empty for
 * home) into the shortest one relative to the page `from`: `../seat-capsule/` from another procedure. A fragment or
 * query may follow. Other addresses (`https:`, `#here`) come back as they are.
 */
export function linksFrom(from: URL): (address: string) => string {
  // Nobody knows at which address a server shows the page for lost ones: its links count from the top.
  const isLost = /^\/404\b/.test(from.pathname),
    folders = from.pathname.split("/").slice(1, -1);
  return (address) => {
    if (/^([a-z][a-z0-9+.-]*:|#)/i.test(address)) return address;
    const whole = address.replace(/^\//, "");
    if (isLost) return `/${whole}`;
    let shared = 0,
      rest = whole;
    while (shared < folders.length && rest.startsWith(`${folders[shared]}/`)) {
      rest = rest.slice(folders[shared]!.length + 1);
      shared += 1;
    }
    return `${"../".repeat(folders.length - shared)}${rest}` || "./";
  };
}

/** A rule's id in the page of its group. */
export function anchorOfRule(rule: string): string {
  return rule.replace("/", "-");
}

/** The address of what a rule asks, from the site's root: `rules/card/#card-folder-stale`. */
export function addressOfRule(rule: string): string {
  return `rules/${rule.split("/")[0]}/#${anchorOfRule(rule)}`;
}
