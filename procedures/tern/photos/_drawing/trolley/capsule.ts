/**
 * The newborn capsule: base with pin guides, pins, tub with canopy, mattress, warming mattress, roll supports and
 * pouch.
 */
import { add, arcPoints, roundCorners, scale, subtract, unit, type Point } from "../engine/points.ts";
import {
  basin,
  box,
  extrude,
  join,
  lathe,
  name,
  patch,
  rod,
  roundedFlat,
  sheet,
  slab,
  spread,
  tube,
  turn,
  type Flat,
  type Shape,
} from "../engine/shapes.ts";
import { deck, hooks } from "./frame.ts";

/** Where the base and the tub stand when they are down on the deck. */
export const base = { x: 420, y: 62, length: 920, width: 436, bottom: deck.top, top: 866 } as const;
export const tub = { x: 520, y: 92, length: 720, width: 376, bottom: 880, rim: 968, floor: 894 } as const;
/**
 * The four pins' places, in the order of the marks: head near, head far, foot far, foot near (near is the ventilator
 * side).
 */
export const pinPlaces: readonly Point[] = [
  [474, 440],
  [474, 120],
  [1286, 120],
  [1286, 440],
].map(([x, y]): Point => [x!, y!, base.top]);

/**
 * The base plate with guides, notches, an arrow to the head end and a handle at each end. `held` closes the deck's
 * hooks over the notches.
 */
export function capsuleBase(held = false): Shape {
  const plate = slab([base.x, base.y, base.bottom], [base.length, base.width, 40], 26, "body");
  const well = slab([base.x + 130, base.y + 50, base.top], [base.length - 260, base.width - 100, 1], 20, "metal");
  const guides = pinPlaces.map((p) =>
    name(
      "pin-guide",
      lathe(
        [
          [13, 0],
          [13, 20],
          [26, 20],
          [36, 12],
          [36, 0],
        ],
        p,
        [0, 0, 1],
        "metal",
      ),
      patch(arcPoints(add(p, [0, 0, 1]), 14, "z", 0, 360, 20).slice(1), "hole"),
    ),
  );
  const notches = hooks.map(([x, y]) => {
    const inward = y > deck.middle ? base.y + base.width - 30 : base.y;
    return name(
      "notch",
      box([x - 40, inward, base.top], [80, 30, 0.8], "hole"),
      held ? hookClosed(x, y, base.top) : [],
    );
  });
  const arrow = patch(
    (
      [
        [-34, 0],
        [4, -26],
        [4, -10],
        [44, -10],
        [44, 10],
        [4, 10],
        [4, 26],
      ] as const
    ).map(([u, v]): Point => [620 + u, deck.middle + v, base.top + 1.8]),
    "dark",
  );
  const handle = (x: number, out: number): Shape =>
    tube(
      roundCorners(
        [
          [x, 210, 846],
          [x + out, 210, 852],
          [x + out, 350, 852],
          [x, 350, 846],
        ],
        26,
      ),
      10,
      "dark",
    );
  return name(
    "capsule-base",
    plate,
    well,
    arrow,
    ...guides,
    ...notches,
    name("base-handle", handle(base.x + 4, -46), handle(base.x + base.length - 4, 46)),
  );
}

/** A deck hook swung in over the edge of what it holds, `top` being the upper side of that edge. */
export function hookClosed(x: number, y: number, top: number): Shape {
  const inward = y > deck.middle ? -1 : 1,
    edge = y > deck.middle ? 500 : 60;
  return name(
    "deck-hook",
    extrude(
      [
        [edge - inward * 12, deck.top],
        [edge, deck.top],
        [edge, top + 3],
        [edge + inward * 28, top + 3],
        [edge + inward * 24, top + 13],
        [edge - inward * 6, top + 15],
        [edge - inward * 12, top + 8],
      ].map(([u, v]): Flat => [u!, v!]),
      "x",
      x - 27,
      x + 27,
      "dark",
    ),
  );
}

/**
 * A capsule pin with its tip at the guide's floor; `lift` raises it, `turned` (degrees) turns its knob, `ready` shows
 * the collar's coloured side.
 */
export function capsulePin(at: Point, { lift = 0, turned = 0 }: { lift?: number; turned?: number } = {}): Shape {
  const p = add(at, [0, 0, lift]);
  const body = rod(add(p, [0, 0, -18]), add(p, [0, 0, 72]), 10, "metal");
  const collar = lathe(
    [
      [11, 35],
      [22, 35],
      [22, 57],
      [11, 57],
    ],
    p,
    [0, 0, 1],
    "pad",
  );
  const rim = (height: number): Point[] => arcPoints([p[0], p[1], p[2] + height], 22.6, "z", -62, 62, 14);
  const window = (k: number): Shape => name("collar-window", turn("z", turned + k, p, sheet(rim(39), rim(53), "good")));
  const knob = lathe(
    [
      [0, 58],
      [25, 58],
      [29, 64],
      [29, 84],
      [23, 92],
      [0, 92],
    ],
    p,
    [0, 0, 1],
    "web",
    36,
  );
  const wing = turn("z", turned, p, join(box([p[0] - 27, p[1] - 7, p[2] + 92], [54, 14, 16], "web")));
  return name("capsule-pin", body, collar, turned === 0 ? [] : join(window(-20), window(160)), knob, wing);
}

/**
 * The capsule. `canopy` is the angle of the canopy (0 shut, 100 open to the monitor side); catches stand out while it
 * is open.
 */
export interface CapsuleState {
  readonly canopy?: number;
  readonly pad?: boolean;
  readonly rolls?: boolean;
  readonly catches?: "flush" | "out";
  readonly sheet?: boolean;
  readonly padTilt?: number;
  readonly pouch?: Parameters<typeof capsulePouch>[0];
}
export function newbornCapsule({
  canopy = 0,
  pad = true,
  rolls = false,
  catches = canopy > 0 ? "out" : "flush",
  sheet: covered = false,
  padTilt = 0,
  pouch: pouchState = {},
}: CapsuleState = {}): Shape {
  const { x, y, length, width, bottom, rim, floor } = tub;
  const shell = basin(
    roundedFlat(x, y, length, width, 44),
    roundedFlat(x + 18, y + 18, length - 36, width - 36, 30),
    bottom,
    floor,
    () => rim,
    "body",
    "metal",
  );
  const lugs = pinPlaces.map(([u, v]) => {
    const inner = u < 900 ? x + 40 : x + length - 40;
    const w = Math.sign(inner - u) * 34;
    return name(
      "lug",
      extrude(
        [
          [u - w, v - 28],
          [inner, v - 32],
          [inner, v + 32],
          [u - w, v + 28],
        ].map(([a, b]): Flat => [a!, b!]),
        "z",
        base.top + 20,
        base.top + 33,
        "body",
      ),
      patch(arcPoints([u, v, base.top + 33.8], 13, "z", 0, 360, 18).slice(1), "hole"),
    );
  });
  const feet = [x + 90, x + length - 190].flatMap((u) => [
    box([u, y + 30, base.top], [100, 24, 16], "dark"),
    box([u, y + width - 54, base.top], [100, 24, 16], "dark"),
  ]);
  return name(
    "newborn-capsule",
    shell,
    ...lugs,
    ...feet,
    grip(x + 6, -1),
    grip(x + length - 6, 1),
    pad ? turn("x", padTilt, [0, tub.y + 36, tub.floor + 40], mattressPad()) : [],
    covered ? sheetOver() : [],
    rolls ? join(rollSupport([640, 200, 968]), rollSupport([640, 352, 968])) : [],
    name("canopy", turn("x", canopy, [0, y + 6, rim], canopyShell())),
    ...[640, 1110].map((u) => canopyCatch(u, catches === "out")),
    capsulePouch(pouchState),
  );
}

function grip(x: number, out: number): Shape {
  return name(
    out < 0 ? "head-grip" : "foot-grip",
    tube(
      roundCorners(
        [
          [x, 176, 908],
          [x + out * 88, 176, 908],
          [x + out * 88, 384, 908],
          [x, 384, 908],
        ],
        34,
      ),
      13,
      "dark",
    ),
  );
}

function canopyShell(): Shape {
  const z = tub.rim,
    near = tub.y + tub.width - 4,
    far = tub.y + 4;
  const profile: Flat[] = [
    [near, z],
    [near - 8, z + 150],
    ...arc(near - 130, z + 160, 122, 96, -4, 90),
    ...arc(far + 130, z + 160, 122, 96, 90, 184),
    [far + 8, z + 150],
    [far, z],
  ];
  const shell = extrude(profile, "x", tub.x + 8, tub.x + tub.length - 8, "glass");
  const frame = (u: number): Shape =>
    extrude(
      [
        [near, z - 2],
        [near + 3, z + 14],
        [near - 2, z + 14],
        [near - 8, z + 2],
      ],
      "x",
      tub.x + 8 + u,
      tub.x + tub.length - 8,
      "metal",
    );
  return join(shell, frame(0), port(700), port(1060));
}
const arc = (cu: number, cv: number, ru: number, rv: number, from: number, to: number): Flat[] =>
  Array.from({ length: 21 }, (_, i) => {
    const t = ((from + ((to - from) * i) / 20) * Math.PI) / 180;
    return [cu + ru * Math.cos(t), cv + rv * Math.sin(t)];
  });

/** A hand port: a ring with a hinge to the foot and a catch to the head. */
function port(x: number): Shape {
  const at: Point = [x, tub.y + tub.width - 8, tub.rim + 82];
  return name(
    "port",
    lathe(
      [
        [46, -2],
        [60, -2],
        [60, 12],
        [46, 12],
        [46, -2],
      ],
      at,
      [0, 1, 0],
      "body",
      36,
    ),
    box([x + 52, at[1], at[2] - 16], [18, 14, 32], "metal"),
    box([x - 74, at[1], at[2] - 9], [22, 12, 18], "dark"),
  );
}

function canopyCatch(x: number, out: boolean): Shape {
  const at: Point = [x, tub.y + tub.width, tub.rim - 34],
    flap = extrude(roundedFlat(x - 30, tub.rim - 36, 60, 46, 8), "y", at[1] + 1, at[1] + 9, "dark");
  return name(
    "canopy-catch",
    box([x - 34, at[1] - 2, tub.rim - 44], [68, 5, 22], "metal"),
    out ? turn("x", -62, at, flap) : flap,
  );
}

/** The pad in the tub, or lifted at its near edge. */
export const mattressPad = (): Shape =>
  name(
    "capsule-pad",
    slab([tub.x + 34, tub.y + 34, tub.floor + 14], [tub.length - 68, tub.width - 68, 40], 20, "linen"),
  );

/** A sheet over the pad, its near edge hanging over the rim by so many millimetres. */
export function sheetOver(hang = 0): Shape {
  const x0 = tub.x + 30,
    x1 = tub.x + tub.length - 30,
    near = tub.y + tub.width - 30,
    far = tub.y + 30,
    z = tub.floor + 57;
  const top = slab([x0, far, tub.floor + 52], [x1 - x0, near - far, 5], 22, "body");
  const stripes = [0.12, 0.88].map((t) => box([x0 + (x1 - x0) * t - 3, far + 2, z], [6, near - far - 4, 0.8], "metal"));
  if (hang === 0) return name("sheet", top, ...stripes);
  const wave = spread([x0 + 120, 0, 0], [x1 - 120, 0, 0], 41).map(([x], i): Point => [
    x,
    (1 - Math.cos(i * 0.63)) * 5,
    0,
  ]);
  const edge = (y: number, h: number): Point[] => wave.map(([x, w]): Point => [x, y + w, h]);
  return name(
    "sheet",
    top,
    ...stripes,
    name(
      "sheet-edge",
      sheet(edge(near - 14, z), edge(near + 6, tub.rim + 12), "body"),
      sheet(edge(near + 6, tub.rim + 12), edge(near + 38, tub.rim + 8), "body"),
      sheet(edge(near + 38, tub.rim + 8), edge(near + 46, tub.rim - hang), "body"),
    ),
  );
}

/** The warming mattress in its slot under the pad; `out` draws it so far towards the ventilator side. */
export function warmingMattress(
  at: Point,
  cable: boolean | readonly Point[] = true,
  lamp: "amber" | "screen" = "screen",
): Shape {
  const [x, y, z] = at;
  const path = roundCorners(
      typeof cable === "boolean"
        ? [
            [x + 560, y + 244, z + 10],
            [x + 560, y + 296, z + 8],
            [x + 640, y + 330, z - 6],
            [x + 690, y + 318, z - 20],
          ]
        : cable,
      40,
      8,
    ),
    end = path.at(-1)!,
    run = unit(subtract(end, path.at(-2)!));
  return name(
    "warming-mattress",
    slab(at, [600, 250, 24], 22, "metal"),
    box([x + 30, y + 30, z + 24], [540, 190, 1], "soft"),
    name(
      "lamp",
      lathe(
        [
          [0, 0],
          [15, 0],
          [15, 7],
          [9, 12],
          [0, 12],
        ],
        [x + 36, y + 222, z + 24],
        [0, 0, 1],
        lamp,
      ),
    ),
    cable ? join(tube(path, 7, "dark"), rod(end, add(end, scale(run, 42)), 12, "dark")) : [],
  );
}

/** A soft roll along x. */
export const rollSupport = (at: Point, length = 240): Shape =>
  name(
    "roll-support",
    lathe(
      [
        [0, 0],
        [22, 0],
        [30, 8],
        [30, length - 8],
        [22, length],
        [0, length],
      ],
      at,
      [1, 0, 0],
      "soft",
    ),
    ...[70, length - 70].map((u) =>
      lathe(
        [
          [30.6, u - 3],
          [30.6, u + 3],
        ],
        at,
        [1, 0, 0],
        "dark",
      ),
    ),
    lathe(
      [
        [0, -0.6],
        [10, -0.6],
      ],
      at,
      [1, 0, 0],
      "metal",
    ),
  );

/**
 * The pouch above the foot grip, with a window and a press edge; `flap` in degrees (0 is pressed shut), `rolls` in it.
 */
export function capsulePouch({ flap = 0, rolls = 2 }: { flap?: number; rolls?: number } = {}): Shape {
  const x = tub.x + tub.length + 2,
    { y, z, width, height, depth } = pouch;
  const wall = basin(
    roundedFlat(x, y, depth, width, 14),
    roundedFlat(x + 4, y + 4, depth - 8, width - 8, 10),
    z,
    z + 4,
    () => z + height,
    "soft",
  );
  const front = (u: number, v: number, du: number, dv: number, r: number, out: number): Shape =>
    patch(
      roundedFlat(y + u, z + v, du, dv, r).map(([a, b]): Point => [x + depth + out, a, b]),
      out > 1 ? "pad" : "hole",
    );
  const seen =
    rolls > 0
      ? [30, 58].slice(0, rolls).map((v) => name("roll-support", front(26, v - 14, width - 52, 24, 11, 1.2)))
      : [];
  const leaf = slab([x - 2, y - 3, z + height], [depth + 8, width + 6, 4], 12, "soft"),
    lip = box([x + depth + 2, y + 6, z + height - 16], [4, width - 12, 20], "dark");
  const inside = Array.from({ length: rolls }, (_, i) =>
    name(
      "roll-support",
      lathe(
        [
          [0, 0],
          [20, 0],
          [26, 8],
          [26, width - 28],
          [20, width - 20],
          [0, width - 20],
        ],
        [x + depth / 2, y + 10, z + 32 + i * 34],
        [0, 1, 0],
        "pad",
      ),
    ),
  );
  return name(
    "capsule-pouch",
    wall,
    front(16, 10, width - 32, height - 36, 10, 0.6),
    ...seen,
    ...inside,
    name("pouch-flap", turn("y", -flap, [x, y, z + height + 2], join(leaf, lip))),
  );
}
/** The pouch's place and size. */
export const pouch = { y: 152, z: 926, width: 256, height: 96, depth: 70 } as const;

/** The capsule's lead: from the head end of the tub, ending in a plug whose tip is at `plug`. */
export function capsuleLead(plug: Point): Shape {
  const start: Point = [tub.x + 4, 430, 912],
    cable = roundCorners(
      [
        start,
        [tub.x - 40, 452, 906],
        [plug[0] + 26, plug[1] + 6, plug[2] + 150],
        [plug[0], plug[1], plug[2] + 128],
        [plug[0], plug[1], plug[2] + 60],
      ],
      60,
      8,
    );
  return name(
    "capsule-lead",
    tube(cable, 7, "dark"),
    lathe(
      [
        [0, 0],
        [9, 0],
        [9, 20],
        [17, 20],
        [19, 28],
        [19, 58],
        [11, 72],
        [0, 72],
      ],
      plug,
      [0, 0, 1],
      "body",
    ),
    lathe(
      [
        [19.6, 34],
        [19.6, 40],
      ],
      plug,
      [0, 0, 1],
      "dark",
    ),
    lathe(
      [
        [19.6, 46],
        [19.6, 52],
      ],
      plug,
      [0, 0, 1],
      "dark",
    ),
  );
}
