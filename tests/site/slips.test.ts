/**
 * What the review page and the card pages of the built demo show of the omission proof: the numbers and pins are those
 * of `data/slips.json`, and what is without a reason is what the checks find. Compared with the site's own data.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { z } from "zod";
import type { dataShapes } from "../../src/schema/results.ts";

const site = process.env["RERIG_SITE"];
const read = (file: string): string => readFileSync(join(site!, file), "utf8");
type Slips = z.infer<(typeof dataShapes)["slips"]>;
const data = () => (JSON.parse(read("data/slips.json")) as Slips)[0]!;
const many = (count: number): string => count.toLocaleString("en-GB");
const textOf = (html: string): string => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");

/** The stretch in which a slip of the data ends, from 0. */
function endOf({ procedure, worst }: Slips[number]["slips"][number]): number {
  if (worst.outcome === "silent") return 4;
  if (worst.card) return 3;
  if (worst.outcome === "counted") return 2;
  return worst.outcome === "made good" || worst.procedure !== procedure ? 1 : 0;
}

describe.skipIf(!site)("the omission proof as a picture", () => {
  it("has a pin for each slip of the data, in the stretch where it ends, safety-critical on its corner", () => {
    const page = read("review/index.html"),
      { slips, platform } = data();
    const rows = page.slice(page.indexOf("slip-fields")).split('class="slip-where"').slice(1);
    const seen = new Map(
      rows.map((row) => {
        const fields = row.split(/class="slip-field(?: last)?"/).slice(1, 6);
        const pins = fields.map((field) => [...field.matchAll(/class="slip-pin ([^"]*)"/g)].map(([, kind]) => kind!));
        const [, procedure] = new RegExp(`${platform}/procedures/([^/]+)/#slips`).exec(row)!;
        return [procedure!, pins] as const;
      }),
    );
    expect([...seen.keys()].sort()).toEqual([...new Set(slips.map(({ procedure }) => procedure))].sort());
    for (const [procedure, pins] of seen)
      pins.forEach((kinds, at) => {
        const expected = slips
          .filter((slip) => slip.procedure === procedure && endOf(slip) === at)
          .map(({ worst, critical }) => {
            const kind = { silent: "silent", "made good": "made-good" }[worst.outcome as string] ?? "held";
            return critical ? `${kind} critical` : kind;
          });
        expect([procedure, at, kinds]).toEqual([procedure, at, expected]);
      });
  });

  it("says how many there are, how many end in each stretch, and how many nobody notices", () => {
    const page = read("review/index.html"),
      { slips, changeovers } = data();
    const part = page.slice(page.indexOf("slip-ends"), page.indexOf("slip-legend"));
    expect(textOf(part)).toContain(`${slips.length} slips can be made`);
    expect(textOf(part)).toContain(`(${many(changeovers)})`);
    const counts = [...part.matchAll(/class="sieve-count">\s*<b>(\d+)<\/b>/g)].map(([, count]) => Number(count));
    expect(counts).toEqual([0, 1, 2, 3, 4].map((at) => slips.filter((slip) => endOf(slip) === at).length));
    expect(textOf(part)).toContain(`Nobody would notice ${counts[4]} of them`);
  });

  it("names what nobody notices, and each procedure's page counts the same", () => {
    const { slips, platform } = data();
    const byProcedure = Map.groupBy(slips, ({ procedure }) => procedure);
    for (const [procedure, own] of byProcedure) {
      const silent = own.filter(({ worst }) => worst.outcome === "silent").length;
      const page = textOf(read(`${platform}/procedures/${procedure}/index.html`));
      if (silent > 0)
        expect([procedure, page]).toEqual([procedure, expect.stringContaining(` of ${own.length} would`)]);
      else expect([procedure, page]).toEqual([procedure, expect.stringContaining("somebody notices every time")]);
    }
  });

  it("has as many safety-critical slips without a reason as `rerig check` finds, none on the demo", () => {
    const { findings } = JSON.parse(read("data/check.json")) as { findings: { rule: string; proposed?: true }[] };
    const found = findings.filter(({ rule, proposed }) => rule === "plan/silent-slip" && !proposed);
    expect(found).toEqual([]);
    expect(read("review/index.html")).not.toContain("without a reason");
  });

  it("shows what each line of a card sees, and the fewest that see as much as all", () => {
    const { cards, platform } = data();
    expect(cards.length).toBeGreaterThan(0);
    const review = textOf(read("review/index.html"));
    for (const { configuration, lines, slips, seen, sees, idle, enough } of cards) {
      expect(review).toContain(`sees ${many(seen)} of ${many(slips)}.`);
      expect(read(`${platform}/cards/${configuration}/index.html`)).not.toContain("card-proof");
      const page = read(`${platform}/configurations/${configuration}/review/index.html`);
      const part = page.slice(page.indexOf('class="card-proof'));
      const rows = part.slice(0, part.indexOf("slip-legend")).split("<li>").slice(1);
      expect(rows).toHaveLength(lines.length);
      const shown = rows.map((row) => ({
        line: textOf(/class="line-what">([^<]*)/.exec(row)![1]!).trim(),
        sees: Number(/slip-pin[^>]*><\/i>\s*([\d,]*)/.exec(row)![1]!.replace(",", "")),
        kept: row.includes("slip-pin held"),
      }));
      const inOrder = (list: { line: string; sees: number }[]) =>
        list.map(({ line, sees: count }) => `${line} ${count}`).sort();
      const numbers = rows.map((row) => Number(/class="line-n">(\d+)/.exec(row)![1]));
      expect(numbers).toEqual(lines.map((_, at) => at + 1));
      const wanted = lines.map((line, at) => ({ line, sees: sees[at]! }));
      expect(inOrder(shown)).toEqual(inOrder(wanted));
      expect(
        shown
          .filter(({ kept }) => kept)
          .map(({ line }) => line)
          .sort(),
      ).toEqual([...enough].sort());
      expect(shown.filter(({ sees: count }) => count === 0)).toHaveLength(idle.length);
    }
  });
});
