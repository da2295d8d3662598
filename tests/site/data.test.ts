/** The files of `data/` in the built demo fit the JSON Schemas beside them, and say what the engine says. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";

const site = process.env["RERIG_SITE"];
const read = (file: string): unknown => JSON.parse(readFileSync(join(site!, "data", file), "utf8"));

describe.skipIf(!site)("the data of the built demo", () => {
  it.each(["check", "bands", "changeovers", "loads"])("%s.json fits its schema", (name) => {
    const ajv = new Ajv2020();
    const valid = ajv.validate(read(`${name}.schema.json`) as object, read(`${name}.json`));
    expect(ajv.errors ?? []).toEqual([]);
    expect(valid).toBe(true);
  });
  it("refuses what is not of that shape, so that the schema says something", () => {
    const ajv = new Ajv2020();
    const bands = read("bands.json") as { configurations: { revision: unknown }[] }[];
    bands[0]!.configurations[0]!.revision = "two";
    expect(ajv.validate(read("bands.schema.json") as object, bands)).toBe(false);
  });
  it(
    "has a changeover for every ordered pair of configurations, and loads at both ends of every arrangement's " +
      "band",
    () => {
      const bands = read("bands.json") as { configurations: unknown[] }[];
      const count = bands[0]!.configurations.length;
      const pairs = new Set(
        (read("changeovers.json") as { changeover: { from: string; to: string } }[]).map(
          ({ changeover }) => `${changeover.from} ${changeover.to}`,
        ),
      );
      expect(pairs.size).toBe(count * (count - 1));
      const loads = read("loads.json") as { arrangement: string; load: { mass: { kg: number }; within: boolean } }[];
      expect(loads.every(({ load }) => load.within)).toBe(true);
      expect(loads.length % 2).toBe(0);
    },
  );
  it("counts procedures and steps as the page of all procedures does: a step that others include is one", () => {
    const { read: counted } = read("check.json") as { read: { procedures: number; steps: number } };
    const page = readFileSync(join(site!, "tern/procedures/index.html"), "utf8");
    expect(page).toContain(`${counted.procedures} procedures with ${counted.steps} steps`);
  });
  it("adds up where everything stands: moment is mass times arm, and the balance point their sums' quotient", () => {
    // FAA-H-8083-1B, chapter 2: moment = weight x arm; CG = total moment / total weight.
    const bands = read("bands.json") as { configurations: { configuration: string }[] }[];
    for (const { configuration: id } of bands[0]!.configurations) {
      const page = readFileSync(join(site!, `tern/configurations/${id}/index.html`), "utf8");
      const table = /<table class="parts fitted numbered">(.*?)<\/table>/s.exec(page)![1]!;
      const rows = table.split("<tr").flatMap((row) => {
        const cells = [...row.matchAll(/<td class="n(?: moment| acts-at)?"[^>]*>(.*?)<\/td>/gs)].map(
          ([, cell]) => cell!,
        );
        const numbers = cells.slice(1).map((cell) => Number.parseFloat(cell));
        return numbers.length === 3 && !Number.isNaN(numbers[0]) ? [numbers as [number, number, number]] : [];
      });
      const [total, ...items] = rows.reverse();
      expect(items.length).toBeGreaterThan(10);
      for (const [kg, mm, kgm] of items) if (!Number.isNaN(mm)) expect(kgm).toBeCloseTo((kg * mm) / 1000, 1);
      const [kg, mm, kgm] = total!;
      expect(kg).toBeCloseTo(
        items.reduce((sum, [each]) => sum + each, 0),
        1,
      );
      expect(kgm).toBeCloseTo(
        items.reduce((sum, [, , each]) => sum + (Number.isNaN(each) ? 0 : each), 0),
        1,
      );
      expect(mm).toBeCloseTo((kgm / kg) * 1000, 0);
    }
  });
});
