/**
 * What components ask of the build while they are rendered: a class for a position, a picture, the address of a bundled
 * file. It is what a page gives out, not what it is given, and stands in `Astro.locals.out`.
 */
import type { Photo } from "../schema/collection.ts";
import { assetNamed, saidBy } from "./assets.ts";
import { photoFor, type PhotoView } from "./images.ts";
import { keepStyle } from "./page-style.ts";
import { placed } from "./placed.ts";
import type { Site } from "./site.ts";
import type { WordRoom } from "../words/hear.ts";
import { tellWords } from "../words/words.ts";

/** What a page gives out to the build that makes it: styles, photos and files that must be written beside it. */
export interface Out {
  /** Classes that set custom properties: `placed({ x: 32.12 })` sets `--x`; numbers to `digits` decimals (or 2). */
  readonly placed: (properties: Readonly<Record<string, number>>, digits?: number) => string;
  /** How a page shows a photo, whose files are then made; `undefined` if there is no readable image file. */
  readonly photo: (photo: Photo) => PhotoView | undefined;
  /** Address in the site of a bundled file (`print.css`, `chooser.js`); throws if there is none of that name. */
  readonly asset: (name: string) => Promise<string>;
  /**
   * Fixed text in the language and the nouns of the service, as JSON for a script of the page (`chooser.js`): these
   * rooms, and what functions say there that pages say too. Empty if the script says nothing.
   */
  readonly tell: (script: string, rooms: readonly WordRoom[]) => Promise<string>;
  /** Keeps a stylesheet of this page alone, and gives its address in the site. */
  readonly style: (css: string) => string;
}

/** What pages give out to the build of that site. */
export function outOf(site: Site): Out {
  return {
    placed: (properties, digits) => placed(site, properties, digits),
    photo: (photo) => photoFor(site, photo),
    asset: (name) => assetNamed(site, name),
    tell: async (script, rooms) => {
      const said = await saidBy(site, script);
      if (rooms.length === 0 && said.length === 0) return "";
      return JSON.stringify(tellWords(site.collection.service, rooms, said)).replaceAll("<", "\\u003c");
    },
    style: (css) => keepStyle(site, css),
  };
}
