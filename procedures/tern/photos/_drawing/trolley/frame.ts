/** The bare trolley: deck with its two tracks, crossed legs, lower frame, wheels and the hoops at both ends. */
import { arcPoints, roundCorners, type Point } from "../engine/points.ts";
import { box, extrude, join, lathe, mirror, name, patch, rod, slab, tube, turn, type Shape } from "../engine/shapes.ts";

/** Sizes by which other parts are placed. `middle` is the line from which platform.yaml counts y. */
export const deck = { length: 1900, width: 560, top: 826, bottom: 780, middle: 280, trackTop: 836 } as const;
/** Height of the lower frame's upper side, on which the bays stand. */
export const lowerFrame = 234;

/** The deck, or the piece of it between two distances from the head end. */
export function deckBoard(from = 0, to: number = deck.length): Shape {
  const whole = from === 0 && to === deck.length,
    thick = deck.top - deck.bottom;
  const board = whole
    ? slab([0, 0, deck.bottom], [deck.length, deck.width, thick], 40, "deck")
    : box([from, 0, deck.bottom], [to - from, deck.width, thick], "deck");
  const near = track(524, Math.max(from, 60), Math.min(to, deck.length - 60));
  return name("deck", board, near, mirror(deck.middle, near), ...hooks.filter(([x]) => x > from && x < to).map(hook));
}

/** Where the four hooks come out of the deck: they grip whatever stands on it. */
export const hooks: readonly (readonly [number, number])[] = [
  [600, 499],
  [1160, 499],
  [600, 61],
  [1160, 61],
];

function hook([x, y]: readonly [number, number]): Shape {
  const well = patch(
    [
      [x - 38, y - 11, deck.top + 0.6],
      [x + 38, y - 11, deck.top + 0.6],
      [x + 38, y + 11, deck.top + 0.6],
      [x - 38, y + 11, deck.top + 0.6],
    ],
    "hole",
  );
  return name("deck-hook", well, box([x - 26, y - 7, deck.top], [52, 14, 12], "metal"));
}

/** A track with its row of holes. */
function track(y: number, from: number, to: number): Shape {
  const rail = extrude(
    [
      [y - 15, deck.top],
      [y + 15, deck.top],
      [y + 15, deck.trackTop],
      [y - 15, deck.trackTop],
    ],
    "x",
    from,
    to,
    "metal",
  );
  const holes: Shape[] = [];
  for (let x = Math.ceil((from + 20) / 62) * 62; x < to - 18; x += 62)
    holes.push(patch(arcPoints([x, y, deck.trackTop + 0.8], 8, "z", 0, 360, 16).slice(1), "hole"));
  return join(rail, ...holes);
}

/**
 * Legs crossed at the head and foot, so that both long sides stay open; posts between the bays; lower frame and wheels.
 */
export function undercarriage(brakes = true): Shape {
  const beam = tube(
    [
      [130, 490, 214],
      [1770, 490, 214],
    ],
    20,
    "body",
  );
  const cross = (x: number): Shape =>
    join(
      tube(
        [
          [x - 17, 82, 214],
          [x - 17, 478, 786],
        ],
        16,
        "body",
      ),
      tube(
        [
          [x + 17, 478, 214],
          [x + 17, 82, 786],
        ],
        16,
        "body",
      ),
      rod([x - 44, 280, 500], [x + 44, 280, 500], 20, "metal"),
    );
  const post = rod([910, 490, 214], [910, 490, 786], 15, "body");
  const bar = (x: number): Shape => rod([x, 70, 214], [x, 490, 214], 15, "body");
  return name(
    "undercarriage",
    beam,
    mirror(deck.middle, beam),
    post,
    mirror(deck.middle, post),
    bar(150),
    bar(1750),
    bar(910),
    cross(300),
    cross(1660),
    ...[230, 1690].flatMap((x) => [wheel(x, 70, brakes), wheel(x, 490, brakes)]),
  );
}

/** A castor: fork, tyre, hub and brake pedal; the pedal is down while the brake is on. */
export function wheel(x: number, y: number, brake: boolean): Shape {
  const tyre = lathe(
    [
      [34, -19],
      [66, -19],
      [76, -12],
      [76, 12],
      [66, 19],
      [34, 19],
    ],
    [x + 26, y, 76],
    [0, 1, 0],
    "dark",
    40,
  );
  const hub = lathe(
    [
      [0, -16],
      [38, -16],
      [38, 16],
      [0, 16],
    ],
    [x + 26, y, 76],
    [0, 1, 0],
    "metal",
  );
  const fork = (side: number): Shape =>
    extrude(
      [
        [x - 26, 168],
        [x + 22, 168],
        [x + 40, 66],
        [x + 14, 62],
      ],
      "y",
      y + side - 3,
      y + side + 3,
      "body",
    );
  return name(
    "wheel",
    tyre,
    hub,
    fork(-26),
    fork(26),
    brakePedal(x, y, brake),
    rod([x, y, 166], [x, y, 200], 26, "metal"),
    rod([x + 26, y - 30, 76], [x + 26, y + 30, 76], 9, "metal"),
  );
}

/** The pedal over the wheel, outside the fork: down on the tyre is on, standing up is off, its red side in sight. */
function brakePedal(x: number, y: number, down: boolean): Shape {
  const pivot: Point = [x - 18, y, 158];
  return name(
    "brake-pedal",
    rod([pivot[0], y - 40, pivot[2]], [pivot[0], y + 40, pivot[2]], 9, "metal"),
    turn(
      "y",
      down ? 6 : -44,
      pivot,
      join(
        box([x - 14, y - 34, 152], [104, 68, 12], "grip"),
        box([x + 60, y - 34, 164], [30, 68, 5], "body"),
        down ? [] : name("brake-red", box([x - 6, y - 28, 147], [88, 56, 5], "signal")),
      ),
    ),
  );
}

/** The hoop at the head end; its top tube is the head rail. */
export const headHoop = (): Shape => name("head-hoop", hoop(40, 1000, 14));
/** The hoop at the foot end; its top tube is the foot rail. */
export const footHoop = (): Shape => name("foot-hoop", hoop(1720, 1190, 14));

function hoop(x: number, top: number, radius: number): Shape {
  const path: Point[] = roundCorners(
    [
      [x, 30, deck.top - 6],
      [x, 30, top],
      [x, 530, top],
      [x, 530, deck.top - 6],
    ],
    60,
  );
  const shoe = slab([x - 27, 508, deck.trackTop], [54, 44, 20], 10, "metal");
  return join(tube(path, radius, "body"), shoe, mirror(deck.middle, shoe));
}
