/**
 * The sequence of a changeover: the plan of the platform after each stage, all in one frame, with what came and what
 * went in that stage.
 */
import type { Contents } from "../domain/parts/arrangements.ts";
import type { Platform } from "../schema/collection.ts";
import { layoutPlan, type PlanBox } from "./drawing-plan.ts";

/** One drawing. */
interface FilmFrame {
  /** The largest first, as drawn; what stays above or below something else is left out of a drawing so small. */
  readonly boxes: readonly { readonly box: PlanBox; readonly isNew: boolean }[];
  /** What stood there before the stage and no longer does. */
  readonly gone: readonly PlanBox[];
}

/** All drawings of a changeover: millimetres along (x) and across (y). */
export interface Film {
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
  readonly frames: readonly FilmFrame[];
}

/**
 * A drawing after each stage. `contents`: what stands where at the start, then after each stage. `undefined` where
 * nothing can be drawn, because no place says where it is.
 */
export function layoutFilm(platform: Platform, contents: readonly (readonly Contents[])[]): Film | undefined {
  const plans = contents.flatMap((each) => layoutPlan(platform, { contents: each }) ?? []);
  const first = plans[0];
  if (!first || plans.length < contents.length) return undefined;
  const keyOf = ({ entry }: PlanBox) => `${entry.item} ${entry.place} ${entry.count}`;
  const frames = plans.slice(1).map(({ boxes }, at): FilmFrame => {
    const before = plans[at]!.boxes,
      known = new Set(before.map(keyOf)),
      there = new Set(boxes.map(keyOf));
    return {
      boxes: boxes
        .map((box) => ({ box, isNew: !known.has(keyOf(box)) }))
        .filter(({ box, isNew }) => isNew || !box.apart),
      gone: before.filter((box) => !there.has(keyOf(box))),
    };
  });
  return {
    fromMm: Math.min(...plans.map(({ fromMm }) => fromMm)),
    toMm: Math.max(...plans.map(({ toMm }) => toMm)),
    halfWidthMm: Math.max(...plans.map(({ halfWidthMm }) => halfWidthMm)),
    unit: first.unit,
    frames,
  };
}
