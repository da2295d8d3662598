/** Elementary bands: the patients for whom nothing differs, so that one of them stands for all. */
import type { Band, Range } from "../../schema/collection.ts";
import { cutsOf, divide, type Patient, valueIn } from "./bands.ts";

/** A band in which every given band is either whole or absent, with a patient who stands for it. */
export interface Cell {
  readonly band: Band;
  readonly patient: Patient;
}

/** Divides `whole` at every end of the bands; lighter first, then younger. Neighbours are not joined. */
export function elementaryBands(whole: Band, bands: readonly Band[]): Cell[] {
  const weights = divide(whole.weight, cutsOf(unlike(bands.map(({ weight }) => weight))), "any weight");
  const ages = divide(whole.age, cutsOf(unlike(bands.map(({ age }) => age))), "any age");
  return weights.flatMap((weight) =>
    ages.map((age) => ({ band: { weight, age }, patient: { weight: valueIn(weight), age: valueIn(age) } })),
  );
}

/** The same ranges once each: many steps share one object. */
function unlike(ranges: readonly Range[]): Range[] {
  return [...new Set(ranges)];
}

/**
 * Elementary bands joined where `signature` is the same: first of each signature, with every cell that shares it.
 * Cells for which `signature` gives `undefined` are left out.
 */
export function groupCells(
  cells: readonly Cell[],
  signature: (cell: Cell) => string | undefined,
): { readonly key: string; readonly cells: readonly Cell[] }[] {
  const groups = new Map<string, Cell[]>();
  for (const cell of cells) {
    const key = signature(cell);
    if (key === undefined) continue;
    const group = groups.get(key);
    if (group) group.push(cell);
    else groups.set(key, [cell]);
  }
  return [...groups].map(([key, members]) => ({ key, cells: members }));
}
