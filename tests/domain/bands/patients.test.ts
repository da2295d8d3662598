/** Groups of elementary bands by what applies to them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { elementaryBands, groupCells } from "../../../src/domain/bands/patients.ts";
import { anyone, grams, range } from "../../arbitraries/platform.ts";

describe("elementary bands in groups", () => {
  it("are each in the one group of their signature, in their order, and in none without one", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 9000 }), { maxLength: 8 }),
        fc.array(fc.constantFrom("a", "b", "c", undefined), { minLength: 9, maxLength: 9 }),
        (ends, signatures) => {
          const cells = elementaryBands(
            anyone,
            ends.map((end) => ({ ...anyone, weight: range(grams(end, true), undefined) })),
          );
          expect(cells).toHaveLength(ends.length + 1);
          const groups = groupCells(cells, (cell) => signatures[cells.indexOf(cell)]);
          const keys = [...new Set(cells.map((_, at) => signatures[at]).filter((key) => key !== undefined))];
          expect(groups).toEqual(keys.map((key) => ({ key, cells: cells.filter((_, at) => signatures[at] === key) })));
        },
      ),
    );
  });
});
