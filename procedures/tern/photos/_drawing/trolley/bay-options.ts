/**
 * What the lower bay takes instead of the response bag: the gas shelf with cylinders and dosing unit, and the cooling
 * unit with its mat.
 */
import { add, arcPoints, roundCorners, type Point } from "../engine/points.ts";
import {
  basin,
  box,
  extrude,
  join,
  lathe,
  limb,
  name,
  patch,
  rod,
  roundedFlat,
  slab,
  strap,
  tube,
  turn,
  type Flat,
  type Shape,
} from "../engine/shapes.ts";
import { tub } from "./capsule.ts";

/** The tray's floor and where its cylinders lie: along y, valves to the ventilator side. */
export const shelf = { x: 424, y: 66, length: 392, width: 428, bottom: 258, floor: 268, rim: 288 } as const;
export const gasLinesAt: readonly Point[] = [
  [478, 96, 330],
  [594, 96, 330],
];

/** The tray with two cradles, a raised plate with a groove on its foot side, and runners for the bay's channels. */
export function gasShelf(): Shape {
  const { x, y, length, width, bottom, floor, rim } = shelf;
  const tray = basin(
    roundedFlat(x, y, length, width, 18),
    roundedFlat(x + 8, y + 8, length - 16, width - 16, 12),
    bottom,
    floor,
    () => rim,
    "body",
    "metal",
  );
  const runner = (u: number): Shape => box([u - 17, y + 6, bottom - 16], [34, width - 12, 16], "dark");
  const saddle = ([u, , z]: Point, v: number): Shape =>
    extrude(
      [
        [u - 50, floor],
        [u + 50, floor],
        [u + 50, z - 10],
        ...arcPoints([u, 0, z], 51, "y", -10, -170, 12).map(([a, , c]): Flat => [a, c]),
        [u - 50, z - 10],
      ],
      "y",
      v - 13,
      v + 13,
      "metal",
    );
  const top = slab([660, y + 30, floor], [140, width - 60, 34], 8, "body"),
    groove = box([690, y + 50, floor + 34], [80, width - 100, 0.8], "hole");
  return name(
    "gas-shelf",
    tray,
    runner(470),
    runner(770),
    ...gasLinesAt.flatMap((at) => [saddle(at, 170), saddle(at, 370)]),
    top,
    name("groove", groove),
    name("stop", box([x + length - 4, y + 4, rim], [4, 40, 20], "dark")),
  );
}
/** An inhaled-gas cylinder along y, valve towards the ventilator side. */
export function inhaledGasCylinder(at: Point, open = false): Shape {
  const body = lathe(
      [
        [0, 0],
        [36, 0],
        [50, 14],
        [50, 270],
        [42, 304],
        [20, 326],
        [16, 330],
        [0, 330],
      ],
      at,
      [0, 1, 0],
      "body",
      36,
    ),
    ring = lathe(
      [
        [50.8, 226],
        [50.8, 262],
      ],
      at,
      [0, 1, 0],
      "metal",
      36,
    );
  const [x, y, z] = add(at, [0, 330, 0]);
  return name(
    "inhaled-gas-cylinder",
    body,
    ring,
    name(
      "valve",
      rod([x, y, z], [x, y + 34, z], 15, "metal"),
      rod([x, y + 18, z], [x + 32, y + 18, z], 8, "metal"),
      lathe(
        [
          [0, 0],
          [25, 0],
          [27, 3],
          [27, 12],
          [25, 15],
          [0, 15],
        ],
        [x, y + 34, z],
        [0, 1, 0],
        "dark",
        28,
      ),
      // The white pointer: up is open, across is shut.
      open ? box([x - 4, y + 49, z - 22], [8, 3, 44], "pad") : box([x - 22, y + 49, z - 4], [44, 3, 8], "pad"),
    ),
  );
}
/** A hoop over one cylinder, hinged on the tray at its head side, its lever on its foot side; 0 is shut, 80 lifted. */
function shelfClamp(index: 0 | 1, open: number): Shape {
  const [x, , z] = gasLinesAt[index]!,
    y = 286,
    low = shelf.floor + 14;
  const hoop = strap(
    roundCorners(
      [
        [x - 54, y, low],
        [x - 56, y, z + 20],
        [x - 30, y, z + 56],
        [x + 30, y, z + 56],
        [x + 56, y, z + 20],
        [x + 54, y, low + 10],
      ],
      34,
      6,
    ),
    [0, 1, 0],
    36,
    "metal",
    6,
  );
  const lever = turn(
    "y",
    open > 0 ? 42 : 0,
    [x + 60, y, low + 6],
    extrude(
      [
        [x + 57, low + 4],
        [x + 67, low + 4],
        [x + 67, low + 58],
        [x + 57, low + 58],
      ],
      "y",
      y - 14,
      y + 14,
      "grip",
    ),
  );
  return name(
    "shelf-clamp",
    turn(
      "y",
      -open,
      [x - 54, y, low],
      join(hoop, box([x - 24, y - 20, z + 51], [48, 40, 7], "dark"), open > 0 ? lever : []),
    ),
    rod([x - 54, y - 24, low], [x - 54, y + 24, low], 8, "metal"),
    open > 0 ? [] : lever,
  );
}
export const shelfClamps = (open: number): Shape => join(shelfClamp(0, open), shelfClamp(1, open));
/** The dosing unit on the shelf's raised plate, screen to the ventilator side. */
export function dosingUnit(): Shape {
  const x = 654,
    y = 110,
    z = 306,
    w = 152,
    d = 300,
    h = 130;
  const screen = (u: number, v: number, du: number, dv: number, m: "screen" | "metal" | "dark"): Shape =>
    patch(
      roundedFlat(x + u, z + v, du, dv, 6).map(([a, b]): Point => [a, y + d + 0.8, b]),
      m,
    );
  return name(
    "dosing-unit",
    extrude(roundedFlat(x, z, w, h, 14), "y", y, y + d, "body"),
    screen(16, 58, 84, 54, "screen"),
    lathe(
      [
        [0, 0],
        [17, 0],
        [14, 14],
        [0, 14],
      ],
      [x + 128, y + d, z + 88],
      [0, 1, 0],
      "dark",
      24,
    ),
    screen(112, 44, 30, 14, "metal"),
    ...[0, 1].map((i) =>
      lathe(
        [
          [8, 0],
          [15, 0],
          [15, 14],
          [8, 14],
        ],
        [x + 32 + i * 46, y + d, z + 28],
        [0, 1, 0],
        "metal",
        24,
      ),
    ),
    box([692, y + 20, 302], [76, d - 40, 6], "dark"),
  );
}
/** The dosing clamp in front of the dosing unit; 0 lies flat, 75 is lifted. */
export function dosingClamp(open: number): Shape {
  const at: Point = [784, 466, 300];
  return name(
    "dosing-clamp",
    box([700, 456, 286], [100, 20, 24], "metal"),
    rod([784, 452, 302], [784, 484, 302], 10, "metal"),
    turn("y", open, at, join(limb([784, 480, 304], [676, 480, 304], 9, "grip", 8))),
  );
}
/** The lines from the two valves to the dosing unit's sockets; `off` pulls their collars away (mm). */
export function gasLines(off = 0): Shape {
  return join(
    ...[0, 1].map((i) => {
      const [x, , z] = gasLinesAt[i]!,
        from: Point = [x + 34, 444, z],
        to: Point = [686 + i * 46, 412 + off, 334];
      const path = roundCorners(
        [
          from,
          add(from, [26, 10, 0]),
          [from[0] + 30, 470 + off * 0.4 + i * 14, z - 6 + i * 10],
          [to[0], 478 + off * 0.5 + i * 14, 334],
          add(to, [0, 30, 0]),
        ],
        22,
        6,
      );
      return name(
        "gas-line",
        tube(path, 7, "dark"),
        lathe(
          [
            [0, 0],
            [15, 0],
            [15, 24],
            [8, 30],
            [0, 30],
          ],
          to,
          [0, 1, 0],
          "body",
          24,
        ),
        rod(add(from, [-6, 0, 0]), add(from, [12, 0, 0]), 12, "body", 24),
      );
    }),
  );
}

/** The cooling unit in the bay: water window to the ventilator side, two sockets on top at its head side. */
export const coolingSockets: readonly Point[] = [
  [476, 410, 512],
  [476, 320, 512],
];
export function coolingUnit({ bluePort = false }: { readonly bluePort?: boolean } = {}): Shape {
  const x = 428,
    y = 74,
    z = 258,
    w = 384,
    d = 412,
    h = 250;
  const front = y + d;
  const window = (
    u: number,
    v: number,
    du: number,
    dv: number,
    r: number,
    m: "screen" | "soft" | "metal" | "dark",
  ): Shape =>
    patch(
      roundedFlat(x + u, z + v, du, dv, r).map(([a, b]): Point => [a, front + 0.8, b]),
      m,
    );
  const handle = (u: number): Shape =>
    tube(
      roundCorners(
        [
          [u, front - 4, z + 50],
          [u, front + 40, z + 50],
          [u, front + 40, z + 170],
          [u, front - 4, z + 170],
        ],
        22,
      ),
      9,
      "dark",
    );
  return name(
    "cooling-unit",
    slab([x, y, z], [w, d, h], 26, "body"),
    box([453, y + 6, z - 14], [34, d - 12, 14], "dark"),
    box([753, y + 6, z - 14], [34, d - 12, 14], "dark"),
    name(
      "water-window",
      window(86, 50, 66, 150, 14, "screen"),
      name(
        "water",
        patch(
          [
            [x + 92, front + 1.4, z + 60],
            [x + 146, front + 1.4, z + 60],
            [x + 146, front + 1.4, z + 150],
            [x + 92, front + 1.4, z + 150],
          ],
          "soft",
        ),
      ),
    ),
    window(190, 132, 120, 66, 8, "screen"),
    ...[0, 1, 2].map((i) => window(192 + i * 42, 84, 32, 24, 6, "metal")),
    handle(x + 36),
    handle(x + w - 36),
    ...coolingSockets.map((p, i) =>
      name(
        "socket",
        lathe(
          [
            [8, -6],
            [20, -6],
            [20, 12],
            [8, 12],
          ],
          p,
          [0, 0, 1],
          i === 0 ? (bluePort ? "blue" : "dark") : "soft",
          28,
        ),
        patch(arcPoints(add(p, [0, 0, 4]), 9, "z", 0, 360, 18).slice(1), "hole"),
      ),
    ),
  );
}
/** Where the hoses of the mat are; crossed: each on the other's socket. */
type MatHoses = "loose" | "on" | "crossed" | "up";

/** The mat on the capsule's pad, raised by so many millimetres, its hoses leaving to the head end. */
export function coolingMat(lift = 0, hoses: MatHoses | "none" = "loose"): Shape {
  const z = tub.floor + 58 + lift,
    x = 606,
    y = 150;
  const mat = slab([x, y, z], [540, 260, 14], 30, "body"),
    cells = Array.from({ length: 6 }, (_, i) => slab([x + 24 + i * 84, y + 20, z + 14], [70, 220, 3], 26, "metal"));
  return name("cooling-mat", mat, ...cells, hoses === "none" ? [] : matHoses(z + 8, hoses));
}
function matHoses(z: number, state: MatHoses): Shape {
  const isOn = state === "on" || state === "crossed",
    socketOf = (hose: number) => (state === "crossed" ? hose : 1 - hose);
  return join(
    ...[0, 1].map((i) => {
      const y = 306 + i * 40,
        start: Point = [612, y, z];
      const rest: Point[] =
        state === "up"
          ? [
              [520, y, z + 20],
              [470, y + 10, z + 80],
              [470, y + 12, z + 190],
            ]
          : isOn
            ? [
                [500, y, 984],
                [420, y + 10, 986],
                [300, 600 + i * 26, 900],
                [300, 640, 700],
                [380, 620, 620],
                [476, [410, 320][socketOf(i)]!, 640],
                add(coolingSockets[socketOf(i)]!, [0, 0, 54]),
              ]
            : [
                [500, y, Math.max(z, 984)],
                [410, y + 6, Math.max(z - 10, 960)],
                [340, y + 30, 900],
                [300, y + 60, 872],
              ];
      const path = roundCorners([start, ...rest], 60, 8),
        end = path.at(-1)!;
      const down: Point = isOn ? [0, 0, -1] : state === "up" ? [0, 0, 1] : [-0.8, 0.5, -0.2];
      return name(
        "cooling-hose",
        tube(path, 10, i === 0 ? "pad" : "blue", 14),
        lathe(
          [
            [0, -8],
            [14, -8],
            [16, 0],
            [16, 34],
            [10, 46],
            [0, 46],
          ],
          end,
          down,
          i === 0 ? "pad" : "blue",
          24,
        ),
      );
    }),
  );
}
/** A folded cloth. */
export const cloth = (at: Point): Shape =>
  name(
    "cloth",
    slab(at, [150, 110, 8], 12, "soft"),
    slab(add(at, [6, 4, 8]), [136, 98, 7], 12, "body"),
    slab(add(at, [10, 10, 15]), [120, 84, 5], 12, "soft"),
  );
