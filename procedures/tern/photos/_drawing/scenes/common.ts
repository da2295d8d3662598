/** What many scenes share: arrows, dashed ways, frames round a spot, and the deck without the trolley below it. */
import { add, arcPoints, type Point } from "../engine/points.ts";
import type { Arrow } from "../engine/arrows.ts";
import type { Scene } from "../engine/scene.ts";
import { join, type Shape } from "../engine/shapes.ts";
import { deckLever, deckLeverPivot } from "../trolley/deck-fastenings.ts";
import { deckBoard } from "../trolley/frame.ts";
import { trolley, type TrolleyState } from "../trolley/trolley.ts";

/** A scene whose date comes from its procedure. */
export type Shot = Omit<Scene, "taken">;
/** Gives a procedure's scenes their date. */
export const taken = (date: string, shots: readonly Shot[]): Scene[] => shots.map((shot) => ({ ...shot, taken: date }));

/** The eight corners of a box, as a frame. */
export const around = (from: Point, to: Point): Point[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? to[0] : from[0], i & 2 ? to[1] : from[1], i & 4 ? to[2] : from[2]]);
/** A frame round a spot, so many millimetres each way. */
export const near = (at: Point, reach: number): Point[] =>
  around(add(at, [-reach, -reach, -reach]), add(at, [reach, reach, reach]));

/** A straight arrow that ends at a point, coming from so far away. */
export const arrowTo = (at: Point, way: Point): Arrow => ({ path: [add(at, way), at] });
/** A straight arrow that starts at a point. */
export const arrowFrom = (at: Point, way: Point): Arrow => ({ path: [at, add(at, way)] });
/** An arrow on an arc. */
export const arrowRound = (
  centre: Point,
  radius: number,
  axis: "x" | "y" | "z",
  from: number,
  to: number,
  thin = false,
): Arrow => ({ path: arcPoints(centre, radius, axis, from, to, 28), thin });

/** Dashed lines from points straight along a way. */
export const ways = (points: readonly Point[], way: Point): Point[][] => points.map((p) => [p, add(p, way)]);

/** The deck with everything on it, but without the frame below. */
export const deckOnly = (state: TrolleyState = {}): Shape => trolley({ legs: false, ...state });

/** The deck lever's outline at so many degrees, to be drawn dashed. */
export function leverOutline(degrees: number): Point[] {
  const at = add(deckLeverPivot, [0, 22, 0]),
    t = (degrees * Math.PI) / 180,
    along: Point = [Math.cos(t), 0, Math.sin(t)],
    side: Point = [-Math.sin(t), 0, Math.cos(t)];
  const place = (u: number, v: number): Point => [
    at[0] + along[0] * u + side[0] * v,
    at[1],
    at[2] + along[2] * u + side[2] * v,
  ];
  const knob = Array.from({ length: 19 }, (_, i): Point => {
    const k = ((-158 + i * 17.5) * Math.PI) / 180;
    return place(210 + 30 * Math.cos(k), 30 * Math.sin(k));
  });
  return [place(34, -10), ...knob, place(34, 10)];
}

/** A close view of the deck lever, going from one angle to another; what stands on the deck is `on`. */
export function leverShot(
  shot: Pick<Shot, "id" | "alt" | "shows"> & {
    on?: Shape;
    from: number;
    to: number;
    wide?: boolean;
    state?: TrolleyState;
  },
): Shot {
  const { id, alt, shows, on = [], from, to, wide = false, state = {} } = shot,
    pivot = add(deckLeverPivot, [0, 22, 0]);
  const knob = arcPoints(add(pivot, [0, 20, 0]), 210, "y", to, to, 1)[0]!,
    inSight = to < 175;
  return {
    id,
    alt,
    shows,
    from: wide ? "foot right" : "right",
    hero: ["deck-lever"],
    state: join(wide ? trolley({ lever: to, ...state }) : deckOnly({ lever: to, ...state }), on),
    frame: wide ? around([860, 300, 600], [1660, 600, 1130]) : around([1130, 540, 740], [1520, 600, 1050]),
    fill: wide ? 0.9 : 0.84,
    ...(inSight
      ? {}
      : {
          twins: {
            right: { state: join(deckBoard(1080, 1600), deckLever(180)), words: "lever flat, no red" },
            wrong: { state: join(deckBoard(1080, 1600), deckLever(152)), words: "lever not flat, red band in sight" },
            frame: around([1120, 560, 770], [1420, 620, 900]),
            from: [22, 22] as const,
          },
        }),
    dashes: [leverOutline(from)],
    arrow: arrowRound(pivot, wide ? 150 : 132, "y", from + (to - from) * 0.14, to - (to - from) * 0.1),
    marks: [
      { at: add(knob, [0, 12, 0]), label: "Knob" },
      {
        at: inSight ? [pivot[0] + 30, 588, pivot[2] + 20] : [pivot[0], 608, pivot[2]],
        label: inSight ? "Red band" : "Hub, red band hidden",
      },
    ],
  };
}
