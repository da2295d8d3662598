/**
 * What the built demo calls its own marks: a pin is the part that holds the capsule, and nothing else. Its pictures say
 * how large they are, and those whose marks a revision names otherwise are shown as they were and as they are.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { glob, readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const { RERIG_SITE: site } = process.env;
const CALLED =
  /\b(filled|hollow|square|round) pins?\b|\b(press|fill|fills|has|have|leave) (a|the|each) pin\b|\bpins? (fills?\b|of your)|\bpin a line\b/i;

/** The marks' names of each picture of each step of a frozen procedure, by step and picture, as its file has them. */
function markNamesIn(file: string): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  const look = (value: unknown): void => {
    if (typeof value !== "object" || value === null) return;
    const { id, photos } = value as { id?: string; photos?: { id: string; marks?: { label: string }[] }[] };
    if (id && Array.isArray(photos))
      for (const { id: photo, marks = [] } of photos)
        found.set(
          `${id} ${photo}`,
          marks.map(({ label }) => label),
        );
    for (const each of Object.values(value)) look(each);
  };
  look(JSON.parse(readFileSync(file, "utf8")));
  return found;
}

const issued = resolve(import.meta.dirname, "../../procedures/issued/tern");
/** Pages that compare two issues of a procedure of the demo, each with the names that a mark had or has. */
const comparisons = readdirSync(issued).flatMap((name) => {
  const [, id = "", number = ""] = /^([a-z-]+)@(\d+)\.json$/.exec(name) ?? [],
    earlier = join(issued, `${id}@${Number(number) - 1}.json`);
  if (!id || !existsSync(earlier)) return [];
  const [before, after] = [markNamesIn(earlier), markNamesIn(join(issued, name))];
  const names = [...after].flatMap(([picture, now]) => {
    const then = before.get(picture) ?? now;
    return [...now.filter((each) => !then.includes(each)), ...then.filter((each) => !now.includes(each))];
  });
  return names.length > 0 ? [{ id, number, names }] : [];
});

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

  // Common practice, no source: what a picture points at is part of what a reviewer is asked to agree to.
  it("show both pictures where a revision has named a mark otherwise, to reviewers and in the notice", async () => {
    expect(comparisons.length).toBeGreaterThan(1);
    for (const { id, number, names } of comparisons)
      for (const kind of ["revisions", "notices"]) {
        const page = join(site!, "tern/procedures", id, kind, number, "index.html");
        if (kind === "notices" && !existsSync(page)) continue;
        const text = (await readFile(page, "utf8")).replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
        expect([id, kind, names.filter((each) => !text.includes(each))]).toEqual([id, kind, []]);
      }
  });

  // Common practice, no source. Issues of the first form have no hash of a picture: today’s may be another than theirs.
  it("draw no marks of an issue without the hash of a picture where today's marks stand elsewhere", async () => {
    const page = join(site!, "tern/procedures/dress-capsule/notices/3/index.html"),
      frozen = readFileSync(join(issued, "dress-capsule@2.json"), "utf8");
    expect(frozen).not.toContain('"sha256"');
    expect(frozen).toContain('"label": "Lamp"');
    const [, compared = ""] = (await readFile(page, "utf8")).split("<h2>Pictures that changed</h2>"),
      [, was = "", is = ""] = compared.slice(compared.indexOf("Press the lamp corner")).split("<td");
    expect(was).toContain("Lamp");
    expect(was).not.toMatch(/<(?:img|svg)/);
    expect(is).toMatch(/<img[^]*<svg/);
  });
});
