/** A part of a built site that holds each sort of file: what a device does with a set does not rest on how many. */
import { cpSync, readdirSync, readFileSync } from "node:fs";
import { basename, join, relative } from "node:path";
import { gunzipSync } from "node:zlib";
import { pagesByKind } from "../site/look/page-kinds.ts";
import { fileOf, isEveryPageAsked } from "../site/look/representatives.ts";

/** Files of a set: not what only paper needs, nor what says which set there is. */
export function filesOfSet(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .filter((name) => !/-print\.jpg$|^service-worker\.js$|^offline\.json$|^\.rerig-site$/.test(name))
    .sort();
}

/** Address and words of a page in the search index (Pagefind packs it, a sign of its own before the JSON). */
function fragmentOf(file: string): { readonly url: string; readonly content: string } {
  const text = gunzipSync(readFileSync(file)).toString();
  return JSON.parse(text.slice(text.indexOf("{"))) as { url: string; content: string };
}

/** What of a site is needed beside a page of each kind. */
interface Wanted {
  /** Whether the page at an address is opened by a test; pictures of the first of each kind are not all needed. */
  readonly isOpened: (address: string) => boolean;
  /** The word that is searched for, in lower case; nothing is if left out. */
  readonly sought?: string;
}

/**
 * Copies of a built site a page of each kind and those that are opened, the styles that they name, all pictures of the
 * latter, one of each size of the others', and of the search index what the query may open. All of it with RERIG_EVERY.
 * What says which set it is (`writeOfflineFiles`) is that of the whole site still.
 */
export async function copyPart(from: string, to: string, { isOpened, sought }: Wanted): Promise<void> {
  const left = new Set<string>(),
    kinds = await pagesByKind(from),
    opened = [...kinds.values()].flat().filter(isOpened);
  if (!isEveryPageAsked)
    for (const addresses of kinds.values())
      for (const address of addresses.slice(1).filter((each) => !isOpened(each))) left.add(fileOf(address));
  const names = filesOfSet(from).filter((name) => !left.has(name)),
    namedIn = (files: readonly string[], kind: RegExp) =>
      files.flatMap((name) => readFileSync(join(from, name), "utf8").match(kind) ?? []);
  const named = new Set(
    namedIn(
      names.filter((each) => /\.(html|css|js)$/.test(each)),
      /[\w.-]+\.(?:css|jpg|webp)/g,
    ),
  );
  if (!isEveryPageAsked) {
    const kept = new Set(namedIn(opened.map(fileOf), /[\w.-]+\.(?:jpg|webp)/g)),
      sizes = new Set<string>();
    for (const name of named) {
      const size = /-\d+(?:-night)?\.(?:jpg|webp)$/.exec(name)?.[0];
      if (size === undefined || kept.has(name)) continue;
      if (sizes.has(size)) named.delete(name);
      sizes.add(size);
    }
    for (const name of names.filter((each) => each.endsWith(".pf_fragment"))) {
      const { url, content } = fragmentOf(join(from, name));
      if (left.has(fileOf(url)) && (sought === undefined || !content.toLowerCase().includes(sought))) left.add(name);
    }
  }
  for (const name of names) if (/\.(css|jpg|webp)$/.test(name) && !named.has(basename(name))) left.add(name);
  cpSync(from, to, { recursive: true, filter: (file) => !left.has(relative(from, file)) });
}
