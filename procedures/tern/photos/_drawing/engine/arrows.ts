/** The red arrow that says what moves where, and the dashed lines of the way there. */
import { project, type Frame } from "./camera.ts";
import type { Overlay } from "./ink.ts";
import { isSeen, type Seen } from "./raster.ts";
import { between, lengthOf, subtract, type Point } from "./points.ts";

type Flat = readonly [number, number];

/** A straight or bent arrow along points of the scene, its head at the last one; `both` gives it a head at each end. */
export interface Arrow {
  readonly path: readonly Point[];
  readonly both?: boolean;
  readonly thin?: boolean;
}

/** The arrow's areas: a light edge that keeps it apart from the ink, then the red. */
export function layArrow(frame: Frame, { path, both = false, thin = false }: Arrow): Overlay[] {
  const points = path.map((p): Flat => {
    const [u, v] = project(frame, p);
    return [u, v];
  });
  const size = thin ? { shaft: 8, head: 24, long: 42 } : { shaft: 12, head: 33, long: 56 };
  const outline = arrowOutline(points, size.shaft, size.head, size.long, both);
  return [
    { kind: "stroke", points: [...outline, outline[0]!], colour: "ground", width: 12 },
    { kind: "area", points: outline, colour: "red" },
  ];
}

function arrowOutline(path: readonly Flat[], shaft: number, head: number, long: number, both: boolean): Flat[] {
  const body = trim(both ? trim(path, long).reverse() : [...path], long);
  const line = both ? body.reverse() : body;
  const tip = path.at(-1)!,
    neck = line.at(-1)!,
    tail = line[0]!;
  const left = offset(line, shaft),
    right = offset(line, -shaft).reverse();
  const wing = (at: Flat, point: Flat): [Flat, Flat] => {
    const l = Math.hypot(point[0] - at[0], point[1] - at[1]) || 1,
      n: Flat = [-(point[1] - at[1]) / l, (point[0] - at[0]) / l];
    return [
      [at[0] + n[0] * head, at[1] + n[1] * head],
      [at[0] - n[0] * head, at[1] - n[1] * head],
    ];
  };
  const end = wing(neck, tip),
    start = wing(tail, path[0]!);
  return [...left, end[0], tip, end[1], ...right, ...(both ? [start[0], path[0]!, start[1]] : [])];
}

/** Cuts so much length off the path's end. */
function trim(path: readonly Flat[], length: number): Flat[] {
  const out = [...path];
  let rest = length;
  while (out.length > 1) {
    const a = out.at(-2)!,
      b = out.at(-1)!,
      l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (l > rest) {
      out[out.length - 1] = [b[0] + ((a[0] - b[0]) * rest) / l, b[1] + ((a[1] - b[1]) * rest) / l];
      return out;
    }
    rest -= l;
    out.pop();
  }
  return [path[0]!, ...out];
}

function offset(line: readonly Flat[], by: number): Flat[] {
  return line.map((p, i) => {
    const a = line[Math.max(0, i - 1)]!,
      b = line[Math.min(line.length - 1, i + 1)]!,
      l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    return [p[0] - ((b[1] - a[1]) / l) * by, p[1] + ((b[0] - a[0]) / l) * by];
  });
}

/** A dashed ink line along points of the scene, left out where something solid stands in front of it. */
export function layDashes(frame: Frame, seen: Seen, path: readonly Point[], dash = 16): Overlay[] {
  const out: Overlay[] = [];
  let run: Flat[] = [],
    walked = 0;
  const flush = (): void => {
    if (run.length > 1) out.push({ kind: "stroke", points: run, colour: "ink", width: 3 });
    run = [];
  };
  for (let k = 0; k + 1 < path.length; k++) {
    const a = path[k]!,
      b = path[k + 1]!,
      steps = Math.max(1, Math.ceil((lengthOf(subtract(b, a)) * frame.scale) / 2));
    for (let s = 0; s < steps; s++) {
      const p = between(a, b, s / steps),
        [u, v] = project(frame, p);
      walked += 2;
      if (walked % (dash * 1.75) < dash && isSeen(seen, frame, p, 3)) run.push([u, v]);
      else flush();
    }
  }
  flush();
  return out;
}
