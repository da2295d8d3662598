/** Drawings for locking the capsule base on the deck and lifting it off. */
import { box, join, move, name, rod, turn } from "../engine/shapes.ts";
import { capsuleBase } from "../trolley/capsule.ts";
import { around, arrowFrom, arrowTo, deckOnly, leverShot, taken, ways } from "./common.ts";

const wallWithPegs = name(
  "wall",
  box([330, 262, 520], [1100, 16, 640], "deck"),
  ...[474, 1286].map((x) => rod([x, 278, 1006], [x, 372, 1012], 11, "dark")),
);
const corners = ways(
  [
    [424, 498, 866],
    [1336, 498, 866],
    [1336, 62, 866],
  ],
  [0, 0, 300],
);

/** Dated as the procedures' drawings are. */
export const capsuleBaseScenes = taken("2026-03-05", [
  {
    id: "empty-deck",
    from: "steep",
    state: deckOnly(),
    hero: ["deck-hook"],
    frame: around([150, 60, 720], [1640, 600, 860]),
    fill: 0.97,
    floor: 826,
    arrow: {
      path: [
        [340, 280, 830],
        [1440, 280, 830],
      ],
    },
    marks: [
      { at: [600, 499, 828], label: "Head hooks" },
      { at: [1160, 499, 828], label: "Foot hooks" },
    ],
    shows: [],
    alt: "The bare deck with its four hooks, side rails folded down",
  },
  leverShot({
    id: "deck-lever-release",
    from: 180,
    to: 90,
    shows: [],
    alt: "The deck lever upright, its red band in sight",
  }),
  {
    id: "capsule-base-lower",
    from: "foot right",
    state: join(deckOnly({ lever: 90 }), move([0, 0, 260], capsuleBase())),
    hero: ["capsule-base"],
    frame: around([300, 40, 740], [1480, 600, 1140]),
    fill: 0.9,
    floor: 826,
    dashes: corners,
    arrow: [arrowTo([640, 520, 890], [0, 0, 190]), arrowTo([1180, 520, 890], [0, 0, 190])],
    marks: [
      { at: [620, 280, 1128], label: "Arrow, to the head end" },
      { at: [1160, 484, 1127], label: "Notch" },
      { at: [1160, 499, 838], label: "Deck hook", hidden: true },
    ],
    shows: ["capsule-base"],
    alt: "The capsule base above the deck, its notches over the hooks",
  },
  leverShot({
    id: "deck-lever-lock",
    on: capsuleBase(true),
    from: 90,
    to: 180,
    shows: ["capsule-base"],
    alt: "The deck lever flat along the deck edge, no red band in sight",
  }),
  {
    id: "capsule-base-pull",
    from: "foot right",
    state: join(deckOnly(), capsuleBase(true)),
    hero: ["capsule-base"],
    frame: around([340, 40, 800], [1420, 560, 1060]),
    fill: 0.92,
    floor: 826,
    arrow: [arrowFrom([374, 280, 876], [0, 0, 190]), arrowFrom([1386, 280, 876], [0, 0, 190])],
    marks: [
      { at: [378, 330, 858], label: "Head end" },
      { at: [1384, 340, 858], label: "Foot end" },
      { at: [1160, 490, 880], label: "Hook closed over the notch" },
    ],
    shows: ["capsule-base"],
    alt: "The capsule base on the deck with hooks closed, pulled up at both ends",
  },
  leverShot({
    id: "deck-lever-release-base",
    on: capsuleBase(),
    from: 180,
    to: 90,
    shows: ["capsule-base"],
    alt: "The deck lever upright beside the capsule base",
  }),
  {
    id: "capsule-base-lift-off",
    from: { around: 52, above: 30, words: "seen from the foot end, right" },
    state: join(deckOnly({ lever: 90 }), move([0, 0, 300], capsuleBase())),
    hero: ["capsule-base"],
    frame: around([330, 40, 800], [1480, 600, 1200]),
    fill: 0.9,
    floor: 826,
    dashes: corners,
    arrow: [arrowFrom([1386, 280, 880], [0, 0, 210])],
    marks: [
      { at: [378, 330, 1158], label: "Head handle" },
      { at: [1390, 340, 1160], label: "Foot handle" },
    ],
    shows: ["capsule-base"],
    alt: "The capsule base lifted level off the deck",
  },
  leverShot({
    id: "deck-lever-lock-empty",
    from: 90,
    to: 180,
    shows: [],
    alt: "The deck lever flat beside the empty deck",
  }),
  {
    id: "capsule-base-on-wall",
    from: { around: 30, above: 14, words: "seen from the right" },
    state: join(wallWithPegs, move([0, 40, 0], turn("x", -90, [880, 280, 846], capsuleBase()))),
    hero: ["capsule-base"],
    fill: 0.92,
    dashes: ways(
      [
        [474, 400, 1006],
        [1286, 400, 1006],
      ],
      [0, 240, 0],
    ),
    arrow: arrowTo([880, 400, 846], [0, 260, 0]),
    marks: [
      { at: [474, 372, 1006], label: "Peg" },
      { at: [1286, 372, 1006], label: "Peg" },
    ],
    shows: ["capsule-base"],
    alt: "The capsule base hanging on two wall pegs",
  },
]);
