/**
 * The head end: infusion pumps and suction unit on the head rail, the rack post with its lever, the pump rack and its
 * pumps.
 */
import { add, roundCorners, type Point } from "../engine/points.ts";
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
  tube,
  turn,
  type Shape,
} from "../engine/shapes.ts";
import { headHoop } from "./frame.ts";
import { pinTray } from "./deck-fastenings.ts";
import { gauge, needles } from "./signs.ts";

/** An upright panel that faces the head end. */
const face = (
  x: number,
  y: number,
  z: number,
  dy: number,
  dz: number,
  radius: number,
  material: "screen" | "dark" | "metal" | "soft",
): Shape =>
  patch(
    roundedFlat(y, z, dy, dz, radius).map(([u, v]): Point => [x, u, v]),
    material,
  );

/** Where the two infusion pumps hang, seen from their middle at the rail. */
export const pumpLines = [100, 196] as const;
/** An infusion pump: face to the head end, its back at `at` (middle of its height). */
export function infusionPump(at: Point): Shape {
  const [x, y, z] = at,
    front = x - 92;
  return name(
    "infusion-pump",
    extrude(roundedFlat(y - 43, z - 60, 86, 120, 10), "x", front, x, "body"),
    face(front - 0.8, y - 33, z + 2, 66, 44, 5, "screen"),
    ...[0, 1, 2].flatMap((i) =>
      [0, 1].map((k) =>
        face(front - 0.8, y - 31 + i * 23, z - 24 - k * 22, 16, 14, 3, i === 2 && k === 1 ? "dark" : "metal"),
      ),
    ),
    tube(
      roundCorners(
        [
          [x - 46, y - 20, z + 60],
          [x - 46, y - 20, z + 74],
          [x - 46, y + 20, z + 74],
          [x - 46, y + 20, z + 60],
        ],
        10,
      ),
      5,
      "dark",
    ),
  );
}
/** A pump's clamp on the head rail; 0 is shut and flat, 70 swung open towards the head. */
export function pumpClamp(y: number, open: number): Shape {
  const jaw = extrude(
    [
      [20, 990],
      [20, 1022],
      [60, 1022],
      [60, 990],
      [53, 990],
      [53, 1006],
      [46, 1014],
      [34, 1014],
      [27, 1006],
      [27, 990],
    ],
    "y",
    y - 18,
    y + 18,
    "metal",
  );
  const lever = turn(
    "y",
    open,
    [40, y, 1026],
    extrude(
      [
        [28, 1022],
        [52, 1022],
        [52, 1034],
        [-30, 1034],
        [-40, 1030],
        [-30, 1022],
      ],
      "y",
      y - 11,
      y + 11,
      "grip",
    ),
  );
  const back = box([4, y - 14, 950], [18, 28, 60], "metal");
  return name(
    "pump-clamp",
    jaw,
    back,
    name("clamp-lever", lever),
    rod([40, y - 20, 1026], [40, y + 20, 1026], 7, "metal"),
  );
}
/** Pump hanging on the rail at one of the two lines. */
export const pumpOnRail = (y: number): Shape => infusionPump([4, y, 950]);

/** The suction unit with its jar, outboard of the head hoop. */
export function suctionUnit(suction = true): Shape {
  const x = -96,
    y = 400,
    z = 880;
  return name(
    "suction-unit",
    extrude(roundedFlat(y, z, 110, 150, 12), "x", x, 12, "body"),
    lathe(
      [
        [0, 0],
        [14, 0],
        [12, 10],
        [0, 10],
      ],
      [x, y + 86, z + 112],
      [-1, 0, 0],
      "dark",
      24,
    ),
    gauge([x - 2, y + 39, z + 113], -1, 22, suction ? needles.full : needles.zero),
    lathe(
      [
        [0, 0],
        [36, 0],
        [40, 8],
        [40, 70],
        [0, 70],
      ],
      [x - 16, y + 42, z + 4],
      [0, 0, 1],
      "glass",
      32,
    ),
    lathe(
      [
        [0, 70],
        [43, 70],
        [43, 82],
        [0, 82],
      ],
      [x - 16, y + 42, z + 4],
      [0, 0, 1],
      "dark",
      32,
    ),
    box([8, y + 30, 900], [26, 50, 110], "metal"),
  );
}

/** The middle of the rack post's socket. */
export const rackPost: Point = [10, 280, 1000];
/** The square socket on the head rail with its small lever: 0 flat (locked), 90 up (released, band in sight). */
export function rackSocket(lever: number): Shape {
  const [x, y, z] = rackPost,
    s = 30;
  const socket = basin(
    roundedFlat(x - s, y - s, 2 * s, 2 * s, 4),
    roundedFlat(x - s + 8, y - s + 8, 2 * s - 16, 2 * s - 16, 2),
    z - 78,
    z - 66,
    () => z + 22,
    "metal",
    "hole",
  );
  const pivot: Point = [x, y + s + 8, z - 20];
  const arm = limb(add(pivot, [0, 18, 0]), add(pivot, [-96, 18, 0]), 9, "body", 8);
  return name(
    "rack-socket",
    socket,
    name(
      "rack-lever",
      lathe(
        [
          [0, 0],
          [21, 0],
          [21, 18],
          [0, 18],
        ],
        pivot,
        [0, 1, 0],
        "body",
        28,
      ),
      lever > 5
        ? name(
            "red-band",
            lathe(
              [
                [21, 2],
                [27, 2],
                [27, 13],
                [21, 13],
              ],
              pivot,
              [0, 1, 0],
              "signal",
              28,
            ),
          )
        : [],
      turn(
        "y",
        lever,
        pivot,
        join(
          arm,
          lathe(
            [
              [0, -10],
              [15, -10],
              [19, -4],
              [19, 10],
              [15, 16],
              [0, 16],
            ],
            add(pivot, [-104, 16, 0]),
            [0, 1, 0],
            "dark",
            28,
          ),
        ),
      ),
    ),
  );
}

/** Height of the four slots' middles when the rack stands in its post, from the top down. */
export const slotHeights = [1392, 1264, 1150, 1060] as const;
/** The rack: square foot with a line round it, uprights, four shelves. */
export function pumpRack(home = false): Shape {
  const [x, y, z] = rackPost,
    w = 118;
  const foot = box([x - 20, y - 20, z - 64], [40, 40, 94], "metal"),
    line = home ? [] : name("foot-line", box([x - 20.6, y - 20.6, z + 24], [41.2, 41.2, 5], "signal"));
  const upright = (dy: number): Shape => box([x - 12, y + dy - 7, z + 30], [24, 14, 440], "body");
  const shelves = [1008 + 22, 1103, 1198, 1328, 1460].map((h) => box([x - 96, y - w / 2, h], [112, w, 8], "body"));
  const back = box([x + 12, y - w / 2, z + 30], [6, w, 440], "soft");
  return name(
    "pump-rack",
    foot,
    line,
    upright(-w / 2 + 6),
    upright(w / 2 - 6),
    back,
    ...shelves,
    box([x - 26, y - 26, z + 30], [52, 52, 10], "metal"),
  );
}
/** An infusion pump in one of the two top slots. */
export const pumpInSlot = (slot: 0 | 1): Shape => infusionPump([rackPost[0] + 6, rackPost[1], slotHeights[slot] + 2]);
/** A syringe pump: a flat box with a syringe along its face; its back at `at`. */
function syringePump(at: Point): Shape {
  const [x, y, z] = at,
    front = x - 96;
  return name(
    "syringe-pump",
    extrude(roundedFlat(y - 54, z - 36, 108, 72, 8), "x", front, x, "body"),
    face(front - 0.8, y - 46, z + 4, 50, 24, 4, "screen"),
    ...[0, 1, 2].map((i) => face(front - 0.8, y + 12 + i * 13, z + 8, 9, 14, 3, "metal")),
    name(
      "syringe",
      rod([front - 9, y - 44, z - 17], [front - 9, y + 16, z - 17], 9, "glass", 20),
      rod([front - 9, y + 16, z - 17], [front - 9, y + 44, z - 17], 4, "body", 16),
      box([front - 20, y + 42, z - 30], [20, 6, 26], "dark"),
      box([front - 18, y - 8, z - 30], [6, 14, 26], "metal"),
    ),
  );
}
/** A syringe pump in one of the two low slots. */
export const syringeInSlot = (slot: 2 | 3): Shape =>
  syringePump([rackPost[0] + 6, rackPost[1], slotHeights[slot] + (slot === 2 ? 0 : 14)]);
/** The rack bar: hinged at the top, closing down across the fronts; 0 is shut, 100 swung up. */
export function rackBar(open: number): Shape {
  const [x, y] = rackPost,
    front = x - 116;
  return name(
    "rack-bar",
    turn(
      "y",
      open,
      [x - 90, y, 1474],
      join(
        box([front, y - 9, 1036], [12, 18, 440], "grip"),
        box([front, y - 9, 1466], [40, 18, 14], "grip"),
        box([front - 3, y - 13, 1040], [18, 26, 22], "metal"),
      ),
    ),
    rod([x - 90, y - 26, 1474], [x - 90, y + 26, 1474], 9, "metal"),
    name("rack-catch", box([x - 100, y - 18, 1014], [16, 36, 16], "metal")),
  );
}
/** The rack at home with all four pumps in it, its bar down. */
export const fullRack = (): Shape =>
  join(pumpRack(true), pumpInSlot(0), pumpInSlot(1), syringeInSlot(2), syringeInSlot(3), rackBar(0));

/** The mains inlet and lamp at the head end of the deck. */
export const powerInlet = (lamp: "good" | "hole" = "good"): Shape =>
  name(
    "power-inlet",
    box([-14, 430, 784], [16, 70, 40], "metal"),
    patch(
      roundedFlat(440, 792, 34, 24, 4).map(([u, v]): Point => [-14.8, u, v]),
      "hole",
    ),
    lathe(
      [
        [0, 0],
        [7, 0],
        [5, 5],
        [0, 5],
      ],
      [-14, 488, 804],
      [-1, 0, 0],
      lamp,
      20,
    ),
  );

/** The head end as it always is. `pumps`: on the rail or not; `clamps` and `lever` in degrees. */
export function headEnd({
  pumps = true,
  clamps = 0,
  lever = 0,
  lamp = "hole",
}: { pumps?: boolean; clamps?: number; lever?: number; lamp?: "good" | "hole" } = {}): Shape {
  return join(
    headHoop(),
    pinTray(),
    suctionUnit(),
    rackSocket(lever),
    powerInlet(lamp),
    ...pumpLines.map((y) => join(pumpClamp(y, clamps), pumps ? pumpOnRail(y) : [])),
  );
}
/** A shelf on a wall for what stays behind. */
export const wallShelf = (at: Point, size: Point): Shape =>
  name(
    "wall",
    box([at[0] - 30, at[1] - 24, at[2] - 160], [size[0] + 60, 20, 520], "deck"),
    box(at, size, "body"),
    ...[60, size[0] - 60].map((u) =>
      extrude(
        [
          [at[1] - 4, at[2]],
          [at[1] + size[1] - 40, at[2]],
          [at[1] - 4, at[2] - 110],
        ],
        "x",
        at[0] + u - 6,
        at[0] + u + 6,
        "metal",
      ),
    ),
  );
