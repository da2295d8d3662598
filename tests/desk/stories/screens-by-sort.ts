/** One screen of each sort that a desk has, found by the links that lead from one to the next. */
import { expect } from "vitest";
import { kindOfFile } from "../../../src/desk/screens/guide-of.ts";

/** What sort of screen an address of the desk leads to: of files, by what file it is, and whether by an entry of it. */
function sortOf(address: string): string {
  const [sort = "", ...rest] = address.split("/"),
    end = rest.findIndex((part) => /\.(?:yaml|mdx)$/.test(part)) + 1;
  if (!["form", "text", "history"].includes(sort)) return sort;
  // A list of the same file may have other fields than the next.
  const entry = rest.slice(end).filter(Boolean);
  const kind = kindOfFile(rest.slice(0, end).join("/"))?.id ?? "other";
  return sort === "form" ? [sort, kind, entry.length > 1 ? entry[0] : entry.length > 0 ? "entry" : ""].join(" ") : sort;
}

/** By sort its address below the desk's, and the page; fails where a link leads nowhere. */
export async function screensBySort(desk: string) {
  const found = new Map<string, { readonly address: string; readonly html: string }>();
  for (const waiting = [""]; waiting.length > 0;) {
    const address = waiting.pop()!,
      sort = sortOf(address);
    if (found.has(sort)) continue;
    const answer = await fetch(desk + address),
      html = await answer.text();
    expect([address, answer.status]).toEqual([address, 200]);
    found.set(sort, { address, html });
    const links = [...html.matchAll(/ href="([^"#]+)/g)].map(([, link]) => new URL(link!, answer.url).href);
    for (const link of links)
      if (link.startsWith(desk)) {
        const to = link.slice(desk.length);
        if (!/^(?:site|assets)\//.test(to)) waiting.push(to);
      }
  }
  return found;
}
