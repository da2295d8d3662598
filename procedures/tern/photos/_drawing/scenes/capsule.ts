/** Drawings for seating the newborn capsule on its base and taking it off. */
import { add, roundCorners, type Point } from "../engine/points.ts";
import { join, move, name, slab, turn, type Shape } from "../engine/shapes.ts";
import {
  capsuleBase,
  capsuleLead,
  capsulePin,
  newbornCapsule,
  pinPlaces,
  tub,
  warmingMattress,
} from "../trolley/capsule.ts";
import { flapHinge, leadSocket } from "../trolley/deck-fastenings.ts";
import { deck, deckBoard, footHoop } from "../trolley/frame.ts";
import { pinInTray } from "../trolley/pins.ts";
import { seatedCapsule } from "../trolley/trolley.ts";
import { hands } from "../trolley/people.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, leverShot, near, taken, ways } from "./common.ts";

/** Pins in the lugs of the seated capsule: `lift` above home, `turned` as they stand. */
const pinsAt = (lift: number, turned: number, places: readonly Point[] = pinPlaces): Shape =>
  join(...places.map((p) => capsulePin(add(p, [0, 0, 20]), { lift, turned })));
const headGrip: Point = [tub.x - 82, 280, 920],
  footGrip: Point = [tub.x + tub.length + 82, 280, 920];
const over = ways(
  [pinPlaces[0]!, pinPlaces[2]!, pinPlaces[3]!].map((p) => add(p, [0, 0, 20])),
  [0, 0, 330],
);
const capsuleFrame = around([400, 60, 820], [1400, 520, 1500]);
const headFrame = around([20, 60, 800], [520, 560, 1090]);
/** The head flap in any position, close by. */
const flapFrame = around([110, 130, 820], [430, 430, 1080]);
/** The lamp beside the deck socket. */
const lampAt: Point = [376, 424, 836];

/** The capsule in the air over its base. */
const lifted = (lift: number, state: Parameters<typeof newbornCapsule>[0] = {}): Shape =>
  move([0, 0, lift], newbornCapsule(state));

/** Drawings of the seating. */
export const seatCapsuleScenes = taken("2026-08-30", [
  {
    ...leverShot({
      id: "deck-lever-press",
      on: capsuleBase(true),
      from: 180,
      to: 180,
      shows: ["capsule-base"],
      alt: "The deck lever flat on the deck edge under the capsule base",
    }),
    dashes: [],
    arrow: arrowTo([1210, 596, 832], [0, 0, 120]),
  },
  {
    id: "head-flap-lower",
    from: "foot right",
    state: deckOnly({ flap: 0 }),
    hero: ["head-flap"],
    frame: headFrame,
    fill: 0.96,
    dashes: [flapOutline(90)],
    arrow: arrowRound(add(flapHinge, [0, 40, 0]), 190, "y", 82, 18),
    marks: [
      { at: [110, 280, 1122], label: "Catch" },
      { at: [164, 386, 844], label: "Hinge" },
      { at: [124, 313.3, 925], label: "Pin tray, four pins", hidden: true },
    ],
    twins: {
      right: { state: deckOnly({ flap: 0 }), words: "flap flat on the deck" },
      wrong: { state: deckOnly({ flap: 38 }), words: "flap half up, not flat" },
      frame: flapFrame,
    },
    shows: ["capsule-pin"],
    alt: "The head flap lowered, the pin tray with four pins open behind it",
  },
  {
    id: "capsule-lower",
    from: "foot right",
    state: join(deckOnly({ flap: 0 }), capsuleBase(true), lifted(320), gripHands(320)),
    hero: ["newborn-capsule"],
    frame: [...capsuleFrame, [300, 280, 1300], [1460, 280, 1300]],
    fill: 0.94,
    floor: 826,
    dashes: over,
    arrow: [arrowTo([640, 520, 900], [0, 0, 200]), arrowTo([1130, 520, 900], [0, 0, 200])],
    marks: [
      { at: add(headGrip, [0, 60, 320]), label: "Head grip bar" },
      { at: add(footGrip, [0, 60, 320]), label: "Foot grip bar" },
      { at: [1286, 440, 888], label: "Pin guide" },
    ],
    shows: ["newborn-capsule", "capsule-base"],
    alt: "The newborn capsule above its base, held by two grip bars",
  },
  {
    id: "capsule-pins-push",
    from: { around: 34, above: 42, words: "seen from the foot end, right" },
    state: join(deckOnly({ flap: 0, pins: false }), capsuleBase(true), newbornCapsule(), pinsAt(46, 0)),
    hero: ["capsule-pin"],
    frame: around([420, 62, 850], [1340, 498, 1230]),
    fill: 0.92,
    arrow: pinPlaces.map((p) => ({ ...arrowTo(add(p, [0, 0, 190]), [0, 0, 130]), thin: true })),
    marks: [
      [-30, 10, 118],
      [-26, 0, 132],
      [26, 0, 132],
      [20, 20, 118],
    ].map((d, i) => ({
      at: add(pinPlaces[i]!, d as unknown as Point),
      label: [
        "Head pin, ventilator side",
        "Head pin, monitor side",
        "Foot pin, monitor side",
        "Foot pin, ventilator side",
      ][i]!,
      hidden: i === 1,
    })),
    shows: ["capsule-pin", "capsule-base"],
    alt: "Four pins pushed into the four corners of the capsule base",
  },
  pinTurn({
    id: "capsule-pins-turn",
    turned: 90,
    from: -40,
    to: 100,
    label: "Knob, quarter turn",
    collar: "Collar, green side out",
    alt: "A capsule pin after its quarter turn, collar facing out",
  }),
  {
    id: "capsule-pull",
    from: "foot right",
    state: join(deckOnly({ flap: 0, pins: false }), seatedCapsule(), gripHands(0)),
    hero: ["newborn-capsule"],
    frame: around([330, 60, 820], [1470, 520, 1240]),
    fill: 0.88,
    floor: 826,
    arrow: [arrowFrom(add(headGrip, [0, 0, 18]), [0, 0, 190]), arrowFrom(add(footGrip, [0, 0, 18]), [0, 0, 190])],
    marks: [
      { at: add(headGrip, [0, 90, 8]), label: "Head grip bar", hidden: true },
      { at: add(footGrip, [0, 70, 8]), label: "Foot grip bar", hidden: true },
      { at: [880, 468, 884], label: "No gap between capsule and base" },
    ],
    shows: ["newborn-capsule", "capsule-base", "capsule-pin"],
    alt: "The capsule seated on its base, pulled up at both grip bars, no gap",
  },
  {
    id: "pin-tray-empty",
    from: { around: 42, above: 24, words: "seen from the foot end, right" },
    state: deckOnly({ flap: 0, pins: false }),
    hero: ["pin-tray"],
    frame: around([40, 110, 810], [430, 450, 1060]),
    fill: 0.92,
    marks: [
      { at: [84, 313.3, 925], label: "Four empty holes" },
      { at: [330, 350, 838], label: "Head flap, flat" },
    ],
    shows: [],
    alt: "The pin tray with four empty holes, the head flap flat on the deck",
  },
  leadShot({
    id: "capsule-lead-plug",
    alt: "The capsule cable going into the socket on the deck, its lamp green",
    lift: 70,
    way: "in",
  }),
]);

/** The raised plate on the deck's foot end on which the warming mattress waits. */
const footShelf: Shape = name("foot-shelf", slab([1348, 130, deck.top], [300, 300, 14], 14, "metal"));
/** The warming mattress waiting for the capsule to be made up. */
export const warmingReadyScenes = taken("2026-08-30", [
  {
    id: "warming-mattress-ready",
    from: { around: 40, above: 38, words: "seen from the foot end, right" },
    state: join(
      deckBoard(),
      leadSocket(),
      seatedCapsule(),
      footShelf,
      footHoop(),
      name("warming-mattress", turn("z", 90, [1500, 280, 960], warmingMattress([1200, 155, 960]))),
    ),
    hero: ["warming-mattress"],
    frame: around([1140, 40, 826], [1720, 560, 1040]),
    fill: 0.94,
    floor: 840,
    arrow: arrowTo([1660, 360, 850], [0, 0, 130]),
    marks: [
      { at: [1636, 240, 841], label: "Foot shelf", hidden: true },
      { at: [1400, 560, 960], label: "Cable end", hidden: true },
    ],
    shows: ["warming-mattress", "newborn-capsule"],
    alt: "The warming mattress above the foot shelf beside the seated capsule",
  },
]);

/** Drawings of the taking off. */
export const unseatCapsuleScenes = taken("2026-03-05", [
  {
    id: "capsule-empty",
    from: "head right",
    state: join(deckOnly({ flap: 0, pins: false }), seatedCapsule()),
    hero: ["capsule-pad"],
    frame: around([400, 60, 850], [1360, 500, 1240]),
    fill: 0.92,
    marks: [
      { at: [880, 240, 948], label: "Bare pad" },
      { at: [1110, 477, 950], label: "Catches flush" },
    ],
    shows: ["newborn-capsule"],
    alt: "The closed capsule with nothing on its pad",
  },
  leadShot({
    id: "capsule-lead-unplug",
    alt: "The capsule cable pulled out of the deck socket",
    lift: 110,
    way: "out",
  }),
  pinTurn({
    id: "capsule-pins-unlock",
    turned: 0,
    from: 140,
    to: 10,
    label: "Knob, quarter turn back",
    collar: "Collar, white side out",
    alt: "A capsule pin turned back, its collar white",
  }),
  {
    id: "pins-to-tray",
    from: "foot right",
    state: join(
      deckOnly({ flap: 0, pins: false }),
      capsuleBase(true),
      newbornCapsule(),
      ...[0, 1, 2, 3].map((i) => pinInTray(i, [0, 0, 70, 170][i]!)),
    ),
    hero: ["capsule-pin"],
    frame: around([40, 100, 820], [560, 560, 1080]),
    fill: 0.94,
    arrow: {
      path: roundCorners(
        [
          [474, 440, 1000],
          [440, 430, 1110],
          [300, 390, 1110],
          [290, 384, 990],
        ],
        90,
        10,
      ),
    },
    marks: [
      { at: [96, 180, 925], label: "Four holes", hidden: true },
      { at: [330, 340, 838], label: "Head flap, flat" },
    ],
    shows: ["capsule-pin"],
    alt: "Four pins in the four holes of the pin tray",
  },
  {
    id: "capsule-lift-off",
    from: "head right",
    state: join(deckOnly({ flap: 0 }), capsuleBase(true), lifted(360)),
    hero: ["newborn-capsule"],
    frame: around([360, 60, 820], [1400, 520, 1560]),
    fill: 0.92,
    floor: 826,
    dashes: ways(
      pinPlaces.map((p) => add(p, [0, 0, 20])),
      [0, 0, 360],
    ),
    arrow: [arrowFrom([640, 520, 900], [0, 0, 220]), arrowFrom([1130, 520, 900], [0, 0, 220])],
    marks: [
      { at: add(headGrip, [0, 60, 370]), label: "Head grip bar" },
      { at: add(footGrip, [0, 70, 370]), label: "Foot grip bar" },
    ],
    shows: ["newborn-capsule", "capsule-base"],
    alt: "The capsule lifted straight up off its base",
  },
  {
    id: "head-flap-raise",
    from: { around: 48, above: 28, words: "seen from the foot end, right" },
    state: deckOnly({ flap: 90 }),
    hero: ["head-flap"],
    frame: headFrame,
    fill: 0.94,
    dashes: [flapOutline(0)],
    arrow: arrowRound(add(flapHinge, [0, 60, 0]), 190, "y", 14, 74),
    marks: [
      { at: [168, 280, 1056], label: "Catch over the edge" },
      { at: [172, 200, 836], label: "Hinge" },
    ],
    twins: {
      right: { state: deckOnly({ flap: 90 }), words: "flap upright, catch over its edge" },
      wrong: { state: deckOnly({ flap: 62 }), words: "flap half up, catch not over its edge" },
      frame: flapFrame,
    },
    shows: ["capsule-pin"],
    alt: "The head flap upright, its catch over the upper edge",
  },
]);

/** The head flap's outline at so many degrees. */
function flapOutline(degrees: number): Point[] {
  const reach = 240 * Math.cos((degrees * Math.PI) / 180),
    rise = 240 * Math.sin((degrees * Math.PI) / 180),
    [x, , z] = flapHinge;
  return [
    [x, 148, z],
    [x + reach, 148, z + rise],
    [x + reach, 412, z + rise],
    [x, 412, z],
  ];
}

/** One pin close by, at the foot end's corner on the ventilator side. */
function pinTurn({
  id,
  turned,
  from,
  to,
  label,
  collar,
  alt,
}: {
  id: string;
  turned: number;
  from: number;
  to: number;
  label: string;
  collar: string;
  alt: string;
}) {
  const p = add(pinPlaces[3]!, [0, 0, 20]);
  return {
    id,
    alt,
    from: { around: 38, above: 34, words: "seen from the foot end, right" },
    hero: ["capsule-pin"],
    state: join(deckOnly({ flap: 0, pins: false }), capsuleBase(true), newbornCapsule(), pinsAt(0, turned)),
    frame: near(add(p, [0, 0, 50]), 78),
    fill: 0.9,
    arrow: arrowRound(add(p, [0, 0, 88]), 62, "z", from, to),
    marks: [
      { at: add(p, [14, 14, 104]), label },
      { at: add(p, [-6, 21, 47]), label: collar },
    ],
    ...(turned === 0
      ? {}
      : {
          twins: {
            right: { state: join(capsuleBase(true), pinsAt(0, 90)), words: "green collar" },
            wrong: { state: join(capsuleBase(true), pinsAt(0, 0)), words: "white collar, pin not turned" },
            frame: near(add(p, [0, 0, 50]), 66),
          },
        }),
    shows: ["capsule-pin", "capsule-base"],
  };
}

/** Two people, one at each grip bar, the capsule raised by so many millimetres. */
function gripHands(up: number): Shape {
  return join(
    hands(add(headGrip, [0, 0, up]), [0, 1, 0], 130, [-150, 0, 120]),
    hands(add(footGrip, [0, 0, up]), [0, 1, 0], 130, [150, 0, 120]),
  );
}
/** The capsule cable over its socket. */
function leadShot({ id, alt, lift, way }: { id: string; alt: string; lift: number; way: "in" | "out" }) {
  const plug: Point = [376, 470, 842 + lift];
  const arrow = way === "in" ? arrowTo([330, 500, 866], [0, 0, 120]) : arrowFrom([330, 500, 866], [0, 0, 130]);
  return {
    id,
    alt,
    from: way === "in" ? ("foot right" as const) : ("head right" as const),
    hero: ["capsule-lead"],
    state: join(deckOnly({ flap: 0, pins: false }), seatedCapsule(), capsuleLead(plug)),
    frame: around([290, 400, 820], [500, 540, 1060]),
    fill: 0.9,
    dashes: [[[376, 470, 842], plug] as Point[]],
    arrow,
    shows: ["newborn-capsule"],
    marks: [
      { at: add(plug, [4, 19, 50]), label: "Plug" },
      { at: [380, 492, 838] as Point, label: "Socket" },
      ...(way === "in" ? [{ at: lampAt, label: "Lamp, green" }] : []),
    ],
  };
}
