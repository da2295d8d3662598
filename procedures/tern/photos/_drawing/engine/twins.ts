/** A sign close by, right above wrong, laid over the right side of a picture: with a tick, and with a cross. */
import { fitFrame, lookFrom, picture, type Camera } from "./camera.ts";
import { inkPicture, type Inks, type Overlay } from "./ink.ts";
import { lookAt } from "./raster.ts";
import type { Point } from "./points.ts";
import type { Shape } from "./shapes.ts";

/** One of the two: what stands in it, and the words for the alt text. */
interface Twin {
  readonly state: Shape;
  readonly words: string;
}
/** Both, seen from the picture's own side unless `from` (degrees around and above) says otherwise. */
export interface Twins {
  readonly right: Twin;
  readonly wrong: Twin;
  readonly frame: readonly Point[];
  readonly from?: readonly [around: number, above: number];
}

/** Part of the picture's width that is left for the picture itself. */
export const twinRoom = 0.66;
/** Each twin is drawn at the picture's size and laid in so many times smaller. */
const smaller = 10 / 3;
const size = { width: picture.width / smaller, height: picture.height / smaller } as const;
const left = picture.width - size.width - 24;
/** Lines that still read after the twin is made smaller. */
const weight = 2.2;

/** Lays both twins into finished pixels (RGB, the picture's size). */
export function layTwins(pixels: Uint8Array, twins: Twins, own: Camera, heroes: ReadonlySet<string>, inks: Inks): void {
  const camera = twins.from ? lookFrom(...twins.from) : own;
  const frame = fitFrame(camera, twins.frame, 0.84);
  const tops = [picture.height / 2 - size.height - 50, picture.height / 2 + 50];
  [twins.right, twins.wrong].forEach(({ state }, at) => {
    const seen = lookAt(state, frame, heroes, 1);
    layInto(pixels, inkPicture(seen, 4 / frame.scale, badge(at === 0), inks, weight), tops[at]!, inks);
  });
}

/** A disc with a tick, or with a cross, in the twin's upper corner. */
function badge(isRight: boolean): Overlay[] {
  const [x, y, r] = [200, 200, 150];
  const disc = (radius: number): [number, number][] =>
    Array.from({ length: 48 }, (_, i) => [
      x + radius * Math.cos((i * Math.PI) / 24),
      y + radius * Math.sin((i * Math.PI) / 24),
    ]);
  const stroke = (points: readonly (readonly [number, number])[]): Overlay => ({
    kind: "stroke",
    points: points.map(([u, v]) => [x + u, y + v] as const),
    colour: isRight ? "ink" : "red",
    width: 40,
  });
  return [
    { kind: "area", points: disc(r), colour: isRight ? "ink" : "red" },
    { kind: "area", points: disc(r - 16), colour: "ground" },
    ...(isRight
      ? [
          stroke([
            [-70, 10],
            [-20, 62],
            [76, -60],
          ]),
        ]
      : [
          stroke([
            [-62, -62],
            [62, 62],
          ]),
          stroke([
            [62, -62],
            [-62, 62],
          ]),
        ]),
  ];
}

/** Averages a picture into its smaller place, with a border of ink round it. */
function layInto(pixels: Uint8Array, from: Uint8Array, top: number, { ink }: Inks): void {
  const border = 5;
  for (let y = -border; y < size.height + border; y++)
    for (let x = -border; x < size.width + border; x++) {
      const to = ((Math.round(top) + y) * picture.width + Math.round(left) + x) * 3;
      const inside = x >= 0 && y >= 0 && x < size.width && y < size.height;
      for (let k = 0; k < 3; k++) pixels[to + k] = inside ? meanOf(from, x, y, k) : ink[k]!;
    }
}

function meanOf(from: Uint8Array, x: number, y: number, k: number): number {
  const [x0, x1, y0, y1] = [x, x + 1, y, y + 1].map((v) => Math.round(v * smaller)) as [number, number, number, number];
  let sum = 0;
  for (let v = y0; v < y1; v++) for (let u = x0; u < x1; u++) sum += from[(v * picture.width + u) * 3 + k]!;
  return Math.round(sum / ((x1 - x0) * (y1 - y0)));
}
