/** What rendering some pages of a site comes to, wherever it is done, and what pages leave behind for the site. */
import type { Reads } from "../../domain/words/reads.ts";
import type { AskedOfSite, Site } from "../../site/site.ts";

/** A page or another file that is to be rendered. */
export interface WantedPage {
  /** Name of its file in the built site. */
  readonly file: string;
  /** By which address Astro is asked for it. */
  readonly asked: string;
  /** The file of the program that it is made by, from the project's folder. */
  readonly component: string;
  /** The platform whose site alone it is given (`site/of-platform.ts`); absent for what is given the whole site. */
  readonly of?: string;
  /** The documents whose words were read for what its list of paths hands to it (`domain/words/reads.ts`). */
  readonly listedBy?: Reads;
}

/** A page as it was rendered: what the site was told of it (`Site.meet`), or the bytes of another file. */
export interface RenderedPage {
  readonly file: string;
  readonly content: { readonly address: string; readonly html: string } | Uint8Array;
  /** The documents whose words it rests on, as far as they tell. */
  readonly reads: Reads;
  /** All that it asks for itself, whoever has asked for it before. */
  readonly asked: AskedOfSite;
}

/** A page or another file as the site takes it, whether it was rendered now or is at hand. */
export interface TakenPage {
  readonly file: string;
  /** The page's address; absent for another file. */
  readonly address?: string;
  /** What a page says, or the bytes of another file: unpacked when somebody asks. */
  readonly content: () => string | Uint8Array;
  /** The same thing for as long as the process has the same page at this address: what is made of it is known by it. */
  readonly same?: object;
}

/** A page that was rendered, as the site takes it. */
export const takenFrom = ({ file, content }: RenderedPage, same?: object): TakenPage => ({
  file,
  ...(content instanceof Uint8Array ? {} : { address: content.address }),
  content: () => (content instanceof Uint8Array ? content : content.html),
  ...(same ? { same } : {}),
});

/** What a page asks for that asks for nothing. */
export const NOTHING_ASKED: AskedOfSite = { placed: [], pageStyles: [], photos: [], pages: [] };

/**
 * Some pages with all that they ask for, as far as no page before them in the same process has asked for it. Plain
 * data, which goes from thread to thread.
 */
export interface RenderedBatch {
  readonly pages: readonly RenderedPage[];
  readonly asked: AskedOfSite;
}

const MAPS = ["placed", "pageStyles", "photos", "pages"] as const;

/** Watches what pages ask of a site from now on: the answer gives it. Nothing is ever taken out of a site. */
export function watchAsked(site: Site): () => AskedOfSite {
  const sizes = MAPS.map((name) => site[name].size);
  return () => {
    const [placed, pageStyles, photos, pages] = MAPS.map((name, at) => [...site[name]].slice(sizes[at]));
    return { placed, pageStyles, photos, pages } as AskedOfSite;
  };
}

/** All that pages have asked of a site so far. */
export function askedSoFar(site: Site): AskedOfSite {
  const [placed, pageStyles, photos, pages] = MAPS.map((name) => [...site[name]]);
  return { placed, pageStyles, photos, pages } as AskedOfSite;
}

/** Gives a site what pages that were rendered elsewhere ask for. */
export function giveAsked(site: Site, asked: AskedOfSite): void {
  for (const name of MAPS) {
    const map = site[name] as Map<string, unknown>;
    for (const [key, value] of asked[name]) if (!map.has(key)) map.set(key, value);
  }
}
