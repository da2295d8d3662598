/** What the built demo calls its own marks: a pin is the part that holds the capsule, and nothing else. */
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
});
