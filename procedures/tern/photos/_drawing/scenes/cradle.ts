/** Drawings for fitting the child cradle and taking it off. */
import { roundCorners, type Point } from "../engine/points.ts";
import { box, join, move, name, strap, turn, type Shape } from "../engine/shapes.ts";
import { hookClosed } from "../trolley/capsule.ts";
import { hooks } from "../trolley/frame.ts";
import {
  childCradle,
  cradleStrap,
  cradleYoke,
  flatStrap,
  rolledStrap,
  strapBuckle,
  strapLines,
  wallAt,
  yokeBuckleAt,
} from "../trolley/restraints.ts";
import { trolley } from "../trolley/trolley.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, leverShot, taken, ways, type Shot } from "./common.ts";

/** The hooks closed over the cradle's foot. */
export const hooksClosed = (top: number): Shape => join(...hooks.map(([x, y]) => hookClosed(x, y, top)));
const standing = join(childCradle(), hooksClosed(844));
const allStraps = join(cradleYoke(), ...strapLines.map((x) => cradleStrap(x)));
const cradleCorners = ways(
  [
    [420, 488, 830],
    [1380, 488, 830],
    [1440, 80, 830],
  ],
  [0, 0, 300],
);
const onTable = (...shapes: Shape[]): Shape =>
  join(name("table", box([300, -160, 780], [1200, 900, 20], "deck")), ...shapes);

/** A strap across the pad whose end has just come out through the near slot. */
const threading = (x: number): Shape => cradleStrap(x, { tail: 116 });
/** A loose length of webbing across the cradle. */
const webbing = (path: readonly Point[]): Shape => strap(path, [1, 0, 0], 40, "web");

/** Both side rails on their way, what stands on the deck between them. */
export function railsShot({
  id,
  alt,
  shows,
  on,
  to,
  marks,
  from = "foot right",
}: Pick<Shot, "id" | "alt" | "shows"> & {
  on: Shape;
  to: "up" | "down";
  marks: Shot["marks"];
  from?: Shot["from"];
}): Shot {
  const up = to === "up",
    pivot: Point = [950, 578, 815];
  const outline = (degrees: number): Point[] =>
    roundCorners(
      (
        [
          [520, 572, 830],
          [520, 572, 1046],
          [1380, 572, 1046],
          [1380, 572, 830],
        ] as const
      ).map((p) => rotate(p, degrees)),
      60,
    );
  return {
    id,
    alt,
    shows,
    from,
    hero: ["side-rail", "rail-peg"],
    state: join(trolley({ rails: up ? 0 : 180 }), on),
    frame: around([420, 0, 560], [1480, 640, 1080]),
    fill: 0.94,
    dashes: [outline(up ? 180 : 0)],
    arrow: up ? arrowRound(pivot, 190, "x", -70, 70) : arrowRound(pivot, 190, "x", 70, -70),
    marks,
  };
}
function rotate([x, y, z]: Point, degrees: number): Point {
  const t = (-degrees * Math.PI) / 180,
    v = y - 578,
    w = z - 815;
  return [x, 578 + v * Math.cos(t) - w * Math.sin(t), 815 + v * Math.sin(t) + w * Math.cos(t)];
}
/** The marks on raised rails. */
export const pegsThrough: Shot["marks"] = [
  { at: [1380, 606, 822], label: "Peg through, foot end" },
  { at: [520, 606, 822], label: "Peg through, head end" },
];
/** The marks on lowered rails. */
export const railsDown: Shot["marks"] = [
  { at: [1380, 596, 822], label: "Peg" },
  { at: [820, 584, 584], label: "Rail below the deck edge" },
];

/** Fitting. */
export const fitCradleScenes = taken("2026-03-18", [
  {
    id: "cradle-straps-laid-out",
    from: "above",
    state: onTable(
      ...[400, 500, 640, 740].map((x) => flatStrap(x, 290, 800)),
      move([340, 10, 800 - yokeBuckleAt[2]], cradleYoke()),
    ),
    hero: ["cradle-strap", "cradle-yoke"],
    frame: around([350, -90, 800], [1440, 670, 830]),
    fill: 0.92,
    marks: [
      { at: [400, 120, 806], label: "Head pair" },
      { at: [640, 120, 806], label: "Foot pair" },
      { at: [1270, 290, 806], label: "Yoke, one", hidden: true },
    ],
    shows: ["cradle-strap", "cradle-yoke"],
    alt: "Four cradle straps laid out side by side, the yoke beside them",
  },
  {
    id: "head-flap-up",
    from: { around: 7, above: 24, words: "seen from the right side" },
    state: deckOnly(),
    hero: ["head-flap", "flap-catch"],
    frame: around([20, 60, 810], [480, 540, 1090]),
    fill: 0.95,
    marks: [
      { at: [168, 280, 1056], label: "Catch over the edge" },
      { at: [120, 400, 925], label: "Four pins behind the flap", hidden: true },
    ],
    twins: {
      right: { state: deckOnly(), words: "flap upright, catch over its edge" },
      wrong: { state: deckOnly({ flap: 62 }), words: "flap half up, catch not over its edge" },
      frame: around([110, 130, 820], [430, 430, 1080]),
      from: [48, 28],
    },
    shows: ["capsule-pin"],
    alt: "The head flap upright with its catch over the edge",
  },
  {
    ...leverShot({
      id: "deck-lever-release-cradle",
      from: 180,
      to: 90,
      shows: [],
      alt: "The deck lever upright, ready for the cradle",
    }),
    from: { around: 40, above: 26, words: "seen from the right side" },
  },
  {
    id: "child-cradle-lower",
    from: "foot right",
    state: join(deckOnly({ lever: 90 }), move([0, 0, 300], childCradle())),
    hero: ["child-cradle"],
    frame: around([280, 40, 800], [1560, 560, 1330]),
    fill: 0.92,
    floor: 826,
    dashes: cradleCorners,
    arrow: [arrowTo([600, 520, 880], [0, 0, 220]), arrowTo([1200, 520, 880], [0, 0, 220])],
    marks: [
      { at: [350, 470, 1300], label: "High end, head end" },
      { at: [1449, 280, 1230], label: "Low end" },
      { at: [1160, 499, 839], label: "Deck hooks", hidden: true },
    ],
    shows: ["child-cradle"],
    alt: "The child cradle above the deck, its high end at the head end",
  },
  leverShot({
    id: "deck-lever-lock-cradle",
    on: standing,
    from: 90,
    to: 180,
    shows: ["child-cradle"],
    alt: "The deck lever flat under the child cradle",
  }),
  {
    id: "cradle-straps-head",
    from: { around: 20, above: 56, words: "seen from above the right side" },
    state: join(deckOnly(), standing, threading(strapLines[0]), threading(strapLines[1])),
    hero: ["cradle-strap"],
    frame: around([560, 72, 850], [1060, 580, 1030]),
    fill: 0.96,
    arrow: [arrowFrom([720, 430, 960], [0, 190, -14]), arrowFrom([880, 430, 954], [0, 190, -14])],
    marks: [
      { at: [720, 78, 962], label: "Slot pair one", hidden: true },
      { at: [880, 78, 956], label: "Slot pair two", hidden: true },
      { at: [900, 380, 916], label: "Print up", hidden: true },
    ],
    shows: ["cradle-strap", "child-cradle"],
    alt: "Two straps through the slot pairs at the head end of the cradle",
  },
  {
    id: "cradle-straps-foot",
    from: { around: 34, above: 54, words: "seen from above the foot end, right" },
    state: join(
      deckOnly(),
      standing,
      name("head-pair", cradleStrap(strapLines[0]), cradleStrap(strapLines[1])),
      name("foot-pair", threading(strapLines[2]), threading(strapLines[3])),
    ),
    hero: ["foot-pair"],
    frame: around([660, 72, 850], [1400, 580, 1030]),
    fill: 0.96,
    arrow: [arrowFrom([1070, 430, 950], [0, 190, -14]), arrowFrom([1240, 430, 942], [0, 190, -14])],
    marks: [
      { n: 3, at: [1070, 78, 944], label: "Slot pair three", hidden: true },
      { n: 4, at: [1240, 78, 938], label: "Slot pair four", hidden: true },
    ],
    shows: ["cradle-strap", "child-cradle"],
    alt: "Two straps through the slot pairs at the foot end of the cradle",
  },
  {
    id: "cradle-buckles-close",
    from: { around: 14, above: 56, words: "seen from above the right side" },
    state: onTable(name("cradle-strap", bench(600, 0), bench(800, 16))),
    hero: ["cradle-strap"],
    twins: {
      right: { state: onTable(bench(600, 0)), words: "no yellow ring" },
      wrong: { state: onTable(bench(600, 16)), words: "yellow ring in sight, half closed" },
      frame: around([556, 210, 800], [644, 360, 830]),
    },
    frame: around([520, 170, 800], [880, 420, 830]),
    fill: 0.92,
    arrow: arrowFrom([742, 440, 812], [0, -120, 0]),
    marks: [
      { at: [600, 300, 830], label: "Closed, no ring" },
      { at: [800, 322, 815], label: "Half closed, yellow ring", hidden: true },
    ],
    shows: ["cradle-strap"],
    alt: "A cradle buckle closed, with no yellow ring in sight, beside one half closed with its yellow ring",
  },
  {
    id: "cradle-straps-pull",
    from: { around: 30, above: 36, words: "seen from the foot end, right" },
    state: join(
      deckOnly(),
      standing,
      cradleStrap(strapLines[0], { lift: 96 }),
      ...strapLines.slice(1).map((x) => cradleStrap(x)),
    ),
    hero: ["cradle-strap"],
    frame: around([560, 72, 850], [1400, 488, 1100]),
    fill: 0.94,
    arrow: arrowFrom([strapLines[0], 280, 1040], [0, 0, 130]),
    marks: strapLines.map((x, i) => ({
      at: [x, 310, i === 0 ? 1008 : 926] as Point,
      label: ["First", "Second", "Third", "Fourth"][i]!,
      hidden: true,
    })),
    shows: ["cradle-strap", "child-cradle"],
    alt: "Four closed straps across the cradle, the first pulled up",
  },
  railsShot({
    id: "side-rails-raise",
    on: join(standing, allStraps),
    to: "up",
    marks: pegsThrough,
    shows: ["child-cradle"],
    alt: "Both side rails up beside the cradle, pegs through",
  }),
]);

/** Taking off. */
export const removeCradleScenes = taken("2026-03-18", [
  railsShot({
    id: "side-rails-lower",
    on: join(standing, allStraps),
    to: "down",
    marks: railsDown,
    shows: ["child-cradle"],
    alt: "Both side rails folded down below the deck edge",
  }),
  {
    id: "cradle-buckles-open",
    from: { around: 30, above: 40, words: "seen from the foot end, right" },
    state: join(deckOnly(), standing, ...strapLines.map((x, i) => cradleStrap(x, { open: i === 1 ? 26 : 0 }))),
    hero: ["strap-buckle"],
    frame: around([640, 120, 900], [1160, 420, 960]),
    fill: 0.9,
    arrow: arrowTo([880, 256, 944], [0, 0, 110]),
    marks: [{ at: [884, 254, 938], label: "Press bar" }],
    shows: ["cradle-strap", "child-cradle"],
    alt: "A cradle buckle opened with its press bar",
  },
  {
    id: "cradle-straps-draw",
    from: { around: 30, above: 36, words: "seen from the foot end, right" },
    state: join(
      deckOnly(),
      standing,
      drawn(strapLines[2]),
      drawn(strapLines[3]),
      rolledStrap([620, 300, 926]),
      rolledStrap([740, 300, 926]),
    ),
    hero: ["cradle-strap"],
    frame: around([520, 72, 850], [1400, 640, 1030]),
    fill: 0.94,
    arrow: arrowFrom([1150, 560, 900], [0, 170, -40]),
    marks: [
      { at: [1240, 490, 934], label: "Slot pair", hidden: true },
      { at: [756, 330, 948], label: "Rolled strap", hidden: true },
    ],
    shows: ["cradle-strap", "child-cradle"],
    alt: "Cradle straps drawn out of their slots",
  },
  leverShot({
    id: "deck-lever-release-under-cradle",
    on: childCradle(),
    from: 180,
    to: 90,
    shows: ["child-cradle"],
    alt: "The deck lever upright beside the child cradle",
  }),
  {
    id: "child-cradle-lift-off",
    from: "head right",
    state: join(deckOnly({ lever: 90 }), turn("y", -5, [330, 280, 1100], move([0, 0, 270], childCradle()))),
    hero: ["child-cradle"],
    frame: around([280, 40, 800], [1520, 560, 1380]),
    fill: 0.92,
    floor: 826,
    dashes: ways(
      [
        [420, 488, 830],
        [1380, 488, 830],
      ],
      [0, 0, 330],
    ),
    arrow: [arrowFrom([600, 520, 880], [0, 0, 200]), arrowFrom([1200, 520, 880], [0, 0, 250])],
    marks: [
      { at: [1380, 488, 1260], label: "Low end", hidden: true },
      { at: [331, 300, 1240], label: "High end", hidden: true },
    ],
    shows: ["child-cradle"],
    alt: "The child cradle lifted off the deck",
  },
  leverShot({
    id: "deck-lever-lock-after-cradle",
    from: 90,
    to: 180,
    wide: true,
    shows: [],
    alt: "The deck lever flat, the deck empty again",
  }),
]);

/** A buckle on a bench with its webbing, its tongue drawn out a little. */
function bench(x: number, open: number): Shape {
  const z = 803;
  return join(
    strap(
      [
        [x, 60, z],
        [x, 262 - open, z],
      ],
      [1, 0, 0],
      40,
      "web",
    ),
    strap(
      [
        [x, 318 + open, z],
        [x, 520, z],
      ],
      [1, 0, 0],
      40,
      "web",
    ),
    strapBuckle([x, 280, z], open),
  );
}
/** A strap drawn out through the near slots. */
function drawn(x: number): Shape {
  const z = wallAt(x) - 37;
  return name(
    "cradle-strap",
    webbing(
      roundCorners(
        [
          [x, 300, 906],
          [x, 440, 906],
          [x, 474, z],
          [x, 500, z],
          [x, 540, z - 30],
          [x, 620, z - 80],
        ],
        24,
      ),
    ),
  );
}
