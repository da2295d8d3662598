/**
 * The site as the pages of one platform are given it. No other platform is in it, so that such a page can rest on
 * nothing but its own platform and what stands beside the platforms: `build/kept/kept-pages.ts` keeps it by these.
 */
import { aloneIn } from "../domain/force/alone.ts";
import { forceIn } from "../domain/force/force.ts";
import { withoutTelling } from "../domain/words/reads.ts";
import { textBeside } from "../rules/run-rules.ts";
import { openFindings } from "./records/reviews.ts";
import { tellingForce } from "./telling-force.ts";
import { needed, type Site } from "./site.ts";

/** Routes of a platform whose pages are given the whole site: what authors write there may show any platform. */
const OF_ALL = /^reading\b/;

/**
 * Whether the pages of a route are given the site of their platform alone. `route`: Astro's pattern
 * (`/[platform]/items/[id]`) or the file of the program (`src/pages/[platform]/items/[id].astro`).
 */
export function isOfPlatform(route: string): boolean {
  const [, rest] = /^(?:src\/pages)?\/\[platform\](?:\/(.*))?$/.exec(route) ?? [];
  return route.includes("/[platform]") && !OF_ALL.test(rest ?? "");
}

/**
 * The site of one platform: its collections, findings and proposals are those of the platform and of nothing else;
 * `heads` names the others. What its pages leave behind is left to the whole site too. The same one for a whole site.
 */
export function ofPlatform(whole: Site, id: string): Site {
  // What is asked of it tells then, as what is asked of the whole.
  const known = whole.ofPlatforms.get(id) ?? withoutTelling(() => makeOne(whole, id));
  whole.ofPlatforms.set(id, known);
  return known;
}

function makeOne(whole: Site, id: string): Site {
  const platform = needed(
      whole.force.files.platforms.find((each) => each.id === id),
      `platform ${id}`,
    ),
    force = tellingForce(forceIn(whole.force, aloneIn(whole.force.files, platform), platform)),
    own = [`${id}/`, `issued/${id}/`];
  return {
    ...whole,
    collection: force.shown,
    force,
    // Asked when a page shows findings: a page on demand does not wait for the rules.
    findingsOf: () => openFindings(whole).filter(({ file }) => own.some((folder) => file.startsWith(folder))),
    ofPlatforms: new Map(),
    placed: new Telling(whole.placed),
    pageStyles: new Telling(whole.pageStyles),
    photos: new Telling(whole.photos),
    pages: new Telling(whole.pages),
  };
}

/** All that stands beside the platforms of a site, as a text: equal texts, equal things. */
export const besideIn = ({ force }: Site): string => textBeside(force.files);

/** A map that tells another one of what it is given. */
class Telling<Value> extends Map<string, Value> {
  readonly #other: Map<string, Value>;

  constructor(other: Map<string, Value>) {
    super();
    this.#other = other;
  }

  override set(key: string, value: Value): this {
    this.#other.set(key, value);
    return super.set(key, value);
  }
}
