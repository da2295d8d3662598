/** The table of bands of a platform by weight alone: its rows, and the weights that a usual slip makes dangerous. */
import type { Platform, Range } from "../../schema/collection.ts";
import { type Danger, findDangers } from "../bands/slips.ts";
import { remember } from "../words/remember.ts";
import { inUse } from "./lookup.ts";

/** The weights of each configuration in force, in the collection's order; empty where there is none. */
export function weightRows(platform: Platform): { readonly id: string; readonly weight: Range }[] {
  return inUse(platform).map(({ id, band: { weight } }) => ({ id, weight }));
}

/** The dangerous weights of a platform's table (`findDangers`), for the page of bands and the worth of questions. */
export const dangerWeights: (platform: Platform) => readonly Danger[] = remember((platform: Platform) =>
  findDangers(weightRows(platform)),
);
