/** Drawings of the lower bay: response bag, gas shelf with cylinders and dosing unit, cooling unit. */
import { add, arcPoints, type Point } from "../engine/points.ts";
import { join, lathe, move, name, tube, type Shape } from "../engine/shapes.ts";
import { responseBag } from "../trolley/bays.ts";
import {
  cloth,
  coolingMat,
  coolingSockets,
  coolingUnit,
  dosingClamp,
  dosingUnit,
  gasLines,
  gasLinesAt,
  gasShelf,
  inhaledGasCylinder,
  shelfClamps,
} from "../trolley/bay-options.ts";
import { capsuleBase, capsulePin, newbornCapsule, pinPlaces, tub, warmingMattress } from "../trolley/capsule.ts";
import { trolley } from "../trolley/trolley.ts";
import { bigFrame, bigValve } from "../trolley/signs.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, taken, ways, type Shot } from "./common.ts";

const low = "low right" as const;
const lowCentre = { around: 22, above: 20, words: "seen low from the right side" } as const;
/** The trolley with something in its lower bay; the pouch under the deck is left out where it would hide the bay. */
const bay = (inside: Shape, latch = false): Shape => trolley({ bay: inside, latch, pouch: false, rails: 0 });
const slide = (by: number, shape: Shape): Shape => move([0, by, 0], shape);
const slideFrame = around([340, 60, 180], [900, 900, 560]),
  shelfFrame = around([400, 66, 240], [850, 520, 560]);
const latchFrame = around([500, 490, 150], [760, 590, 330]),
  handlePivot: Point = [580, 522, 228];
const cylinders = join(...gasLinesAt.map((at) => inhaledGasCylinder(at)));
const cylindersOpen = join(...gasLinesAt.map((at) => inhaledGasCylinder(at, true)));
const handle: Point = [604, 600, 228],
  tongue: Point = [704, 514, 234];

/** The latch close by, turned one way or the other, with what is in the bay. */
function latchShot({
  id,
  alt,
  shows,
  inside,
  open,
  view = low,
}: Pick<Shot, "id" | "alt" | "shows"> & { inside: Shape; open: boolean; view?: Shot["from"] }): Shot {
  return {
    id,
    alt,
    shows,
    from: view,
    hero: ["bay-latch"],
    state: bay(inside, open),
    frame: latchFrame,
    fill: 0.92,
    arrow: arrowRound(handlePivot, 120, "z", open ? 4 : 74, open ? 60 : 12),
    ...(open
      ? {}
      : {
          twins: {
            right: { state: bay(inside), words: "handle flat, no red" },
            wrong: { state: bay(inside, true), words: "handle out, red tongue in sight" },
            frame: around([540, 490, 190], [730, 540, 280]),
            from: [24, 18] as const,
          },
        }),
    marks: open
      ? [
          { at: handle, label: "Handle", hidden: true },
          { at: tongue, label: "Red tongue", hidden: true },
        ]
      : [
          { at: [606, 527, 234], label: "Handle, flat" },
          { at: [690, 514, 236], label: "Tongue hidden", hidden: true },
        ],
  };
}
/** Something on its way into the bay or out of it. */
function slideShot({
  id,
  alt,
  shows,
  part,
  hero,
  way,
  marks,
  view = low,
  by = 330,
}: Pick<Shot, "id" | "alt" | "shows" | "marks"> & {
  part: Shape;
  hero: string;
  way: "in" | "out";
  view?: Shot["from"];
  by?: number;
}): Shot {
  const a: Point = [890, 880, 300],
    b: Point = [890, 600, 300];
  return {
    id,
    alt,
    shows,
    from: view,
    hero: [hero],
    state: bay(slide(by, part), true),
    frame: slideFrame,
    fill: 0.94,
    floor: 0,
    arrow: { path: way === "in" ? [a, b] : [b, a] },
    marks,
  };
}
const channelMarks: Shot["marks"] = [
  { at: [470, 330, 257], label: "Channel, head end", hidden: true },
  { at: [770, 330, 257], label: "Channel, foot end", hidden: true },
];
const gas = (more: Shape, clamps = 0): Shape => join(gasShelf(), shelfClamps(clamps), more);

/** Fitting the gas shelf. */
export const fitGasShelfScenes = taken("2026-09-21", [
  latchShot({
    id: "bay-latch-open",
    inside: responseBag(),
    open: true,
    shows: ["response-bag"],
    alt: "The bay latch pulled out below the response bag",
  }),
  slideShot({
    id: "response-bag-out",
    part: responseBag(),
    hero: "response-bag",
    way: "out",
    shows: ["response-bag"],
    alt: "The response bag drawn out of the lower bay",
    marks: [
      { at: [700, 816, 252], label: "Base plate", hidden: true },
      { at: [770, 496, 252], label: "Channels", hidden: true },
    ],
  }),
  slideShot({
    id: "gas-shelf-in",
    part: gas([], 80),
    hero: "gas-shelf",
    way: "in",
    by: 300,
    view: lowCentre,
    shows: ["gas-shelf"],
    alt: "The gas shelf on both channels of the lower bay",
    marks: [
      { at: [470, 796, 250], label: "Channel, head end", hidden: true },
      { at: [770, 796, 250], label: "Channel, foot end", hidden: true },
      { at: [814, 390, 300], label: "Stop", hidden: true },
    ],
  }),
  latchShot({
    id: "bay-latch-close-shelf",
    inside: gas([], 80),
    open: false,
    shows: ["gas-shelf"],
    alt: "The bay latch flat under the gas shelf",
  }),
  {
    id: "inhaled-gas-cylinders-on",
    from: lowCentre,
    state: bay(gas(move([0, 0, 130], cylinders), 100)),
    hero: ["inhaled-gas-cylinder"],
    frame: shelfFrame,
    fill: 0.94,
    dashes: ways(
      gasLinesAt.map((p) => add(p, [0, 300, -46])),
      [0, 0, 130],
    ),
    arrow: arrowTo([690, 480, 330], [0, 0, 150]),
    marks: [
      { at: add(gasLinesAt[0]!, [-10, 250, 178]), label: "Cylinder one", hidden: true },
      { at: add(gasLinesAt[1]!, [10, 250, 178]), label: "Cylinder two", hidden: true },
      { at: add(gasLinesAt[1]!, [26, 372, 120]), label: "Valves, ventilator side", hidden: true },
    ],
    shows: ["inhaled-gas-cylinder", "gas-shelf"],
    alt: "Two cylinders in the shelf cradle, valves to the ventilator side",
  },
  {
    id: "shelf-clamps-close",
    from: lowCentre,
    state: bay(gas(cylinders, 0)),
    hero: ["shelf-clamp"],
    frame: around([400, 120, 240], [700, 490, 440]),
    fill: 0.94,
    arrow: arrowRound([540, 300, 290], 150, "y", 152, 92),
    marks: [
      { at: add(gasLinesAt[0]!, [0, 204, 57]), label: "Clamp one", hidden: true },
      { at: add(gasLinesAt[1]!, [0, 204, 57]), label: "Clamp two", hidden: true },
    ],
    shows: ["inhaled-gas-cylinder", "gas-shelf"],
    alt: "Both shelf clamps down over the cylinders, levers flat",
  },
  {
    id: "dosing-unit-on",
    from: lowCentre,
    state: bay(gas(join(cylinders, dosingClamp(75), move([0, 0, 104], dosingUnit())))),
    hero: ["dosing-unit"],
    frame: shelfFrame,
    fill: 0.94,
    dashes: ways(
      [
        [658, 408, 306],
        [802, 408, 306],
      ],
      [0, 0, 104],
    ),
    arrow: arrowTo([730, 440, 310], [0, 0, 96]),
    marks: [
      { at: [690, 400, 304], label: "Groove", hidden: true },
      { at: [712, 411, 495], label: "Screen, ventilator side", hidden: true },
    ],
    shows: ["dosing-unit", "gas-shelf"],
    alt: "The dosing unit on the shelf top, its foot in the groove",
  },
  {
    id: "dosing-clamp-close",
    from: lowCentre,
    state: bay(gas(join(cylinders, dosingClamp(0), dosingUnit()))),
    hero: ["dosing-clamp"],
    frame: around([600, 300, 230], [850, 500, 450]),
    fill: 0.92,
    arrow: arrowRound([784, 490, 304], 96, "y", 100, 168),
    marks: [{ at: [700, 488, 306], label: "Lever, flat", hidden: true }],
    shows: ["dosing-unit", "gas-shelf"],
    alt: "The dosing clamp flat in front of the dosing unit",
  },
  {
    id: "gas-lines-on",
    from: { around: 26, above: 26, words: "seen low from the right side" },
    state: bay(gas(join(cylinders, dosingClamp(0), dosingUnit(), gasLines()))),
    hero: ["gas-line"],
    frame: around([440, 300, 240], [830, 500, 450]),
    fill: 0.94,
    arrow: arrowTo([790, 470, 352], [0, 160, 40]),
    marks: [
      { at: [540, 478, 326], label: "Line one", hidden: true },
      { at: [640, 476, 336], label: "Line two", hidden: true },
      { at: [720, 411, 392], label: "Screen", hidden: true },
    ],
    shows: ["dosing-unit", "inhaled-gas-cylinder"],
    alt: "Two short lines from the cylinders to the dosing unit",
  },
]);

/** Opening it and reading it. */
export const openGasShelfScenes = taken("2026-11-28", [
  {
    id: "gas-valves-open",
    from: { around: 14, above: 18, words: "seen low from the right side" },
    state: bay(gas(join(cylindersOpen, dosingClamp(0), dosingUnit(), gasLines()))),
    hero: ["valve"],
    frame: around([410, 380, 250], [690, 490, 420]),
    fill: 0.92,
    arrow: gasLinesAt.map((p) => arrowRound(add(p, [0, 384, 0]), 46, "y", 20, 170, true)),
    marks: gasLinesAt.map((p, i) => ({
      at: add(p, [0, 382, -8]),
      label: `Valve ${i === 0 ? "one" : "two"}, pointer up`,
      hidden: true,
    })),
    twins: {
      right: { state: bigValve(true), words: "white pointer up, open" },
      wrong: { state: bigValve(false), words: "white pointer across, shut" },
      frame: bigFrame,
      from: [90, 12],
    },
    shows: ["inhaled-gas-cylinder", "gas-shelf", "dosing-unit"],
    alt: "Both valves of the gas shelf opened anticlockwise",
  },
]);

/** Taking it out. */
export const removeGasShelfScenes = taken("2026-09-21", [
  {
    id: "gas-valves-shut",
    from: { around: 14, above: 18, words: "seen low from the right side" },
    state: bay(gas(join(cylinders, dosingClamp(0), dosingUnit(), gasLines()))),
    hero: ["valve"],
    frame: around([410, 380, 250], [690, 490, 420]),
    fill: 0.92,
    arrow: gasLinesAt.map((p) => arrowRound(add(p, [0, 384, 0]), 46, "y", 170, 20, true)),
    marks: gasLinesAt.map((p, i) => ({
      at: add(p, [0, 382, -8]),
      label: `Valve ${i === 0 ? "one" : "two"}, pointer across`,
      hidden: true,
    })),
    twins: {
      right: { state: bigValve(false), words: "white pointer across, shut" },
      wrong: { state: bigValve(true), words: "white pointer up, open" },
      frame: bigFrame,
      from: [90, 12],
    },
    shows: ["inhaled-gas-cylinder", "gas-shelf", "dosing-unit"],
    alt: "Both valves of the gas shelf shut clockwise",
  },
  {
    id: "dosing-clamp-open",
    from: lowCentre,
    state: bay(gas(join(cylinders, dosingClamp(72), dosingUnit(), gasLines(90)))),
    hero: ["dosing-clamp"],
    frame: around([560, 300, 230], [850, 530, 460]),
    fill: 0.92,
    arrow: arrowRound([784, 490, 304], 100, "y", 168, 118),
    marks: [
      { at: [754, 488, 396], label: "Lever, up", hidden: true },
      { at: [690, 530, 336], label: "Lines off", hidden: true },
    ],
    shows: ["dosing-unit", "gas-shelf"],
    alt: "The dosing clamp lifted, both lines off",
  },
  {
    id: "dosing-unit-off",
    from: { around: 34, above: 24, words: "seen low from the right side" },
    state: bay(gas(join(cylinders, dosingClamp(75), move([0, 40, 96], dosingUnit())))),
    hero: ["dosing-unit"],
    frame: shelfFrame,
    fill: 0.92,
    arrow: arrowFrom([730, 480, 320], [0, 0, 120]),
    marks: [{ at: [690, 400, 304], label: "Groove", hidden: true }],
    shows: ["dosing-unit", "gas-shelf"],
    alt: "The dosing unit lifted off the shelf top",
  },
  {
    id: "shelf-clamps-open",
    from: lowCentre,
    state: bay(gas(cylinders, 62)),
    hero: ["shelf-clamp"],
    frame: around([380, 120, 240], [700, 490, 470]),
    fill: 0.94,
    arrow: arrowRound([540, 300, 290], 170, "y", 92, 142),
    marks: [
      { at: [gasLinesAt[0]![0] - 56, 304, 430], label: "Clamp one", hidden: true },
      { at: [gasLinesAt[1]![0] - 56, 304, 430], label: "Clamp two", hidden: true },
    ],
    shows: ["inhaled-gas-cylinder", "gas-shelf"],
    alt: "Both shelf clamps lifted off the cylinders",
  },
  {
    id: "inhaled-gas-cylinders-off",
    from: { around: 34, above: 24, words: "seen low from the right side" },
    state: bay(
      gas(join(gasLinesAt.map((p, i) => inhaledGasCylinder(add(p, [0, i ? 40 : 90, i ? 90 : 130]))).flat()), 100),
    ),
    hero: ["inhaled-gas-cylinder"],
    frame: shelfFrame,
    fill: 0.92,
    arrow: arrowFrom([700, 480, 320], [0, 30, 150]),
    marks: [
      { at: add(gasLinesAt[0]!, [-10, 330, 176]), label: "Cylinder one", hidden: true },
      { at: add(gasLinesAt[1]!, [10, 190, 140]), label: "Cylinder two", hidden: true },
    ],
    shows: ["inhaled-gas-cylinder", "gas-shelf"],
    alt: "Two cylinders lifted out of the shelf cradle",
  },
  latchShot({
    id: "bay-latch-open-shelf",
    inside: gas([], 80),
    open: true,
    view: lowCentre,
    shows: ["gas-shelf"],
    alt: "The bay latch pulled out below the empty gas shelf",
  }),
  slideShot({
    id: "gas-shelf-out",
    part: gas([], 80),
    hero: "gas-shelf",
    way: "out",
    by: 380,
    shows: ["gas-shelf"],
    alt: "The gas shelf slid out of the lower bay",
    marks: channelMarks,
  }),
  slideShot({
    id: "response-bag-in",
    part: responseBag(),
    hero: "response-bag",
    way: "in",
    by: 260,
    view: { around: 40, above: 20, words: "seen low from the right side" },
    shows: ["response-bag"],
    alt: "The response bag slid into the lower bay",
    marks: [
      { at: [700, 746, 252], label: "Base plate", hidden: true },
      { at: [770, 496, 252], label: "Channels", hidden: true },
    ],
  }),
  latchShot({
    id: "bay-latch-close-bag",
    inside: responseBag(),
    open: false,
    shows: ["response-bag"],
    alt: "The bay latch flat under the response bag",
  }),
]);

/** As `seated`, with the side rails folded down, out of the way. */
const deckUp = (canopy: number, mat: Shape = coolingMat(0, "loose")): Shape =>
  join(
    trolley({ bay: coolingUnit(), pouch: false, flap: 0, pins: false }),
    capsuleBase(true),
    newbornCapsule({ canopy }),
    ...pinPlaces.map((p) => capsulePin(add(p, [0, 0, 20]), { turned: 90 })),
    mat,
  );
const seated = (canopy: number, inside: Shape, mat: Shape): Shape =>
  join(
    trolley({ bay: inside, pouch: false, rails: 0, flap: 0, pins: false }),
    capsuleBase(true),
    newbornCapsule({ canopy }),
    ...pinPlaces.map((p) => capsulePin(add(p, [0, 0, 20]), { turned: 90 })),
    mat,
  );
const catches = (out: boolean): Shot["marks"] =>
  [640, 1110].map((x, i) => ({
    at: [x, tub.y + tub.width + (out ? 34 : 10), tub.rim - (out ? 18 : 14)] as Point,
    label: `${i ? "Foot" : "Head"} catch`,
    hidden: true,
  }));
const hinge: Point = [880, tub.y + 6, tub.rim];
const padFrame = around([380, 60, 860], [1330, 500, 1180]);

/** The unit where its sockets are looked at: the ring of one is blue. */
const unitClose = coolingUnit({ bluePort: true });
const slotView = { around: 40, above: 20, words: "seen from the foot end, right" } as const;
/** The capsule open, its pad raised, with what is in the slot under it. */
const slotSeen = (inside: Shape): Shape =>
  join(
    deckOnly({ pins: false, flap: 0 }),
    capsuleBase(true),
    newbornCapsule({ canopy: 100, padTilt: 22 }),
    ...pinPlaces.map((p) => capsulePin(add(p, [0, 0, 20]), { turned: 90 })),
    inside,
  );

/** Fitting the cooling unit. */
export const fitCoolingScenes = taken("2026-05-11", [
  slideShot({
    id: "cooling-unit-in",
    part: coolingUnit(),
    hero: "cooling-unit",
    way: "in",
    shows: ["cooling-unit"],
    alt: "The cooling unit slid into the lower bay",
    marks: [
      { at: add(coolingSockets[0]!, [0, 330, 14]), label: "Hose sockets, head end", hidden: true },
      { at: [770, 500, 252], label: "Channels", hidden: true },
      { at: [547, 817, 400], label: "Water window", hidden: true },
    ],
  }),
  {
    id: "warmer-slot-empty",
    from: slotView,
    state: slotSeen([]),
    hero: ["capsule-pad"],
    frame: padFrame,
    fill: 0.94,
    marks: [{ at: [1146, 300, 962], label: "Slot, empty", hidden: true }],
    twins: {
      right: { state: slotSeen([]), words: "slot empty under the pad" },
      wrong: { state: slotSeen(warmingMattress([556, 232, 974], false, "amber")), words: "mattress in the slot" },
      frame: around([540, 330, 930], [860, 520, 1060]),
      from: [20, 36],
    },
    shows: ["newborn-capsule"],
    alt: "The slot under the raised pad, the canopy open",
  },
  latchShot({
    id: "bay-latch-close-cooling",
    inside: coolingUnit(),
    open: false,
    shows: ["cooling-unit"],
    alt: "The bay latch flat under the cooling unit",
  }),
  {
    id: "cooling-mat-in",
    from: "foot right",
    state: deckUp(100, coolingMat(110, "up")),
    hero: ["cooling-mat"],
    frame: padFrame,
    fill: 0.94,
    dashes: ways(
      [
        [620, 400, 950],
        [1130, 400, 950],
      ],
      [0, 0, 110],
    ),
    arrow: arrowTo([880, 440, 960], [0, 0, 170]),
    marks: [
      { at: [980, 250, 1079], label: "Mat", hidden: true },
      { at: [476, 350, 1140], label: "Two hoses", hidden: true },
    ],
    shows: ["cooling-mat", "newborn-capsule"],
    alt: "The cooling mat on the capsule pad, hoses to the head end",
  },
  {
    id: "cooling-hoses-on",
    from: { around: -20, above: 22, words: "seen from the head end, right" },
    state: seated(0, unitClose, coolingMat(0, "on")),
    hero: ["cooling-hose"],
    frame: around([340, 240, 460], [660, 640, 760]),
    fill: 0.95,
    arrow: arrowTo([560, 420, 560], [0, 0, 150]),
    marks: [
      { at: add(coolingSockets[0]!, [0, 0, 10]), label: "Blue on blue", hidden: true },
      { at: add(coolingSockets[1]!, [0, 0, 10]), label: "White on white", hidden: true },
    ],
    twins: {
      right: { state: join(bay(unitClose), coolingMat(0, "on")), words: "blue on blue, white on white" },
      wrong: { state: join(bay(unitClose), coolingMat(0, "crossed")), words: "hoses crossed: blue on white" },
      frame: around([410, 280, 510], [540, 450, 660]),
    },
    shows: ["cooling-mat", "cooling-unit", "newborn-capsule"],
    alt: "Two hoses on the sockets of the cooling unit",
  },
  {
    id: "canopy-close-cooling",
    from: "head right",
    state: deckUp(0),
    hero: ["canopy", "cooling-hose"],
    frame: around([300, 60, 830], [1330, 500, 1300]),
    fill: 0.92,
    arrow: arrowRound(hinge, 430, "x", 70, 42),
    marks: [
      { at: [528, 320, 985], label: "Hose notch", hidden: true },
      { at: [1110, 478, 954], label: "Catches, flush", hidden: true },
    ],
    shows: ["newborn-capsule", "cooling-mat"],
    alt: "The canopy closed, two hoses in their notch",
  },
]);

/** Taking it out. */
export const removeCoolingScenes = taken("2026-05-11", [
  {
    id: "cooling-hoses-off",
    from: { around: -24, above: 24, words: "seen from the head end, right" },
    state: join(bay(coolingUnit()), cloth([520, 330, 510]), hosesOff()),
    hero: ["cooling-hose"],
    frame: around([390, 240, 470], [690, 520, 690]),
    fill: 0.9,
    arrow: arrowFrom([440, 460, 540], [0, 0, 130]),
    marks: [
      { at: [640, 420, 530], label: "Cloth", hidden: true },
      { at: add(coolingSockets[0]!, [-10, 14, 8]), label: "Sockets", hidden: true },
    ],
    shows: ["cooling-mat", "cooling-unit", "newborn-capsule"],
    alt: "Two hoses pulled off the cooling unit, one blue, one white",
  },
  {
    id: "canopy-open-mat",
    from: { around: 26, above: 32, words: "seen from the foot end, right" },
    state: deckUp(96),
    hero: ["canopy", "canopy-catch"],
    frame: around([300, -60, 830], [1340, 500, 1420]),
    fill: 0.9,
    arrow: arrowRound(hinge, 330, "x", 20, 78),
    marks: catches(true),
    shows: ["newborn-capsule", "cooling-mat"],
    alt: "The canopy open over the cooling mat",
  },
  {
    id: "cooling-mat-out",
    from: "head right",
    state: deckUp(100, coolingMat(150, "up")),
    hero: ["cooling-mat"],
    frame: around([420, 60, 860], [1330, 500, 1320]),
    fill: 0.92,
    arrow: arrowFrom([880, 440, 980], [0, 0, 190]),
    marks: [{ at: [470, 340, 1280], label: "Hose ends up", hidden: true }],
    shows: ["cooling-mat", "newborn-capsule"],
    alt: "The cooling mat lifted off the pad",
  },
  latchShot({
    id: "bay-latch-open-unit",
    inside: coolingUnit(),
    open: true,
    shows: ["cooling-unit"],
    alt: "The bay latch pulled out below the cooling unit",
  }),
  slideShot({
    id: "cooling-unit-out",
    part: coolingUnit(),
    hero: "cooling-unit",
    way: "out",
    by: 400,
    view: { around: 40, above: 20, words: "seen low from the right side" },
    shows: ["cooling-unit"],
    alt: "The cooling unit slid out of the lower bay",
    marks: [
      { at: [464, 926, 380], label: "Handle, head end", hidden: true },
      { at: [776, 926, 380], label: "Handle, foot end", hidden: true },
    ],
  }),
]);

/** Two hose ends in the air over their sockets. */
function hosesOff(): Shape {
  return join(...coolingSockets.map((p, i) => hoseEnd(add(p, [0, 10, 60 + i * 16]), i)));
}
function hoseEnd(at: Point, i: number): Shape {
  const material = i === 0 ? "blue" : "pad";
  return name(
    "cooling-hose",
    lathe(
      [
        [0, 0],
        [14, 0],
        [16, 8],
        [16, 42],
        [10, 54],
        [0, 54],
      ],
      at,
      [0, 0, 1],
      material,
      24,
    ),
    tube(arcPoints(add(at, [-120, 0, 50]), 120, "y", 0, 80, 16), 10, material, 14),
  );
}
