/** The child cradle with its straps, and the deck mattress with its harness. */
import { add, roundCorners, subtract, unit, cross, type Point } from "../engine/points.ts";
import {
  basin,
  box,
  extrude,
  join,
  lathe,
  mirror,
  move,
  name,
  patch,
  roundedFlat,
  slab,
  strap,
  tube,
  type Flat,
  type Shape,
} from "../engine/shapes.ts";
import { deck } from "./frame.ts";

/** The cradle's outline on the deck and the height of its walls. */
export const cradle = { x: 330, y: 72, length: 1120, width: 416, bottom: deck.top, floor: 844 } as const;
/** Height of the cradle's wall at a distance from the head end. */
export const wallAt = (x: number): number => cradle.bottom + 190 - ((x - cradle.x) / cradle.length) * 50;
/** Where the four straps cross: slot pairs one to four. */
export const strapLines = [720, 880, 1070, 1240] as const;

/** The shell with pad, head pad, cheeks and slots. */
export function childCradle(): Shape {
  const { x, y, length, width, bottom, floor } = cradle;
  const shell = basin(
    roundedFlat(x, y, length, width, 70),
    roundedFlat(x + 20, y + 20, length - 40, width - 40, 54),
    bottom,
    floor,
    (u) => wallAt(u),
    "body",
  );
  const pad = slab([x + 30, y + 30, floor], [length - 60, width - 60, 44], 46, "linen");
  const head = slab([x + 50, 190, floor + 44], [200, 180, 26], 30, "linen");
  const cheek = name("cheek", slab([x + 60, 374, floor + 44], [180, 52, 84], 24, "linen"));
  const slots = strapLines.flatMap((u) => [
    join(slot(u, y + width + 0.8), slot(u, y + width - 20.8)),
    join(slot(u, y - 0.8), slot(u, y + 20.8)),
  ]);
  const foot = slab([x - 8, y + 40, bottom], [8, width - 80, 20], 3, "dark");
  return name("child-cradle", shell, pad, head, cheek, mirror(deck.middle, cheek), foot, ...slots);
}
const slot = (x: number, y: number): Shape => {
  const z = wallAt(x) - 44;
  return name(
    "slot",
    patch(
      [
        [x - 26, y, z],
        [x + 26, y, z],
        [x + 26, y, z + 14],
        [x - 26, y, z + 14],
      ],
      "hole",
    ),
  );
};

/** A strap across the cradle through its pair of slots; `lift` pulls its middle up, `buckle` may stand open. */
export function cradleStrap(
  x: number,
  {
    lift = 0,
    open = 0,
    tail = 66,
    buckle = true,
  }: { lift?: number; open?: number; tail?: number; buckle?: boolean } = {},
): Shape {
  const z = wallAt(x) - 37,
    near = cradle.y + cradle.width,
    middle = 908 + lift;
  const half = (sign: number): Point[] =>
    roundCorners(
      [
        [x, deck.middle + sign * (216 + (sign > 0 ? (tail - 66) * 0.7 : 0)), z - (sign > 0 ? tail : 66)],
        [x, deck.middle + sign * 214, z],
        [x, deck.middle + sign * 196, z + 2],
        [x, deck.middle + sign * 178, z - 16],
        [x, deck.middle + sign * (lift > 0 ? 90 : 150), Math.min(middle, z + lift) - (lift > 0 ? 14 : 0)],
        [x, deck.middle + sign * (26 + open), middle],
      ],
      40,
      10,
    );
  const webbing = near > 0 ? join(strap(half(1), [1, 0, 0], 40, "web"), strap(half(-1), [1, 0, 0], 40, "web")) : [];
  return name("cradle-strap", webbing, buckle ? strapBuckle([x, deck.middle, middle], open) : []);
}

/** The square buckle, its tongue drawn out towards the ventilator side by so many millimetres. */
export function strapBuckle(at: Point, open = 0): Shape {
  const [x, y, z] = at,
    dy = open > 0 ? -open : 0;
  const frame = slab([x - 35, y - 36 + dy, z + 2], [70, 70, 20], 12, "body"),
    press = slab([x - 18, y - 22 + dy, z + 22], [36, 26, 5], 5, "dark");
  const tongue =
    open > 0
      ? name(
          "tongue",
          slab([x - 30, y + 18 + open, z + 4], [60, 34, 10], 8, "metal"),
          slab([x - 18, y + 18 + open - 34, z + 5], [36, 40, 7], 5, "metal"),
          name("yellow-ring", box([x - 20, y + 18 + open - 13, z + 4], [40, 13, 10], "yellow")),
        )
      : name("tongue", slab([x - 30, y + 34, z + 4], [60, 22, 12], 6, "metal"));
  return name("strap-buckle", frame, press, tongue);
}

/** Where the yoke's buckle lies on the cradle's pad. */
export const yokeBuckleAt: Point = [800, deck.middle, 896];
/**
 * The cradle's yoke: two shoulder belts from its head anchors, a crotch belt from its foot anchor, one buckle with a
 * window. `open` draws the tongues out by so many millimetres; `lift` raises the whole.
 */
export function cradleYoke({
  open = 0,
  lift = 0,
  wide = 62,
}: { open?: number; lift?: number; wide?: number } = {}): Shape {
  const [x, y, z0] = yokeBuckleAt,
    z = z0 + lift;
  const anchor = (u: number, v: number): Shape =>
    join(
      slab([u - 22, v - 24, z - 4], [44, 48, 5], 8, "metal"),
      tube(
        [
          [u, v - 17, z + 8],
          [u, v + 17, z + 8],
        ],
        6,
        "metal",
      ),
    );
  const belt = (from: Point, to: Point, across: Point): Shape =>
    strap([from, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, z + 8], to], across, 40, "web");
  const tongue = (at: Point): Shape => slab([at[0] - 18, at[1] - 18, at[2] - 4], [36, 36, 8], 8, "metal");
  const left: Point = [x - 44 - open, y - 30 - open * 0.5, z + 8],
    right: Point = [x - 44 - open, y + 30 + open * 0.5, z + 8],
    foot: Point = [x + 50 + open, y, z + 8];
  return name(
    "cradle-yoke",
    anchor(590, y - wide),
    anchor(590, y + wide),
    anchor(1000, y),
    belt([590, y - wide, z + 8], left, [0, 1, 0]),
    belt([590, y + wide, z + 8], right, [0, 1, 0]),
    belt([1000, y, z + 8], foot, [0, 1, 0]),
    tongue(left),
    tongue(right),
    tongue(foot),
    yokeBuckle([x, y, z], open > 0),
  );
}
/** The yoke's buckle: a round plate with its press bar and a window, green while all three tongues are in. */
export function yokeBuckle([x, y, z]: Point, open: boolean): Shape {
  return name(
    "yoke-buckle",
    lathe(
      [
        [0, 0],
        [46, 0],
        [50, 6],
        [50, 20],
        [44, 26],
        [0, 26],
      ],
      [x, y, z],
      [0, 0, 1],
      "body",
      40,
    ),
    slab([x + 4, y - 20, z + 26], [26, 40, 5], 6, "signal"),
    patch(
      (
        [
          [-32, -18],
          [-8, -18],
          [-8, 18],
          [-32, 18],
        ] as readonly Flat[]
      ).map(([u, v]): Point => [x + u, y + v, z + 26.8]),
      open ? "pad" : "good",
    ),
  );
}

/** A strap laid out flat along y, as on a table, with its buckle in the middle and print at its end. */
export function flatStrap(x: number, y: number, z: number, length = 760): Shape {
  const cut = strap(
    [
      [x, y - length / 2, z + 3],
      [x, y + length / 2, z + 3],
    ],
    [1, 0, 0],
    40,
    "web",
    4,
  );
  const print = [
    box([x - 12, y + length / 2 - 100, z + 5], [24, 6, 0.8], "body"),
    box([x - 12, y + length / 2 - 84, z + 5], [24, 6, 0.8], "body"),
    box([x - 12, y + length / 2 - 68, z + 5], [14, 6, 0.8], "body"),
  ];
  return name("cradle-strap", cut, ...print, move([0, 0, 3], strapBuckle([x, y, z])));
}

/** A strap rolled up. */
export const rolledStrap = (at: Point): Shape =>
  name(
    "cradle-strap",
    lathe(
      [
        [8, -20],
        [38, -20],
        [38, 20],
        [8, 20],
      ],
      at,
      [1, 0, 0],
      "web",
    ),
    ...[14, 22, 30].map((r) =>
      lathe(
        [
          [r, 20.6],
          [r + 2, 20.6],
        ],
        at,
        [1, 0, 0],
        "metal",
      ),
    ),
    strapBuckle([at[0], at[1] + 4, at[2] + 36]),
  );

/** The mattress for the deck harness and its four anchor rings. */
export const mattress = { x: 130, y: 72, length: 1450, width: 416, top: 896 } as const;
export const anchors: readonly Point[] = [
  [430, 448],
  [430, 112],
  [900, 448],
  [900, 112],
].map(([x, y]): Point => [x!, y!, mattress.top]);
export function deckMattress(): Shape {
  const { x, y, length, width, top } = mattress;
  const board = slab([x, y, deck.top], [length, width, 12], 26, "metal"),
    pad = slab([x + 6, y + 6, deck.top + 12], [length - 12, width - 12, top - deck.top - 12], 44, "soft");
  const seams = [430, 900].map((u) => box([u + 60, y + 6, top], [3, width - 12, 0.8], "metal"));
  const pillow = slab([x + 30, 160, top], [230, 240, 34], 60, "linen");
  return name("deck-mattress", board, pad, ...seams, pillow, ...anchors.map(anchorRing));
}
/** An anchor ring standing out of the mattress. */
export function anchorRing([x, y, z]: Point): Shape {
  const plate = slab([x - 30, y - 20, z], [60, 40, 4], 10, "metal");
  return name(
    "anchor-ring",
    plate,
    patchHole([x, y, z + 4.6]),
    tube(
      roundCorners(
        [
          [x, y - 15, z - 6],
          [x, y - 15, z + 34],
          [x, y + 15, z + 34],
          [x, y + 15, z - 6],
        ],
        16,
      ),
      5,
      "metal",
    ),
  );
}
const patchHole = ([x, y, z]: Point): Shape =>
  patch(
    [
      [x - 16, y - 12, z],
      [x + 16, y - 12, z],
      [x + 16, y + 12, z],
      [x - 16, y + 12, z],
    ],
    "hole",
  );

/** A snap clip on a ring, its gate shut or swung open by so many degrees; the webbing leaves in direction `to`. */
export function snapClip(at: Point, to: Point, gate = 0): Shape {
  const d = unit(subtract(to, at)),
    side = unit(cross([0, 0, 1], d)),
    place = (u: number, v: number, w = 0): Point =>
      add(add(at, [d[0] * u + side[0] * v, d[1] * u + side[1] * v, d[2] * u]), [0, 0, w]);
  const bow = roundCorners([place(66, 15, 24), place(-2, 17, 24), place(-18, 0, 24), place(-2, -17, 24)], 16, 5);
  const bar =
    gate > 0
      ? [place(66, -15, 24), place(20, -15 - Math.sin((gate * Math.PI) / 180) * 46, 24 + 4)]
      : [place(66, -15, 24), place(-2, -17, 24)];
  return name(
    "anchor-clip",
    tube(bow, 6.5, "metal"),
    name("gate", tube(bar, 5.5, "body")),
    tube([place(66, -20, 24), place(66, 20, 24)], 8, "metal"),
    tube([place(66, 0, 24), place(92, 0, 22)], 9, "metal"),
    tube([place(92, -22, 20), place(92, 22, 20)], 7, "metal"),
  );
}

/** Where the chest buckle lies. */
export const chest: Point = [716, deck.middle, mattress.top + 6];
/**
 * The harness on the mattress: shoulder tails from the head anchors, hip tails from the other two, one chest buckle.
 */
export function deckHarness({
  clips = 4,
  gates = 0,
  open = 0,
  lift = 0,
}: { clips?: number; gates?: number; open?: number; lift?: number } = {}): Shape {
  const z = mattress.top + 6,
    c = add(chest, [0, 0, lift]);
  const tail = (anchor: Point, end: Point): Shape => {
    const d = unit(subtract([end[0], end[1], 0], [anchor[0], anchor[1], 0])),
      from: Point = [anchor[0] + d[0] * 96, anchor[1] + d[1] * 96, anchor[2] + 18],
      side: Point = [-d[1], d[0], 0];
    const rise: Point = [anchor[0] + d[0] * 150, anchor[1] + d[1] * 150, z + lift * 0.2];
    return strap(roundCorners([from, rise, end], 50, 10), side, 46, "web", 4);
  };
  const ends: readonly Point[] = [add(c, [-34, 24, 4]), add(c, [-34, -24, 4]), [900, 300, z], [900, 260, z]];
  const tails = anchors.map((anchor, i) =>
    name("tail", tail(anchor, ends[i]!), i < clips ? snapClip(anchor, ends[i]!, gates) : []),
  );
  const spine = strap(
    roundCorners([add(c, [30 + open, 0, 4]), [c[0] + 110, c[1], z + 2 + lift * 0.3], [912, c[1], z + 4]], 40),
    [0, 1, 0],
    46,
    "web",
    4,
  );
  return name("deck-harness", ...tails, spine, slab([876, 256, z + 2], [50, 48, 8], 8, "web"), chestBuckle(c, open));
}
/** The chest buckle, its tongue drawn out towards the foot by so many millimetres. */
export function chestBuckle(at: Point, open = 0): Shape {
  const [x, y, z] = at;
  const body = extrude(roundedFlat(x - 46, y - 46, 92, 92, 30), "z", z + 4, z + 30, "body"),
    button = slab([x - 30, y - 22, z + 30], [30, 44, 5], 8, "dark");
  const window = patch(
    (
      [
        [10, -16],
        [30, -16],
        [30, 16],
        [10, 16],
      ] as readonly Flat[]
    ).map(([u, v]): Point => [x + u, y + v, z + 30.8]),
    open > 0 ? "pad" : "good",
  );
  const tongue = slab([x + 40 + open, y - 32, z + 8], [34, 64, 14], 8, "metal"),
    tip = slab([x + 6 + open, y - 20, z + 10], [40, 40, 8], 6, "metal");
  return name("chest-buckle", body, button, window, name("tongue", tongue, open > 0 ? tip : []));
}
