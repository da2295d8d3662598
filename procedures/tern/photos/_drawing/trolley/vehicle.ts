/** What the trolley meets outside: the vehicle's winch, floor lock and lead, the kit room wall, and papers. */
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
import { inhaledGasCylinder } from "./bay-options.ts";

/** The ring on the lower frame's head end, and the winch hook's tip when it is home. */
export const winchRing: Point = [112, 280, 214];
export function winchRingPart(): Shape {
  const [x, y, z] = winchRing;
  return name(
    "winch-ring",
    box([128, y - 26, z - 22], [14, 52, 44], "metal"),
    tube(
      roundCorners(
        [
          [130, y - 20, z],
          [x - 22, y - 20, z],
          [x - 22, y + 20, z],
          [130, y + 20, z],
        ],
        18,
      ),
      7,
      "metal",
    ),
  );
}
/** The winch strap with its snap hook, `away` from home by so many millimetres. */
export function winchHook(away: number): Shape {
  const [x, y, z] = winchRing,
    at: Point = [x - 10 - away, y, z];
  const bow = tube([...arcPoints(at, 22, "y", -120, 150, 18), add(at, [-56, 0, 12])], 7, "metal");
  const tongue = tube([add(at, [-46, 0, -16]), add(at, [-12, 0, -20])], 5, "body");
  return name(
    "winch-hook",
    bow,
    name("hook-tongue", tongue),
    rod(add(at, [-50, 0, 2]), add(at, [-84, 0, 2]), 15, "body"),
    tube([add(at, [-54, 0, -16]), add(at, [-54, 0, 16])], 8, "metal"),
    strap([add(at, [-82, 0, 2]), add(at, [-240, 0, -30]), add(at, [-620, 0, -110])], [0, 1, 0], 50, "web", 6),
  );
}
/** The vehicle floor with two rails for the wheels and the lock block between them. */
export function floorLock(home: boolean): Shape {
  const floor = box([0, -160, -24], [1900, 900, 24], "deck"),
    rail = (y: number): Shape =>
      extrude(
        [
          [y - 46, 0],
          [y + 46, 0],
          [y + 46, 26],
          [y + 36, 26],
          [y + 36, 8],
          [y - 36, 8],
          [y - 36, 26],
          [y - 46, 26],
        ],
        "x",
        120,
        1840,
        "metal",
      );
  const block = name(
    "lock-block",
    box([740, 446, 0], [260, 96, 150], "body"),
    box([720, 436, 0], [300, 116, 20], "metal"),
  );
  const bolt = (x: number): Shape =>
    name(
      "lock-bolt",
      rod([x, 490, 150], [x, 490, home ? 206 : 168], 15, "dark"),
      lathe(
        [
          [0, 0],
          [24, 0],
          [24, 12],
          [0, 12],
        ],
        [x, 490, 146],
        [0, 0, 1],
        "metal",
        28,
      ),
    );
  const dot = (x: number): Shape =>
    name(
      "lock-dot",
      lathe(
        [
          [0, 0],
          [11, 0],
          [9, 5],
          [0, 5],
        ],
        [x, 542, 96],
        [0, 1, 0],
        home ? "good" : "hole",
        24,
      ),
    );
  const plate = name("lock-plate", box([760, 468, 186], [220, 44, 18], "metal"));
  return join(name("floor", floor, rail(70), rail(490)), block, bolt(800), bolt(940), dot(830), dot(910), plate);
}
/** The vehicle's lead with its plug, `away` from the inlet by so many millimetres. */
export function vehicleLead(away: number): Shape {
  const at: Point = [-16 - away, 456, 804];
  return name(
    "vehicle-lead",
    box([at[0] - 22, 438, 790], [20, 36, 28], "metal"),
    extrude(roundedFlat(432, 784, 48, 40, 10), "x", at[0] - 62, at[0] - 22, "dark"),
    tube(
      roundCorners(
        [add(at, [-60, 0, 0]), add(at, [-130, 0, -6]), add(at, [-200, 10, -110]), add(at, [-210, 20, -300])],
        80,
        8,
      ),
      10,
      "dark",
    ),
  );
}
/**
 * The kit room wall from the front: two pegs for the base, a hook with straps, a hook with the harness, the gas store
 * behind its chain.
 */
export function kitRoomWall(): Shape {
  const wall = box([0, -30, 0], [1900, 30, 1500], "deck");
  const peg = (x: number, z: number): Shape => rod([x, 0, z], [x, 70, z + 6], 11, "dark");
  const outline = [
    [180, 900],
    [900, 900],
    [900, 1260],
    [180, 1260],
  ].map(([x, z]): Point => [x!, 1.5, z!]);
  const hook = (x: number): Shape =>
    join(
      box([x - 30, 0, 1180], [60, 10, 90], "metal"),
      tube(
        roundCorners(
          [
            [x, 8, 1220],
            [x, 90, 1210],
            [x, 90, 1256],
          ],
          20,
        ),
        9,
        "dark",
      ),
    );
  const hung = (x: number, i: number): Shape =>
    strap(
      [
        [x - 18 + i * 12, 40 + i * 12, 1220],
        [x - 18 + i * 12, 44 + i * 12, 900 - i * 6],
      ],
      [1, 0, 0],
      40,
      "web",
      6,
    );
  const straps = name(
    "cradle-strap",
    ...[0, 1, 2, 3].map((i) =>
      join(hung(1080, i), box([1080 - 18 + i * 12 - 30, 36 + i * 12, 1010 - i * 6], [60, 18, 62], "body")),
    ),
  );
  const yoke = name(
    "cradle-yoke",
    ...[-16, 16].map((d) =>
      strap(
        [
          [1230 + d * 0.6, 46, 1220],
          [1230 + d, 52, 1040],
        ],
        [1, 0, 0],
        34,
        "web",
        6,
      ),
    ),
    extrude(roundedFlat(1192, 962, 76, 80, 36), "y", 50, 72, "body"),
    extrude(roundedFlat(1204, 990, 24, 34, 4), "y", 72, 75, "pad"),
    strap(
      [
        [1230, 54, 968],
        [1230, 54, 800],
      ],
      [1, 0, 0],
      34,
      "web",
      6,
    ),
  );
  const harness = name(
    "deck-harness",
    ...[-54, -18, 18, 54].map((d, i) =>
      join(
        strap(
          roundCorners(
            [
              [1380 + d * 0.3, 46, 1220],
              [1380 + d, 52 + i * 6, 1120],
              [1380 + d * 1.3, 56 + i * 6, 860 - (i % 2) * 30],
            ],
            60,
          ),
          [1, 0, 0],
          34,
          "web",
          6,
        ),
        tube(arcPoints([1380 + d * 1.3, 56 + i * 6, 826 - (i % 2) * 30], 22, "y", 0, 350, 18), 5, "metal"),
      ),
    ),
    extrude(roundedFlat(1336, 1010, 88, 92, 24), "y", 70, 96, "body"),
    extrude(roundedFlat(1358, 1034, 44, 30, 8), "y", 96, 101, "dark"),
  );
  const rack = name("gas-store", box([1540, 0, 0], [330, 20, 760], "metal"), box([1540, 0, 0], [330, 170, 30], "body"));
  const cylinders = join(...[1622, 1786].map((x) => turn("x", 90, [x, 90, 30], inhaledGasCylinder([x, 90, 30]))));
  const chain = name(
    "chain",
    tube(
      roundCorners(
        [
          [1546, 24, 330],
          [1600, 150, 312],
          [1704, 156, 296],
          [1810, 150, 312],
          [1864, 24, 330],
        ],
        60,
      ),
      7,
      "dark",
    ),
  );
  return join(
    name("wall", wall),
    peg(330, 1180),
    peg(760, 1180),
    name("base-outline", ...outline.map((a, i) => strap([a, outline[(i + 1) % 4]!], [0, 1, 0], 1, "hole", 6))),
    hook(1080),
    hook(1230),
    hook(1380),
    straps,
    yoke,
    harness,
    rack,
    cylinders,
    chain,
  );
}
/** A paper list on a board, with lines and ticks. */
export function listBoard(at: Point): Shape {
  const [x, y, z] = at;
  const lines = Array.from({ length: 9 }, (_, i) =>
    join(
      box([x + 74, y + 40 + i * 30, z + 9], [120 + ((i * 37) % 50), 5, 0.6], "hole"),
      slab([x + 30, y + 32 + i * 30, z + 9], [22, 20, 0.6], 3, i < 7 ? "good" : "metal"),
    ),
  );
  return name(
    "list",
    slab(at, [250, 330, 5], 10, "metal"),
    slab([x + 10, y + 12, z + 5], [230, 306, 4], 3, "body"),
    box([x + 90, y - 6, z + 5], [70, 26, 12], "dark"),
    ...lines,
  );
}
/** A numbered seal with its tail. */
export const seal = (at: Point): Shape =>
  name(
    "seal",
    slab(at, [70, 46, 7], 6, "body"),
    tube(
      roundCorners([add(at, [68, 23, 4]), add(at, [130, 23, 4]), add(at, [170, 60, 4]), add(at, [150, 100, 4])], 30, 8),
      4,
      "body",
    ),
    box(add(at, [12, 20, 7]), [44, 6, 0.6], "hole"),
  );
/** The response bag with its lid thrown back, things inside. */
export function openBag(at: Point): Shape {
  const [x, y, z] = at;
  const pouches = [
    [20, 20],
    [150, 20],
    [280, 20],
    [20, 160],
    [150, 160],
    [280, 160],
    [20, 290],
    [200, 290],
  ] as const;
  return name(
    "response-bag",
    box([x - 6, y - 6, z], [412, 432, 12], "dark"),
    box([x, y, z + 12], [400, 14, 190], "body"),
    box([x, y + 406, z + 12], [400, 14, 190], "body"),
    box([x, y + 14, z + 12], [14, 392, 190], "body"),
    box([x + 386, y + 14, z + 12], [14, 392, 190], "body"),
    patch(
      [
        [x + 14, y + 14, z + 40],
        [x + 386, y + 14, z + 40],
        [x + 386, y + 406, z + 40],
        [x + 14, y + 406, z + 40],
      ],
      "metal",
    ),
    ...pouches.map(([u, v], i) =>
      slab([x + u, y + v, z + 40], [i === 7 ? 170 : 100, 110, 120 + ((i * 29) % 40)], 16, "linen"),
    ),
    ...pouches.map(([u, v], i) =>
      slab([x + u + 20, y + v + 30, z + 160 + ((i * 29) % 40)], [60, 40, 2], 6, i % 3 === 0 ? "metal" : "hole"),
    ),
    slab([x - 10, y - 420, z + 190], [420, 410, 16], 40, "body"),
    slab([x + 10, y - 400, z + 206], [380, 370, 3], 30, "metal"),
  );
}
