/** Drawings for fitting the deck mattress with its harness and taking both off. */
import { add, between, roundCorners, type Point } from "../engine/points.ts";
import { box, join, move, name, slab, strap, turn, type Shape } from "../engine/shapes.ts";
import { anchors, chest, chestBuckle, deckHarness, deckMattress, mattress, snapClip } from "../trolley/restraints.ts";
import { around, arrowFrom, arrowTo, deckOnly, leverShot, taken, ways } from "./common.ts";
import { hooksClosed, pegsThrough, railsDown, railsShot } from "./cradle.ts";

const lying = join(deckMattress(), hooksClosed(838));
const corners = ways(
  [
    [400, 488, 830],
    [1500, 488, 830],
    [1560, 80, 830],
  ],
  [0, 0, 280],
);
const harnessFrame = around([340, 90, 880], [980, 470, 940]);
const tailMarks: readonly Point[] = [
  [600, 190, 908],
  [600, 372, 908],
  [900, 176, 908],
  [900, 386, 908],
];
const pairs = [
  "Shoulder, monitor side",
  "Shoulder, ventilator side",
  "Hip, monitor side",
  "Hip, ventilator side",
] as const;
const handles = (shape: Shape): Shape =>
  name(
    "deck-mattress",
    shape,
    ...[mattress.x - 2, mattress.x + mattress.length + 2].map((x, i) =>
      strap(
        roundCorners(
          [
            [x, 200, 850],
            [x + (i ? 40 : -40), 200, 856],
            [x + (i ? 40 : -40), 360, 856],
            [x, 360, 850],
          ],
          30,
        ),
        [0, 0, 1],
        22,
        "dark",
        6,
      ),
    ),
  );

/** The harness spread out on a table, tails apart. */
function spreadHarness(): Shape {
  const z = 803,
    c: Point = [760, 280, z],
    tail = (end: Point, from: Point): Shape => {
      const d: Point = [end[0] - from[0], end[1] - from[1], 0],
        l = Math.hypot(d[0], d[1]),
        side: Point = [-d[1] / l, d[0] / l, 0];
      return join(
        strap([from, end], side, 46, "web"),
        snapClip(add(end, [(d[0] / l) * 92, (d[1] / l) * 92, -20]), from),
      );
    };
  return name(
    "deck-harness",
    tail([360, 560, z], [736, 306, z]),
    tail([360, 0, z], [736, 254, z]),
    tail([1000, 640, z], [1000, 300, z]),
    tail([1000, -80, z], [1000, 260, z]),
    strap(
      [
        [800, 280, z],
        [1012, 280, z],
      ],
      [0, 1, 0],
      46,
      "web",
    ),
    slab([974, 254, z + 2], [52, 52, 6], 8, "web"),
    chestBuckle(c),
  );
}
/** The chest buckle close by on its webbing. */
function buckleBench(open: number): Shape {
  const at: Point = [760, 280, 803],
    z = 807;
  return join(
    name("table", box([300, -160, 780], [1000, 900, 20], "deck")),
    name(
      "deck-harness",
      strap(
        [
          [560, 380, z],
          [724, 302, z],
        ],
        [0.43, 0.9, 0],
        46,
        "web",
      ),
      strap(
        [
          [560, 180, z],
          [724, 258, z],
        ],
        [-0.43, 0.9, 0],
        46,
        "web",
      ),
      strap(
        [
          [800 + open, 280, z + 6],
          [1060 + open, 280, z],
        ],
        [0, 1, 0],
        46,
        "web",
      ),
      chestBuckle(at, open),
    ),
  );
}
/** The four clips lying beside their rings. */
function clipsOff(): Shape {
  const z = mattress.top + 6,
    c = chest;
  const loose = (end: Point, from: Point): Shape => {
    const d: Point = [end[0] - from[0], end[1] - from[1], 0],
      l = Math.hypot(d[0], d[1]),
      side: Point = [-d[1] / l, d[0] / l, 0];
    return join(
      strap(roundCorners([from, between(from, end, 0.5), end], 30), side, 46, "web"),
      snapClip(add(end, [(d[0] / l) * 92, (d[1] / l) * 92, -18]), from, 40),
    );
  };
  return name(
    "deck-harness",
    loose([566, 370, z], add(c, [-34, 24, 4])),
    loose([566, 190, z], add(c, [-34, -24, 4])),
    loose([980, 360, z], [906, 300, z]),
    loose([980, 200, z], [906, 260, z]),
    strap([add(c, [30, 0, 4]), [c[0] + 110, c[1], z + 2], [912, c[1], z + 4]], [0, 1, 0], 46, "web"),
    slab([876, 256, z + 2], [50, 48, 8], 8, "web"),
    chestBuckle(c),
  );
}
/** The harness hanging from its buckle. */
function hanging(): Shape {
  const top: Point = [716, 280, 1300],
    tail = (dx: number, dy: number, low: number): Shape => {
      const end: Point = [top[0] + dx, top[1] + dy, low],
        path = roundCorners(
          [add(top, [dx * 0.3, dy * 0.2, -10]), add(top, [dx * 0.75, dy * 0.6, -60]), add(end, [0, 0, 120]), end],
          60,
        );
      return join(
        strap(path, [0.3, 1, 0], 46, "web"),
        turn("y", 90, add(end, [0, 0, -6]), snapClip(add(end, [92, 0, -30]), add(end, [-40, 0, -30]))),
      );
    };
  return name(
    "deck-harness",
    chestBuckle(top),
    tail(-70, 70, 1090),
    tail(-110, -80, 1060),
    tail(110, 90, 1030),
    tail(150, -70, 1060),
  );
}

/** Fitting. */
export const fitHarnessScenes = taken("2026-06-24", [
  {
    id: "deck-harness-laid-out",
    from: "above",
    state: join(name("table", box([-200, -600, 780], [2200, 1800, 20], "deck")), spreadHarness()),
    hero: ["deck-harness"],
    frame: around([270, -190, 800], [1080, 750, 830]),
    fill: 0.94,
    marks: [
      { at: [520, 430, 806], label: "Shoulder tails" },
      { at: [1000, 470, 806], label: "Hip tails" },
      { at: [780, 300, 834], label: "Chest buckle" },
      { at: [304, -44, 812], label: "Snap clip", hidden: true },
    ],
    shows: ["deck-harness"],
    alt: "The deck harness spread out flat, four tails and a chest buckle",
  },
  {
    id: "deck-mattress-lower",
    from: "foot right",
    state: join(deckOnly({ lever: 90 }), move([0, 0, 270], handles(deckMattress()))),
    hero: ["deck-mattress"],
    frame: around([180, 40, 800], [1620, 560, 1220]),
    fill: 0.94,
    floor: 826,
    dashes: corners,
    arrow: [arrowTo([560, 520, 870], [0, 0, 200]), arrowTo([1240, 520, 870], [0, 0, 200])],
    marks: [
      { at: [430, 448, 1196], label: "Shoulder rings" },
      { at: [900, 448, 1196], label: "Hip rings" },
    ],
    shows: ["deck-mattress"],
    alt: "The deck mattress above the deck, four anchor rings on top",
  },
  leverShot({
    id: "deck-lever-lock-mattress",
    on: lying,
    from: 90,
    to: 180,
    shows: ["deck-mattress"],
    alt: "The deck lever flat under the edge of the deck mattress",
  }),
  {
    id: "deck-harness-lay",
    from: { around: 30, above: 40, words: "seen from the foot end, right" },
    state: join(deckOnly(), lying, move([0, 0, 150], deckHarness())),
    hero: ["deck-harness"],
    frame: around([340, 72, 880], [1040, 488, 1090]),
    fill: 0.92,
    floor: mattress.top,
    dashes: ways(anchors, [0, 0, 150]),
    arrow: arrowTo([1060, 300, 900], [0, 0, 150]),
    marks: [
      { at: [724, 250, 1090], label: "Label, head end", hidden: true },
      { at: [590, 360, 1062], label: "Shoulder tail", hidden: true },
      { at: [900, 380, 1062], label: "Hip tail", hidden: true },
    ],
    shows: ["deck-harness", "deck-mattress"],
    alt: "The deck harness spread over the mattress, label to the head end",
  },
  {
    id: "anchor-clips-close",
    from: { around: 30, above: 44, words: "seen from the foot end, right" },
    state: join(deckOnly(), lying, deckHarness()),
    hero: ["anchor-clip"],
    frame: harnessFrame,
    fill: 0.94,
    arrow: arrowFrom([820, 470, 950], [60, -10, 0]),
    marks: [anchors[1]!, anchors[0]!, anchors[3]!, anchors[2]!].map((p, i) => ({
      at: add(p, [i < 2 ? -16 : 0, i % 2 ? 14 : -14, 26]),
      label: pairs[i]!,
      hidden: true,
    })),
    shows: ["deck-harness", "deck-mattress"],
    alt: "Four snap clips on their anchor rings, gates shut",
  },
  {
    id: "chest-buckle-close",
    from: { around: 12, above: 58, words: "seen from above the right side" },
    state: buckleBench(34),
    hero: ["chest-buckle"],
    twins: {
      right: { state: buckleBench(0), words: "green window" },
      wrong: { state: buckleBench(12), words: "white window, tongue half in" },
      frame: around([700, 220, 800], [860, 340, 840]),
    },
    frame: around([640, 180, 800], [960, 380, 840]),
    fill: 0.9,
    arrow: arrowFrom([930, 350, 815], [-100, 0, 0]),
    marks: [
      { at: [850, 260, 826], label: "Tongue", hidden: true },
      { at: [780, 280, 835], label: "Window", hidden: true },
    ],
    shows: ["deck-harness"],
    alt: "The tongue going into the chest buckle, its window to turn green",
  },
  {
    id: "harness-tails-pull",
    from: { around: 22, above: 54, words: "seen from above the right side" },
    state: join(deckOnly(), lying, deckHarness()),
    hero: ["deck-harness"],
    frame: harnessFrame,
    fill: 0.92,
    arrow: [
      ...[0, 1].map((i) => arrowFrom(add(anchors[i]!, [60, i ? 84 : -84, 40]), [170, i ? 92 : -92, 0])),
      ...[2, 3].map((i) => arrowFrom(add(anchors[i]!, [76, 0, 30]), [0, i === 2 ? -150 : 150, 0])),
    ].map((arrow) => ({ ...arrow, thin: true })),
    marks: tailMarks.map((at, i) => ({ at, label: pairs[i]!, hidden: true })),
    shows: ["deck-harness", "deck-mattress"],
    alt: "Four harness tails pulled towards the middle of the mattress",
  },
  railsShot({
    id: "side-rails-raise-mattress",
    on: join(lying, deckHarness()),
    to: "up",
    marks: pegsThrough,
    shows: ["deck-mattress", "deck-harness"],
    alt: "Both side rails up beside the deck mattress, pegs through",
  }),
]);

/** Taking off. */
export const removeHarnessScenes = taken("2026-02-05", [
  railsShot({
    id: "side-rails-lower-mattress",
    on: join(lying, deckHarness()),
    to: "down",
    marks: railsDown,
    shows: ["deck-mattress", "deck-harness"],
    alt: "Both side rails folded down beside the deck mattress",
  }),
  {
    id: "chest-buckle-open",
    from: { around: -14, above: 56, words: "seen from above the right side" },
    state: buckleBench(90),
    hero: ["chest-buckle"],
    frame: around([620, 180, 800], [1000, 380, 840]),
    fill: 0.9,
    arrow: arrowTo([745, 280, 842], [0, 0, 90]),
    marks: [
      { at: [740, 296, 838], label: "Press bar", hidden: true },
      { at: [900, 270, 824], label: "Tongue", hidden: true },
    ],
    shows: ["deck-harness"],
    alt: "The chest buckle open, its tongue out",
  },
  {
    id: "anchor-clips-open",
    from: { around: 30, above: 44, words: "seen from the foot end, right" },
    state: join(deckOnly(), lying, clipsOff()),
    hero: ["anchor-clip"],
    frame: around([380, 90, 880], [1060, 470, 940]),
    fill: 0.92,
    arrow: [arrowFrom([900, 430, 930], [70, -30, 0]), arrowFrom([440, 440, 930], [60, -34, 0])],
    marks: [
      { at: [996, 380, 912], label: "Hip clips", hidden: true },
      { at: [520, 394, 912], label: "Shoulder clips", hidden: true },
    ],
    shows: ["deck-harness", "deck-mattress"],
    alt: "Four snap clips off their anchor rings",
  },
  {
    id: "deck-harness-off",
    from: "foot right",
    state: join(deckOnly(), lying, hanging()),
    hero: ["deck-harness"],
    frame: around([420, 72, 880], [1040, 488, 1480]),
    fill: 0.94,
    floor: mattress.top,
    arrow: arrowFrom([716, 280, 1360], [0, 0, 120]),
    marks: [
      { at: [740, 296, 1334], label: "Chest buckle", hidden: true },
      { at: [826, 370, 960], label: "Four clips", hidden: true },
    ],
    shows: ["deck-harness", "deck-mattress"],
    alt: "The deck harness lifted off the mattress by its chest buckle",
  },
  leverShot({
    id: "deck-lever-release-under-mattress",
    on: deckMattress(),
    from: 180,
    to: 90,
    shows: ["deck-mattress"],
    alt: "The deck lever upright beside the deck mattress",
  }),
  {
    id: "deck-mattress-lift-off",
    from: "head right",
    state: join(deckOnly({ lever: 90 }), move([0, 0, 300], handles(deckMattress()))),
    hero: ["deck-mattress"],
    frame: around([80, 40, 800], [1560, 560, 1260]),
    fill: 0.94,
    floor: 826,
    dashes: corners,
    arrow: [arrowFrom([560, 520, 870], [0, 0, 200]), arrowFrom([1240, 520, 870], [0, 0, 200])],
    marks: [
      { at: [92, 300, 1156], label: "Head handles" },
      { at: [1620, 340, 1156], label: "Foot handles", hidden: true },
    ],
    shows: ["deck-mattress"],
    alt: "The deck mattress lifted off the deck",
  },
]);
