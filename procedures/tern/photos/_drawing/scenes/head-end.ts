/** Drawings at the head end: pump rack, infusion pumps and syringe pumps. */
import { add, roundCorners, type Point } from "../engine/points.ts";
import { join, move, type Shape } from "../engine/shapes.ts";
import {
  headEnd,
  infusionPump,
  pumpInSlot,
  pumpLines,
  pumpOnRail,
  pumpRack,
  rackBar,
  rackPost,
  slotHeights,
  syringeInSlot,
} from "../trolley/head-end.ts";
import { deckBoard } from "../trolley/frame.ts";
import { flapCatch, headFlap } from "../trolley/deck-fastenings.ts";
import { pinsInTray } from "../trolley/pins.ts";
import { around, arrowFrom, arrowRound, arrowTo, taken, ways, type Shot } from "./common.ts";

type Head = NonNullable<Parameters<typeof headEnd>[0]>;
const head = (state: Head, ...more: Shape[]): Shape =>
  join(deckBoard(), headEnd(state), headFlap(90), flapCatch(), pinsInTray(), ...more);
const [px, py, pz] = rackPost,
  lever: Point = [px, py + 54, pz - 20];
const leverFrame = around([-120, 220, 900], [60, 380, 1110]),
  rackFrame = around([-120, 190, 1020], [60, 380, 1490]),
  railFrame = around([-110, 40, 880], [70, 260, 1090]);
const wholeFrame = around([-130, 60, 930], [70, 400, 1480]);
const infusions = join(pumpInSlot(0), pumpInSlot(1)),
  syringes = join(syringeInSlot(2), syringeInSlot(3));
const leaning = { around: -40, above: 24, words: "seen from the head end, right" } as const;

/** The rack lever going up or down beside the post. */
function rackLeverShot({
  id,
  alt,
  shows,
  up,
  rack,
  pumps,
}: Pick<Shot, "id" | "alt" | "shows"> & { up: boolean; rack: boolean; pumps: boolean }): Shot {
  const marks = up
    ? [
        { at: [px - 7, lever[1] + 8, lever[2] + 60] as Point, label: "Lever", hidden: true },
        { at: [px - 22, lever[1] - 6, lever[2] + 14] as Point, label: "Red band", hidden: true },
        ...(rack || !pumps || id.endsWith("unlock")
          ? []
          : [{ at: [px, py - 26, pz + 23] as Point, label: "Rack post", hidden: true }]),
      ]
    : [
        { at: [px - 60, lever[1] + 6, lever[2] + 8] as Point, label: "Lever, down", hidden: true },
        ...(rack ? [{ at: [px - 31, py, pz + 8] as Point, label: "Line not seen", hidden: true }] : []),
      ];
  return {
    id,
    alt,
    shows,
    from: leaning,
    hero: ["rack-lever"],
    state: head({ pumps, lever: up ? 90 : 0 }, rack ? pumpRack(!up) : []),
    frame: leverFrame,
    fill: 0.92,
    ...(up
      ? {}
      : {
          twins: {
            right: { state: head({ pumps, lever: 0 }, rack ? pumpRack(true) : []), words: "lever down, no red" },
            wrong: {
              state: head({ pumps, lever: 40 }, rack ? pumpRack(true) : []),
              words: "lever half up, red band in sight",
            },
            frame: around([px - 120, lever[1] - 10, lever[2] - 30], [px + 40, lever[1] + 30, lever[2] + 80]),
          },
        }),
    arrow: arrowRound(add(lever, [0, 20, 0]), 84, "y", up ? 172 : 98, up ? 108 : 162),
    marks,
  };
}
/** The two clamps on the head rail, opening or closing. */
function clampShot({
  id,
  alt,
  shows,
  open,
  pumps,
  more = [],
  view = "head",
}: Pick<Shot, "id" | "alt" | "shows"> & { open: boolean; pumps: boolean; more?: Shape; view?: Shot["from"] }): Shot {
  return {
    id,
    alt,
    shows,
    from: view,
    hero: ["pump-clamp"],
    state: head({ pumps, clamps: open ? 62 : 0 }, more),
    frame: railFrame,
    fill: 0.9,
    arrow: pumpLines.map((y) => ({
      ...arrowRound([40, y, 1026], 108, "y", open ? 178 : 128, open ? 134 : 170),
      thin: true,
    })),
    marks: pumpLines.map((y, i) => ({
      at: (open ? [8, y, 1080] : [30, y, 1035]) as Point,
      label: `Clamp ${i ? "two" : "one"}${pumps && !open ? ", flat" : ""}`,
      hidden: true,
    })),
  };
}
/** Pumps drawn out of their slots towards the head. */
const drawnOut = (by: number, shape: Shape): Shape => move([-by, 0, 0], shape);
const slotMark = (slot: 0 | 1 | 2 | 3, out: number): Point => [px - 90 - out, py + 30, slotHeights[slot] + 30];

/** Fitting. */
export const fitPumpRackScenes = taken("2026-04-20", [
  rackLeverShot({
    id: "rack-lever-release",
    up: true,
    rack: false,
    pumps: true,
    shows: ["infusion-pump"],
    alt: "The rack lever upright beside the empty rack post",
  }),
  {
    id: "pump-rack-on",
    from: leaning,
    state: head({ lever: 90 }, move([0, 0, 120], pumpRack())),
    hero: ["pump-rack"],
    frame: around([-120, 150, 930], [60, 400, 1590]),
    fill: 0.94,
    dashes: ways(
      [
        [px - 20, py + 20, pz + 10],
        [px + 20, py - 20, pz + 10],
      ],
      [0, 0, 50],
    ),
    arrow: arrowTo([px - 60, py - 130, 1100], [0, 0, 190]),
    marks: [
      { at: [px - 21, py, pz + 84], label: "Square foot", hidden: true },
      { at: [px - 21, py + 14, pz + 147], label: "Line on the foot", hidden: true },
    ],
    shows: ["pump-rack"],
    alt: "The pump rack above the rack post",
  },
  rackLeverShot({
    id: "rack-lever-lock",
    up: false,
    rack: true,
    pumps: true,
    shows: ["pump-rack"],
    alt: "The rack lever down beside the pump rack",
  }),
  clampShot({
    id: "pump-clamps-open",
    open: true,
    pumps: true,
    more: pumpRack(),
    shows: ["infusion-pump", "pump-rack"],
    alt: "Both pump clamps open on the head rail",
  }),
  {
    id: "infusion-pumps-to-rack",
    from: "head",
    state: head({ pumps: false, clamps: 62 }, pumpRack(), rackBar(110), infusions),
    hero: ["infusion-pump"],
    frame: wholeFrame,
    fill: 0.94,
    arrow: {
      path: roundCorners(
        [
          [-60, 148, 1000],
          [-130, 120, 1120],
          [-160, 150, 1320],
          [-110, 214, 1330],
        ],
        80,
        10,
      ),
    },
    marks: [
      { at: slotMark(0, 0), label: "Slot one", hidden: true },
      { at: slotMark(1, 0), label: "Slot two", hidden: true },
    ],
    shows: ["infusion-pump", "pump-rack"],
    alt: "Two infusion pumps in the top slots of the pump rack",
  },
  clampShot({
    id: "pump-clamps-close",
    open: false,
    pumps: false,
    more: join(pumpRack(), infusions),
    shows: ["pump-rack", "infusion-pump"],
    alt: "Both pump clamps shut on the bare head rail",
  }),
  {
    id: "syringe-pumps-to-rack",
    from: "head",
    state: head(
      { pumps: false },
      pumpRack(),
      rackBar(110),
      infusions,
      drawnOut(70, syringeInSlot(2)),
      drawnOut(120, syringeInSlot(3)),
    ),
    hero: ["syringe-pump"],
    frame: around([-230, 170, 980], [60, 390, 1330]),
    fill: 0.94,
    arrow: arrowFrom([px - 300, py - 70, 1120], [150, 0, 0]),
    marks: [
      { n: 3, at: slotMark(2, 70), label: "Slot three", hidden: true },
      { n: 4, at: slotMark(3, 120), label: "Slot four", hidden: true },
    ],
    shows: ["syringe-pump", "infusion-pump", "pump-rack"],
    alt: "Two syringe pumps in the low slots of the pump rack",
  },
  {
    id: "rack-bar-close",
    from: leaning,
    state: head({ pumps: false }, pumpRack(), infusions, syringes, rackBar(0)),
    hero: ["rack-bar"],
    frame: rackFrame,
    fill: 0.94,
    arrow: arrowRound([px - 90, py, 1474], 250, "y", 196, 246),
    marks: [
      { at: [px - 117, py, 1330], label: "Bar", hidden: true },
      { at: [px - 118, py, 1050], label: "Catch", hidden: true },
    ],
    shows: ["pump-rack", "infusion-pump", "syringe-pump"],
    alt: "The rack bar down across four pumps",
  },
]);

/** Taking off. */
export const removePumpRackScenes = taken("2026-04-20", [
  {
    id: "rack-bar-open",
    from: leaning,
    state: head({ pumps: false }, pumpRack(), infusions, syringes, rackBar(78)),
    hero: ["rack-bar"],
    frame: around([-460, 200, 1040], [60, 360, 1490]),
    fill: 0.94,
    arrow: arrowRound([px - 90, py, 1474], 300, "y", 250, 204),
    marks: [{ at: [px - 300, py + 8, 1445], label: "Bar", hidden: true }],
    shows: ["pump-rack", "infusion-pump", "syringe-pump"],
    alt: "The rack bar up, four pumps in the rack",
  },
  {
    id: "syringe-pumps-off",
    from: leaning,
    state: head(
      { pumps: false },
      pumpRack(),
      rackBar(110),
      infusions,
      drawnOut(150, syringeInSlot(2)),
      drawnOut(110, syringeInSlot(3)),
    ),
    hero: ["syringe-pump"],
    frame: around([-270, 170, 980], [60, 390, 1330]),
    fill: 0.94,
    arrow: arrowFrom([px - 130, py + 110, 1200], [-150, 0, 0]),
    marks: [
      { n: 3, at: slotMark(2, 150), label: "Slot three", hidden: true },
      { n: 4, at: slotMark(3, 110), label: "Slot four", hidden: true },
    ],
    shows: ["syringe-pump", "infusion-pump", "pump-rack"],
    alt: "Two syringe pumps drawn out of the low slots",
  },
  clampShot({
    id: "pump-clamps-open-bare",
    open: true,
    pumps: false,
    more: join(pumpRack(), infusions),
    shows: ["pump-rack", "infusion-pump"],
    alt: "Both pump clamps open on the bare head rail",
  }),
  {
    id: "infusion-pumps-to-rail",
    from: leaning,
    state: head(
      { pumps: false, clamps: 62 },
      pumpRack(),
      rackBar(110),
      pumpOnRail(pumpLines[0]),
      infusionPump([-50, pumpLines[1], 1090]),
    ),
    hero: ["infusion-pump"],
    frame: wholeFrame,
    fill: 0.92,
    arrow: {
      path: roundCorners(
        [
          [-110, 250, 1360],
          [-150, 200, 1330],
          [-150, 190, 1220],
          [-100, 190, 1180],
        ],
        80,
        10,
      ),
    },
    marks: [
      { at: [-92, 110, 980], label: "Pump one", hidden: true },
      { at: [-143, 224, 1060], label: "Pump two", hidden: true },
    ],
    shows: ["infusion-pump", "pump-rack"],
    alt: "Two infusion pumps hung on the head rail",
  },
  clampShot({
    id: "pump-clamps-close-pumps",
    open: false,
    pumps: true,
    view: leaning,
    shows: ["infusion-pump"],
    alt: "Both pump clamps shut, two infusion pumps on the head rail",
  }),
  rackLeverShot({
    id: "rack-lever-unlock",
    up: true,
    rack: true,
    pumps: true,
    shows: ["pump-rack", "infusion-pump"],
    alt: "The rack lever upright beside the empty rack",
  }),
  {
    id: "pump-rack-off",
    from: "head",
    state: head({ lever: 90 }, move([0, 0, 150], pumpRack())),
    hero: ["pump-rack"],
    frame: around([-120, 60, 920], [60, 400, 1620]),
    fill: 0.94,
    arrow: arrowFrom([px - 60, py - 130, 1100], [0, 0, 190]),
    marks: [{ at: [px - 21, py, pz + 112], label: "Square foot", hidden: true }],
    shows: ["pump-rack", "infusion-pump"],
    alt: "The pump rack lifted out of the rack post",
  },
  rackLeverShot({
    id: "rack-lever-lock-empty",
    up: false,
    rack: false,
    pumps: true,
    shows: ["infusion-pump"],
    alt: "The rack lever down beside the empty rack post",
  }),
]);
