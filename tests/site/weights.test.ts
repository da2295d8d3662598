/** What a page weighs before its photos, as a host sends it: every kind of page, its heaviest one. */
import { existsSync, readFileSync, statSync } from "node:fs";
import { join, posix } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { pagesByKind } from "./look/page-kinds.ts";

const { RERIG_SITE: site } = process.env;
/** The most that a page may need before its photos: this project's own limit (issue: "under 100 kB before photos"). */
const MOST = 100_000;
/**
 * The most that the bank of questions may weigh, which a page of practice reads beside itself, and what the page that
 * finds reads when it is there: this project's own.
 */
const MOST_OF_BANK = 100_000;
const isBank = (file: string) => file.endsWith("/questions.js");

// `npm test` builds the demo first and says where it is.
describe.skipIf(!site || !existsSync(join(site, "index.html")))("page weights", () => {
  const packed = new Map<string, number>();
  const sent = (file: string) => {
    if (!packed.has(file)) packed.set(file, gzipSync(readFileSync(join(site!, file)), { level: 6 }).length);
    return packed.get(file)!;
  };

  it("of every kind of page stay under 100 kB, compressed, before photos and fonts", async () => {
    const rows: { kind: string; page: string; total: number; html: number; styles: number; scripts: number }[] = [];
    for (const [kind, pages] of await pagesByKind(site!)) {
      const heaviest = pages
        .map((address) => (address.endsWith(".html") ? address : `${address}index.html`).replace(/^\//, ""))
        .sort((a, b) => statSync(join(site!, b)).size - statSync(join(site!, a)).size)[0]!;
      const html = readFileSync(join(site!, heaviest), "utf8");
      const files = (pattern: RegExp) => [
        ...new Set(
          [...html.matchAll(pattern)].map(([, address]) =>
            posix.join(posix.dirname(heaviest), address!.replace(/[?#].*/, "")),
          ),
        ),
      ];
      const styles = files(/<link rel="stylesheet" href="([^"]+)"(?![^>]*media="print")/g).reduce(
        (sum, file) => sum + sent(file),
        0,
      );
      const run = files(/<script[^>]* src="([^"]+)"/g);
      for (const bank of run.filter(isBank)) expect(sent(bank), bank).toBeLessThan(MOST_OF_BANK);
      const scripts = run.filter((file) => !isBank(file)).reduce((sum, file) => sum + sent(file), 0);
      rows.push({
        kind,
        page: heaviest,
        html: sent(heaviest),
        styles,
        scripts,
        total: sent(heaviest) + styles + scripts,
      });
    }
    // Read beside the page that finds, when it is there.
    expect(sent("assets/find-asks.js")).toBeLessThan(MOST_OF_BANK);
    const kb = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`;
    console.log(
      rows
        .sort((a, b) => b.total - a.total)
        .map(
          ({ kind, total, html, styles, scripts }) =>
            `${kb(total).padStart(9)}  ${kind}  (page ${kb(html)}, styles ${kb(styles)}, scripts ${kb(scripts)})`,
        )
        .join("\n"),
    );
    expect(rows.length).toBeGreaterThan(15);
    expect(rows.filter(({ total }) => total > MOST)).toEqual([]);
    expect(rows.filter(({ styles }) => styles === 0)).toEqual([]);
  });
});
