/** Links to folders open `index.html` when the site itself is opened from a folder, where no server adds it. */

/** Rewrites links that end in `/`; does nothing on a server. */
export function startFolderLinks(within: ParentNode = document): void {
  if (location.protocol !== "file:") return;
  for (const link of within.querySelectorAll<HTMLAnchorElement>("a[href]")) link.href = withIndex(link.href);
}

/** The address with `index.html` after a closing `/`, before any query or fragment. */
export function withIndex(address: string): string {
  return address.replace(/^(file:[^?#]*\/)(?=$|[?#])/, "$1index.html");
}
