/**
 * Gives every kind of page the part of the stylesheet that it uses, and no more: a page stays light where the signal is
 * weak.
 */
import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join, sep } from "node:path";
import { recent } from "../domain/words/recent.ts";
import { assetsOf } from "../site/assets.ts";
import { forEachOf } from "../site/for-each-of.ts";
import type { Site } from "../site/site.ts";
import type { SiteFolder } from "../site/site-folder.ts";
import { placedStyles } from "../site/placed.ts";
import { directionOf } from "../words/isolate.ts";
import { possibleClasses, towardsRight, trimStyles } from "./trim-styles.ts";

/** What a tag says to the search index alone, which has read it by then: no reader needs it. */
const FOR_THE_INDEX = / data-pagefind-(?:body|filter|ignore|meta|weight)(?:="[^"]*")?(?=[\s/>])/g;

/** A page without what it says to the search index alone. */
export function forReaders(html: string): string {
  return html.replace(FOR_THE_INDEX, "");
}

/** The address by which a page asks for the stylesheet of positions until it is finished. */
export const PLACED = "assets/placed.css";
const SCREEN = /assets\/screen\.css\?([\w~-]*)/;
/** The whole tag. */
const SHEET = new RegExp(`<link rel="stylesheet" href="[^"]*${SCREEN.source}">`, "g");

/** The tag of the sheet that paper alone asks for, which a page needs for no screen. */
const forPaper = (sheet: string, paper: string): string =>
  sheet.replace(SCREEN, paper).replace(/>$/, ' media="print">');

/**
 * The address by which a page asks for the screen's stylesheet until it is finished; pages of one route share theirs.
 */
export function screenOf(routePattern: string): string {
  return `assets/screen.css?${routePattern.replace(/[^\w-]+/g, "~")}`;
}

/** Builds that follow each other have the same kinds of page, which use the same: a sheet for each, and for scripts. */
const trimmedOnce = recent<ReturnType<typeof trimStyles>>(100);
const namedOnce = recent<readonly string[]>(100);

/** What a page uses. */
interface Uses {
  /** By which it asks for the screen's stylesheet; `undefined` if it asks for none. */
  readonly key: string | undefined;
  readonly classes: ReadonlySet<string>;
  readonly scripts: ReadonlySet<string>;
}
const usesOf = new WeakMap<object, Uses>();

interface Kind {
  readonly pages: string[];
  readonly classes: Set<string>;
  readonly scripts: Set<string>;
}

/** A page as it was rendered. */
interface MetPage {
  /** Its name in the site. */
  readonly file: string;
  readonly html: () => string;
  /** As `TakenPage.same`: what the page uses is known by it. */
  readonly same?: object | undefined;
}

/** What the pages of a build say and use, gathered as they are rendered. */
export class PageKeeper {
  readonly #kinds = new Map<string, Kind>();
  readonly #contents = new Map<string, Pick<MetPage, "html" | "same">>();

  /** Keeps a page. Throws if it has code in it, which the site's policy would stop. */
  meet({ file, html, same }: MetPage): void {
    this.#contents.set(file, { html, same });
    const uses = (same && usesOf.get(same)) ?? readUses(file, html());
    if (same) usesOf.set(same, uses);
    const { key } = uses;
    if (key === undefined) return;
    const kind = this.#kinds.get(key) ?? { pages: [], classes: new Set(), scripts: new Set() };
    this.#kinds.set(key, kind);
    kind.pages.push(file);
    for (const name of uses.classes) kind.classes.add(name);
    for (const script of uses.scripts) kind.scripts.add(script);
  }

  /**
   * Writes a stylesheet for each kind of page, and the pages with its name in them.
   */
  async finish(site: Site, folder: SiteFolder): Promise<void> {
    const { names, files } = await assetsOf(site);
    const bundled = new TextDecoder().decode(files.get(names.get("screen.css")!)),
      whole = directionOf(site.collection.service.language) === "rtl" ? bundled : towardsRight(bundled);
    // What was not rendered, such as a page in `public/`.
    for (const file of (await readdir(folder.path, { recursive: true })).map((name) => name.split(sep).join("/")))
      if (file.endsWith(".html") && !this.#contents.has(file)) {
        const html = await readFile(join(folder.path, file), "utf8");
        this.meet({ file, html: () => html });
      }
    const ofSheet = createHash("sha256").update(whole).digest("hex"),
      // Their names change with what they say.
      classesOf = (script: string) =>
        namedOnce(script, () => possibleClasses(new TextDecoder().decode(files.get(script) ?? new Uint8Array())));
    const placed = await keep(folder, "placed", placedStyles(site.placed));
    // What asks for no stylesheet is as it will be.
    const finished = new Set([...this.#kinds.values()].flatMap(({ pages }) => pages));
    await forEachOf(
      [...this.#contents].filter(([file]) => !finished.has(file)),
      async ([file, { html, same }]) => folder.writeAs(file, same && [same], html),
    );
    for (const { pages, classes, scripts } of this.#kinds.values()) {
      for (const script of scripts) for (const word of classesOf(script)) classes.add(word);
      const used = [...classes].sort(),
        css = trimmedOnce(JSON.stringify([ofSheet, used]), () => trimStyles(whole, (name) => classes.has(name))),
        screen = await keep(folder, "screen", css.screen),
        paper = css.paper === "" ? undefined : await keep(folder, "paper", css.paper);
      await forEachOf(pages, async (page) => {
        const { html, same } = this.#contents.get(page)!;
        await folder.writeAs(page, same && [same, screen, paper ?? "", placed], () =>
          forReaders(html())
            .replace(SHEET, (sheet) => sheet.replace(SCREEN, screen) + (paper ? forPaper(sheet, paper) : ""))
            .replaceAll(PLACED, placed),
        );
      });
    }
  }
}

function readUses(file: string, html: string): Uses {
  refuseCode(file, html);
  return {
    key: SCREEN.exec(html)?.[1],
    classes: new Set([
      ...[...html.matchAll(/class="([^"]*)"/g)].flatMap(([, list]) => list!.split(/\s+/)),
      // Elements of ours have a hyphen in their names (HTML Standard, valid custom element name).
      ...[...html.matchAll(/<([a-z]+(?:-[a-z]+)+)/g)].map(([, name]) => name!),
    ]),
    scripts: new Set([...html.matchAll(/(assets\/[\w-]+\.js)"/g)].map(([, script]) => script!)),
  };
}

/** Writes a stylesheet under a name that changes with its content, and gives its address. */
async function keep(folder: SiteFolder, name: string, css: string): Promise<string> {
  const address = `assets/${name}-${createHash("sha256").update(css).digest("hex").slice(0, 10)}.css`;
  await folder.write(address, css);
  return address;
}

/** A programmer's mistake, found before a browser stops it in silence. An author's `<` inside an attribute is text. */
function refuseCode(page: string, html: string): void {
  const found = /<[a-z][^>]*\s(style|on[a-z]+)="|<style[\s>]|<script(?![^>]*\s(src=|type="application\/))[^>]*>/i.exec(
    html.replace(/="[^"]*<[^"]*"/g, '=""'),
  );
  if (found)
    throw new Error(
      `${page} has code or style in it, which the site's policy forbids: ${html.slice(found.index, found.index + 120)}`,
    );
  if (html.includes("/_astro/"))
    throw new Error(
      `${page} uses an asset of Astro's own, which works at one address only: put styles in src/styles and ` +
        "scripts in src/browser",
    );
}
