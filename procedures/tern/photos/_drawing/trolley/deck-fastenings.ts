/** What holds things on the deck: deck lever, head flap over the pin tray, and the two side rails. */
import { add, arcPoints, roundCorners, type Point } from "../engine/points.ts";
import {
  box,
  extrude,
  join,
  lathe,
  limb,
  mirror,
  name,
  patch,
  rod,
  roundedFlat,
  slab,
  tube,
  turn,
  type Shape,
} from "../engine/shapes.ts";
import { deck } from "./frame.ts";

/** The deck lever's pivot, on the ventilator side's edge. */
export const deckLeverPivot: Point = [1420, 574, 803];
/** The middle of the lever's knob at so many degrees: 180 is locked (flat, towards the head), 90 released (up). */
export const deckLeverKnob = (degrees: number): Point =>
  arcPoints(add(deckLeverPivot, [0, 22, 0]), 210, "y", degrees, degrees, 1)[0]!;

/** The deck lever; the band round its hub shows only while it is not locked. */
export function deckLever(degrees: number): Shape {
  const hubAt: Point = [deckLeverPivot[0], 560, deckLeverPivot[2]],
    end = deckLeverKnob(degrees),
    root = add(deckLeverPivot, [0, 22, 0]);
  const block = extrude(roundedFlat(hubAt[0] - 62, 770, 124, 62, 16), "y", 556, 568, "metal");
  const hub = lathe(
    [
      [0, 0],
      [30, 0],
      [30, 26],
      [24, 30],
      [0, 30],
    ],
    [hubAt[0], 568, hubAt[2]],
    [0, 1, 0],
    "body",
  );
  const band =
    degrees > 175
      ? []
      : name(
          "red-band",
          lathe(
            [
              [31, 2],
              [37, 2],
              [37, 20],
              [31, 20],
            ],
            [hubAt[0], 568, hubAt[2]],
            [0, 1, 0],
            "signal",
          ),
        );
  const knob = lathe(
    [
      [0, -8],
      [22, -8],
      [30, 2],
      [30, 22],
      [22, 32],
      [0, 32],
    ],
    [end[0], end[1] - 4, end[2]],
    [0, 1, 0],
    "dark",
  );
  return name("deck-lever", block, hub, band, limb(root, end, 11, "body", 9), knob);
}

/** The middles of the pin tray's four holes, on its foot side. */
export const pinTrayHoles: readonly Point[] = [180, 246.7, 313.3, 380].map((y): Point => [78, y, 925]);
/** The upright panel in the head hoop with four holes in a row. */
export function pinTray(): Shape {
  const panel = extrude(roundedFlat(150, 846, 260, 142, 14), "x", 58, 76, "metal");
  const rims = pinTrayHoles.map((p) =>
    join(
      lathe(
        [
          [0, 0],
          [25, 0],
          [25, 6],
          [15, 6],
        ],
        [76, p[1], p[2]],
        [1, 0, 0],
        "body",
        24,
      ),
      patch(arcPoints([83, p[1], p[2]], 13, "x", 0, 360, 20).slice(1), "hole"),
    ),
  );
  return name("pin-tray", panel, ...rims);
}

/** The head flap's hinge line, on the deck. */
export const flapHinge: Point = [164, deck.middle, 834];
/** The head flap at so many degrees: 90 stands up before the pin tray, 0 lies on the deck towards the foot. */
export function headFlap(degrees: number): Shape {
  const leaf = extrude(roundedFlat(168, 148, 236, 264, 12), "z", 830, 838, "body");
  const finger = extrude(roundedFlat(372, 240, 26, 80, 10), "z", 838.4, 842, "metal");
  const knuckles = [172, 330].map((y) => rod([164, y, 834], [164, y + 58, 834], 10, "metal"));
  return name(
    "head-flap",
    turn("y", -degrees, flapHinge, join(leaf, finger)),
    ...knuckles,
    box([150, 150, 826], [28, 260, 4], "metal"),
  );
}

/** The catch on the head rail that hooks over the flap's upper edge; `lifted` lets the flap go. */
export function flapCatch(lifted = false): Shape {
  const arm = join(
    extrude(
      [
        [40, 1012],
        [166, 1064],
        [172, 1052],
        [172, 1030],
        [158, 1030],
        [158, 1042],
        [46, 998],
      ],
      "y",
      262,
      298,
      "metal",
    ),
  );
  return name(
    "flap-catch",
    turn("y", lifted ? -38 : 0, [40, 280, 1006], arm),
    rod([40, 252, 1002], [40, 308, 1002], 20, "metal"),
  );
}

/** The side rail on the ventilator side at so many degrees: 0 is up, 180 folded outwards and hanging. */
function sideRail(degrees: number, pegs = degrees === 0): Shape {
  const y = 572,
    loop = tube(
      roundCorners(
        [
          [520, y, 830],
          [520, y, 1046],
          [1380, y, 1046],
          [1380, y, 830],
        ],
        60,
      ),
      12,
      "body",
    );
  const bar = rod([520, y, 940], [1380, y, 940], 8, "body");
  const posts = [740, 950, 1160].map((x) => rod([x, y, 940], [x, y, 1046], 6, "body"));
  const socket = (x: number): Shape => join(extrude(roundedFlat(x - 24, 786, 48, 54, 8), "y", 560, 590, "metal"));
  const peg = (x: number): Shape =>
    name(
      "rail-peg",
      pegs ? rod([x, 588, 822], [x, 612, 822], 8, "dark") : rod([x, 588, 822], [x, 596, 822], 8, "dark"),
    );
  return name(
    "side-rail",
    turn("x", -degrees, [0, y + 6, 815], join(loop, bar, ...posts)),
    socket(520),
    socket(1380),
    peg(520),
    peg(1380),
  );
}
/** Both side rails. */
export const sideRails = (degrees: number): Shape => join(sideRail(degrees), mirror(deck.middle, sideRail(degrees)));

/** The socket on the deck for the capsule lead, with its plug in or not. */
export const leadSocket = (): Shape =>
  name(
    "lead-socket",
    slab([354, 448, deck.top], [44, 44, 16], 8, "metal"),
    patch(arcPoints([376, 470, deck.top + 16.8], 12, "z", 0, 360, 16).slice(1), "hole"),
    lathe(
      [
        [0, 0],
        [11, 0],
        [11, 4],
        [8, 10],
        [0, 10],
      ],
      [376, 424, deck.top],
      [0, 0, 1],
      "good",
      24,
    ),
  );
