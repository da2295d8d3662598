/**
 * What the built demo calls its own marks: a pin is the part that holds the capsule, and nothing else. And its pictures
 * say how large they are.
 */
import { existsSync } from "node:fs";
import { glob, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const { RERIG_SITE: site } = process.env;
const CALLED =
  /\b(filled|hollow|square|round) pins?\b|\b(press|fill|fills|has|have|leave) (a|the|each) pin\b|\bpins? (fills?\b|of your)|\bpin a line\b/i;

describe.skipIf(!site || !existsSync(join(site, "index.html")))("the pages of the demo", () => {
  // Common practice, no source: whoever is told to press a pin looks for one of the four that hold a newborn.
  it("call no dot, circle or number of theirs a pin", async () => {
    const found: string[] = [];
    let pages = 0;
    for await (const name of glob("**/*.html", { cwd: site! })) {
      pages++;
      const text = (await readFile(join(site!, name), "utf8")).replace(/<(script|style)\b.*?<\/\1>/gs, "");
      const said = CALLED.exec(text.replace(/<[^>]+>/g, " ").replace(/\s+/g, " "))?.[0];
      if (said) found.push(`${name}: ${said}`);
    }
    expect(pages).toBeGreaterThan(100);
    expect(found).toEqual([]);
  });

  // HTML, 4.8.17 (dimension attributes): a browser keeps the room, so that nothing jumps when a picture comes late.
  it("give every picture its width and height", async () => {
    const found: string[] = [];
    let pictures = 0;
    for await (const name of glob("**/*.html", { cwd: site! }))
      for (const [picture] of (await readFile(join(site!, name), "utf8")).matchAll(/<img\b[^>]*>/g)) {
        pictures++;
        if (!/\swidth="\d+"/.test(picture) || !/\sheight="\d+"/.test(picture)) found.push(`${name}: ${picture}`);
      }
    expect(pictures).toBeGreaterThan(1000);
    expect(found).toEqual([]);
  });
});
