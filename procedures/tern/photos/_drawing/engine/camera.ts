/** Where the trolley is looked at from, and how its millimetres become points of the picture. */
import { dot, type Point } from "./points.ts";

/** A parallel view: no vanishing points, so equal parts stay equally large. */
export interface Camera {
  readonly right: Point;
  readonly up: Point;
  readonly towards: Point;
}

/** A view with its scale: picture points per millimetre and the picture's middle. */
export interface Frame {
  readonly camera: Camera;
  readonly scale: number;
  readonly middle: readonly [number, number];
}

/** The picture's size in its own points: 4:3. */
export const picture = { width: 1600, height: 1200 } as const;

/**
 * `around`: degrees from the right side (0) towards the foot end (90), the left side (180) or the head end (-90).
 * `above`: degrees above the deck.
 */
export function lookFrom(around: number, above: number): Camera {
  const a = (around * Math.PI) / 180,
    b = (above * Math.PI) / 180;
  return {
    right: [Math.cos(a), -Math.sin(a), 0],
    up: [-Math.sin(b) * Math.sin(a), -Math.sin(b) * Math.cos(a), Math.cos(b)],
    towards: [Math.cos(b) * Math.sin(a), Math.cos(b) * Math.cos(a), Math.sin(b)],
  };
}

/** The views that the drawings use; `words` go into the alt text. */
export const views = {
  "foot right": { camera: lookFrom(33, 30), words: "seen from the foot end, right" },
  "foot left": { camera: lookFrom(147, 30), words: "seen from the foot end, left" },
  "head right": { camera: lookFrom(-36, 30), words: "seen from the head end, right" },
  "head left": { camera: lookFrom(-147, 30), words: "seen from the head end, left" },
  right: { camera: lookFrom(22, 22), words: "seen from the right side" },
  "low right": { camera: lookFrom(28, 15), words: "seen low from the right side" },
  foot: { camera: lookFrom(62, 22), words: "seen from the foot end" },
  head: { camera: lookFrom(-60, 26), words: "seen from the head end" },
  above: { camera: lookFrom(0, 89.9), words: "seen from above, head end on the left" },
  steep: { camera: lookFrom(30, 50), words: "seen from above the foot end, right" },
} as const;
export type View = keyof typeof views;

/**
 * Fits points into the picture; `fill` is the part of the picture that it may take, `room` the part of its width from
 * the left that is free.
 */
export function fitFrame(camera: Camera, points: readonly Point[], fill: number, room = 1): Frame {
  let [u0, u1, v0, v1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const p of points) {
    const u = dot(p, camera.right),
      v = -dot(p, camera.up);
    [u0, u1, v0, v1] = [Math.min(u0, u), Math.max(u1, u), Math.min(v0, v), Math.max(v1, v)];
  }
  const size = Math.min(
    (picture.width * room * fill) / Math.max(1, u1 - u0),
    (picture.height * fill) / Math.max(1, v1 - v0),
  );
  return { camera, scale: size, middle: [(u0 + u1) / 2 + (picture.width * (1 - room)) / 2 / size, (v0 + v1) / 2] };
}

/** A point's place in the picture, and how near it is (larger is nearer). */
export function project(frame: Frame, p: Point): readonly [number, number, number] {
  return [
    picture.width / 2 + (dot(p, frame.camera.right) - frame.middle[0]) * frame.scale,
    picture.height / 2 + (-dot(p, frame.camera.up) - frame.middle[1]) * frame.scale,
    dot(p, frame.camera.towards),
  ];
}
