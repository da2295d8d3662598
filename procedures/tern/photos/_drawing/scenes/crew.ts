/** Drawings of hearing protection, vehicle, checks, cleaning, and the newborn's belts. */
import { add, arcPoints, roundCorners, type Point } from "../engine/points.ts";
import { box, extrude, join, move, name, rod, slab, strap, type Shape } from "../engine/shapes.ts";
import { earDefender, hearingPouch, newbornEarCup } from "../trolley/bays.ts";
import { newbornCapsule, capsuleBase, tub } from "../trolley/capsule.ts";
import { deckBoard } from "../trolley/frame.ts";
import { headEnd } from "../trolley/head-end.ts";
import {
  floorLock,
  kitRoomWall,
  listBoard,
  openBag,
  seal,
  vehicleLead,
  winchHook,
  winchRing,
  winchRingPart,
} from "../trolley/vehicle.ts";
import { trolley } from "../trolley/trolley.ts";
import { doll } from "../trolley/people.ts";
import { around, arrowFrom, arrowTo, taken, type Shot } from "./common.ts";

/** A torch that was left on the floor. */
const torchLeft = join(
  name("torch", rod([900, 260, 26], [1060, 320, 26], 24, "dark"), rod([1060, 320, 26], [1110, 339, 26], 36, "dark")),
);
const pouchFrame = around([1070, 490, 580], [1360, 640, 790]);
const cups = [newbornEarCup([1110, 508, 640]), newbornEarCup([1110, 508, 692])],
  small = earDefender("small-ear-defender", [1189, 526, 640], 0.4),
  large = earDefender("large-ear-defender", [1279, 526, 668], 0.68);
/** The pouch under the deck's edge, one thing drawn out of it. */
function pouchShot({
  id,
  alt,
  shows,
  hero,
  out,
  left,
  marks,
  arrow,
  twins,
}: Pick<Shot, "id" | "alt" | "shows" | "marks" | "arrow" | "twins"> & { hero: string; out: Shape; left: Shape }): Shot {
  return {
    id,
    alt,
    shows,
    from: { around: -16, above: 14, words: "seen from the right side" },
    hero: [hero],
    state: join(deckBoard(), hearingPouch(left), move([0, 150, 40], out)),
    frame: pouchFrame,
    fill: 0.9,
    arrow,
    marks,
    ...(twins ? { twins } : {}),
  };
}

/** Hearing protection. */
export const hearingScenes = taken("2026-01-30", [
  pouchShot({
    id: "newborn-ear-cups",
    hero: "newborn-ear-cup",
    out: join(...cups),
    left: join(small, large),
    arrow: arrowFrom([1112, 560, 626], [0, 170, 0]),
    marks: [
      { at: [1090, 555, 604], label: "First compartment", hidden: true },
      { at: [1106, 688, 682], label: "Soft side", hidden: true },
    ],
    shows: ["newborn-ear-cup"],
    alt: "Two newborn ear cups taken from the first compartment of the pouch",
  }),
  pouchShot({
    id: "small-ear-defender",
    hero: "small-ear-defender",
    out: small,
    left: join(...cups, large),
    arrow: arrowFrom([1200, 560, 622], [0, 170, 0]),
    marks: [
      { at: [1170, 555, 604], label: "Middle compartment", hidden: true },
      { at: [1172, 676, 687], label: "Seal", hidden: true },
    ],
    twins: {
      right: { state: small, words: "the small one" },
      wrong: { state: large, words: "the large one" },
      frame: around([1130, 520, 570], [1330, 560, 730]),
      from: [0, 8],
    },
    shows: ["small-ear-defender"],
    alt: "The small ear defender taken from the middle compartment",
  }),
  pouchShot({
    id: "large-ear-defender",
    hero: "large-ear-defender",
    out: large,
    left: join(...cups, small),
    arrow: arrowFrom([1290, 560, 622], [0, 170, 0]),
    marks: [
      { at: [1262, 555, 604], label: "Last compartment", hidden: true },
      { at: [1257, 676, 692], label: "Seal", hidden: true },
    ],
    twins: {
      right: { state: large, words: "the large one" },
      wrong: { state: small, words: "the small one" },
      frame: around([1130, 520, 570], [1330, 560, 730]),
      from: [0, 8],
    },
    shows: ["large-ear-defender"],
    alt: "The large ear defender taken from the last compartment",
  }),
]);

/** Loading into the vehicle and out of it. */
export const vehicleScenes = taken("2026-07-15", [
  {
    id: "winch-hook",
    from: { around: -48, above: 20, words: "seen low from the head end" },
    state: join(trolley(), winchRingPart(), winchHook(0)),
    hero: ["winch-hook"],
    frame: around([-10, 215, 150], [180, 345, 270]),
    fill: 0.92,
    floor: 0,
    arrow: arrowTo([50, 325, 240], [-140, 0, -8]),
    marks: [
      { at: add(winchRing, [6, 20, 8]), label: "Ring", hidden: true },
      { at: add(winchRing, [-34, 4, -20]), label: "Hook tongue", hidden: true },
    ],
    shows: [],
    alt: "The winch hook in the ring at the head end, its tongue closed",
  },
  {
    id: "floor-lock",
    from: { around: 18, above: 20, words: "seen low from the right side" },
    state: join(trolley({ pouch: false, rails: 0 }), floorLock(true)),
    hero: ["lock-block", "lock-bolt"],
    twins: {
      right: { state: floorLock(true), words: "two bolts up, two green dots" },
      wrong: { state: floorLock(false), words: "bolts down, two dark dots" },
      frame: around([730, 440, 60], [1010, 560, 220]),
    },
    frame: around([600, 380, -20], [1140, 600, 290]),
    fill: 0.96,
    arrow: arrowFrom([1240, 540, 230], [-190, 0, 0]),
    marks: [
      { at: [800, 505, 176], label: "Bolt, head end", hidden: true },
      { at: [940, 505, 176], label: "Bolt, foot end", hidden: true },
      { at: [870, 546, 96], label: "Two green dots", hidden: true },
    ],
    shows: [],
    alt: "The floor lock with both bolts in the trolley frame, both dots green",
  },
  {
    id: "power-cable-out",
    from: { around: -52, above: 20, words: "seen from the head end" },
    state: join(deckBoard(), headEnd({}), vehicleLead(120)),
    hero: ["vehicle-lead"],
    frame: around([-260, 400, 640], [40, 540, 900]),
    fill: 0.9,
    arrow: arrowFrom([-40, 460, 740], [-170, 0, 0]),
    marks: [
      { at: [-180, 480, 806], label: "Cable", hidden: true },
      { at: [-19, 488, 804], label: "Lamp, dark", hidden: true },
    ],
    shows: [],
    alt: "The power cable pulled out of the trolley, its lamp dark",
  },
]);

/** Loose article check. */
export const looseArticleScenes = taken("2026-03-05", [
  {
    id: "under-the-deck",
    from: { around: 36, above: 9, words: "seen low from the foot end, right" },
    state: join(trolley({ rails: 0 }), floorBelow()),
    hero: ["floor-below"],
    twins: {
      right: { state: floorBelow(), words: "floor bare" },
      wrong: { state: join(floorBelow(), torchLeft), words: "a torch left on it" },
      frame: around([760, 120, 0], [1240, 460, 60]),
      from: [36, 48] as const,
    },
    frame: around([140, 60, 0], [1780, 560, 790]),
    fill: 0.96,
    marks: [
      { at: [640, 494, 460], label: "Lower bay, nothing hangs", hidden: true },
      { at: [1240, 470, 320], label: "Cylinder bay, nothing hangs", hidden: true },
      { at: [1000, 480, 2], label: "Floor, bare", hidden: true },
    ],
    shows: ["response-bag", "oxygen-cylinder"],
    alt: "Under the deck: the floor between the wheels, the lower bay and the cylinder bay above it",
  },
]);

/** The floor between the wheels. */
function floorBelow(): Shape {
  return name("floor-below", box([240, 60, -8], [1420, 480, 8], "deck"));
}

/** Cleaning and restocking. */
export const restockScenes = taken("2026-07-15", [
  {
    id: "bag-list",
    from: { around: 12, above: 56, words: "seen from above the front" },
    state: join(
      name("table", box([-200, -600, -20], [1300, 1300, 20], "deck")),
      openBag([0, 0, 0]),
      listBoard([480, 40, 0]),
      seal([500, 410, 0]),
    ),
    hero: ["list", "seal"],
    frame: around([-40, -300, 0], [780, 520, 190]),
    fill: 0.94,
    arrow: {
      path: roundCorners(
        [
          [560, 430, 30],
          [500, 470, 90],
          [430, 440, 190],
          [405, 424, 150],
        ],
        60,
        8,
      ),
    },
    marks: [
      { at: [700, 200, 10], label: "List", hidden: true },
      { at: [535, 450, 8], label: "Seal", hidden: true },
    ],
    shows: ["response-bag"],
    alt: "The open response bag beside its list and a new seal",
  },
  {
    id: "count-by-place",
    from: { around: 10, above: 10, words: "seen from the front" },
    state: kitRoomWall(),
    hero: ["cradle-strap", "cradle-yoke", "deck-harness", "inhaled-gas-cylinder"],
    frame: around([130, 0, 0], [1880, 170, 1310]),
    fill: 0.95,
    marks: [
      { at: [1090, 90, 1040], label: "Strap hook, four", hidden: true },
      { at: [1230, 80, 900], label: "Yoke hook, one", hidden: true },
      { at: [1380, 100, 1060], label: "Harness hook, one", hidden: true },
      { at: [1704, 156, 296], label: "Gas store, two", hidden: true },
    ],
    shows: ["cradle-strap", "cradle-yoke", "deck-harness", "inhaled-gas-cylinder"],
    alt: "The kit room wall: four straps, one yoke, one harness, two cylinders behind their chain",
  },
]);

/** The five belts on the capsule pad. */
export function padBelts(): Shape {
  const z = tub.floor + 58,
    centre: Point = [860, 280, z + 4];
  const belt = (from: Point, across: Point, end: Point = centre): Shape =>
    strap([from, add(end, [0, 0, 0])], across, 24, "web", 4);
  const plate = name(
    "belt-plate",
    extrude(
      arcPoints([860, 280, 0], 36, "z", 0, 360, 24)
        .slice(1)
        .map(([x, y]): readonly [number, number] => [x, y]),
      "z",
      z + 6,
      z + 18,
      "body",
    ),
    slab([846, 266, z + 18], [28, 28, 4], 6, "dark"),
  );
  const slots = (
    [
      [690, 190, 0],
      [690, 370, 0],
      [900, 136, 0],
      [900, 424, 0],
      [1060, 280, 0],
    ] as readonly Point[]
  ).map(([x, y]) => slab([x - 16, y - 16, z], [32, 32, 2], 8, "metal"));
  return name(
    "capsule-belt",
    name("shoulder-belt", belt([690, 190, z + 3], [0.5, -1, 0]), belt([690, 370, z + 3], [0.5, 1, 0])),
    belt([900, 136, z + 3], [1, 0.2, 0]),
    belt([900, 424, z + 3], [1, -0.2, 0]),
    name("groin-belt", belt([1060, 280, z + 3], [0, 1, 0])),
    plate,
    ...slots,
  );
}
/** The newborn's belts. */
export const newbornBeltScenes = taken("2026-09-01", [
  {
    id: "capsule-belts",
    from: { around: 8, above: 64, words: "seen from above the right side" },
    state: join(
      deckBoard(),
      capsuleBase(true),
      newbornCapsule({ canopy: 100 }),
      doll([586, 280, tub.floor + 50], 470),
      move([0, 0, 82], padBelts()),
      name("ear-line", box([640, 150, tub.floor + 54], [5, 260, 1.2], "hole")),
    ),
    hero: ["capsule-belt"],
    frame: around([540, 110, 930], [1180, 450, 990]),
    fill: 0.94,
    arrow: [{ ...arrowTo([850, 322, 962], [-60, 90, 40]), thin: true }],
    marks: [
      { at: [760, 222, 1040], label: "Shoulder belts", hidden: true },
      { at: [990, 280, 1040], label: "Groin belt", hidden: true },
      { at: [866, 290, 1058], label: "Middle plate", hidden: true },
      { at: [642, 380, 950], label: "Ear line", hidden: true },
    ],
    shows: ["newborn-capsule"],
    alt: "Five belts clicked into the middle plate over the doll in the capsule",
  },
]);
