/** Other names that people use for what the collection names. */
import type { Site } from "./site.ts";

/** Names from `other-names` whose own word is in `name` (`trolley` is in `Tern trolley`); empty if there are none. */
export function otherNamesFor(site: Site, name: string): string[] {
  const text = ` ${name.toLowerCase()} `;
  return Object.entries(site.collection.service.otherNames)
    .filter(([own]) => text.includes(` ${own.toLowerCase()} `) || text.includes(` ${own.toLowerCase()}s `))
    .flatMap(([own, others]) => others.map((other) => name.toLowerCase().replace(own.toLowerCase(), other)));
}

/** Other words for what a page is about, from an entry of the table that sets them apart by commas. */
export function otherWords(entry: string): string[] {
  return entry.split(/[,،、]\s*/u);
}
