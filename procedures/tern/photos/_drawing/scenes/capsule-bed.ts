/**
 * Drawings for making up the newborn capsule and stripping it: canopy, warming mattress, sheet, pouch, roll supports.
 */
import { add, arcPoints, turnPoint, type Point } from "../engine/points.ts";
import { box, join, name, patch, roundedFlat, turn, type Shape } from "../engine/shapes.ts";
import {
  capsuleBase,
  capsulePin,
  newbornCapsule,
  pinPlaces,
  pouch,
  rollSupport,
  sheetOver,
  tub,
  warmingMattress,
  type CapsuleState,
} from "../trolley/capsule.ts";
import { deckBoard } from "../trolley/frame.ts";
import { wallShelf } from "../trolley/head-end.ts";
import { finger } from "../trolley/people.ts";
import { bigFrame, bigLamp } from "../trolley/signs.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, taken, type Shot } from "./common.ts";

/** The capsule on its base, locked, in any state. */
const seated = (state: CapsuleState): Shape =>
  join(
    deckOnly({ pins: false, flap: 0 }),
    capsuleBase(true),
    newbornCapsule(state),
    ...pinPlaces.map((p) => capsulePin(add(p, [0, 0, 20]), { turned: 90 })),
  );
const bedFrame = around([440, 60, 860], [1330, 500, 1180]);
const openFrame = around([420, -60, 830], [1340, 500, 1420]);
const hinge: Point = [880, tub.y + 6, tub.rim];

/** The canopy on its way; `on` lies on the pad. */
function canopyShot({
  id,
  alt,
  to,
  on = [],
  shows = ["newborn-capsule"],
  state = {},
  from = "foot right",
  marks,
}: {
  id: string;
  alt: string;
  to: "open" | "closed";
  on?: Shape;
  shows?: readonly string[];
  state?: CapsuleState;
  from?: Shot["from"];
  marks?: Shot["marks"];
}): Shot {
  const open = to === "open",
    words = open ? "" : ", flush";
  return {
    id,
    alt,
    shows,
    from,
    hero: ["canopy", "canopy-catch"],
    state: join(seated({ ...state, canopy: open ? 96 : 0, catches: open ? "out" : "flush" }), on),
    frame: open ? openFrame : around([430, 20, 850], [1330, 500, 1340]),
    fill: 0.9,
    dashes: open ? [] : canopyOutline(44),
    arrow: open ? arrowRound(hinge, 330, "x", 20, 78) : arrowRound(hinge, 430, "x", 70, 42),
    marks: marks ?? [
      { at: [640, tub.y + tub.width + (open ? 34 : 10), tub.rim - (open ? 18 : 14)], label: `Head catch${words}` },
      { at: [1110, tub.y + tub.width + (open ? 34 : 10), tub.rim - (open ? 18 : 14)], label: `Foot catch${words}` },
    ],
  };
}
/** The canopy's near edge and lower rim, raised by so many degrees. */
function canopyOutline(degrees: number): Point[][] {
  const raise = (p: Point): Point => turnPoint(p, "x", degrees, [0, hinge[1], hinge[2]]),
    y = tub.y + tub.width - 4,
    ends = [tub.x + 8, tub.x + tub.length - 8] as const;
  return [
    ends.map((x) => raise([x, y, tub.rim])),
    ...ends.map((x) =>
      [[x, tub.y + 6, tub.rim] as Point, [x, y, tub.rim] as Point, [x, y - 8, tub.rim + 150] as Point].map(raise),
    ),
  ];
}
/** A crumpled sheet on the pad. */
const crumpled: Shape = name(
  "sheet",
  ...[
    [640, 180, 0],
    [700, 240, 8],
    [800, 200, 4],
    [860, 270, 10],
  ].map(([x, y, t], i) =>
    patch(
      roundedFlat(x!, y!, 200 - i * 20, 110, 46).map(([u, v], k): Point => [u, v, 950 + t! + Math.sin(k * 1.9) * 7]),
      "body",
    ),
  ),
);

/** The pouch on the foot end of the tub, close by. */
function pouchShot({
  id,
  alt,
  flap,
  rolls,
  arrow,
  marks,
  shows,
}: Pick<Shot, "id" | "alt" | "shows" | "marks"> & { flap: number; rolls: number; arrow?: Shot["arrow"] }): Shot {
  const pins = pinPlaces.slice(2).map((p) => capsulePin(add(p, [0, 0, 20]), { turned: 90 }));
  return {
    id,
    alt,
    shows,
    from: { around: 50, above: 27, words: "seen from the foot end, right" },
    hero: ["capsule-pouch"],
    state: join(deckBoard(), capsuleBase(true), newbornCapsule({ pouch: { flap, rolls } }), ...pins),
    frame: around([1220, 130, 900], [1340, 440, 1050]),
    fill: 0.84,
    ...(arrow ? { arrow } : {}),
    marks,
  };
}
const front = tub.x + tub.length + 2 + pouch.depth,
  top = pouch.z + pouch.height;
const pouchEdge: Point = [front + 7, 330, top - 6],
  rollsSeen: Point = [front + 2, 250, pouch.z + 40];
const pulledFlap = arrowRound([tub.x + tub.length, 300, top], 96, "y", 14, 66),
  pressedFlap = arrowTo([front, 280, top + 8], [0, 0, 70]);
const rollsOnPad = join(rollSupport([640, 186, 978]), rollSupport([640, 374, 978]));

/** Making the bed. */
export const dressCapsuleScenes = taken("2026-01-30", [
  canopyShot({ id: "canopy-open", to: "open", alt: "The capsule canopy open, both catches out" }),
  {
    id: "warming-mattress-in",
    from: "foot right",
    state: join(seated({ canopy: 100, padTilt: 22 }), warmingMattress([586, 318, 974])),
    hero: ["warming-mattress"],
    frame: around([440, 60, 860], [1330, 640, 1130]),
    fill: 0.92,
    arrow: arrowFrom([760, 760, 980], [0, -180, 0]),
    marks: [
      { at: [622, 542, 1008], label: "Lamp corner" },
      { at: [1180, 400, 985], label: "Slot", hidden: true },
      { at: [900, 250, 1010], label: "Pad with sheet", hidden: true },
    ],
    shows: ["warming-mattress", "newborn-capsule"],
    alt: "The warming mattress half way into its slot under the pad",
  },
  {
    id: "warming-mattress-lamp",
    from: { around: 20, above: 36, words: "seen from the right side" },
    state: join(
      seated({ canopy: 100 }),
      warmingMattress([556, 232, 974], false, "amber"),
      finger([592, 454, 1012], [420, 470, 1190]),
    ),
    hero: ["warming-mattress"],
    twins: {
      right: { state: bigLamp("amber"), words: "amber lamp, steady" },
      wrong: { state: bigLamp("hole"), words: "dark lamp" },
      frame: bigFrame,
      from: [66, 14],
    },
    frame: around([520, 400, 940], [740, 520, 1030]),
    fill: 0.92,
    arrow: arrowTo([592, 454, 1016], [0, 0, 70]),
    marks: [
      { at: [602, 456, 1008], label: "Lamp, amber", hidden: true },
      { at: [700, 476, 980], label: "Slot edge", hidden: true },
    ],
    shows: ["warming-mattress"],
    alt: "The lamp corner of the warming mattress, its lamp amber",
  },
  {
    id: "capsule-sheet",
    from: { around: 30, above: 40, words: "seen from the foot end, right" },
    state: join(seated({ canopy: 100 }), sheetOver(30)),
    hero: ["sheet"],
    frame: bedFrame,
    fill: 0.96,
    arrow: { path: arcPoints([860, 500, 960], 60, "x", 70, -110, 20) },
    marks: [
      { at: [1040, 488, 950], label: "Sheet edge", hidden: true },
      { at: [570, 300, 948], label: "Pad" },
    ],
    shows: ["newborn-capsule"],
    alt: "A sheet over the capsule pad with its edges under the pad",
  },
  canopyShot({
    id: "canopy-close",
    to: "closed",
    state: { sheet: true },
    alt: "The canopy closed, both catches flush with the edge",
  }),
  pouchShot({
    id: "capsule-pouch-count",
    flap: 0,
    rolls: 2,
    shows: ["roll-support", "newborn-capsule"],
    alt: "The capsule pouch with two roll supports behind its window",
    marks: [
      { at: rollsSeen, label: "Two rolls" },
      { at: pouchEdge, label: "Press edge" },
    ],
  }),
]);

/** Stripping it. */
export const undressCapsuleScenes = taken("2026-01-30", [
  canopyShot({
    id: "canopy-open-empty",
    to: "open",
    on: crumpled,
    from: "head right",
    alt: "The canopy open over the empty capsule",
  }),
  {
    id: "warming-mattress-out",
    from: { around: 16, above: 34, words: "seen from the right side" },
    state: join(seated({ canopy: 100, padTilt: 22 }), warmingMattress([586, 372, 974])),
    hero: ["warming-mattress"],
    frame: around([440, 60, 860], [1330, 700, 1120]),
    fill: 0.92,
    arrow: arrowFrom([860, 620, 1000], [0, 170, 0]),
    marks: [
      { at: [1230, 660, 966], label: "Cable end", hidden: true },
      { at: [1180, 400, 990], label: "Slot", hidden: true },
    ],
    shows: ["warming-mattress", "newborn-capsule"],
    alt: "The warming mattress drawn out of its slot by the cable end",
  },
  {
    id: "warming-mattress-charging",
    from: { around: 24, above: 24, words: "seen from the right" },
    hero: ["warming-mattress"],
    state: join(
      wallShelf([500, 200, 900], [860, 330, 18]),
      warmingMattress(
        [540, 240, 918],
        [
          [1140, 340, 930],
          [1200, 340, 926],
          [1258, 380, 960],
          [1258, 360, 1036],
          [1258, 318, 1036],
        ],
      ),
      name(
        "wall-socket",
        box([1222, 178, 1000], [72, 10, 72], "metal"),
        patch(
          roundedFlat(1244, 1022, 28, 28, 14).map(([u, v]): Point => [u, 188.8, v]),
          "hole",
        ),
      ),
    ),
    frame: around([480, 190, 840], [1390, 580, 1180]),
    fill: 0.9,
    dashes: [
      [
        [1258, 276, 1036],
        [1258, 190, 1036],
      ],
    ],
    arrow: arrowTo([1300, 216, 1100], [0, 170, 0]),
    marks: [
      { at: [1258, 380, 990], label: "Cable", hidden: true },
      { at: [576, 462, 952], label: "Lamp" },
    ],
    shows: ["warming-mattress"],
    alt: "The warming mattress on the charging shelf, plugged in",
  },
  canopyShot({
    id: "canopy-close-empty",
    to: "closed",
    from: "head right",
    alt: "The canopy closed over the bare pad, both catches flush",
  }),
]);

/** Roll supports from the pouch to the pad. */
export const placeRollScenes = taken("2026-01-30", [
  pouchShot({
    id: "pouch-flap-open",
    flap: 80,
    rolls: 2,
    shows: ["newborn-capsule", "roll-support"],
    alt: "The capsule pouch open, two rolls inside",
    arrow: pulledFlap,
    marks: [
      { at: [tub.x + tub.length + 6, 360, top + 66], label: "Press edge", hidden: true },
      { at: rollsSeen, label: "Two rolls" },
    ],
  }),
  {
    id: "roll-supports-in",
    from: { around: 40, above: 36, words: "seen from the foot end, right" },
    state: join(seated({ canopy: 100, pouch: { flap: 80, rolls: 0 } }), rollsOnPad),
    hero: ["roll-support"],
    frame: around([480, 60, 860], [1340, 500, 1120]),
    fill: 0.94,
    arrow: { path: arcPoints([1130, 280, 960], 170, "y", 10, 130, 20) },
    marks: [
      { at: [780, 186, 1008], label: "Roll, monitor side" },
      { at: [780, 374, 1008], label: "Roll, ventilator side" },
      { at: [600, 280, 950], label: "Head line" },
    ],
    shows: ["roll-support", "newborn-capsule"],
    alt: "Two roll supports along both sides of the capsule pad",
  },
  pouchShot({
    id: "pouch-flap-close",
    flap: 0,
    rolls: 0,
    shows: ["newborn-capsule"],
    alt: "The empty capsule pouch pressed shut",
    arrow: pressedFlap,
    marks: [{ at: pouchEdge, label: "Press edge" }],
  }),
  canopyShot({
    id: "canopy-close-rolls",
    to: "closed",
    on: rollsOnPad,
    shows: ["newborn-capsule", "roll-support"],
    from: { around: 20, above: 32, words: "seen from the right side" },
    alt: "The canopy closed over the two roll supports",
  }),
]);

/** And back into the pouch. */
export const stowRollScenes = taken("2026-01-30", [
  canopyShot({
    id: "canopy-open-stow",
    to: "open",
    on: rollsOnPad,
    shows: ["newborn-capsule", "roll-support"],
    from: { around: 44, above: 32, words: "seen from the foot end, right" },
    alt: "The canopy open, two roll supports on the pad",
  }),
  pouchShot({
    id: "pouch-flap-open-empty",
    flap: 80,
    rolls: 0,
    shows: ["newborn-capsule"],
    alt: "The empty capsule pouch pulled open",
    arrow: pulledFlap,
    marks: [{ at: [tub.x + tub.length + 6, 360, top + 66], label: "Press edge", hidden: true }],
  }),
  {
    id: "roll-supports-out",
    from: { around: 44, above: 36, words: "seen from the foot end, right" },
    state: join(
      seated({ canopy: 100, pouch: { flap: 80, rolls: 1 } }),
      turn("z", 90, [1294, 160, 1130], rollSupport([1294, 160, 1130])),
      rollSupport([760, 374, 978]),
    ),
    hero: ["roll-support"],
    frame: around([760, 60, 860], [1420, 500, 1160]),
    fill: 0.94,
    arrow: { path: arcPoints([1150, 300, 990], 170, "y", 130, 14, 20) },
    marks: [
      { at: [1294, 280, 1158], label: "Two rolls", hidden: true },
      { at: [front + 1, 390, 940], label: "Pouch", hidden: true },
    ],
    shows: ["roll-support", "newborn-capsule"],
    alt: "Two roll supports put back into the capsule pouch",
  },
  pouchShot({
    id: "pouch-flap-close-rolls",
    flap: 16,
    rolls: 2,
    shows: ["newborn-capsule", "roll-support"],
    alt: "The capsule pouch pressed shut over two rolls",
    arrow: pressedFlap,
    marks: [
      { at: [front + 9, 330, top + 10], label: "Press edge", hidden: true },
      { at: rollsSeen, label: "Two rolls" },
    ],
  }),
]);
