/** Under the deck: the lower bay with its latch, the cylinder shelf with its clamps, and the hearing pouch. */
import { add, arcPoints, roundCorners, type Point } from "../engine/points.ts";
import { box, extrude, join, lathe, name, rod, roundedFlat, slab, strap, turn, type Shape } from "../engine/shapes.ts";
import { lowerFrame } from "./frame.ts";
import { gauge, needles } from "./signs.ts";

/** The lower bay: an open frame with two channels, into which things slide from the ventilator side. */
export function lowerBay(): Shape {
  const z = lowerFrame,
    posts = [406, 834].flatMap((x) => [66, 494].map((y) => box([x - 9, y - 9, z], [18, 18, 290], "body")));
  const top = [
    box([397, 57, z + 290], [446, 18, 16], "body"),
    box([397, 485, z + 290], [446, 18, 16], "body"),
    box([397, 75, z + 290], [18, 410, 16], "body"),
    box([825, 75, z + 290], [18, 410, 16], "body"),
  ];
  const channel = (x: number): Shape =>
    extrude(
      [
        [x - 26, z],
        [x + 26, z],
        [x + 26, z + 22],
        [x + 20, z + 22],
        [x + 20, z + 6],
        [x - 20, z + 6],
        [x - 20, z + 22],
        [x - 26, z + 22],
      ],
      "y",
      60,
      500,
      "metal",
    );
  return name("lower-bay", ...posts, ...top, channel(470), channel(770));
}

/** The bay latch at the ventilator side: closed the handle lies flat and its tongue is hidden; open it stands out. */
export function bayLatch(open: boolean): Shape {
  const plate = extrude(roundedFlat(548, 196, 144, 64, 10), "y", 500, 514, "metal");
  const handle = extrude(roundedFlat(572, 214, 96, 28, 10), "y", 514, 526, "body");
  const tongue = open ? name("latch-tongue", box([676, 502, 214], [40, 12, 28], "signal")) : [];
  return name(
    "bay-latch",
    plate,
    rod([580, 520, 202], [580, 520, 254], 9, "metal"),
    turn("z", open ? 72 : 0, [580, 520, 228], handle),
    tongue,
  );
}

/** The lower shelf for the two oxygen cylinders. */
export const cylinderShelf = (): Shape =>
  name(
    "cylinder-shelf",
    box([980, 56, lowerFrame], [560, 448, 14], "body"),
    ...[1040, 1460].flatMap((x) =>
      [170, 390].map((y) =>
        extrude(
          [
            [y - 52, 248],
            [y + 52, 248],
            [y + 52, 276],
            [y + 26, 258],
            [y - 26, 258],
            [y - 52, 276],
          ],
          "x",
          x - 16,
          x + 16,
          "metal",
        ),
      ),
    ),
  );

/** Middle line of each oxygen cylinder on its shelf. */
export const cylinderLines: readonly Point[] = [
  [1000, 170, 316],
  [1000, 390, 316],
];
/** How an oxygen cylinder's valve and gauge stand. */
export interface OxygenSigns {
  readonly needle?: number;
  readonly open?: boolean;
}
/** An oxygen cylinder along x, valve and gauge towards the foot. */
export function oxygenCylinder(at: Point, signs: OxygenSigns = {}): Shape {
  const body = lathe(
    [
      [0, 0],
      [44, 0],
      [60, 16],
      [60, 400],
      [52, 438],
      [26, 466],
      [20, 472],
      [0, 472],
    ],
    at,
    [1, 0, 0],
    "body",
    40,
  );
  const band = lathe(
    [
      [60.8, 320],
      [60.8, 372],
    ],
    at,
    [1, 0, 0],
    "metal",
    40,
  );
  return name("oxygen-cylinder", body, band, valve(add(at, [472, 0, 0]), signs));
}
function valve(at: Point, { needle = needles.full, open = true }: OxygenSigns): Shape {
  const [x, y, z] = at;
  return name(
    "valve",
    rod([x, y, z], [x + 44, y, z], 18, "metal"),
    rod([x + 24, y, z - 10], [x + 24, y, z + 42], 10, "metal"),
    lathe(
      [
        [0, 0],
        [27, 0],
        [27, 14],
        [0, 14],
      ],
      [x + 44, y, z],
      [1, 0, 0],
      "dark",
    ),
    lathe(
      [
        [0, 0],
        [25, 0],
        [25, 12],
        [0, 12],
      ],
      [x + 18, y, z + 58],
      [1, 0, 0],
      "body",
    ),
    gauge([x + 31, y, z + 58], 1, 23, needle),
    // The white pointer: up is open, across is shut.
    open ? box([x + 58, y - 4, z - 24], [3, 8, 48], "pad") : box([x + 58, y - 24, z - 4], [3, 48, 8], "pad"),
  );
}

/**
 * A cylinder clamp at `x`: a hoop hinged on the monitor side, over both cylinders, with an over-centre lever. 0 is
 * closed, 75 swung open.
 */
function cylinderClamp(x: number, degrees: number): Shape {
  const path = roundCorners(
    [
      [x, 78, 262],
      [x, 92, 340],
      [x, 170, 392],
      [x, 280, 352],
      [x, 390, 392],
      [x, 468, 340],
      [x, 486, 262],
    ],
    46,
  );
  const hoop = strap(path, [1, 0, 0], 34, "metal", 6);
  const pad = [170, 390].map((y) => box([x - 20, y - 24, 376], [40, 48, 8], "dark"));
  const lever = turn(
    "x",
    degrees > 0 ? -58 : 0,
    [x, 496, 268],
    extrude(roundedFlat(x - 13, 262, 26, 96, 10), "y", 492, 504, "grip"),
  );
  return name(
    "cylinder-clamp",
    turn("x", degrees, [x, 74, 256], join(hoop, ...pad)),
    rod([x - 26, 72, 256], [x + 26, 72, 256], 10, "metal"),
    box([x - 22, 484, 240], [44, 18, 30], "metal"),
    name("clamp-lever", lever),
  );
}
/** Both cylinder clamps. */
export const cylinderClamps = (degrees: number): Shape =>
  join(cylinderClamp(1100, degrees), cylinderClamp(1400, degrees));

/** The pouch under the deck's edge: clear front, three compartments. `flap` at 0 is shut. */
export function hearingPouch(inside: Shape = []): Shape {
  const x = 1070,
    y = 492,
    z = 590;
  const back = extrude(roundedFlat(x, z, 260, 186, 16), "y", y, y + 6, "soft"),
    bottom = slab([x, y, z], [260, 62, 6], 8, "soft");
  const dividers = [0, 74, 158, 254].map((d) => box([x + d, y + 4, z], [6, 56, 150], "soft"));
  const front = extrude(roundedFlat(x, z, 260, 140, 16), "y", y + 60, y + 63, "glass");
  const rim = strap(
    roundCorners(
      [
        [x, y + 62, z + 140],
        [x + 260, y + 62, z + 140],
      ],
      1,
    ),
    [0, 0, 1],
    10,
    "dark",
    4,
  );
  const tabs = [x + 30, x + 214].map((u) => box([u, y, z + 182], [20, 6, 14], "dark"));
  return name("hearing-pouch", back, bottom, ...dividers, front, rim, ...tabs, inside);
}

/** A soft disc worn over a newborn's ear. */
export const newbornEarCup = (at: Point): Shape =>
  name(
    "newborn-ear-cup",
    lathe(
      [
        [0, 0],
        [25, 0],
        [32, 8],
        [32, 18],
        [22, 28],
        [0, 28],
      ],
      at,
      [0, 1, 0],
      "body",
    ),
    lathe(
      [
        [0, 28.5],
        [14, 28.5],
      ],
      at,
      [0, 1, 0],
      "metal",
    ),
  );
/** A headband with two cups, `size` 1 for the large one. */
export function earDefender(id: string, at: Point, size: number): Shape {
  const r = 66 * size,
    band = arcPoints([at[0], at[1], at[2]], r, "y", 8, 172, 20);
  const cup = (side: number): Shape =>
    lathe(
      [
        [0, 0],
        [32 * size, 0],
        [36 * size, 8],
        [36 * size, 22],
        [22 * size, 34 * size],
        [0, 34 * size],
      ],
      [at[0] + side * (r - 26 * size), at[1], at[2] - 18 * size],
      [side, 0, 0],
      "body",
    );
  const cushion = (side: number): Shape =>
    lathe(
      [
        [0, -10],
        [34 * size, -10],
        [36 * size, -2],
        [34 * size, 0],
      ],
      [at[0] + side * (r - 26 * size), at[1], at[2] - 18 * size],
      [side, 0, 0],
      "dark",
    );
  return name(id, strap(band, [0, 1, 0], 24 * size, "dark", 7), cup(1), cup(-1), cushion(1), cushion(-1));
}

/** The soft bag in the lower bay, on its rigid base plate. */
export function responseBag(): Shape {
  const z = lowerFrame + 24;
  const handle = (x: number): Shape =>
    strap(
      roundCorners(
        [
          [x, 490, z + 70],
          [x, 500, z + 210],
          [x + 90, 500, z + 210],
          [x + 90, 490, z + 70],
        ],
        24,
      ),
      [0, 1, 0],
      14,
      "web",
      22,
    );
  return name(
    "response-bag",
    box([424, 70, z - 12], [392, 416, 12], "dark"),
    slab([430, 76, z], [380, 404, 236], 46, "body"),
    slab([440, 86, z + 236], [360, 384, 12], 40, "soft"),
    strap(
      arcPoints([620, 280, z + 246], 150, "z", 0, 360, 40).map(([x, y, h]): Point => [x, y, h + 3]),
      [0, 0, 1],
      4,
      "dark",
      8,
    ),
    slab([520, 478, z + 60], [200, 12, 130], 6, "soft"),
    handle(450),
    handle(700),
  );
}
