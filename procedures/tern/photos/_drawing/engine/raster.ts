/** Finds what is seen at each point of the picture: the nearest surface, its depth and its tone. */
import { dot, add, scale, unit, cross, subtract, type Point } from "./points.ts";
import { picture, project, type Frame } from "./camera.ts";
import type { Material, Shape } from "./shapes.ts";

/**
 * What is seen at each fine point. `key` is 0 where there is nothing, else part, solid and surface in 11, 12 and 9
 * bits.
 */
export interface Layer {
  readonly key: Uint32Array;
  readonly depth: Float32Array;
  readonly paint: Uint8Array;
}
/** The whole picture: what is solid, and the nearest glass in front of it. */
export interface Seen {
  readonly width: number;
  readonly height: number;
  readonly fine: number;
  readonly solid: Layer;
  readonly glass: Layer;
  readonly hasGlass: boolean;
}

/** The materials in the order of their paint numbers; hero materials follow. */
export const materials = [
  "body",
  "deck",
  "metal",
  "web",
  "grip",
  "dark",
  "hole",
  "soft",
  "pad",
  "screen",
  "glass",
  "signal",
  "good",
  "amber",
  "yellow",
  "blue",
  "linen",
  "redOnWhite",
  "greenOnWhite",
  "hero",
  "heroDeep",
  "heroGlass",
  "shade",
] as const;
export type Paint = (typeof materials)[number];
const paintNumber = Object.fromEntries(materials.map((material, i) => [material, i])) as Record<Paint, number>;
const heroOf: Readonly<Record<Material, Paint>> = {
  body: "hero",
  deck: "hero",
  metal: "heroDeep",
  web: "heroDeep",
  grip: "heroDeep",
  soft: "hero",
  pad: "pad",
  dark: "dark",
  hole: "hole",
  screen: "screen",
  glass: "heroGlass",
  signal: "signal",
  good: "good",
  amber: "amber",
  yellow: "yellow",
  blue: "blue",
  linen: "linen",
  redOnWhite: "redOnWhite",
  greenOnWhite: "greenOnWhite",
};

let layers: readonly [Layer, Layer] | undefined;
/** The large arrays are made once and used for every picture. */
function freshLayers(count: number): readonly [Layer, Layer] {
  if (!layers || layers[0].key.length !== count) {
    const make = (): Layer => ({
      key: new Uint32Array(count),
      depth: new Float32Array(count),
      paint: new Uint8Array(count),
    });
    layers = [make(), make()];
  }
  for (const layer of layers) {
    layer.key.fill(0);
    layer.depth.fill(-1e9);
    layer.paint.fill(0);
  }
  return layers;
}

/**
 * Draws the shape's surfaces into depth layers, `fine` points to a picture point each way. Solids named in `heroes`
 * take the primer.
 */
export function lookAt(shape: Shape, frame: Frame, heroes: ReadonlySet<string>, fine: number): Seen {
  const width = picture.width * fine,
    height = picture.height * fine;
  const [solidLayer, glassLayer] = freshLayers(width * height);
  const { right, towards } = frame.camera;
  // The light stands up and to the left of the viewer, so tops are light, faces turned left middle and faces turned
  // right dark.
  const light = unit(add(add(scale(right, -0.34), [0, 0, 0.86]), scale(towards, 0.42)));
  const parts = new Map<string, number>();
  let hasGlass = false;
  shape.forEach((solid, solidIndex) => {
    const partName = solid.names.join("/");
    if (!parts.has(partName)) parts.set(partName, parts.size + 1);
    const isHero = solid.names.some((id) => heroes.has(id));
    solid.surfaces.forEach((surface, surfaceIndex) => {
      const paint = paintNumber[isHero ? heroOf[surface.material] : surface.material];
      const key = (((parts.get(partName)! & 0x7ff) << 21) | ((solidIndex & 0xfff) << 9) | (surfaceIndex & 0x1ff)) >>> 0;
      const isGlass = surface.material === "glass";
      hasGlass ||= isGlass;
      const layer = isGlass ? glassLayer : solidLayer;
      for (const { points, normals } of surface.triangles) {
        const facing = dot(cross(subtract(points[1], points[0]), subtract(points[2], points[0])), towards);
        const own = dot(cross(subtract(points[1], points[0]), subtract(points[2], points[0])), normals[0]);
        const flip = facing * own < 0 ? -1 : 1;
        const corners = points.map((p) => project(frame, p)) as [Projected, Projected, Projected];
        fillTriangle(
          layer,
          width,
          height,
          fine,
          corners,
          normals.map((n) => flip * dot(n, light)) as [number, number, number],
          key,
          paint,
        );
      }
    });
  });
  return { width, height, fine, solid: solidLayer, glass: glassLayer, hasGlass };
}

type Projected = readonly [number, number, number];

/** Tone 0 is lit, 1 middle, 2 turned away; stored beside the paint in one byte. */
function fillTriangle(
  layer: Layer,
  width: number,
  height: number,
  fine: number,
  [a, b, c]: readonly [Projected, Projected, Projected],
  lit: readonly [number, number, number],
  key: number,
  paint: number,
): void {
  const ax = a[0] * fine,
    ay = a[1] * fine,
    bx = b[0] * fine,
    by = b[1] * fine,
    cx = c[0] * fine,
    cy = c[1] * fine;
  const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  if (Math.abs(area) < 1e-6) return;
  forEachSpan(width, height, ax, ay, bx, by, cx, cy, (y, x0, x1) => {
    const py = y + 0.5 - ay,
      px = x0 + 0.5 - ax,
      stepB = (cy - ay) / area,
      stepC = -(by - ay) / area;
    let wb = (px * (cy - ay) - py * (cx - ax)) / area,
      wc = (py * (bx - ax) - px * (by - ay)) / area;
    for (let i = y * width + x0, end = y * width + x1; i <= end; i++, wb += stepB, wc += stepC) {
      const depth = a[2] + wb * (b[2] - a[2]) + wc * (c[2] - a[2]);
      if (depth <= layer.depth[i]!) continue;
      const shine = lit[0] + wb * (lit[1] - lit[0]) + wc * (lit[2] - lit[0]);
      layer.depth[i] = depth;
      layer.key[i] = key;
      layer.paint[i] = paint * 4 + (shine > 0.7 ? 0 : shine > 0.22 ? 1 : 2);
    }
  });
}

/** Calls `draw` with each row of a triangle that has fine points in the picture, and the first and last of them. */
export function forEachSpan(
  width: number,
  height: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  draw: (y: number, x0: number, x1: number) => void,
): void {
  const y0 = Math.max(0, Math.ceil(Math.min(ay, by, cy) - 0.5)),
    y1 = Math.min(height - 1, Math.floor(Math.max(ay, by, cy) - 0.5));
  for (let y = y0; y <= y1; y++) {
    const at = y + 0.5;
    let left = Infinity,
      right = -Infinity;
    // Where the row crosses each of the three sides.
    if (ay <= at !== by <= at) {
      const x = ax + ((at - ay) / (by - ay)) * (bx - ax);
      left = Math.min(left, x);
      right = Math.max(right, x);
    }
    if (by <= at !== cy <= at) {
      const x = bx + ((at - by) / (cy - by)) * (cx - bx);
      left = Math.min(left, x);
      right = Math.max(right, x);
    }
    if (cy <= at !== ay <= at) {
      const x = cx + ((at - cy) / (ay - cy)) * (ax - cx);
      left = Math.min(left, x);
      right = Math.max(right, x);
    }
    // A hair wider, so that no gap opens between neighbours.
    const x0 = Math.max(0, Math.ceil(left - 0.5 - 1e-4)),
      x1 = Math.min(width - 1, Math.floor(right - 0.5 + 1e-4));
    if (x0 <= x1) draw(y, x0, x1);
  }
}

/** Whether nothing solid stands in front of a point of the scene (glass does not count); false outside the picture. */
export function isSeen(seen: Seen, frame: Frame, point: Point, slack: number): boolean {
  const [u, v, depth] = project(frame, point);
  const x = Math.round(u * seen.fine),
    y = Math.round(v * seen.fine);
  if (x < 0 || y < 0 || x >= seen.width || y >= seen.height) return false;
  return seen.solid.depth[y * seen.width + x]! <= depth + slack;
}
