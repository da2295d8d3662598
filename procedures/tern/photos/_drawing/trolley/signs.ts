/** Signs that a check asks for: gauges with needles, lamps, plugs, screens with ticks, handles that point. */
import { add, arcPoints, type Point } from "../engine/points.ts";
import {
  box,
  extrude,
  join,
  lathe,
  name,
  patch,
  roundedFlat,
  strap,
  tube,
  type Flat,
  type Material,
  type Shape,
} from "../engine/shapes.ts";

/** Where a needle points, as seen: degrees from three o'clock, anticlockwise. Full lies in the green field. */
export const needles = { full: 20, sunk: 95, low: 165, zero: 220 } as const;

/** A flat point on a face that looks along x (`face` 1: to the foot end), at an angle as it is seen. */
const onFace = ([x, y, z]: Point, face: 1 | -1, out: number, radius: number, degrees: number): Point => {
  const t = (degrees * Math.PI) / 180;
  return [x + face * out, y - face * radius * Math.cos(t), z + radius * Math.sin(t)];
};

/** A piece of a ring on such a face. */
const field = (
  at: Point,
  face: 1 | -1,
  r0: number,
  r1: number,
  from: number,
  to: number,
  material: Material,
): Shape => {
  const steps = 14,
    angle = (i: number): number => from + ((to - from) * i) / steps;
  return patch(
    [
      ...Array.from({ length: steps + 1 }, (_, i) => onFace(at, face, 0.6, r1, angle(i))),
      ...Array.from({ length: steps + 1 }, (_, i) => onFace(at, face, 0.6, r0, angle(steps - i))),
    ],
    material,
  );
};

/** A gauge's dial: white, with its green and its red field and a needle. Its middle is `at`. */
export function gauge(at: Point, face: 1 | -1, radius: number, needle: number): Shape {
  const tip = (degrees: number, r: number): Point => onFace(at, face, 1.6, r, degrees);
  return name(
    "gauge",
    patch(arcPoints(at, radius, "x", 0, 360, 28).slice(1), "pad"),
    field(at, face, radius * 0.62, radius * 0.94, -40, 70, "greenOnWhite"),
    field(at, face, radius * 0.62, radius * 0.94, 185, 220, "redOnWhite"),
    patch(
      [
        tip(needle, radius * 0.86),
        tip(needle + 90, radius * 0.12),
        tip(needle + 180, radius * 0.3),
        tip(needle - 90, radius * 0.12),
      ],
      "dark",
    ),
    patch(arcPoints(add(at, [face * 2.2, 0, 0]), radius * 0.16, "x", 0, 360, 16).slice(1), "dark"),
  );
}

/** A lamp that looks along x. */
export const lampOn = (at: Point, face: 1 | -1, radius: number, colour: Material): Shape =>
  name(
    "sign-lamp",
    lathe(
      [
        [0, 0],
        [radius + 3, 0],
        [radius + 3, 3],
        [0, 3],
      ],
      at,
      [face, 0, 0],
      "dark",
      28,
    ),
    lathe(
      [
        [0, 3],
        [radius, 3],
        [radius * 0.7, radius * 0.7],
        [0, radius * 0.8],
      ],
      at,
      [face, 0, 0],
      colour,
      28,
    ),
  );

/** A socket with its lamp, and a plug with its cable, `away` from home by so many millimetres; along x. */
export function socketAndPlug(at: Point, face: 1 | -1, away: number, label: string): Shape {
  const out = (d: number): Point => add(at, [face * d, 0, 0]);
  const block = (from: number, to: number, half: number, material: Material, radius = 8): Shape => {
    const [a, b] = [at[0] + face * from, at[0] + face * to];
    return extrude(
      roundedFlat(at[1] - half, at[2] - half, 2 * half, 2 * half, radius),
      "x",
      Math.min(a, b),
      Math.max(a, b),
      material,
    );
  };
  return join(
    name(
      "socket",
      block(-10, 6, 34, "metal", 10),
      block(6, 7, 20, "hole"),
      lampOn(add(out(6), [0, face * -1 * 0, 50]), face, 11, away > 0 ? "hole" : "good"),
      box([Math.min(at[0] - face * 10, at[0] + face * 6), at[1] - 20, at[2] + 30], [16, 40, 40], "metal"),
    ),
    name(
      label,
      away > 0 ? block(4 + away - 22, 8 + away, 14, "metal", 4) : [],
      block(8 + away, 56 + away, 26, "dark", 10),
      tube(
        [out(56 + away), out(110 + away), add(out(170 + away), [0, 10, -40]), add(out(190 + away), [0, 20, -150])],
        9,
        "dark",
      ),
    ),
  );
}

/** A wall outlet with the oxygen hose in it, or its collar out of it by so many millimetres; along x. */
export function hoseOutlet(at: Point, away: number): Shape {
  const out = (d: number): Point => add(at, [d, 0, 0]);
  return join(
    name("wall", box([at[0] - 30, at[1] - 190, at[2] - 190], [20, 380, 380], "deck")),
    name(
      "outlet",
      extrude(roundedFlat(at[1] - 60, at[2] - 60, 120, 120, 16), "x", at[0] - 10, at[0] + 4, "body"),
      lathe(
        [
          [15, 0],
          [34, 0],
          [34, 26],
          [15, 26],
        ],
        at,
        [1, 0, 0],
        "metal",
        32,
      ),
      patch(arcPoints(out(5), 15, "x", 0, 360, 20).slice(1), "hole"),
    ),
    name(
      "oxygen-hose",
      away > 0
        ? lathe(
            [
              [0, 0],
              [12, 0],
              [12, 26],
              [0, 26],
            ],
            out(away + 2),
            [1, 0, 0],
            "metal",
            24,
          )
        : [],
      lathe(
        [
          [0, 26],
          [28, 26],
          [30, 34],
          [30, 74],
          [20, 88],
          [0, 88],
        ],
        out(away),
        [1, 0, 0],
        "body",
        32,
      ),
      lathe(
        [
          [30.6, 44],
          [30.6, 56],
        ],
        out(away),
        [1, 0, 0],
        "dark",
        32,
      ),
      tube(
        [out(away + 86), out(away + 150), add(out(away + 220), [0, 20, -60]), add(out(away + 240), [0, 30, -220])],
        15,
        "soft",
      ),
    ),
  );
}

/** A screen that looks to the foot end, with what is on it. `at` is its lower corner. */
const screenBlock = ([x, y, z]: Point, dy: number, dz: number): Shape =>
  join(
    extrude(roundedFlat(y, z, dy, dz, 18), "x", x - 60, x, "body"),
    patch(
      roundedFlat(y + 20, z + 20, dy - 40, dz - 40, 10).map(([a, b]): Point => [x + 0.8, a, b]),
      "screen",
    ),
  );
const line = (points: readonly Flat[], x: number, material: Material, width: number): Shape =>
  strap(
    points.map(([y, z]): Point => [x, y, z]),
    [1, 0, 0],
    1,
    material,
    width,
  );

/** The screen of a self-test: three marks, so many of them green ticks, the rest red crosses; seen left to right. */
export function selfTest(ticks: number, title = "device"): Shape {
  const x = 1.6;
  const mark = (i: number): Shape => {
    const y = 150 - i * 110,
      z = 110;
    return i < ticks
      ? line(
          [
            [y + 34, z + 2],
            [y + 10, z - 26],
            [y - 34, z + 34],
          ],
          x,
          "good",
          13,
        )
      : join(
          line(
            [
              [y + 30, z + 30],
              [y - 30, z - 30],
            ],
            x,
            "signal",
            13,
          ),
          line(
            [
              [y + 30, z - 30],
              [y - 30, z + 30],
            ],
            x,
            "signal",
            13,
          ),
        );
  };
  return name(title, screenBlock([0, -130, 20], 340, 190), name("marks", mark(0), mark(1), mark(2)));
}

/** The monitor's screen: three curves and four battery bars, so many of them full. */
export function monitorScreen(curves: number, bars: number): Shape {
  const x = 1.6;
  const curve = (i: number): Shape => {
    const z = 190 - i * 56,
      beat: Flat[] = [0, 1, 2].flatMap((k): Flat[] => [
        [190 - k * 84, z],
        [166 - k * 84, z],
        [156 - k * 84, z + (i === 2 ? 14 : 30)],
        [146 - k * 84, z - (i === 0 ? 14 : 2)],
        [136 - k * 84, z],
      ]);
    return line([...beat, [-60, z]], x, (["good", "blue", "yellow"] as const)[i]!, 6);
  };
  return name(
    "monitor",
    screenBlock([0, -150, 20], 380, 240),
    ...[0, 1, 2].slice(0, curves).map(curve),
    ...[0, 1, 2, 3].map((i) =>
      patch(
        roundedFlat(-122 + (3 - i) * 12, 60, 9, 26, 2).map(([a, b]): Point => [x, a, b]),
        i < bars ? "good" : "hole",
      ),
    ),
  );
}

/** A body turned round the axis on which a close look stands, from its profile of radii and depths. */
const turnedAtDial = (profile: readonly Flat[], material: Material, sides: number): Shape =>
  lathe(profile, [0, 0, 120], [1, 0, 0], material, sides);

/** A big dial on its own plate, for a close look. */
export const bigGauge = (needle: number): Shape =>
  name(
    "dial",
    turnedAtDial(
      [
        [0, -30],
        [108, -30],
        [112, -6],
        [112, 4],
        [102, 4],
      ],
      "body",
      48,
    ),
    gauge([2, 0, 120], 1, 102, needle),
  );
/** A valve's hand wheel from the front, its white pointer up (open) or across (shut). */
export const bigValve = (open: boolean): Shape =>
  name(
    "dial",
    turnedAtDial(
      [
        [0, -24],
        [96, -24],
        [108, -12],
        [108, 6],
        [0, 6],
      ],
      "dark",
      48,
    ),
    open ? box([6, -13, 40], [6, 26, 160], "pad") : box([6, -80, 107], [6, 160, 26], "pad"),
  );
/** A lamp in a plate, lit or dark, for a close look. */
export const bigLamp = (colour: Material): Shape =>
  name(
    "dial",
    extrude(roundedFlat(-110, 20, 220, 200, 20), "x", -20, 0, "body"),
    turnedAtDial(
      [
        [0, 0],
        [74, 0],
        [74, 8],
        [0, 8],
      ],
      "dark",
      40,
    ),
    turnedAtDial(
      [
        [0, 8],
        [62, 8],
        [50, 34],
        [0, 44],
      ],
      colour,
      40,
    ),
  );
/** What a close look at one of these takes in. */
export const bigFrame: readonly Point[] = [
  [0, -112, 8],
  [0, 112, 232],
];
