/** The plan of an arrangement as practice in the browser draws it, with one thing left out. */
import type { Arrangement } from "../../domain/parts/arrangements.ts";
import type { Platform } from "../../schema/collection.ts";
import { lookup } from "../../domain/parts/lookup.ts";
import { layoutPlan } from "../../drawing/drawing-plan.ts";

/** Whole millimetres along (x) and across (y) the platform. */
export interface SentPlan {
  readonly from: number;
  readonly to: number;
  readonly halfWidth: number;
  readonly unit: number;
  /** Outlines, the largest first. */
  readonly boxes: readonly (readonly [item: string, x: number, y: number, width: number, height: number])[];
  /** Where a place is, whatever stands there. */
  readonly crosses: readonly (readonly [x: number, y: number])[];
  /** What a number stands for, and the centre of its circle. */
  readonly numbers: readonly (readonly [item: string, told: string, x: number, y: number])[];
}

/** The plan of an arrangement; `undefined` if nothing says where anything is. */
export function planToSend(platform: Platform, arrangement: Arrangement): SentPlan | undefined {
  const plan = layoutPlan(platform, arrangement);
  if (!plan) return undefined;
  const { items } = lookup(platform);
  const whole = Math.round;
  return {
    from: whole(plan.fromMm),
    to: whole(plan.toMm),
    halfWidth: whole(plan.halfWidthMm),
    unit: Number(plan.unit.toFixed(3)),
    boxes: plan.boxes.map(({ entry, x, y, width, height }) => [
      entry.item,
      whole(x),
      whole(y),
      whole(width),
      whole(height),
    ]),
    crosses: plan.crosses.map(({ x, y }) => [whole(x), whole(y)]),
    numbers: plan.largeNumbers.map(({ number, x, y }) => {
      const { item, count } = plan.entries.find((entry) => entry.number === number)!;
      const name = items.get(item)?.name ?? item;
      return [item, count > 1 ? `${count} × ${name}` : name, whole(x), whole(y)];
    }),
  };
}
