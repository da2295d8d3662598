/**
 * Proposals on the demo's site that `npm test` builds: each page of one says on screen and on every sheet that it is
 * not in force, and takes nothing from what is. That documents to come are told from those in use is ISO 9001:2015,
 * 7.5.3.2; the rest is common practice, no source.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const { RERIG_SITE: site } = process.env;
const read = (address: string) => readFileSync(join(site!, address, "index.html"), "utf8");
const textOf = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
/** What the margins of a page's paper say. */
const paperOf = (html: string) => {
  const styles = [...html.matchAll(/<link rel="stylesheet" href="(?:\.\.\/)*([^"]+)" media="print"/g)];
  return styles.map(([, file]) => readFileSync(join(site!, file!), "utf8")).join("\n");
};
const pages = site
  ? readdirSync(site, { recursive: true, encoding: "utf8" })
      .filter((file) => /\/proposed\/\d+\/(?:review\/)?index\.html$/.test(file))
      .map((file) => file.replace(/index\.html$/, ""))
      .sort()
  : [];

describe.skipIf(!site)("proposals", () => {
  it("are there, each with its text and its review sheet", () => {
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) expect(pages).toContain(page.endsWith("review/") ? page : `${page}review/`);
  });

  it.each(pages)("say at %s that it is not in force, on screen and on paper, and search does not offer it", (page) => {
    const html = read(page);
    expect(textOf(html)).toContain("Proposed, not in force.");
    // A paper of what is issued for a later day may be read after it: it says the day, true before and after.
    expect(paperOf(html)).toMatch(/PROPOSED, NOT IN FORCE|ISSUED, IN FORCE FROM \d{1,2} [A-Z][a-z]{2} \d{4}/);
    // Nothing is indexed but what the list of the search has (src/site/find/search.ts).
    const list = readFileSync(join(site!, "assets/find-list.js"), "utf8");
    expect(list).toContain(`"${page.replace(/proposed\/.*$/, "")}"`);
    expect(list).not.toContain(`"${page}"`);
  });

  it.each(pages.filter((page) => !page.endsWith("review/")))("leave what is in force beside %s as it is", (page) => {
    const [address, number] = page.split(/proposed\/|\/$/) as [string, string];
    const html = read(address);
    expect(textOf(html)).not.toContain("Proposed, not in force");
    expect(textOf(html)).not.toMatch(new RegExp(`FCR-T-\\d+ revision ${number} `));
    expect(paperOf(html)).not.toContain("PROPOSED");
    // It is compared with what is in force, and makes nothing stale yet.
    expect(textOf(read(`${address}revisions/${number}/`))).toContain("What this would make stale");
  });

  it("are told of on the page of what is in force once they have a day", () => {
    const later = "tern/procedures/loose-article-check/";
    expect(textOf(read(later))).toContain("Revision 2 takes its place on 14 Dec 2026.");
    expect(existsSync(join(site!, later, "notices/2"))).toBe(true);
    expect(textOf(read("tern/procedures/hearing-protection/"))).not.toContain("Revision 2");
    expect(existsSync(join(site!, "tern/procedures/hearing-protection/notices/2"))).toBe(false);
  });

  it("stand in the list of what is proposed, and in the history as not in force", () => {
    const review = textOf(read("review/"));
    expect(review).toMatch(/Proposed, not in force .*Hearing protection FCR-T-24 In review for 11 Jan 2027/);
    expect(textOf(read("tern/procedures/hearing-protection/history/"))).toContain("Revision 2, not yet in force");
  });
});
