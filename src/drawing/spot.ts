/** Where one place is on the platform: a point on the plan of an arrangement in which the place is there. */
import type { Arrangement } from "../domain/parts/arrangements.ts";
import { placeLocator } from "../domain/load/load-rows.ts";
import { toNumber } from "../domain/numbers/rational.ts";
import type { Platform } from "../schema/collection.ts";
import { layoutPlan, type Plan } from "./drawing-plan.ts";

/** A point on a plan: millimetres along (x) and across (y). */
interface Spot {
  readonly plan: Plan;
  readonly arrangement: Arrangement;
  readonly xMm: number;
  readonly yMm: number;
}

/**
 * The spot of a place in the first of the arrangements that has it on the platform; `undefined` for what stands in a
 * room, and where no place says how far along it is.
 */
export function spotOf(platform: Platform, arrangements: readonly Arrangement[], place: string): Spot | undefined {
  for (const arrangement of arrangements) {
    const at = placeLocator(platform, arrangement.contents)(place),
      plan = at?.xMm && layoutPlan(platform, arrangement);
    if (plan) return { plan, arrangement, xMm: toNumber(at.xMm), yMm: at.yMm === undefined ? 0 : toNumber(at.yMm) };
  }
  return undefined;
}
