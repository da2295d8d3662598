/** Drawings of the readiness check, the power and gas check, and the change of an oxygen cylinder. */
import { add, roundCorners, type Point } from "../engine/points.ts";
import { box, extrude, join, lathe, name, slab, strap, tube, type Shape } from "../engine/shapes.ts";
import { cylinderLines, hearingPouch, oxygenCylinder } from "../trolley/bays.ts";
import { deckBoard } from "../trolley/frame.ts";
import { headEnd } from "../trolley/head-end.ts";
import { vehicleLead } from "../trolley/vehicle.ts";
import { earsInPouch, seatedCapsule, trolley } from "../trolley/trolley.ts";
import { finger } from "../trolley/people.ts";
import { bigFrame, bigGauge, bigLamp, needles } from "../trolley/signs.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, taken } from "./common.ts";

/** Looks at the waiting trolley, and at its power and gas. */
export const checkScenes = taken("2026-10-19", [
  {
    id: "card-check-word",
    from: { around: 8, above: 62, words: "seen from above" },
    state: join(
      name("table", box([-300, -300, -20], [1500, 1200, 20], "deck")),
      cardFolder([0, 0, 0]),
      wordList([420, -20, 0]),
    ),
    hero: ["check-word"],
    frame: around([-20, -40, 0], [720, 420, 20]),
    fill: 0.94,
    arrow: {
      path: [
        [300, 340, 12],
        [440, 250, 12],
      ],
      both: true,
    },
    marks: [
      { at: [214, 362, 12], label: "Check code on the card", hidden: true },
      { at: [560, 212, 8], label: "Same code on the list", hidden: true },
    ],
    shows: [],
    alt: "The check code on a card beside the list of current codes",
  },
  {
    id: "pins-in-base",
    from: { around: 36, above: 44, words: "seen from above the foot end, right" },
    state: join(deckOnly({ flap: 0, pins: false }), seatedCapsule()),
    hero: ["capsule-pin", "pin-tray"],
    frame: around([60, 62, 830], [1340, 498, 1180]),
    fill: 0.96,
    marks: [
      { at: [1286, 440, 985], label: "Four pins in the base", hidden: true },
      { at: [84, 313, 925], label: "None in the tray", hidden: true },
    ],
    shows: ["capsule-pin", "newborn-capsule", "capsule-base"],
    alt: "Four capsule pins in the base, none in the tray",
  },
  {
    id: "suction-thumb",
    from: { around: -58, above: 20, words: "seen from the head end" },
    state: join(deckBoard(), headEnd({}), suctionTube(), finger([-150, 542, 1002], [-150, 620, 1180])),
    hero: ["suction-unit"],
    twins: {
      right: { state: bigGauge(needles.full), words: "needle past the red mark, in the green field" },
      wrong: { state: bigGauge(needles.zero), words: "needle on the red mark" },
      frame: bigFrame,
      from: [90, 6],
    },
    frame: around([-190, 340, 860], [40, 540, 1080]),
    fill: 0.88,
    arrow: arrowTo([-150, 560, 1000], [0, 110, 60]),
    marks: [
      { at: [-150, 542, 992], label: "Thumb over the tube", hidden: true },
      { at: [-97, 440, 994], label: "Gauge", hidden: true },
      { at: [-112, 470, 920], label: "Jar", hidden: true },
    ],
    shows: ["suction-unit"],
    alt: "The suction unit, its tube shut with a thumb, its needle past the red mark",
  },
  {
    id: "bag-seal",
    from: { around: 24, above: 20, words: "seen low from the right side" },
    state: join(trolley({ pouch: false, rails: 0 }), bagSeal()),
    hero: ["seal"],
    frame: around([520, 440, 300], [740, 560, 520]),
    fill: 0.92,
    marks: [
      { at: [632, 508, 408], label: "Number on the seal", hidden: true },
      { at: [560, 500, 470], label: "Zips, tails through both", hidden: true },
    ],
    shows: ["response-bag"],
    alt: "The unbroken seal on the response bag",
  },
  {
    id: "hearing-pouch",
    from: { around: -8, above: 12, words: "seen from the right side" },
    state: join(deckBoard(), hearingPouch(earsInPouch())),
    hero: ["newborn-ear-cup", "small-ear-defender", "large-ear-defender"],
    frame: around([1070, 490, 580], [1330, 560, 800]),
    fill: 0.9,
    marks: [
      { at: [1112, 560, 660], label: "Two newborn cups", hidden: true },
      { at: [1173, 548, 646], label: "One small", hidden: true },
      { at: [1260, 548, 652], label: "One large", hidden: true },
    ],
    shows: ["newborn-ear-cup", "small-ear-defender", "large-ear-defender"],
    alt: "The hearing pouch with two cups, one small and one large ear defender",
  },
]);

/** Power, gas and the oxygen cylinders. */
export const oxygenScenes = taken("2026-03-05", [
  {
    id: "mains-lamp",
    from: { around: -50, above: 24, words: "seen from the head end" },
    state: join(deckBoard(), headEnd({ lamp: "good" }), vehicleLead(0)),
    hero: ["power-inlet"],
    twins: {
      right: { state: bigLamp("good"), words: "green lamp" },
      wrong: { state: bigLamp("hole"), words: "dark lamp" },
      frame: bigFrame,
      from: [66, 14],
    },
    frame: around([-170, 410, 700], [40, 530, 880]),
    fill: 0.92,
    arrow: arrowTo([-90, 480, 760], [-150, 0, -6]),
    marks: [
      { at: [-60, 480, 812], label: "Power cable", hidden: true },
      { at: [-19, 488, 806], label: "Lamp, green", hidden: true },
    ],
    shows: [],
    alt: "The power cable in the trolley, the lamp beside it green",
  },
  {
    id: "oxygen-gauges",
    from: { around: 36, above: 20, words: "seen from the foot end, right" },
    state: trolley({ pouch: false, rails: 0 }),
    hero: ["valve"],
    frame: around([1420, 110, 270], [1560, 450, 420]),
    fill: 0.92,
    twins: {
      right: { state: bigGauge(needles.full), words: "needle in the green field" },
      wrong: { state: bigGauge(needles.low), words: "needle out of the green field" },
      frame: bigFrame,
      from: [90, 6],
    },
    marks: [
      { at: [1503, 390, 374], label: "Gauge, ventilator side", hidden: true },
      { at: [1503, 170, 374], label: "Gauge, monitor side", hidden: true },
    ],
    shows: ["oxygen-cylinder"],
    alt: "Both oxygen gauges, their needles in the green field",
  },
  {
    id: "cylinder-clamps-flat",
    from: "low right",
    state: trolley({ pouch: false, rails: 0 }),
    hero: ["clamp-lever"],
    frame: around([1000, 400, 230], [1520, 520, 400]),
    fill: 0.94,
    arrow: [1100, 1400].map((x) => ({ ...arrowTo([x, 508, 316], [0, 150, 20]), thin: true })),
    marks: [1100, 1400].map((x, i) => ({
      at: [x, 505, 346] as Point,
      label: `Lever, ${i ? "foot" : "head"} clamp, flat`,
      hidden: true,
    })),
    shows: ["oxygen-cylinder"],
    alt: "Both levers of the cylinder clamps flat, each pressed with a thumb",
  },
  {
    id: "cylinder-clamps-open",
    from: { around: 34, above: 20, words: "seen low from the right side" },
    state: trolley({ pouch: false, rails: 0, clamps: 58 }),
    hero: ["cylinder-clamp"],
    frame: around([980, 60, 230], [1560, 520, 640]),
    fill: 0.94,
    arrow: arrowRound([1250, 74, 256], 400, "x", 14, 50),
    marks: [1100, 1400].map((x, i) => ({
      at: [x, 276, 600] as Point,
      label: `Clamp, ${i ? "foot" : "head"} end`,
      hidden: true,
    })),
    shows: ["oxygen-cylinder"],
    alt: "Both cylinder clamps swung open over the cylinders",
  },
  {
    id: "oxygen-cylinder-out",
    from: { around: 20, above: 26, words: "seen from the right side" },
    state: cylinderMoved(150, 110),
    hero: ["moved"],
    frame: around([980, 60, 230], [1600, 660, 560]),
    fill: 0.94,
    arrow: arrowFrom([1300, 560, 300], [0, 260, 0]),
    marks: [
      { at: [1200, 590, 440], label: "Empty cylinder", hidden: true },
      { at: [1460, 540, 430], label: "Tag “empty”", hidden: true },
    ],
    shows: ["oxygen-cylinder"],
    alt: "The empty oxygen cylinder lifted out of the bay",
  },
  {
    id: "oxygen-cylinder-in",
    from: { around: 42, above: 22, words: "seen low from the foot end, right" },
    state: cylinderMoved(120, 130, false),
    hero: ["moved"],
    frame: around([980, 60, 230], [1600, 640, 560]),
    fill: 0.94,
    arrow: arrowTo([1240, 500, 330], [0, 180, 120]),
    marks: [{ at: [1522, 510, 506], label: "Gauge up", hidden: true }],
    shows: ["oxygen-cylinder"],
    alt: "A full oxygen cylinder laid into the bay, its gauge up",
  },
  {
    id: "cylinder-clamps-close",
    from: { around: 30, above: 24, words: "seen low from the right side" },
    state: trolley({ pouch: false, rails: 0, clamps: 0 }),
    hero: ["cylinder-clamp"],
    frame: around([1000, 60, 230], [1560, 520, 480]),
    fill: 0.94,
    arrow: arrowRound([1250, 74, 256], 440, "x", 50, 22),
    marks: [1100, 1400].map((x, i) => ({
      at: [x, 505, 320] as Point,
      label: `Lever, ${i ? "foot" : "head"} end, flat`,
      hidden: true,
    })),
    shows: ["oxygen-cylinder"],
    alt: "Both cylinder clamps down over the cylinders, levers flat",
  },
]);

/** The near cylinder on its way, with or without the tag on its neck. */
function cylinderMoved(out: number, up: number, tagged = true): Shape {
  const [far, nearLine] = cylinderLines as readonly [Point, Point],
    at = add(nearLine, [0, out, up]);
  const tag = tagged
    ? join(
        strap([add(at, [452, 30, 0]), add(at, [452, 40, -40])], [1, 0, 0], 6, "dark", 3),
        extrude(
          [
            [at[0] + 424, at[2] - 116],
            [at[0] + 480, at[2] - 116],
            [at[0] + 480, at[2] - 40],
            [at[0] + 424, at[2] - 40],
          ],
          "y",
          at[1] + 42,
          at[1] + 45,
          "pad",
        ),
      )
    : [];
  return join(
    trolley({ pouch: false, rails: 0, cylinders: false, clamps: 75 }),
    oxygenCylinder(far),
    name("moved", oxygenCylinder(at), tag),
  );
}
/** The tube from the suction jar, its end free. */
function suctionTube(): Shape {
  const path = roundCorners(
    [
      [-112, 442, 962],
      [-112, 442, 1010],
      [-130, 520, 1040],
      [-150, 556, 1010],
      [-150, 540, 976],
    ],
    40,
    8,
  );
  return name(
    "suction-unit",
    tube(path, 8, "soft"),
    lathe(
      [
        [5, 0],
        [11, 0],
        [11, 26],
        [5, 26],
      ],
      [-150, 540, 976],
      [0, 0.2, 1],
      "body",
      24,
    ),
  );
}
/** The seal on the response bag's zips. */
function bagSeal(): Shape {
  const zip = (x: number): Shape => name("zip", box([x - 6, 492, 470], [12, 6, 34], "dark"));
  return join(
    zip(560),
    zip(600),
    name(
      "seal",
      tube(
        roundCorners(
          [
            [560, 500, 478],
            [560, 506, 440],
            [600, 508, 436],
            [600, 500, 478],
          ],
          16,
          8,
        ),
        4,
        "body",
      ),
      extrude(
        [
          [588, 380],
          [676, 380],
          [676, 438],
          [588, 438],
        ],
        "y",
        500,
        507,
        "body",
      ),
      ...[0, 1, 2, 3, 4].map((i) => box([598 + i * 14, 507, 396], [8, 0.8, 24], "hole")),
    ),
  );
}
/** A laminated card in an open ring folder. */
function cardFolder([x, y, z]: Point): Shape {
  const line = (v: number, w: number, m: "hole" | "metal" = "metal"): Shape =>
    box([x + 60, y + v, z + 9], [w, 7, 0.6], m);
  return name(
    "folder",
    slab([x, y, z], [340, 440, 6], 10, "dark"),
    slab([x + 24, y + 16, z + 6], [296, 408, 3], 8, "pad"),
    ...[140, 300].map((v) =>
      join(
        lathe(
          [
            [8, 0],
            [13, 0],
            [13, 2],
            [8, 2],
          ],
          [x + 42, y + v, z + 9],
          [0, 0, 1],
          "metal",
          20,
        ),
      ),
    ),
    line(40, 170, "hole"),
    line(62, 110, "hole"),
    ...[100, 132, 164, 196, 228, 260].map((v) => line(v, 200)),
    ...[100, 132, 164, 196, 228, 260].map((v) =>
      lathe(
        [
          [6, 0],
          [10, 0],
          [10, 1],
          [6, 1],
        ],
        [x + 288, y + v + 3, z + 9],
        [0, 0, 1],
        "hole",
        18,
      ),
    ),
    name(
      "check-word",
      slab([x + 140, y + 340, z + 9], [150, 40, 1.2], 6, "body"),
      ...[0, 1, 2, 3, 4, 5].map((i) =>
        box([x + 152 + i * 22 + (i > 3 ? 10 : 0), y + 350, z + 10.2], [12, 20, 0.6], "hole"),
      ),
    ),
  );
}
/** The list by the door: one word a line, one of them the card's. */
function wordList([x, y, z]: Point): Shape {
  const row = (i: number): Shape =>
    [0, 1, 2, 3, 4, 5].flatMap((k) =>
      box([x + 110 + k * 20 + (k > 3 ? 8 : 0), y + 60 + i * 42, z + 5], [11, 18, 0.6], i === 4 ? "hole" : "metal"),
    );
  return name(
    "list",
    slab([x, y, z], [270, 440, 5], 6, "pad"),
    ...Array.from({ length: 8 }, (_, i) =>
      join(
        box([x + 26, y + 66 + i * 42, z + 5], [60, 6, 0.6], "metal"),
        i === 4 ? name("check-word", slab([x + 100, y + 50 + i * 42, z + 5], [150, 38, 0.5], 6, "body")) : [],
        name(i === 4 ? "check-word" : "list", row(i)),
      ),
    ),
  );
}
