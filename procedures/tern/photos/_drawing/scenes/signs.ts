/** Drawings of what is shut, plugged in, switched on or read: oxygen, power, brakes, self-tests, warmth. */
import { add, type Point } from "../engine/points.ts";
import { box, join, move, name, turn, type Shape } from "../engine/shapes.ts";
import { capsuleBase, newbornCapsule, tub, warmingMattress } from "../trolley/capsule.ts";
import { footEnd, hoseClip, outlet, secondHose, secondVentilator } from "../trolley/foot-end.ts";
import { deckBoard, wheel } from "../trolley/frame.ts";
import { fullRack, headEnd } from "../trolley/head-end.ts";
import { doll, finger, hand } from "../trolley/people.ts";
import {
  cradleYoke,
  childCradle,
  cradleStrap,
  deckHarness,
  deckMattress,
  mattress,
  strapLines,
  yokeBuckleAt,
} from "../trolley/restraints.ts";
import {
  bigFrame,
  bigGauge,
  bigLamp,
  bigValve,
  gauge,
  hoseOutlet,
  monitorScreen,
  needles,
  selfTest,
  socketAndPlug,
} from "../trolley/signs.ts";
import { trolley } from "../trolley/trolley.ts";
import type { OxygenSigns } from "../trolley/bays.ts";
import { hooksClosed } from "./cradle.ts";
import { around, arrowFrom, arrowRound, arrowTo, deckOnly, taken, type Shot } from "./common.ts";

const gaugeTwins = (right: string, wrong: string, needle: number, other: number): Shot["twins"] => ({
  right: { state: bigGauge(needle), words: right },
  wrong: { state: bigGauge(other), words: wrong },
  frame: bigFrame,
  from: [90, 6],
});
const valveTwins = (open: boolean): Shot["twins"] => ({
  right: { state: bigValve(open), words: open ? "white pointer up, open" : "white pointer across, shut" },
  wrong: { state: bigValve(!open), words: open ? "white pointer across, shut" : "white pointer up, open" },
  frame: bigFrame,
  from: [90, 12],
});
const lampTwins = (colour: "good" | "amber", words: string): Shot["twins"] => ({
  right: { state: bigLamp(colour), words },
  wrong: { state: bigLamp("hole"), words: "dark lamp" },
  frame: bigFrame,
  from: [66, 14],
});

/** Both valves from the foot end, turned one way or the other. */
function oxygenShot(
  shot: Pick<Shot, "id" | "alt" | "twins"> & { signs: OxygenSigns; way?: "open" | "shut"; what: string },
): Shot {
  const { id, alt, twins, signs, way, what } = shot;
  const lines = [390, 170] as const;
  return {
    id,
    alt,
    from: { around: 36, above: 20, words: "seen from the foot end, right" },
    state: trolley({ pouch: false, rails: 0, oxygen: signs }),
    hero: ["valve"],
    frame: around([1420, 110, 270], [1560, 450, 420]),
    fill: 0.92,
    twins,
    ...(way
      ? {
          arrow: lines.map((y) => ({
            ...arrowRound([1536, y, 316], 52, "x", way === "open" ? -100 : 60, way === "open" ? 60 : -100),
            thin: true,
          })),
        }
      : {}),
    marks: lines.map((y, i) => ({
      at: [1503, y, 374] as Point,
      label: `${what}, ${i === 0 ? "ventilator" : "monitor"} side`,
      hidden: true,
    })),
    shows: ["oxygen-cylinder"],
  };
}

/** Oxygen: valves, needles and the hose. */
const oxygenSignScenes: readonly Shot[] = [
  oxygenShot({
    id: "oxygen-valves-open",
    alt: "Both oxygen valves opened, pointers up, needles in the green field",
    signs: { open: true },
    way: "open",
    what: "Valve",
    twins: valveTwins(true),
  }),
  oxygenShot({
    id: "oxygen-valves-shut",
    alt: "Both oxygen valves shut, pointers across",
    signs: { open: false },
    way: "shut",
    what: "Valve",
    twins: valveTwins(false),
  }),
  oxygenShot({
    id: "oxygen-needle-falls",
    alt: "Both oxygen gauges watched with their valves shut, the needles where they were",
    signs: { open: false },
    what: "Needle",
    twins: gaugeTwins("needle has not moved", "needle has fallen", needles.full, needles.sunk),
  }),
  oxygenShot({
    id: "oxygen-gauge-zero",
    alt: "The gauges after bleeding, the needle at zero",
    signs: { open: false, needle: needles.zero },
    what: "Needle at zero",
    twins: gaugeTwins("needle at zero", "needle above zero, still under pressure", needles.zero, needles.low),
  }),
  hoseShot("oxygen-hose-on", 0),
  hoseShot("oxygen-hose-off", 70),
];

/** The oxygen hose at its outlet. */
function hoseShot(id: string, away: number): Shot {
  const at: Point = [0, 0, 300];
  const from: Point = [150, -40, 560];
  return {
    id,
    from: { around: 42, above: 18, words: "seen from its right side" },
    state: join(hoseOutlet(at, away), hand([60 + away, 0, 312], from, [1, 0, 0])),
    hero: ["oxygen-hose"],
    frame: around([-30, -120, 180], [270, 110, 420]),
    fill: 0.9,
    arrow: away > 0 ? arrowFrom([40, 90, 400], [130, 0, 0]) : arrowTo([40, 90, 400], [130, 0, 0]),
    marks: [
      { at: [2, -44, 250], label: "Outlet", hidden: true },
      { at: [44 + away, 10, 326], label: away > 0 ? "Collar, off" : "Collar, no gap", hidden: true },
    ],
    ...(away > 0
      ? {}
      : {
          twins: {
            right: { state: hoseOutlet(at, 0), words: "collar home, no gap" },
            wrong: { state: hoseOutlet(at, 12), words: "gap before the collar" },
            frame: around([-12, -60, 240], [110, 60, 360]),
          },
        }),
    shows: [],
    alt: away > 0 ? "The oxygen hose pulled off its outlet" : "The oxygen hose clicked into its outlet",
  };
}

/** A brake pedal, stepped down or lifted. */
function brakeShot(id: string, on: boolean): Shot {
  const at: Point = [1690, 490, 0],
    state = (down: boolean): Shape =>
      join(name("floor", box([1400, 300, -24], [560, 500, 24], "deck")), wheel(1690, 490, down));
  return {
    id,
    from: { around: 40, above: 30, words: "seen from the foot end, right" },
    state: state(on),
    hero: ["brake-pedal"],
    frame: around([1600, 420, 0], [1840, 560, 260]),
    fill: 0.9,
    floor: 0,
    arrow: on ? arrowTo(add(at, [70, 0, 190]), [0, 0, 110]) : arrowFrom(add(at, [80, 10, 150]), [0, 0, 110]),
    marks: [
      {
        at: add(at, [62, 34, on ? 150 : 214]),
        label: on ? "Pedal, down on the tyre" : "Pedal, red side in sight",
        hidden: true,
      },
      { at: add(at, [60, 40, 60]), label: "Tyre", hidden: true },
    ],
    twins: {
      right: { state: state(on), words: on ? "pedal down, no red" : "pedal up, red in sight" },
      wrong: { state: state(!on), words: on ? "pedal up, red in sight" : "pedal down, no red" },
      frame: around([1640, 430, 90], [1810, 550, 250]),
      from: [20, 16],
    },
    shows: [],
    alt: on ? "A wheel brake on: its pedal stepped down" : "A wheel brake off: its pedal lifted",
  };
}

/** A socket with its plug going in or pulled out. */
function plugShot(
  shot: Pick<Shot, "id" | "alt" | "shows"> & { on: Shape; at: Point; face: 1 | -1; out: boolean; around: number },
): Shot {
  const { id, alt, shows, on, at, face, out } = shot;
  const away = out ? 76 : 0;
  return {
    id,
    alt,
    shows,
    from: { around: shot.around, above: 24, words: face === 1 ? "seen from the foot end" : "seen from the head end" },
    state: join(on, socketAndPlug(at, face, away, "plug")),
    hero: ["plug"],
    frame: around(add(at, [face === 1 ? -60 : -240, -90, -110]), add(at, [face === 1 ? 240 : 60, 90, 110])),
    fill: 0.92,
    arrow: (out ? arrowFrom : arrowTo)(add(at, [face * 40, 0, -60]), [face * 140, 0, 0]),
    marks: [
      { at: add(at, [face * 12, 0, 50]), label: out ? "Lamp, dark" : "Lamp, green", hidden: true },
      { at: add(at, [face * (40 + away), 10, 20]), label: "Plug", hidden: true },
    ],
    ...(out ? {} : { twins: lampTwins("good", "green lamp") }),
  };
}
const hung = join(deckBoard(), footEnd("over"), secondVentilator());
const rack = join(deckBoard(), headEnd({ pumps: false }), fullRack());
const powerSignScenes: readonly Shot[] = [
  brakeShot("wheel-brakes-on", true),
  brakeShot("wheel-brakes-off", false),
  plugShot({
    id: "second-cable-in",
    alt: "The second cable in its socket on the foot hoop, its lamp green",
    shows: ["second-ventilator"],
    on: hung,
    at: [1752, 440, 900],
    face: 1,
    out: false,
    around: 52,
  }),
  plugShot({
    id: "second-cable-out",
    alt: "The second cable pulled out of its socket on the foot hoop, its lamp dark",
    shows: ["second-ventilator"],
    on: hung,
    at: [1752, 440, 900],
    face: 1,
    out: true,
    around: 52,
  }),
  plugShot({
    id: "rack-cable-in",
    alt: "The rack cable in its socket on the head hoop, its lamp green",
    shows: ["pump-rack"],
    on: rack,
    at: [-20, 150, 900],
    face: -1,
    out: false,
    around: -52,
  }),
  plugShot({
    id: "rack-cable-out",
    alt: "The rack cable pulled out of its socket on the head hoop, its lamp dark",
    shows: ["pump-rack"],
    on: rack,
    at: [-20, 150, 900],
    face: -1,
    out: true,
    around: -52,
  }),
  outletShot("second-outlet-on", true),
  outletShot("second-outlet-off", false),
];

/** The lever of the second outlet. */
function outletShot(id: string, on: boolean): Shot {
  const [x, y, z] = outlet;
  const close = (state: boolean): Shape => join(hoseClip(state), secondHose());
  return {
    id,
    from: { around: 44, above: 34, words: "seen from the foot end, right" },
    state: join(deckBoard(), footEnd("over", 0, on), secondVentilator(), secondHose()),
    hero: ["hose-clip"],
    frame: around([1690, 440, 900], [1860, 600, 1060]),
    fill: 0.9,
    arrow: arrowRound([x - 26, y, z + 66], 74, "z", on ? -84 : -6, on ? -14 : -76),
    marks: [
      {
        at: on ? [x + 20, y, z + 64] : [x - 26, y - 50, z + 64],
        label: on ? "Lever along the hose" : "Lever across",
        hidden: true,
      },
      { at: [x + 20, y, z + 10], label: "Hose collar", hidden: true },
    ],
    twins: {
      right: { state: close(on), words: on ? "blue lever along the hose, on" : "blue lever across, off" },
      wrong: { state: close(!on), words: on ? "blue lever across, off" : "blue lever along the hose, on" },
      frame: around([1700, 460, 930], [1810, 570, 1040]),
      from: [40, 50],
    },
    shows: ["second-hose"],
    alt: on ? "The second outlet turned on" : "The second outlet turned off",
  };
}

const screenFrame = around([0, -150, 0], [0, 230, 270]);
const screenShot = (
  shot: Pick<Shot, "id" | "alt" | "shows" | "marks"> & { right: Shape; wrong: Shape; words: readonly [string, string] },
): Shot => ({
  id: shot.id,
  alt: shot.alt,
  shows: shot.shows,
  from: { around: 72, above: 12, words: "seen from its front" },
  state: join(name("table", box([-220, -400, 0], [420, 900, 12], "deck")), shot.right),
  hero: ["device"],
  frame: screenFrame,
  fill: 0.9,
  marks: shot.marks,
  twins: {
    right: { state: shot.right, words: shot.words[0] },
    wrong: { state: shot.wrong, words: shot.words[1] },
    frame: screenFrame,
    from: [90, 4],
  },
});
/** The dosing unit's two needles. */
const dosing = (needle: number): Shape =>
  name(
    "device",
    box([-60, -130, 20], [60, 340, 200], "body"),
    gauge([1, -40, 120], 1, 72, needle),
    gauge([1, 124, 120], 1, 72, needle),
  );
const screenScenes: readonly Shot[] = [
  screenShot({
    id: "ventilator-self-test",
    alt: "A ventilator's screen after its self-test: three green ticks",
    shows: [],
    right: selfTest(3),
    wrong: selfTest(2),
    words: ["three green ticks", "two ticks and a red cross"],
    marks: [{ at: [2, 40, 110], label: "Three green ticks", hidden: true }],
  }),
  screenShot({
    id: "dosing-self-test",
    alt: "The dosing unit's screen after its self-test: passed, three green ticks",
    shows: ["dosing-unit"],
    right: selfTest(3),
    wrong: selfTest(1),
    words: ["three green ticks, passed", "one tick and two red crosses"],
    marks: [{ at: [2, 40, 110], label: "Three green ticks", hidden: true }],
  }),
  screenShot({
    id: "dosing-zero",
    alt: "The dosing unit's two needles at zero",
    shows: ["dosing-unit"],
    right: dosing(needles.zero),
    wrong: dosing(needles.low),
    words: ["both needles at zero", "needles above zero, gas in the lines"],
    marks: [
      { at: [2, 124, 120], label: "Needle one", hidden: true },
      { at: [2, -40, 120], label: "Needle two", hidden: true },
    ],
  }),
  screenShot({
    id: "monitor-bars",
    alt: "The monitor's screen: three curves and four of four battery bars",
    shows: ["monitor"],
    right: monitorScreen(3, 4),
    wrong: monitorScreen(2, 1),
    words: ["three curves, four bars", "two curves, one bar"],
    marks: [
      { at: [2, 120, 190], label: "Three curves", hidden: true },
      { at: [2, -100, 72], label: "Four bars", hidden: true },
    ],
  }),
];

/** Warmth: the mattress switched off, the thermometer, the charging lamp, the cloth. */
const bed = join(deckBoard(), capsuleBase(true), newbornCapsule({ canopy: 100 }));
const warmthScenes: readonly Shot[] = [
  {
    id: "warming-mattress-off",
    from: { around: 20, above: 36, words: "seen from the right side" },
    state: join(bed, warmingMattress([556, 232, 974], false), finger([592, 454, 1012], [420, 470, 1190])),
    hero: ["warming-mattress"],
    frame: around([520, 400, 940], [740, 520, 1030]),
    fill: 0.92,
    marks: [{ at: [602, 456, 1008], label: "Lamp, dark", hidden: true }],
    twins: {
      right: { state: bigLamp("hole"), words: "dark lamp, off" },
      wrong: { state: bigLamp("amber"), words: "amber lamp, still on" },
      frame: bigFrame,
      from: [66, 14],
    },
    shows: ["warming-mattress"],
    alt: "The lamp corner of the warming mattress pressed until its amber lamp is dark",
  },
  {
    id: "capsule-thermometer",
    from: { around: 40, above: 30, words: "seen from the foot end, right" },
    state: join(
      bed,
      turn(
        "z",
        0,
        [1180, 280, 1000],
        join(box([1186, 200, 968], [12, 160, 130], "body"), gauge([1199, 280, 1034], 1, 56, needles.full)),
      ),
    ),
    hero: ["capsule-pad"],
    frame: around([1060, 130, 930], [1260, 420, 1110]),
    fill: 0.9,
    marks: [{ at: [1200, 280, 1000], label: "Needle in the green field", hidden: true }],
    twins: gaugeTwins("needle in the green field", "needle on the red mark, cold", needles.full, needles.zero),
    shows: ["newborn-capsule"],
    alt: "The thermometer at the foot end of the capsule, its needle in the green field",
  },
  {
    id: "charging-lamp",
    from: { around: 66, above: 16, words: "seen from its front" },
    state: join(
      name("bench", box([1650, 60, 1160], [420, 440, 18], "deck"), box([1760, 170, 1178], [150, 230, 14], "metal")),
      move([0, 0, 2], secondVentilator()),
      move([1912, 400, 1100], turn("y", 0, [0, 0, 0], bigLampSmall("amber"))),
    ),
    hero: ["second-ventilator"],
    frame: around([1800, 170, 1160], [1920, 450, 1370]),
    fill: 0.88,
    marks: [{ at: [1920, 400, 1202], label: "Lamp, amber, blinking", hidden: true }],
    twins: lampTwins("amber", "amber lamp, blinking"),
    shows: ["second-ventilator"],
    alt: "The second ventilator on its charging cradle, the lamp amber and blinking",
  },
  {
    id: "capsule-wipe",
    from: { around: 28, above: 44, words: "seen from above the foot end, right" },
    state: join(
      bed,
      name("cloth", box([860, 250, tub.floor + 58], [130, 110, 14], "body")),
      hand([920, 300, tub.floor + 84], [1180, 240, tub.floor + 320], [0, 1, 0]),
    ),
    hero: ["capsule-pad", "canopy"],
    frame: around([500, 60, 900], [1300, 500, 1180]),
    fill: 0.92,
    arrow: {
      path: [
        [640, 300, 980],
        [1160, 300, 980],
      ],
      both: true,
    },
    marks: [
      { at: [700, 240, 950], label: "Pad", hidden: true },
      { at: [930, 330, 972], label: "Cloth", hidden: true },
    ],
    shows: ["newborn-capsule"],
    alt: "The inside of the capsule wiped with a cloth by a gloved hand",
  },
];
/** The charging cradle's lamp. */
function bigLampSmall(colour: "amber"): Shape {
  return bigLamp(colour).map((solid) => ({
    ...solid,
    surfaces: solid.surfaces.map((surface) => ({
      ...surface,
      triangles: surface.triangles.map((triangle) => ({
        ...triangle,
        points: triangle.points.map(([x, y, z]): Point => [x * 0.24, y * 0.24, 70 + z * 0.24]) as unknown as readonly [
          Point,
          Point,
          Point,
        ],
      })),
    })),
  }));
}

const cradleUp = join(deckOnly({}), childCradle(), hooksClosed(844));
const yokeFrame = around([520, 80, 860], [1080, 480, 980]);
const yokeBench = (open: number): Shape =>
  join(
    name("table", box([300, -160, 780], [1000, 900, 20], "deck")),
    move([0, 0, 800 - yokeBuckleAt[2]], cradleYoke({ open })),
  );
const yokeTwins: Shot["twins"] = {
  right: { state: yokeBench(0), words: "green window" },
  wrong: { state: yokeBench(18), words: "white window, tongues not in" },
  frame: around([730, 210, 796], [870, 350, 840]),
};
/** The cradle's yoke: laid in, closed, opened, taken off. */
const yokeScenes: readonly Shot[] = [
  yokeShot("cradle-yoke-lay", "The yoke on its three anchors on the cradle's pad", 14, { way: "down" }),
  yokeShot("cradle-yoke-close", "The three tongues of the yoke in its buckle, the window green", 0, {
    twins: yokeTwins,
  }),
  yokeShot("cradle-yoke-open", "The buckle of the yoke open, its three tongues out, the window white", 22, {}),
  yokeShot("cradle-yoke-off", "The yoke lifted off its three anchors", 14, { way: "up" }),
];
function yokeShot(
  id: string,
  alt: string,
  open: number,
  { way, twins }: { way?: "up" | "down"; twins?: Shot["twins"] },
): Shot {
  const lift = way ? 150 : 0;
  const [x, y, z] = yokeBuckleAt;
  return {
    id,
    alt,
    from: { around: 24, above: 50, words: "seen from above the foot end, right" },
    state: join(cradleUp, cradleYoke({ open, lift })),
    hero: ["cradle-yoke"],
    frame: way ? around([520, 80, 860], [1080, 480, 1120]) : yokeFrame,
    fill: 0.92,
    arrow: way
      ? (way === "down" ? arrowTo : arrowFrom)(
          [x + 110, y, z + (way === "down" ? 20 : 190)],
          [0, 0, way === "down" ? 110 : 120],
        )
      : open > 0
        ? arrowTo([x + 16, y, z + 34], [0, 0, 90])
        : [arrowTo([x - 60, y + 60, z + 30], [-110, 40, 0]), arrowTo([x + 70, y + 50, z + 20], [120, 0, 0])],
    marks: [
      { at: [590, y + 62, z + lift + 10], label: "Shoulder anchors", hidden: true },
      { at: [1000, y, z + lift + 10], label: "Crotch anchor", hidden: true },
      { at: [x - 20, y, z + lift + 30], label: open > 0 ? "Window, white" : "Window, green", hidden: true },
    ],
    ...(twins ? { twins } : {}),
    shows: ["cradle-yoke", "child-cradle"],
  };
}

/** The doll where the patient lies. */
const patientScenes: readonly Shot[] = [
  {
    id: "newborn-laid",
    from: { around: 16, above: 50, words: "seen from above the right side" },
    state: join(
      bed,
      doll([586, 280, tub.floor + 56], 470),
      name("ear-line", box([640, 150, tub.floor + 55], [5, 260, 1.6], "hole")),
      hand([600, 250, tub.floor + 160], [380, 120, 1330], [1, 0, 0]),
      hand([850, 330, tub.floor + 90], [1010, 560, 1110], [1, 0, 0]),
    ),
    hero: ["capsule-pad"],
    frame: around([500, 100, 920], [1240, 480, 1120]),
    fill: 0.92,
    marks: [
      { at: [642, 390, 952], label: "Ear line", hidden: true },
      { at: [600, 300, 1060], label: "Lead, at the tube", hidden: true },
      { at: [860, 350, 1000], label: "Second, under the body", hidden: true },
    ],
    shows: ["newborn-capsule"],
    alt: "The doll on the capsule pad, ears at the line, one pair of hands at the head, one at the body",
  },
  {
    id: "child-laid",
    from: { around: 20, above: 46, words: "seen from above the right side" },
    state: join(cradleUp, doll([400, 280, 890], 1000), cradleStrap(strapLines[3], { open: 120 })),
    hero: ["cheek"],
    frame: around([320, 60, 840], [1460, 500, 1040]),
    fill: 0.94,
    marks: [
      { at: [520, 400, 950], label: "Head between the cheeks", hidden: true },
      { at: [780, 280, 980], label: "Chest", hidden: true },
    ],
    shows: ["child-cradle", "cradle-strap"],
    alt: "The doll in the cradle, head between the cheeks",
  },
  {
    id: "patient-laid",
    from: { around: 20, above: 46, words: "seen from above the right side" },
    state: join(
      deckOnly({}),
      deckMattress(),
      hooksClosed(838),
      deckHarness({ open: 120 }),
      doll([170, 280, mattress.top + 14], 1420),
      name("shoulder-line", box([424, 80, mattress.top + 1], [6, 400, 1.6], "hole")),
    ),
    hero: ["deck-mattress"],
    frame: around([120, 40, 840], [1620, 520, 1080]),
    fill: 0.96,
    marks: [
      { at: [428, 460, mattress.top + 2], label: "Shoulder line", hidden: true },
      { at: [700, 280, mattress.top + 170], label: "Chest", hidden: true },
    ],
    shows: ["deck-mattress", "deck-harness"],
    alt: "The doll on the mattress, its shoulders at the line",
  },
];

/** All of them. */
export const signScenes = taken("2026-11-28", [
  ...oxygenSignScenes,
  ...powerSignScenes,
  ...screenScenes,
  ...warmthScenes,
  ...yokeScenes,
  ...patientScenes,
]);
