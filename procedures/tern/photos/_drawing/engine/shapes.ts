/**
 * The solids that parts are made of: boxes, turned bodies, swept tubes and straps, extruded profiles and flat patches.
 */
import { add, between, cross, dot, lengthOf, scale, subtract, turnPoint, unit, type Point } from "./points.ts";

/** What a surface looks like; the palette in ink.ts gives each its three tones. */
export type Material =
  | "body"
  | "deck"
  | "metal"
  | "web"
  | "grip"
  | "dark"
  | "hole"
  | "soft"
  | "pad"
  | "linen"
  | "screen"
  | "glass"
  | "signal"
  | "good"
  | "amber"
  | "yellow"
  | "blue"
  | "redOnWhite"
  | "greenOnWhite";

/** A triangle with one normal per corner, so that round surfaces shade in bands. */
export interface Triangle {
  readonly points: readonly [Point, Point, Point];
  readonly normals: readonly [Point, Point, Point];
}
/** No ink is drawn inside a surface. */
export interface Surface {
  readonly triangles: readonly Triangle[];
  readonly material: Material;
}
/** One body: thin ink between its surfaces. `names` runs from the outermost part to the innermost. */
export interface Solid {
  readonly surfaces: readonly Surface[];
  readonly names: readonly string[];
}
/** What every shape function gives: any number of solids. */
export type Shape = readonly Solid[];
/** A point of a flat outline. */
export type Flat = readonly [number, number];

/** Joins shapes. */
export const join = (...shapes: readonly (Shape | false | undefined)[]): Shape =>
  shapes.flatMap((shape) => shape || []);

/** Gives shapes a name (an item id, as a rule) by which a scene finds, moves or colours them. */
export const name = (id: string, ...shapes: readonly (Shape | false | undefined)[]): Shape =>
  join(...shapes).map((solid) => ({ ...solid, names: [id, ...solid.names] }));

/**
 * Makes a shape once for each set of plain arguments (what JSON can tell apart) and gives it out again: many scenes
 * stand on the same trolley.
 */
export function kept<A extends readonly unknown[]>(make: (...args: A) => Shape): (...args: A) => Shape {
  const made = new Map<string, Shape>();
  return (...args) => {
    const key = JSON.stringify(args);
    if (!made.has(key)) made.set(key, make(...args));
    return made.get(key)!;
  };
}

/** Moves a shape. */
export const move = (by: Point, shape: Shape): Shape =>
  mapPoints(
    shape,
    (p) => add(p, by),
    (n) => n,
  );

/** Turns a shape about an axis through `pivot`. */
export const turn = (axis: "x" | "y" | "z", degrees: number, pivot: Point, shape: Shape): Shape =>
  mapPoints(
    shape,
    (p) => turnPoint(p, axis, degrees, pivot),
    (n) => turnPoint(n, axis, degrees, [0, 0, 0]),
  );

/** The mirror image across the plane y = `at`. */
export const mirror = (at: number, shape: Shape): Shape =>
  mapPoints(
    shape,
    ([x, y, z]) => [x, 2 * at - y, z],
    ([x, y, z]) => [x, -y, z],
  );

function mapPoints(shape: Shape, point: (p: Point) => Point, normal: (n: Point) => Point): Shape {
  return shape.map((solid) => ({
    ...solid,
    surfaces: solid.surfaces.map((surface) => ({
      ...surface,
      triangles: surface.triangles.map(({ points, normals }) => ({
        points: [point(points[0]), point(points[1]), point(points[2])],
        normals: [normal(normals[0]), normal(normals[1]), normal(normals[2])],
      })),
    })),
  }));
}

const flatTriangle = (a: Point, b: Point, c: Point): Triangle => {
  const n = unit(cross(subtract(b, a), subtract(c, a)));
  return { points: [a, b, c], normals: [n, n, n] };
};
const quad = (a: Point, b: Point, c: Point, d: Point): Triangle[] => [flatTriangle(a, b, c), flatTriangle(a, c, d)];
const solid = (...surfaces: Surface[]): Shape => [
  { names: [], surfaces: surfaces.filter((surface) => surface.triangles.length > 0) },
];

/** A flat polygon in space, convex or not. */
export const patch = (outline: readonly Point[], material: Material): Shape =>
  solid({ material, triangles: fill(outline) });

/** A box from its least corner. */
export const box = (at: Point, size: Point, material: Material): Shape =>
  extrude(
    [
      [at[1], at[2]],
      [at[1] + size[1], at[2]],
      [at[1] + size[1], at[2] + size[2]],
      [at[1], at[2] + size[2]],
    ],
    "x",
    at[0],
    at[0] + size[0],
    material,
  );

/** A box with its upright edges rounded. */
export function slab(at: Point, size: Point, radius: number, material: Material): Shape {
  return extrude(roundedFlat(at[0], at[1], size[0], size[1], radius), "z", at[2], at[2] + size[2], material);
}

/** The outline of a rectangle with rounded corners. */
export function roundedFlat(u: number, v: number, du: number, dv: number, radius: number): Flat[] {
  const r = Math.min(radius, du / 2, dv / 2),
    out: Flat[] = [];
  for (const [cu, cv, start] of [
    [u + du - r, v + dv - r, 0],
    [u + r, v + dv - r, 90],
    [u + r, v + r, 180],
    [u + du - r, v + r, 270],
  ] as const)
    for (let k = 0; k <= 9; k++) {
      const t = ((start + k * 10) * Math.PI) / 180;
      out.push([cu + r * Math.cos(t), cv + r * Math.sin(t)]);
    }
  return out;
}

/**
 * An open box with a floor: outer and inner outlines with as many points each, and the height of its rim at each
 * outline point.
 */
export function basin(
  outer: readonly Flat[],
  inner: readonly Flat[],
  bottom: number,
  floor: number,
  rim: (x: number, y: number) => number,
  material: Material,
  inside: Material = material,
): Shape {
  const at = ([x, y]: Flat, z: number): Point => [x, y, z],
    wrap = (i: number): number => (i + 1) % outer.length;
  const wall = (outline: readonly Flat[], low: number, surface: Material): Surface[] =>
    smoothRuns(outline).map((run) => ({
      material: surface,
      triangles: run.flatMap((i) => {
        const a = outline[i]!,
          b = outline[wrap(i)]!;
        return quad(at(a, low), at(b, low), at(b, rim(b[0], b[1])), at(a, rim(a[0], a[1])));
      }),
    }));
  const top = outer.flatMap((p, i) =>
    quad(
      at(p, rim(p[0], p[1])),
      at(outer[wrap(i)]!, rim(outer[wrap(i)]![0], outer[wrap(i)]![1])),
      at(inner[wrap(i)]!, rim(inner[wrap(i)]![0], inner[wrap(i)]![1])),
      at(inner[i]!, rim(inner[i]![0], inner[i]![1])),
    ),
  );
  return solid(
    ...wall(outer, bottom, material),
    ...wall(inner, floor, inside),
    { material, triangles: top },
    { material: inside, triangles: fill(inner.map((p) => at(p, floor))) },
    { material, triangles: fill(outer.map((p) => at(p, bottom))) },
  );
}

/** The sides of an outline, gathered into runs without a corner sharper than 35°. */
function smoothRuns(outline: readonly Flat[]): number[][] {
  const direction = (i: number): Flat => {
    const a = outline[i]!,
      b = outline[(i + 1) % outline.length]!,
      l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    return [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  };
  const runs: number[][] = [];
  outline.forEach((_, i) => {
    const d = direction(i),
      e = direction((i + outline.length - 1) % outline.length);
    if (i > 0 && d[0] * e[0] + d[1] * e[1] > 0.82) runs.at(-1)!.push(i);
    else runs.push([i]);
  });
  return runs;
}

/**
 * A flat outline pushed along an axis. Outline points are (y, z) for x, (x, z) for y and (x, y) for z. Corners sharper
 * than 35° get an ink edge.
 */
export function extrude(
  outline: readonly Flat[],
  axis: "x" | "y" | "z",
  from: number,
  to: number,
  material: Material,
  caps = true,
): Shape {
  const at = ([u, v]: Flat, w: number): Point => (axis === "x" ? [w, u, v] : axis === "y" ? [u, w, v] : [u, v, w]);
  const near = outline.map((p) => at(p, from)),
    far = outline.map((p) => at(p, to));
  const normals = outline.map((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    return unit(cross(subtract(at(q, from), at(p, from)), subtract(at(p, to), at(p, from))));
  });
  const sides: Triangle[][] = [];
  outline.forEach((_, i) => {
    const next = (i + 1) % outline.length,
      before = (i + outline.length - 1) % outline.length;
    const smoothStart = dot(normals[i]!, normals[before]!) > 0.82,
      smoothEnd = dot(normals[i]!, normals[next]!) > 0.82;
    const a = smoothStart ? unit(add(normals[i]!, normals[before]!)) : normals[i]!,
      b = smoothEnd ? unit(add(normals[i]!, normals[next]!)) : normals[i]!;
    const pair: Triangle[] = [
      { points: [near[i]!, near[next]!, far[next]!], normals: [a, b, b] },
      { points: [near[i]!, far[next]!, far[i]!], normals: [a, b, a] },
    ];
    if (smoothStart && sides.length > 0) sides.at(-1)!.push(...pair);
    else sides.push(pair);
  });
  if (sides.length > 1 && dot(normals[0]!, normals.at(-1)!) > 0.82) sides[0]!.push(...sides.pop()!);
  return solid(
    ...sides.map((triangles) => ({ material, triangles })),
    ...(caps
      ? [
          { material, triangles: fill(near) },
          { material, triangles: fill(far) },
        ]
      : []),
  );
}

/**
 * A body turned about an axis through `at`; each profile point is (radius, distance along the axis). Corners sharper
 * than 35° get an ink edge.
 */
export function lathe(profile: readonly Flat[], at: Point, axis: Point, material: Material, count = 32): Shape {
  const along = unit(axis),
    side = unit(cross(along, Math.abs(along[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1])),
    other = cross(along, side);
  const ring = (k: number): Point => {
    const t = (k / count) * 2 * Math.PI;
    return add(scale(side, Math.cos(t)), scale(other, Math.sin(t)));
  };
  const place = ([r, h]: Flat, k: number): Point => add(add(at, scale(along, h)), scale(ring(k), r));
  const slopes = profile.slice(1).map(([r, h], i): Flat => {
    const dr = r - profile[i]![0],
      dh = h - profile[i]![1],
      l = Math.hypot(dr, dh) || 1;
    return [dh / l, -dr / l];
  });
  const surfaces: Triangle[][] = [];
  slopes.forEach((slope, i) => {
    const smooth = (j: number) =>
      j >= 0 && j < slopes.length && slopes[j]![0] * slope[0] + slopes[j]![1] * slope[1] > 0.82;
    const blend = (j: number): Flat => (smooth(j) ? [slope[0] + slopes[j]![0], slope[1] + slopes[j]![1]] : slope);
    const normal = (s: Flat, k: number): Point => unit(add(scale(ring(k), s[0]), scale(along, s[1])));
    const start = blend(i - 1),
      end = blend(i + 1),
      triangles: Triangle[] = [];
    for (let k = 0; k < count; k++) {
      const a = place(profile[i]!, k),
        b = place(profile[i]!, k + 1),
        c = place(profile[i + 1]!, k + 1),
        d = place(profile[i + 1]!, k);
      if (profile[i]![0] > 0)
        triangles.push({ points: [a, b, c], normals: [normal(start, k), normal(start, k + 1), normal(end, k + 1)] });
      if (profile[i + 1]![0] > 0)
        triangles.push({ points: [a, c, d], normals: [normal(start, k), normal(end, k + 1), normal(end, k)] });
    }
    if (smooth(i - 1) && surfaces.length > 0) surfaces.at(-1)!.push(...triangles);
    else surfaces.push(triangles);
  });
  return solid(...surfaces.map((triangles) => ({ material, triangles })));
}

/** A round bar from one point to another. */
export const rod = (from: Point, to: Point, radius: number, material: Material, count = 28): Shape => {
  const length = lengthOf(subtract(to, from));
  return lathe(
    [
      [0, 0],
      [radius, 0],
      [radius, length],
      [0, length],
    ],
    from,
    subtract(to, from),
    material,
    count,
  );
};

/** A ball, or a flattened one. */
export const ball = (centre: Point, radius: number, material: Material, squeeze = 1, axis: Point = [0, 0, 1]): Shape =>
  lathe(
    Array.from({ length: 17 }, (_, i): Flat => {
      const t = (i / 16 - 0.5) * Math.PI;
      return [radius * Math.max(0, Math.cos(t)), radius * squeeze * Math.sin(t)];
    }),
    centre,
    axis,
    material,
  );

/** A round bar with round ends, thick at one end and thin at the other if wanted: a finger's joint. */
export function limb(from: Point, to: Point, radius: number, material: Material, radiusTo = radius): Shape {
  const length = lengthOf(subtract(to, from)),
    steps = 8,
    profile: Flat[] = [];
  for (let i = 0; i <= steps; i++) {
    const t = (-1 + i / steps) * (Math.PI / 2);
    profile.push([radius * Math.max(0, Math.cos(t)), radius * Math.sin(t)]);
  }
  for (let i = 0; i <= steps; i++) {
    const t = (i / steps) * (Math.PI / 2);
    profile.push([radiusTo * Math.max(0, Math.cos(t)), length + radiusTo * Math.sin(t)]);
  }
  return lathe(profile, from, subtract(to, from), material, 24);
}

/** A round tube or hose along a path. */
export function tube(path: readonly Point[], radius: number, material: Material, count = 22): Shape {
  const rings: { centre: Point; axes: readonly [Point, Point] }[] = [];
  let side: Point = [0, 0, 0];
  path.forEach((centre, i) => {
    const tangent = unit(subtract(path[Math.min(i + 1, path.length - 1)]!, path[Math.max(i - 1, 0)]!));
    const start = i === 0 ? cross(tangent, Math.abs(tangent[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1]) : side;
    side = unit(subtract(start, scale(tangent, dot(start, tangent))));
    rings.push({ centre, axes: [side, cross(tangent, side)] });
  });
  const direction = (i: number, k: number): Point => {
    const t = (k / count) * 2 * Math.PI;
    return add(scale(rings[i]!.axes[0], Math.cos(t)), scale(rings[i]!.axes[1], Math.sin(t)));
  };
  const triangles: Triangle[] = [];
  for (let i = 0; i < path.length - 1; i++)
    for (let k = 0; k < count; k++) {
      const n = [direction(i, k), direction(i, k + 1), direction(i + 1, k + 1), direction(i + 1, k)] as const;
      const p = n.map((v, j) => add(rings[j < 2 ? i : i + 1]!.centre, scale(v, radius)));
      triangles.push(
        { points: [p[0]!, p[1]!, p[2]!], normals: [n[0], n[1], n[2]] },
        { points: [p[0]!, p[2]!, p[3]!], normals: [n[0], n[2], n[3]] },
      );
    }
  const cap = (i: number): Surface => ({
    material,
    triangles: fill(Array.from({ length: count }, (_, k) => add(rings[i]!.centre, scale(direction(i, k), radius)))),
  });
  return solid({ material, triangles }, cap(0), cap(path.length - 1));
}

/** A flat strap along a path: `width` along the direction `across`, three millimetres thick unless said. */
export function strap(path: readonly Point[], across: Point, width: number, material: Material, thickness = 4): Shape {
  const side = scale(unit(across), width / 2);
  const ups = path.map((_, i) =>
    scale(
      unit(cross(unit(subtract(path[Math.min(i + 1, path.length - 1)]!, path[Math.max(i - 1, 0)]!)), across)),
      thickness / 2,
    ),
  );
  const corner = (i: number, s: number, u: number): Point => add(add(path[i]!, scale(side, s)), scale(ups[i]!, u));
  const face = (s1: number, u1: number, s2: number, u2: number): Surface => ({
    material,
    triangles: path
      .slice(1)
      .flatMap((_, i) => quad(corner(i, s1, u1), corner(i, s2, u2), corner(i + 1, s2, u2), corner(i + 1, s1, u1))),
  });
  const end = (i: number): Surface => ({
    material,
    triangles: quad(corner(i, -1, -1), corner(i, 1, -1), corner(i, 1, 1), corner(i, -1, 1)),
  });
  return solid(
    face(-1, 1, 1, 1),
    face(-1, -1, 1, -1),
    face(-1, -1, -1, 1),
    face(1, -1, 1, 1),
    end(0),
    end(path.length - 1),
  );
}

/** A sheet between two edges with as many points each, as a flap or a cloth. */
export const sheet = (one: readonly Point[], other: readonly Point[], material: Material): Shape =>
  solid({ material, triangles: one.slice(1).flatMap((point, i) => quad(one[i]!, point, other[i + 1]!, other[i]!)) });

/** Points along a line, for sheets. */
export const spread = (from: Point, to: Point, count: number): Point[] =>
  Array.from({ length: count }, (_, i) => between(from, to, i / (count - 1)));

/** Cuts a flat polygon into triangles by clipping ears; convex ones come out as a fan. */
function fill(outline: readonly Point[]): Triangle[] {
  let normal: Point = [0, 0, 0];
  outline.forEach((p, i) => {
    normal = add(normal, cross(subtract(p, outline[0]!), subtract(outline[(i + 1) % outline.length]!, outline[0]!)));
  });
  const n = unit(normal),
    rest = [...outline],
    triangles: Triangle[] = [];
  const area = (a: Point, b: Point, c: Point): number => dot(cross(subtract(b, a), subtract(c, a)), n);
  const holds = (a: Point, b: Point, c: Point, p: Point): boolean =>
    area(a, b, p) > 0 && area(b, c, p) > 0 && area(c, a, p) > 0;
  while (rest.length > 3) {
    const ear = rest.findIndex((b, i) => {
      const a = rest[(i + rest.length - 1) % rest.length]!,
        c = rest[(i + 1) % rest.length]!;
      return area(a, b, c) > 1e-9 && !rest.some((p) => p !== a && p !== b && p !== c && holds(a, b, c, p));
    });
    const i = ear < 0 ? 0 : ear;
    triangles.push({
      points: [rest[(i + rest.length - 1) % rest.length]!, rest[i]!, rest[(i + 1) % rest.length]!],
      normals: [n, n, n],
    });
    rest.splice(i, 1);
  }
  if (rest.length === 3) triangles.push({ points: [rest[0]!, rest[1]!, rest[2]!], normals: [n, n, n] });
  return triangles;
}
