/** Gloved hands at a grip, and the doll that lies where a patient lies. */
import { add, between, scale, subtract, unit, type Point } from "../engine/points.ts";
import { ball, join, limb, name, type Shape } from "../engine/shapes.ts";

/** A closed hand round a bar at `at`; the arm comes from `from`, the bar runs along `bar`. */
export function hand(at: Point, from: Point, bar: Point): Shape {
  const back = unit(subtract(from, at)),
    along = unit(bar);
  const wrist = add(at, scale(back, 62)),
    sleeve = add(at, scale(back, 130)),
    elbow = add(at, scale(back, 330));
  const finger = (i: number): Shape => {
    const root = add(at, scale(along, (i - 1.5) * 19));
    return limb(add(root, scale(back, 26)), add(root, scale(back, -20)), 10, "linen", 9);
  };
  return name(
    "hand",
    limb(wrist, add(at, scale(back, 16)), 30, "linen", 36),
    ...[0, 1, 2, 3].map(finger),
    limb(
      add(at, add(scale(along, 44), scale(back, 20))),
      add(at, add(scale(along, 30), scale(back, -16))),
      11,
      "linen",
      10,
    ),
    limb(sleeve, wrist, 36, "linen", 29),
    limb(elbow, sleeve, 44, "web", 38),
  );
}
/** Both hands of one person at a bar: `apart` millimetres between them, arms from `from`. */
export const hands = (at: Point, bar: Point, apart: number, from: Point): Shape =>
  join(
    ...[-1, 1].map((side) => {
      const place = add(at, scale(unit(bar), (side * apart) / 2));
      return hand(place, add(place, from), bar);
    }),
  );
/** One finger that presses on `at`, coming from `from`. */
export function finger(at: Point, from: Point): Shape {
  const back = unit(subtract(from, at));
  return name(
    "hand",
    limb(add(at, scale(back, 70)), add(at, scale(back, 9)), 13, "linen", 9),
    ball(add(at, scale(back, 104)), 40, "linen"),
    limb(add(at, scale(back, 320)), add(at, scale(back, 130)), 44, "web", 36),
  );
}

/** A doll on its back along x, crown at `crown`, so long from crown to heel (millimetres); `crown` is on its pad. */
export function doll(crown: Point, length: number): Shape {
  const isSmall = length < 700,
    head = length * (isSmall ? 0.125 : length < 1300 ? 0.08 : 0.066),
    wide = length * (isSmall ? 0.115 : 0.105);
  const z = wide * 0.72;
  const at = (along: number, side: number, high = z): Point => add(crown, [length * along, length * side, high]);
  const neck = (2 * head) / length + 0.02;
  const hip = 0.5 + (isSmall ? 0.06 : 0);
  const skin = "linen",
    cloth = "soft";
  const arm = (s: number): Shape =>
    join(
      limb(at(neck + 0.05, s * 0.13), at(neck + 0.2, s * 0.19, z * 0.8), wide * 0.34, cloth, wide * 0.28),
      limb(at(neck + 0.2, s * 0.19, z * 0.8), at(neck + 0.33, s * 0.15, z), wide * 0.27, skin, wide * 0.2),
    );
  const leg = (s: number): Shape =>
    join(
      limb(at(hip, s * 0.06), at((hip + 1) / 2, s * 0.085, z * 0.9), wide * 0.48, cloth, wide * 0.36),
      limb(at((hip + 1) / 2, s * 0.085, z * 0.9), at(0.965, s * 0.075, z * 0.7), wide * 0.34, skin, wide * 0.24),
      limb(at(0.965, s * 0.075, z * 0.6), at(0.975, s * 0.085, z * 1.3), wide * 0.22, skin, wide * 0.16),
    );
  const face = add(crown, [head * 1.02, 0, head]);
  const dot = (dx: number, dy: number, r: number): Shape =>
    ball(
      add(face, [head * dx, head * dy, head * Math.sqrt(Math.max(0.1, 1 - dx * dx - dy * dy)) - r * 0.4]),
      r,
      "dark",
    );
  return name(
    "doll",
    ball(face, head, skin),
    dot(0.05, 0.36, head * 0.1),
    dot(0.05, -0.36, head * 0.1),
    ball(add(face, [0, head * 0.98, -head * 0.05]), head * 0.2, skin),
    ball(add(face, [0, -head * 0.98, -head * 0.05]), head * 0.2, skin),
    limb(at(neck + 0.055, 0), at(hip - 0.02, 0), wide, cloth, wide * 0.92),
    arm(1),
    arm(-1),
    leg(1),
    leg(-1),
    limb(between(face, at(neck, 0), 0.6), at(neck + 0.03, 0), head * 0.42, skin, head * 0.5),
  );
}
