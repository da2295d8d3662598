/**
 * Files of a site that is not built: pages are rendered when they are asked for, and so is what they show. Search and
 * what a device keeps are a whole site's, and not there.
 */
import { readFile } from "node:fs/promises";
import { join, normalize, sep } from "node:path";
import { assetsOf } from "../site/assets.ts";
import { pictureAt } from "../site/images.ts";
import { placedStyles } from "../site/placed.ts";
import type { Site } from "../site/site.ts";
import { forReaders, PLACED } from "./finish-pages.ts";
import { trimStyles } from "./trim-styles.ts";
import type { PageMaker } from "./render/page-maker.ts";
import { CACHE } from "./shelf.ts";

/** A file of a site, as a server sends it. */
interface SiteFile {
  /** Its name in a built site, by whose ending its kind is known: `tern/procedures/seat/index.html`. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * The file at this address of this site (`makeSite` over the collection as it is now), without the leading slash and
 * what follows a `?`: `""`, `tern/procedures/seat/`, `photos/tern-tub-0a1b2c3d4e-800.webp`. `undefined` if there is
 * none. Pictures and the stylesheet of positions are those that pages rendered before have asked for, so ask for the
 * page first; the screen's stylesheet is the whole one. After an edit: a new `Site`, the same maker
 * (`openPageMaker`). Throws `AuthorFault` where the code of a background page fails, or a picture is damaged.
 *
 * Example: `await fileOnDemand(makeSite(folder, files, today, findings), maker, "tern/")`
 */
export async function fileOnDemand(site: Site, maker: PageMaker, address: string): Promise<SiteFile | undefined> {
  const page = await maker.render(site, address);
  if (page) {
    const name = /(^|\/)$/.test(address) ? `${address}index.html` : address;
    return { name, bytes: name.endsWith(".html") ? Buffer.from(forReaders(Buffer.from(page).toString())) : page };
  }
  const bytes = await restOf(site, address);
  return bytes && { name: address, bytes };
}

/** The screen's stylesheet whole, paper's rules at its end as in the built site. */
function wholeSheet(bytes: Uint8Array): Uint8Array {
  const { screen, paper } = trimStyles(new TextDecoder().decode(bytes), () => true);
  return new TextEncoder().encode(screen + paper);
}

async function restOf(site: Site, address: string): Promise<Uint8Array | undefined> {
  if (address === PLACED) return new TextEncoder().encode(placedStyles(site.placed));
  const { names, files } = await assetsOf(site);
  const asset = address === "assets/screen.css" ? wholeSheet(files.get(names.get("screen.css")!)!) : files.get(address);
  if (asset) return asset;
  const style = site.pageStyles.get(address);
  if (style !== undefined) return new TextEncoder().encode(style);
  const picture = await pictureAt(site, address, CACHE);
  if (picture) return picture;
  const name = normalize(address);
  if (name.startsWith("..") || name.split(sep).some((part) => part.startsWith("."))) return undefined;
  return readFile(join(site.root, "public", name)).catch(() => undefined);
}
