/**
 * Drawings at the foot end: the second ventilator on the foot rail with its hose, and the ventilator on its bracket.
 */
import { add, type Point } from "../engine/points.ts";
import { box, join, move, name, type Shape } from "../engine/shapes.ts";
import {
  backStrap,
  clampLine,
  footEnd,
  footRail,
  hoseClip,
  monitor,
  monitorArm,
  railClamp,
  secondHose,
  secondHoseEnds,
  secondVentilator,
  secondVentilatorPanel,
  ventilator,
  ventilatorBracket,
} from "../trolley/foot-end.ts";
import { deckBoard, footHoop } from "../trolley/frame.ts";
import { around, arrowFrom, arrowRound, arrowTo, taken, ways } from "./common.ts";

type Strap = Parameters<typeof footEnd>[0];
const end = (strap: Strap, clamp = 0, ...more: Shape[]): Shape => join(deckBoard(), footEnd(strap, clamp), ...more);
const [rx, , rz] = footRail;
const clampFrame = around([1690, 80, 1080], [1800, 280, 1250]),
  clampLever: Point = [rx + 34, clampLine, rz + 18];
const strapFrame = around([1690, 250, 1040], [1800, 470, 1240]),
  hungFrame = around([1690, 170, 1020], [1890, 420, 1360]);
const hungClampFrame = around([1690, 70, 1080], [1830, 300, 1290]);
const wideFrame = around([1640, 100, 1120], [1890, 470, 1500]);
const [atOutlet, atVentilator] = secondHoseEnds as readonly [Point, Point];
const hoseView = { around: 40, above: 18, words: "seen from the foot end, right" } as const;
const hoseFrame = around([1700, 400, 930], [1980, 640, 1330]);

/** Fitting the second ventilator. */
export const fitSecondVentilatorScenes = taken("2026-06-10", [
  {
    id: "second-ventilator-battery",
    from: { around: 64, above: 16, words: "seen from its front" },
    state: join(name("bench", box([1650, 60, 1172], [420, 440, 18], "deck")), secondVentilator()),
    hero: ["battery-key"],
    twins: {
      right: { state: secondVentilatorPanel(0, 0, 0), words: "four of four bars, all green" },
      wrong: { state: secondVentilatorPanel(0, 0, 0, 2), words: "two of four bars" },
      frame: around([0, 118, 44], [4, 168, 134]),
    },
    frame: around([1800, 180, 1190], [1880, 380, 1360]),
    fill: 0.86,
    arrow: arrowTo([1886, 339, 1222], [120, 40, 0]),
    marks: [
      { at: [1880, 346, 1226], label: "Battery key", hidden: true },
      { at: [1878, 342, 1306], label: "Four bars" },
    ],
    shows: ["second-ventilator"],
    alt: "The front of the second ventilator with four battery bars",
  },
  {
    id: "back-strap-open",
    from: "foot",
    state: end("bare open"),
    hero: ["back-strap"],
    frame: strapFrame,
    fill: 0.9,
    arrow: arrowFrom([rx + 90, 350, rz - 90], [110, 0, -10]),
    marks: [
      { at: [rx + 74, 350, rz - 110], label: "Strap buckle", hidden: true },
      { at: [rx + 10, 290, rz + 10], label: "Foot rail" },
    ],
    shows: [],
    alt: "The back strap open on the bare foot rail",
  },
  {
    id: "rail-clamp-open",
    from: "foot",
    state: end("bare", 80),
    hero: ["rail-clamp"],
    frame: clampFrame,
    fill: 0.86,
    arrow: arrowRound(clampLever, 96, "y", -84, -16),
    marks: [
      { at: [rx + 130, clampLine, rz + 16], label: "Lever", hidden: true },
      { at: [rx + 10, clampLine + 22, rz - 22], label: "Jaw, open", hidden: true },
    ],
    shows: [],
    alt: "The rail clamp on the foot rail, its jaw open",
  },
  {
    id: "second-ventilator-hang",
    from: { around: 34, above: 22, words: "seen from the foot end, right" },
    state: end("none", 80, move([0, 0, 160], secondVentilator())),
    hero: ["second-ventilator"],
    frame: wideFrame,
    fill: 0.92,
    dashes: ways(
      [
        [1760, 200, 1200],
        [1870, 360, 1200],
      ],
      [0, 0, 150],
    ),
    arrow: arrowTo([1900, 400, 1230], [0, 0, 160]),
    marks: [
      { at: [1716, 314, 1370], label: "Hook", hidden: true },
      { at: [rx + 8, 440, rz + 10], label: "Foot rail" },
      { at: [1876, 250, 1450], label: "Screen, to the foot end" },
    ],
    shows: ["second-ventilator", "ventilator", "monitor"],
    alt: "The second ventilator above the foot rail, its screen to the foot end",
  },
  {
    id: "rail-clamp-close",
    from: { around: 120, above: 24, words: "seen from the foot end, left" },
    state: end("none", 0, secondVentilator()),
    hero: ["rail-clamp"],
    frame: hungClampFrame,
    fill: 0.92,
    arrow: arrowRound(clampLever, 96, "y", -10, -70),
    marks: [
      { at: [rx + 40, clampLine, rz - 14], label: "Lever, flat", hidden: true },
      { at: [rx + 24, clampLine + 20, rz - 14], label: "Jaw, closed", hidden: true },
    ],
    shows: ["second-ventilator"],
    alt: "The rail clamp closed round the rail, its lever flat",
  },
  {
    id: "back-strap-close",
    from: "foot",
    state: end("over", 0, secondVentilator()),
    hero: ["back-strap"],
    frame: hungFrame,
    fill: 0.88,
    arrow: arrowTo([1900, 280, 1262], [150, 0, 10]),
    marks: [
      { at: [1898, 296, 1270], label: "Buckle", hidden: true },
      { at: [1888, 300, 1184], label: "Strap end through its loop", hidden: true },
    ],
    shows: ["second-ventilator"],
    alt: "The back strap flat over the second ventilator, end through its loop",
  },
  {
    id: "second-hose-on",
    from: hoseView,
    state: end("over", 0, secondVentilator(), secondHose()),
    hero: ["second-hose"],
    frame: hoseFrame,
    fill: 0.92,
    arrow: [
      arrowTo(add(atOutlet, [84, 30, 30]), [110, 20, 40]),
      arrowTo(add(atVentilator, [30, 76, 40]), [30, 110, 50]),
    ],
    marks: [
      { at: add(atOutlet, [20, 10, 18]), label: "Collar at the outlet", hidden: true },
      { at: add(atVentilator, [10, 14, 20]), label: "Collar at the ventilator", hidden: true },
    ],
    shows: ["second-hose", "second-ventilator"],
    alt: "The second hose on the outlet and on the ventilator",
  },
  {
    id: "second-hose-tug",
    from: { around: 58, above: 20, words: "seen from the foot end, right" },
    state: end("over", 0, secondVentilator(), secondHose()),
    hero: ["collar"],
    frame: hoseFrame,
    fill: 0.9,
    arrow: [
      { ...arrowFrom(add(atOutlet, [60, 20, -40]), [120, 20, -10]), both: false },
      arrowFrom(add(atVentilator, [20, 60, -40]), [20, 120, -10]),
    ],
    marks: [
      { at: add(atOutlet, [20, 10, 18]), label: "Collar at the outlet", hidden: true },
      { at: add(atVentilator, [10, 14, 20]), label: "Collar at the ventilator", hidden: true },
    ],
    shows: ["second-hose", "second-ventilator"],
    alt: "Both collars of the second hose tugged",
  },
]);

/** Taking it off. */
export const removeSecondVentilatorScenes = taken("2026-06-10", [
  {
    id: "second-hose-off",
    from: { around: 34, above: 26, words: "seen from the foot end, right" },
    state: end("over", 0, secondVentilator(), secondHose(70)),
    hero: ["second-hose"],
    frame: hoseFrame,
    fill: 0.92,
    dashes: [
      [add(atOutlet, [8, 0, 0]), add(atOutlet, [78, 0, 14])],
      [add(atVentilator, [0, -6, 0]), add(atVentilator, [0, 64, 0])],
    ],
    arrow: [
      arrowFrom(add(atOutlet, [20, 40, -96]), [130, 10, 10]),
      arrowFrom(add(atVentilator, [30, -10, 50]), [0, 120, 10]),
    ],
    marks: [
      { at: add(atOutlet, [100, 10, 30]), label: "Collar at the outlet", hidden: true },
      { at: add(atVentilator, [10, 84, 20]), label: "Collar at the ventilator", hidden: true },
    ],
    shows: ["second-hose", "second-ventilator"],
    alt: "The second hose off both collars",
  },
  {
    id: "back-strap-unbuckle",
    from: "foot",
    state: end("over open", 0, secondVentilator()),
    hero: ["back-strap"],
    frame: around([1690, 160, 960], [1960, 420, 1360]),
    fill: 0.9,
    arrow: arrowFrom([1986, 280, 1250], [110, 0, -20]),
    marks: [{ at: [1980, 296, 1240], label: "Buckle", hidden: true }],
    shows: ["second-ventilator"],
    alt: "The back strap open over the second ventilator",
  },
  {
    id: "rail-clamp-unclamp",
    from: { around: 114, above: 18, words: "seen from the foot end, left" },
    state: end("over open", 80, secondVentilator()),
    hero: ["rail-clamp"],
    frame: hungClampFrame,
    fill: 0.86,
    arrow: arrowRound(clampLever, 104, "y", -86, -24),
    marks: [
      { at: [rx + 130, clampLine, rz + 10], label: "Lever", hidden: true },
      { at: [rx + 10, clampLine + 22, rz - 24], label: "Jaw, open", hidden: true },
    ],
    shows: ["second-ventilator"],
    alt: "The rail clamp open, the second ventilator still on its hook",
  },
  {
    id: "second-ventilator-down",
    from: { around: 142, above: 22, words: "seen from the foot end, left" },
    state: end("none", 80, move([60, 0, 150], secondVentilator())),
    hero: ["second-ventilator"],
    frame: wideFrame,
    fill: 0.92,
    dashes: ways(
      [
        [1760, 200, 1200],
        [1870, 360, 1200],
      ],
      [0, 0, 140],
    ),
    arrow: arrowFrom([1880, 90, 1230], [20, 0, 170]),
    marks: [
      { at: [1776, 246, 1370], label: "Hook", hidden: true },
      { at: [rx + 8, 440, rz + 10], label: "Foot rail" },
    ],
    shows: ["second-ventilator"],
    alt: "The second ventilator lifted off the foot rail",
  },
  {
    id: "rail-clamp-bare",
    from: "foot",
    state: end("bare", 0),
    hero: ["rail-clamp"],
    frame: clampFrame,
    fill: 0.86,
    arrow: arrowRound(clampLever, 96, "y", -10, -72),
    marks: [{ at: [rx + 40, clampLine - 6, rz - 4], label: "Lever, flat", hidden: true }],
    shows: [],
    alt: "The rail clamp closed on the bare foot rail",
  },
  {
    id: "back-strap-bare",
    from: "foot",
    state: end("bare"),
    hero: ["back-strap"],
    frame: strapFrame,
    fill: 0.9,
    arrow: arrowTo([rx + 46, 350, rz], [140, 0, 20]),
    marks: [
      { at: [rx + 44, 366, rz + 8], label: "Buckle", hidden: true },
      { at: [rx + 33, 366, rz - 66], label: "Strap end through its loop", hidden: true },
    ],
    shows: [],
    alt: "The back strap buckled round the bare foot rail",
  },
]);

/** The foot end with a bracket clamp in any position and the ventilator raised. */
const bracket = (clamp: number, lift: number, ...more: Shape[]): Shape =>
  join(
    deckBoard(),
    footHoop(),
    ventilatorBracket(clamp),
    move([0, 0, lift], join(ventilator(), ...more)),
    monitorArm(),
    monitor(),
    hoseClip(),
    railClamp(0),
    backStrap("bare"),
  );
const bracketFrame = around([1560, 310, 950], [1740, 540, 1110]),
  bracketWide = around([1560, 40, 960], [1740, 560, 1330]),
  bracketPivot: Point = [1716, 340, 986];
/** A tag tied to the ventilator that has failed. */
const tag: Shape = name(
  "tag",
  box([1676, 420, 1060], [3, 44, 70], "signal"),
  box([1675, 430, 1128], [2, 2, 40], "dark"),
);

/** Changing a failed ventilator. */
export const changeVentilatorScenes = taken("2026-11-02", [
  {
    id: "bracket-clamp-open",
    from: "foot",
    state: bracket(80, 0),
    hero: ["bracket-clamp"],
    frame: bracketFrame,
    fill: 0.88,
    arrow: arrowRound(bracketPivot, 80, "z", 84, 14),
    marks: [
      { at: [1780, 354, 986], label: "Lever", hidden: true },
      { at: [1708, 480, 1004], label: "Bracket", hidden: true },
    ],
    shows: ["ventilator"],
    alt: "The bracket clamp open under the ventilator",
  },
  {
    id: "ventilator-off",
    from: { around: 54, above: 24, words: "seen from the foot end" },
    state: bracket(80, 150, tag),
    hero: ["ventilator"],
    frame: bracketWide,
    fill: 0.92,
    dashes: ways(
      [
        [1672, 334, 1014],
        [1672, 506, 1014],
      ],
      [0, 0, 150],
    ),
    arrow: arrowFrom([1690, 545, 1040], [0, 0, 170]),
    marks: [
      { at: [1700, 440, 1013], label: "Bracket", hidden: true },
      { at: [1680, 442, 1240], label: "Red tag", hidden: true },
    ],
    shows: ["ventilator", "monitor"],
    alt: "The failed ventilator lifted off its bracket",
  },
  {
    id: "ventilator-on",
    from: { around: 66, above: 26, words: "seen from the foot end" },
    state: bracket(80, 130),
    hero: ["ventilator"],
    frame: bracketWide,
    fill: 0.9,
    dashes: ways(
      [
        [1672, 334, 1014],
        [1672, 506, 1014],
      ],
      [0, 0, 130],
    ),
    arrow: arrowTo([1690, 545, 1030], [0, 0, 170]),
    marks: [
      { at: [1700, 440, 1013], label: "Bracket", hidden: true },
      { at: [1674, 380, 1250], label: "Screen, to the foot end", hidden: true },
    ],
    shows: ["ventilator", "monitor"],
    alt: "The spare ventilator set on the bracket",
  },
  {
    id: "bracket-clamp-close",
    from: "foot",
    state: bracket(0, 0),
    hero: ["bracket-clamp"],
    frame: bracketFrame,
    fill: 0.88,
    arrow: arrowRound(bracketPivot, 90, "z", 6, 70),
    marks: [{ at: [1708, 400, 986], label: "Lever, flat", hidden: true }],
    shows: ["ventilator"],
    alt: "The bracket clamp closed under the ventilator",
  },
]);
