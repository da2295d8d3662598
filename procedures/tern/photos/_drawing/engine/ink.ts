/** Turns what is seen into the finished picture: flat tones, ink where surfaces meet, arrows on top. */
import { materials, type Layer, type Paint, type Seen } from "./raster.ts";
import { picture } from "./camera.ts";

type Colour = readonly [number, number, number];
const colour = (hex: string): Colour => [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16)) as unknown as Colour;

/** Three tones of a paint: lit, middle, turned away. */
type Tones = readonly [string, string, string];
/** What a picture is drawn in: the page's ink, its photo ground and its red, and the tones of each paint. */
export interface Inks {
  readonly ink: Colour;
  readonly ground: Colour;
  readonly red: Colour;
  readonly tones: readonly Colour[];
}

const day: Readonly<Record<Paint, Tones>> = {
  body: ["#ffffff", "#e3e6d9", "#c6cbba"],
  deck: ["#f8f9f3", "#d9dccf", "#bbc0ae"],
  metal: ["#e6e9de", "#c9cdbe", "#a6ab99"],
  soft: ["#f4f5ee", "#e3e6d9", "#cdd1c2"],
  pad: ["#fbfbf8", "#e9ebe1", "#d3d7c8"],
  web: ["#474d3c", "#363b2d", "#272b1f"],
  grip: ["#474d3c", "#343929", "#22261a"],
  dark: ["#474d3c", "#343929", "#22261a"],
  hole: ["#5a604e", "#4a503f", "#3a4030"],
  screen: ["#454b3b", "#343929", "#272b1f"],
  glass: ["#ffffff", "#f6f7f1", "#e9ece1"],
  signal: ["#9c0e09", "#860c08", "#700a06"],
  good: ["#2f9e44", "#278538", "#1f6c2d"],
  amber: ["#ff9d0a", "#e08400", "#bd6f00"],
  yellow: ["#ffe600", "#e6cf00", "#c4b100"],
  blue: ["#2a6fdb", "#225cb8", "#1b4a94"],
  linen: ["#fbfbf8", "#e9ebe1", "#d3d7c8"],
  redOnWhite: ["#9c0e09", "#860c08", "#700a06"],
  greenOnWhite: ["#2f9e44", "#278538", "#1f6c2d"],
  hero: ["#c6d13f", "#b2bd33", "#99a427"],
  heroDeep: ["#b9c437", "#a4af2c", "#8b9522"],
  heroGlass: ["#f6f8dc", "#eef2c4", "#e3e9a6"],
  shade: ["#dcdfd1", "#dcdfd1", "#dcdfd1"],
};
/**
 * By night surfaces go dark and lines light, and each stays lit from the same side. What has a meaning keeps its
 * colour, as bright as it takes to be told from its surface at 3 : 1 (WCAG 2.2, 1.4.11); a dark lamp stays dark, a
 * white pointer and a white dial stay white.
 */
const night: Readonly<Record<Paint, Tones>> = {
  body: ["#3a4030", "#2a2f21", "#1e2217"],
  deck: ["#343a2b", "#262b1e", "#1b1f14"],
  metal: ["#484e3d", "#363b2d", "#272b1f"],
  soft: ["#3f4535", "#30352a", "#24281c"],
  pad: ["#deddca", "#c4c3ad", "#a9a892"],
  web: ["#0b0d08", "#080a06", "#050604"],
  grip: ["#0b0d08", "#080a06", "#050604"],
  dark: ["#0b0d08", "#080a06", "#050604"],
  hole: ["#050604", "#040503", "#030402"],
  screen: ["#0b0d08", "#080a06", "#050604"],
  glass: ["#4a503f", "#3a4030", "#2a2f21"],
  signal: ["#ff6f60", "#ec5f51", "#d65244"],
  good: ["#3fbf58", "#36a94d", "#2e9342"],
  amber: day.amber,
  yellow: day.yellow,
  blue: ["#6d9ff2", "#5b8ee6", "#4b7dd6"],
  linen: ["#565c49", "#474d3c", "#393f30"],
  redOnWhite: day.redOnWhite,
  greenOnWhite: ["#278538", "#1f6c2d", "#1a5a26"],
  hero: ["#6f7830", "#5c6427", "#4a511f"],
  heroDeep: ["#666f2c", "#545c23", "#434a1c"],
  heroGlass: ["#5c6427", "#4a511f", "#3d431a"],
  shade: ["#0b0d08", "#0b0d08", "#0b0d08"],
};
const inks = (ink: string, ground: string, red: string, tones: Readonly<Record<Paint, Tones>>): Inks => ({
  ink: colour(ink),
  ground: colour(ground),
  red: colour(red),
  tones: materials.flatMap((material) => [...tones[material].map(colour), colour("#000000")]),
});
/** The inks by day and by night; ground and red are `--plate` and `--go` of the style sheets. */
export const INKS = {
  day: inks("#12150c", "#eef0e6", "#9c0e09", day),
  night: inks("#d3d1bb", "#14170e", "#ff9384", night),
} as const;

/** Line widths in picture points: against air, between parts that touch, between surfaces of one body. */
const widths = { outline: 4.6, contact: 3.3, inner: 2.4 } as const;
/** How much of what stands behind glass is covered by its tint. */
const glassCover = 0.42;

/** Which of the inks a mark is laid in. */
type Laid = "ink" | "ground" | "red";
/** A polygon, or a line of discs, laid over the picture, in picture points. */
export type Overlay =
  | { readonly kind: "area"; readonly points: readonly (readonly [number, number])[]; readonly colour: Laid }
  | {
      readonly kind: "stroke";
      readonly points: readonly (readonly [number, number])[];
      readonly colour: Laid;
      readonly width: number;
    };

/**
 * The picture as RGB bytes, 1600 by 1200. `gap` is the step in depth (mm) that counts as air between two surfaces;
 * `weight` makes all lines so many times as wide, for a picture that is made smaller.
 */
export function inkPicture(seen: Seen, gap: number, overlays: readonly Overlay[], inks: Inks, weight = 1): Uint8Array {
  const { width, height } = seen,
    count = width * height;
  const fine = finePixels(count * 3);
  for (let i = 0; i < count; i++)
    setPixel(
      fine,
      i,
      seen.solid.key[i] === 0 && seen.solid.paint[i] === 0 ? inks.ground : inks.tones[seen.solid.paint[i]!]!,
    );
  drawLines(fine, seen, seen.solid, gap, () => true, weight, inks.ink);
  if (seen.hasGlass) {
    for (let i = 0; i < count; i++) {
      if (seen.glass.key[i] === 0 || seen.glass.depth[i]! < seen.solid.depth[i]!) continue;
      const tint = inks.tones[seen.glass.paint[i]!]!;
      for (let k = 0; k < 3; k++)
        fine[i * 3 + k] = Math.round(fine[i * 3 + k]! * (1 - glassCover) + tint[k]! * glassCover);
    }
    drawLines(fine, seen, seen.glass, gap, (i) => seen.glass.depth[i]! >= seen.solid.depth[i]!, 0.8 * weight, inks.ink);
  }
  for (const overlay of overlays)
    overlay.kind === "area"
      ? fillArea(fine, seen, overlay.points, inks[overlay.colour])
      : strokeLine(fine, seen, overlay.points, inks[overlay.colour], overlay.width);
  return shrink(fine, seen.fine);
}

let pixelStore = new Uint8Array(0);
/** The large array is made once and used for every picture; every byte of it is written anew. */
function finePixels(length: number): Uint8Array {
  if (pixelStore.length !== length) pixelStore = new Uint8Array(length);
  return pixelStore;
}

function setPixel(pixels: Uint8Array, i: number, [r, g, b]: Colour): void {
  pixels[i * 3] = r;
  pixels[i * 3 + 1] = g;
  pixels[i * 3 + 2] = b;
}

function drawLines(
  pixels: Uint8Array,
  { width, height, fine }: Seen,
  { key, depth }: Layer,
  gap: number,
  isShown: (i: number) => boolean,
  weight: number,
  ink: Colour,
): void {
  const stamps = Object.fromEntries(
    Object.entries(widths).map(([kind, w]) => [kind, discOffsets((w * weight * fine) / 2)]),
  ) as Record<keyof typeof widths, [number, number][]>;
  const look = (i: number, j: number, before: number, after: number): keyof typeof widths | undefined => {
    const a = key[i]!,
      b = key[j]!;
    const step = Math.abs(depth[i]! - depth[j]!);
    if (a === b) {
      if (a === 0) return undefined;
      // Along one flat surface the depth changes evenly; a jump is one part of the surface in front of another.
      const bend = Math.min(
        key[before] === a ? Math.abs(depth[before]! - 2 * depth[i]! + depth[j]!) : 1e9,
        key[after] === b ? Math.abs(depth[i]! - 2 * depth[j]! + depth[after]!) : 1e9,
      );
      return bend < 1e9 && bend > gap && step > gap ? "contact" : undefined;
    }
    if (a === 0 || b === 0) return "outline";
    if (a >>> 21 !== b >>> 21) return step > gap * 2 ? "outline" : "contact";
    return step > gap * 2 ? "contact" : "inner";
  };
  const stamp = (x: number, y: number, kind: keyof typeof widths): void => {
    for (const [dx, dy] of stamps[kind]) {
      const u = x + dx,
        v = y + dy;
      if (u >= 0 && v >= 0 && u < width && v < height) setPixel(pixels, v * width + u, ink);
    }
  };
  for (let y = 0; y < height - 1; y++)
    for (let x = 0; x < width - 1; x++) {
      const i = y * width + x;
      for (const side of [1, width]) {
        const j = i + side;
        if (key[i] === 0 && key[j] === 0) continue;
        const kind = look(i, j, i - side < 0 ? i : i - side, j + side >= key.length ? j : j + side);
        if (kind && (isShown(key[i] === 0 ? j : i) || isShown(key[j] === 0 ? i : j))) stamp(x, y, kind);
      }
    }
}

function discOffsets(radius: number): [number, number][] {
  const out: [number, number][] = [],
    r = Math.ceil(radius);
  for (let dy = -r; dy <= r; dy++)
    for (let dx = -r; dx <= r; dx++) if (dx * dx + dy * dy <= radius * radius) out.push([dx, dy]);
  return out;
}

function fillArea(
  pixels: Uint8Array,
  { width, height, fine }: Seen,
  points: readonly (readonly [number, number])[],
  fill: Colour,
): void {
  const ys = points.map((p) => p[1] * fine);
  for (let y = Math.max(0, Math.floor(Math.min(...ys))); y <= Math.min(height - 1, Math.ceil(Math.max(...ys))); y++) {
    const crossings: number[] = [];
    points.forEach((p, i) => {
      const q = points[(i + 1) % points.length]!,
        y0 = p[1] * fine,
        y1 = q[1] * fine,
        at = y + 0.5;
      if (y0 <= at !== y1 <= at) crossings.push(p[0] * fine + ((at - y0) / (y1 - y0)) * (q[0] - p[0]) * fine);
    });
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2)
      for (let x = Math.max(0, Math.ceil(crossings[k]! - 0.5)); x <= Math.min(width - 1, crossings[k + 1]! - 0.5); x++)
        setPixel(pixels, y * width + x, fill);
  }
}

function strokeLine(
  pixels: Uint8Array,
  { width, height, fine }: Seen,
  points: readonly (readonly [number, number])[],
  fill: Colour,
  line: number,
): void {
  const disc = discOffsets((line * fine) / 2);
  for (let k = 0; k + 1 < points.length; k++) {
    const [ax, ay] = points[k]!,
      [bx, by] = points[k + 1]!,
      steps = Math.max(1, Math.ceil((Math.hypot(bx - ax, by - ay) * fine) / 1.5));
    for (let s = 0; s <= steps; s++) {
      const x = Math.round((ax + ((bx - ax) * s) / steps) * fine),
        y = Math.round((ay + ((by - ay) * s) / steps) * fine);
      for (const [dx, dy] of disc) {
        const u = x + dx,
          v = y + dy;
        if (u >= 0 && v >= 0 && u < width && v < height) setPixel(pixels, v * width + u, fill);
      }
    }
  }
}

function shrink(pixels: Uint8Array, fine: number): Uint8Array {
  const out = new Uint8Array(picture.width * picture.height * 3),
    row = picture.width * fine * 3,
    share = fine * fine;
  for (let y = 0; y < picture.height; y++)
    for (let x = 0; x < picture.width; x++)
      for (let k = 0; k < 3; k++) {
        let sum = 0;
        for (let dy = 0; dy < fine; dy++)
          for (let dx = 0; dx < fine; dx++) sum += pixels[(y * fine + dy) * row + (x * fine + dx) * 3 + k]!;
        out[(y * picture.width + x) * 3 + k] = Math.round(sum / share);
      }
  return out;
}
