/** Gives every rendered page the parts of the stylesheet that it uses, and no others: a page stays light on a phone without signal. */
import { createHash } from "node:crypto";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { assetsOf, type StylePart } from "./assets.ts";
import type { Job } from "./job.ts";

/** The address by which a page asks for the screen's stylesheet until it is finished. */
export const SCREEN = "assets/screen.css";

/** Writes the stylesheets and puts their names into the pages. Throws if a page has code in it, which the site's policy would stop. */
export async function finishPages(job: Job, folder: string): Promise<void> {
  const { parts } = await assetsOf(job);
  const pages = (await readdir(folder, { recursive: true })).filter((name) => name.endsWith(".html"));
  const written = new Set<string>();
  for (const page of pages) {
    const html = await readFile(join(folder, page), "utf8");
    refuseCode(page, html);
    const css = stylesFor(parts, html), address = `assets/screen-${createHash("sha256").update(css).digest("hex").slice(0, 10)}.css`;
    if (!written.has(address)) {
      written.add(address);
      await writeFile(join(folder, address), css);
    }
    await writeFile(join(folder, page), html.replaceAll(SCREEN, address));
  }
}

/** The parts whose classes stand on the page (or in the text of its data), in their order. */
function stylesFor(parts: readonly StylePart[], html: string): string {
  const used = new Set([...html.matchAll(/class="([^"]*)"/g)].flatMap(([, names]) => names!.split(/\s+/)));
  const common = new Set(parts.filter(({ always }) => always).flatMap(({ classes }) => [...classes]));
  return parts.filter(({ always, classes }) => always || [...used].some((name) => classes.has(name) && !common.has(name))).map(({ css }) => css).join("");
}

/** A programmer's mistake, found before a browser stops it in silence. */
function refuseCode(page: string, html: string): void {
  const found = /<[a-z][^>]*\s(style|on[a-z]+)="|<style[\s>]|<script(?![^>]*\s(src=|type="application\/))[^>]*>/i.exec(html);
  if (found) throw new Error(`${page} has code or style in it, which the site's policy forbids: ${html.slice(found.index, found.index + 120)}`);
  if (html.includes("/_astro/")) throw new Error(`${page} uses an asset of Astro's own, which works at one address only: put styles in src/styles and scripts in src/browser`);
}
