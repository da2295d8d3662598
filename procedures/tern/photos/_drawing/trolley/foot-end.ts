/** The foot end: ventilator on its bracket, monitor on its arm, and what hangs on the foot rail. */
import { add, arcPoints, roundCorners, type Point } from "../engine/points.ts";
import {
  box,
  extrude,
  join,
  lathe,
  name,
  patch,
  rod,
  roundedFlat,
  slab,
  strap,
  tube,
  turn,
  type Shape,
} from "../engine/shapes.ts";
import { footHoop } from "./frame.ts";

/** The foot rail's middle line: the top tube of the foot hoop. */
export const footRail: Point = [1720, 280, 1190];

/** A device's face towards the foot: an upright panel with rounded corners. */
const panel = (
  x: number,
  y: number,
  z: number,
  dy: number,
  dz: number,
  radius: number,
  material: "screen" | "soft" | "dark" | "metal",
): Shape =>
  patch(
    roundedFlat(y, z, dy, dz, radius).map(([u, v]): Point => [x, u, v]),
    material,
  );
const dial = (x: number, y: number, z: number, r: number, angle: number): Shape =>
  join(
    lathe(
      [
        [0, 0],
        [r, 0],
        [r - 3, 16],
        [0, 16],
      ],
      [x, y, z],
      [1, 0, 0],
      "body",
      28,
    ),
    turn("x", angle, [x, y, z], box([x + 16, y - 2.5, z], [2, 5, r - 3], "dark")),
  );
const bodyBlock = (x: number, y: number, z: number, dx: number, dy: number, dz: number): Shape =>
  extrude(roundedFlat(y, z, dy, dz, 14), "x", x, x + dx, "body");

/** The ventilator on its bracket, its face to the foot end. */
export function ventilator(): Shape {
  const x = 1560,
    y = 330,
    z = 1012;
  return name(
    "ventilator",
    bodyBlock(x, y, z, 112, 180, 150),
    panel(x + 112.8, y + 18, z + 78, 90, 54, 8, "screen"),
    dial(x + 112, y + 45, z + 38, 22, 30),
    dial(x + 112, y + 105, z + 38, 22, -60),
    rod([x + 112, y + 150, z + 38], [x + 132, y + 150, z + 38], 13, "metal"),
    panel(x + 112.8, y + 122, z + 84, 40, 14, 5, "dark"),
    panel(x + 112.8, y + 122, z + 108, 40, 14, 5, "metal"),
    strap(
      roundCorners(
        [
          [x + 30, y + 40, z + 148],
          [x + 30, y + 40, z + 182],
          [x + 30, y + 140, z + 182],
          [x + 30, y + 140, z + 148],
        ],
        22,
      ),
      [1, 0, 0],
      22,
      "dark",
      8,
    ),
  );
}
/** The plate that carries the ventilator, with its flat clamp lever. */
export function ventilatorBracket(clamp = 0): Shape {
  return name(
    "vent-bracket",
    box([1548, 326, 996], [160, 188, 16], "metal"),
    tube(
      roundCorners(
        [
          [1720, 516, 1000],
          [1640, 516, 992],
          [1640, 480, 992],
        ],
        20,
      ),
      11,
      "metal",
    ),
    box([1706, 506, 980], [28, 38, 40], "metal"),
    name(
      "bracket-clamp",
      lathe(
        [
          [0, -8],
          [15, -8],
          [15, 12],
          [0, 12],
        ],
        [1716, 340, 984],
        [0, 0, 1],
        "metal",
        28,
      ),
      turn("z", -clamp, [1716, 340, 986], join(extrude(roundedFlat(1706, 340, 20, 118, 10), "z", 978, 992, "web"))),
    ),
  );
}
/** The monitor on its arm, screen to the foot end. */
export function monitor(): Shape {
  const x = 1600,
    y = 48,
    z = 1010;
  const wave = [
    [0, 0],
    [30, 0],
    [40, 26],
    [48, -14],
    [56, 0],
    [86, 0],
    [96, 26],
    [104, -14],
    [112, 0],
    [128, 0],
  ].map(([u, v]): Point => [x + 72, y + 26 + u!, z + 112 + v!]);
  return name(
    "monitor",
    bodyBlock(x, y, z, 70, 210, 166),
    panel(x + 70.8, y + 18, z + 46, 148, 102, 8, "screen"),
    name("trace", strap(wave, [1, 0, 0], 1, "body", 5)),
    ...[0, 1, 2, 3].map((i) => panel(x + 70.8, y + 178, z + 54 + i * 24, 18, 14, 4, "metal")),
    dial(x + 70, y + 36, z + 24, 11, 0),
    panel(x + 70.8, y + 70, z + 16, 90, 14, 5, "metal"),
  );
}
/** The arm that carries the monitor, with its push catch. */
export const monitorArm = (): Shape =>
  name(
    "monitor-arm",
    box([1604, 120, 992], [60, 70, 18], "metal"),
    tube(
      roundCorners(
        [
          [1720, 30, 1000],
          [1634, 44, 996],
          [1634, 150, 996],
        ],
        40,
      ),
      12,
      "metal",
    ),
    box([1706, 16, 980], [28, 36, 40], "metal"),
    name("monitor-catch", box([1664, 140, 994], [14, 30, 14], "dark")),
  );

/** The spring clip and the gas outlet on the foot hoop's post, ventilator side. */
export const outlet: Point = [1746, 530, 968];
export function hoseClip(on = false): Shape {
  const [x, y, z] = outlet;
  return name(
    "hose-clip",
    box([1700, 516, z - 34], [40, 34, 68], "metal"),
    lathe(
      [
        [10, 0],
        [20, 0],
        [20, 22],
        [10, 22],
      ],
      [x - 6, y, z],
      [1, 0, 0],
      "metal",
    ),
    patch(arcPoints([x + 8, y, z], 10, "x", 0, 360, 18).slice(1), "hole"),
    // The outlet's lever: along the hose is on, across it is off.
    name(
      "outlet-lever",
      lathe(
        [
          [0, 0],
          [13, 0],
          [13, 20],
          [0, 20],
        ],
        [x - 26, y, z + 34],
        [0, 0, 1],
        "metal",
        24,
      ),
      on ? box([x - 34, y - 8, z + 54], [76, 16, 9], "blue") : box([x - 34, y - 66, z + 54], [16, 76, 9], "blue"),
    ),
    name("spring-clip", strap(arcPoints([1720, 556, z + 74], 24, "z", 30, 330, 20), [0, 0, 1], 22, "metal", 5)),
  );
}

/** Where along the rail the clamp sits: beside whatever hangs in the middle. */
export const clampLine = 152;
/** The rail clamp round the foot rail: jaw and lever; 0 is closed and flat, 80 swung out towards the foot. */
export function railClamp(open: number): Shape {
  const [x, , z] = footRail,
    y = clampLine;
  const saddle = extrude(
    [
      [x - 26, z - 4],
      [x - 26, z + 22],
      [x + 26, z + 22],
      [x + 26, z - 4],
      [x + 15, z - 4],
      [x + 15, z + 3],
      [x + 9, z + 12],
      [x - 9, z + 12],
      [x - 15, z + 3],
      [x - 15, z - 4],
    ],
    "y",
    y - 30,
    y + 30,
    "metal",
  );
  const jaw = turn(
    "y",
    open > 0 ? 40 : 0,
    [x - 20, y, z - 4],
    extrude(
      [
        [x - 26, z - 4],
        [x - 26, z - 24],
        [x + 26, z - 24],
        [x + 26, z - 4],
        [x + 15, z - 4],
        [x + 10, z - 14],
        [x - 10, z - 14],
        [x - 15, z - 4],
      ],
      "y",
      y - 22,
      y + 22,
      "body",
    ),
  );
  const lever = turn(
    "y",
    -open,
    [x + 34, y, z + 18],
    extrude(
      [
        [x + 28, z + 26],
        [x + 40, z + 26],
        [x + 40, z - 74],
        [x + 34, z - 84],
        [x + 28, z - 74],
      ],
      "y",
      y - 13,
      y + 13,
      "grip",
    ),
  );
  return name(
    "rail-clamp",
    saddle,
    name("jaw", jaw),
    rod([x + 32, y - 32, z + 16], [x + 32, y + 32, z + 16], 9, "metal"),
    name("clamp-lever", lever),
  );
}

/**
 * The back strap. On the bare rail it goes round it; over the second ventilator it goes over that; `open` hangs its two
 * ends down.
 */
export function backStrap(state: "bare" | "bare open" | "over" | "over open"): Shape {
  const [x, , z] = footRail,
    y = state.startsWith("bare") ? 350 : 280,
    front = state.startsWith("bare") ? x + 19 : secondVentilatorFace + 5;
  const across: Point = [0, 1, 0];
  if (state === "bare")
    return name(
      "back-strap",
      strap(arcPoints([x, y, z], 18, "y", -80, 250, 24), across, 42, "web", 5),
      railBuckle([x + 20, y, z - 2], 0),
      name(
        "strap-end",
        strap(
          roundCorners(
            [
              [x + 24, y, z - 24],
              [x + 28, y, z - 60],
              [x + 24, y, z - 104],
            ],
            20,
          ),
          across,
          42,
          "web",
          5,
        ),
        keeper([x + 27, y, z - 66]),
      ),
    );
  if (state === "bare open")
    return name(
      "back-strap",
      strap(
        roundCorners(
          [
            [x + 60, y, z - 150],
            [x + 34, y, z - 60],
            [x + 18, y, z - 8],
            [x + 10, y, z + 16],
            [x - 10, y, z + 17],
            [x - 19, y, z],
            [x - 24, y, z - 60],
            [x - 44, y, z - 112],
          ],
          20,
        ),
        across,
        42,
        "web",
        5,
      ),
      railBuckle([x + 50, y, z - 110], 18, false),
      name("tongue", slab([x - 66, y - 24, z - 140], [40, 48, 10], 6, "metal")),
    );
  const top = secondVentilatorTop + 3;
  const back: Point[] = [
    [x - 18, y, z - 6],
    [x - 18, y, z + 20],
    [1664, y, z + 24],
    [1664, y, top],
    [1690, y, top],
  ];
  if (state === "over")
    return name(
      "back-strap",
      strap(
        roundCorners(
          [
            ...back,
            [front - 4, y, top],
            [front, y, top - 8],
            [front, y, z - 66],
            [x + 30, y, z - 76],
            [x + 14, y, z - 16],
            [x - 10, y, z - 18],
          ],
          18,
        ),
        across,
        42,
        "web",
        5,
      ),
      railBuckle([front + 2, y, z + 66], 0),
      name(
        "strap-end",
        strap(
          [
            [front + 5, y, z + 40],
            [front + 5, y, z - 50],
          ],
          across,
          42,
          "web",
          4,
        ),
        keeper([front + 7, y, z - 4]),
      ),
    );
  return name(
    "back-strap",
    strap(
      roundCorners([...back, [front + 30, y, top + 18], [front + 74, y, top - 40], [front + 84, y, top - 90]], 26),
      across,
      42,
      "web",
      5,
    ),
    railBuckle([front + 84, y, top - 92], 0, false),
    name(
      "tongue",
      strap(
        roundCorners(
          [
            [x + 14, y, z - 20],
            [front + 10, y, z - 82],
            [front + 50, y, z - 150],
          ],
          20,
        ),
        across,
        42,
        "web",
        5,
      ),
      extrude(roundedFlat(y - 24, z - 190, 48, 44, 6), "x", front + 44, front + 54, "metal"),
    ),
  );
}
/** A buckle that faces the foot. */
function railBuckle([x, y, z]: Point, tilt: number, tongue = true): Shape {
  return name(
    "strap-buckle",
    turn(
      "y",
      tilt,
      [x, y, z],
      join(
        extrude(roundedFlat(y - 32, z - 34, 64, 68, 10), "x", x, x + 18, "body"),
        extrude(roundedFlat(y - 18, z - 18, 36, 36, 5), "x", x + 18, x + 23, "dark"),
        tongue ? extrude(roundedFlat(y - 28, z - 54, 56, 22, 5), "x", x + 2, x + 13, "metal") : [],
      ),
    ),
  );
}
const keeper = ([x, y, z]: Point): Shape =>
  name("keeper", extrude(roundedFlat(y - 27, z - 9, 54, 18, 4), "x", x - 5, x + 4, "dark"));

/** Where the second ventilator's face and top are while it hangs on the rail. */
export const secondVentilatorFace = 1874,
  secondVentilatorTop = 1330;
/** The second ventilator on the foot rail: hook at its back, screen and battery bars on its face. */
export function secondVentilator(): Shape {
  const face = secondVentilatorFace,
    y = 195,
    z = 1190,
    x = 1750;
  const hook = extrude(
    [
      [1746, z + 110],
      [1746, z + 24],
      [1706, z + 24],
      [1696, z + 10],
      [1696, z - 8],
      [1704, z - 8],
      [1706, z + 4],
      [1712, z + 15],
      [1728, z + 15],
      [1734, z + 4],
      [1734, z - 16],
      [x, z - 16],
      [x, z + 110],
    ],
    "y",
    246,
    314,
    "metal",
  );
  return name(
    "second-ventilator",
    bodyBlock(x, y, z, face - x, 170, 140),
    name("hook", hook, rod([1752, y + 4, z + 6], [1752, 118, z + 6], 9, "metal")),
    secondVentilatorPanel(face, y, z),
    rod([1800, y + 170, z + 40], [1800, y + 190, z + 40], 13, "metal"),
    strap(
      roundCorners(
        [
          [1810, y + 40, z + 138],
          [1810, y + 40, z + 168],
          [1810, y + 130, z + 168],
          [1810, y + 130, z + 138],
        ],
        20,
      ),
      [1, 0, 0],
      20,
      "dark",
      7,
    ),
  );
}
/** Screen, dial, key and the four battery bars. */
export function secondVentilatorPanel(x: number, y: number, z: number, bars = 4): Shape {
  return join(
    panel(x + 0.8, y + 14, z + 62, 104, 66, 8, "screen"),
    dial(x, y + 40, z + 32, 19, 40),
    name(
      "battery-key",
      lathe(
        [
          [0, 0],
          [13, 0],
          [12, 6],
          [0, 6],
        ],
        [x, y + 144, z + 30],
        [1, 0, 0],
        "dark",
        24,
      ),
    ),
    ...[0, 1, 2, 3].map((i) =>
      name(
        "battery-bar",
        extrude(roundedFlat(y + 130, z + 56 + i * 18, 28, 12, 3), "x", x, x + 3, i < bars ? "good" : "hole"),
      ),
    ),
  );
}

/**
 * The second hose: coiled, from one end to another, with a collar at each; `off` leaves so much air (mm) between collar
 * and socket.
 */
export const secondHoseEnds: readonly Point[] = [
  [1748, 530, 968],
  [1800, 385, 1230],
];
export function secondHose(off = 0): Shape {
  const [a, b] = [add(secondHoseEnds[0]!, [8 + off, 0, off * 0.2]), add(secondHoseEnds[1]!, [0, -6 + off, 0])];
  const collar = (at: Point, axis: Point): Shape =>
    name(
      "collar",
      lathe(
        [
          [0, 0],
          [24, 0],
          [24, 26],
          [17, 32],
          [17, 46],
          [0, 46],
        ],
        at,
        axis,
        "body",
        28,
      ),
      lathe(
        [
          [24.6, 8],
          [24.6, 18],
        ],
        at,
        axis,
        "dark",
        28,
      ),
    );
  const way = roundCorners(
    [
      add(a, [44, 0, 0]),
      add(a, [150, 20, -20]),
      [1990, 640, 1090],
      [1880, 640, 1250],
      add(b, [0, 130, 10]),
      add(b, [0, 44, 0]),
    ],
    90,
    14,
  );
  return name("second-hose", tube(coil(way, 17, 22), 8, "soft", 12), collar(a, [1, 0, 0]), collar(b, [0, 1, 0]));
}
/** A coil along a path, straight at both ends. */
function coil(way: readonly Point[], radius: number, turns: number): Point[] {
  const out: Point[] = [],
    count = turns * 16;
  for (let i = 0; i <= count; i++) {
    const t = i / count,
      f = t * (way.length - 1),
      k = Math.min(way.length - 2, Math.floor(f)),
      part = f - k,
      p = way[k]!,
      q = way[k + 1]!,
      r = radius * Math.min(1, t * 8, (1 - t) * 8),
      angle = t * turns * 2 * Math.PI;
    out.push([
      p[0] + (q[0] - p[0]) * part + r * Math.cos(angle),
      p[1] + (q[1] - p[1]) * part + r * Math.cos(angle) * 0.3,
      p[2] + (q[2] - p[2]) * part + r * Math.sin(angle),
    ]);
  }
  return out;
}

/** The foot end as it always is: hoop, bracket, ventilator, arm, monitor, outlet. */
export const footEnd = (
  strapState: "bare" | "bare open" | "over" | "over open" | "none" = "bare",
  clamp = 0,
  outletOn = false,
): Shape =>
  join(
    footHoop(),
    ventilatorBracket(),
    ventilator(),
    monitorArm(),
    monitor(),
    hoseClip(outletOn),
    railClamp(clamp),
    strapState === "none" ? [] : backStrap(strapState),
  );
