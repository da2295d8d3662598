/** One drawing: what stands in it, from where it is seen, what moves, and what the numbered marks point at. */
import { fitFrame, lookFrom, picture, project, views, type Camera, type View } from "./camera.ts";
import { layArrow, layDashes, type Arrow } from "./arrows.ts";
import { inkPicture, INKS } from "./ink.ts";
import { layTwins, twinRoom, type Twins } from "./twins.ts";
import { isSeen, lookAt } from "./raster.ts";
import { castShadow } from "./shadow.ts";
import type { Point } from "./points.ts";
import type { Shape } from "./shapes.ts";

/** A numbered spot; its number is its place in the list, from 1. `hidden` says that it may lie behind something. */
export interface Mark {
  readonly at: Point;
  readonly label: string;
  readonly hidden?: boolean;
  readonly n?: number;
}

/** Everything that a drawing is made from. Angles in degrees, lengths in millimetres. */
export interface Scene {
  /** The photo's id: its file name. */
  readonly id: string;
  /** A view by name, or degrees around and above with the words for the alt text. */
  readonly from: View | { readonly around: number; readonly above: number; readonly words: string };
  /** What stands in the picture. */
  readonly state: Shape;
  /** Names of solids that take the primer. */
  readonly hero: readonly string[];
  /** What must fit into the picture: names of solids, or points. The whole state if left out. */
  readonly frame?: readonly (string | Point)[];
  /** Part of the picture's width or height that the frame takes. */
  readonly fill?: number;
  readonly arrow?: Arrow | readonly Arrow[];
  /** Dashed lines: the way a part goes. */
  readonly dashes?: readonly (readonly Point[])[];
  /** Height of the plane on which shadows fall. */
  readonly floor?: number;
  readonly marks?: readonly Mark[];
  readonly shows: readonly string[];
  /** The sign that a check asks for beside its wrong twin; they stand on the right side of the picture. */
  readonly twins?: Twins;
  /** Without the viewpoint, which is added. */
  readonly alt: string;
  /** The date on which the drawing was made. */
  readonly taken: string;
}

/** A finished drawing: RGB bytes and its sidecar's text. `notes` says what a look at the picture should settle. */
export interface Drawing {
  readonly pixels: Uint8Array;
  /** The same in the inks of the night. */
  readonly night: Uint8Array;
  readonly sidecar: string;
  readonly notes: readonly string[];
}

/**
 * Draws a scene. `fine` is the number of points drawn for each picture point, each way: 2 for the published picture, 1
 * for a look.
 */
export function drawScene(scene: Scene, fine: number): Drawing {
  const view: { camera: Camera; words: string } =
    typeof scene.from === "string"
      ? views[scene.from]
      : { camera: lookFrom(scene.from.around, scene.from.above), words: scene.from.words };
  const frame = fitFrame(view.camera, framePoints(scene), scene.fill ?? 0.86, scene.twins ? twinRoom : 1);
  const seen = lookAt(scene.state, frame, new Set(scene.hero), fine);
  if (scene.floor !== undefined) castShadow(seen, frame, scene.state, scene.floor);
  const arrows =
    scene.arrow === undefined
      ? []
      : Array.isArray(scene.arrow)
        ? (scene.arrow as readonly Arrow[])
        : [scene.arrow as Arrow];
  const overlays = [
    ...(scene.dashes ?? []).flatMap((path) => layDashes(frame, seen, path)),
    ...arrows.flatMap((arrow) => layArrow(frame, arrow)),
  ];
  // A millimetre of depth is worth the more, the closer the view.
  const gap = 4 / frame.scale;
  const notes: string[] = [];
  const places = (scene.marks ?? []).map((mark, i) => {
    const [u, v] = project(frame, mark.at),
      x = u / picture.width,
      y = v / picture.height;
    if (x < 0.04 || x > 0.96 || y < 0.05 || y > 0.95) notes.push(`mark ${i + 1} lies at the picture's edge`);
    if (!mark.hidden && !isSeen(seen, frame, mark.at, 12 / frame.scale + 4))
      notes.push(`mark ${i + 1} lies behind something`);
    return { n: mark.n ?? i + 1, x, y, label: mark.label };
  });
  places.forEach((a, i) =>
    places.slice(i + 1).forEach((b) => {
      if (Math.hypot((a.x - b.x) * 4, (a.y - b.y) * 3) < 0.22) notes.push(`marks ${a.n} and ${b.n} are close together`);
    }),
  );
  const [pixels, night] = [INKS.day, INKS.night].map((inks) => {
    const drawn = inkPicture(seen, gap, overlays, inks);
    if (scene.twins) layTwins(drawn, scene.twins, view.camera, new Set(scene.hero), inks);
    return drawn;
  }) as [Uint8Array, Uint8Array];
  const beside = scene.twins ? ` (right: ${scene.twins.right.words}; wrong: ${scene.twins.wrong.words})` : "";
  return {
    pixels,
    night,
    sidecar: writeSidecar(scene, `${scene.alt}${beside}, ${view.words}`, places),
    notes,
  };
}

/** The points that must fit into the picture. Throws if there are none. */
export function framePoints(scene: Scene): Point[] {
  const wanted = scene.frame ?? [];
  const points = wanted.filter((entry): entry is Point => typeof entry !== "string");
  const names = new Set(wanted.filter((entry) => typeof entry === "string"));
  for (const solid of scene.state)
    if (wanted.length === 0 || solid.names.some((id) => names.has(id)))
      for (const surface of solid.surfaces) for (const triangle of surface.triangles) points.push(...triangle.points);
  if (points.length === 0) throw new Error(`Scene ${scene.id}: nothing to frame`);
  return points;
}

function writeSidecar(
  scene: Scene,
  alt: string,
  marks: readonly { n: number; x: number; y: number; label: string }[],
): string {
  const lines = [`alt: ${quote(alt)}`, `taken: ${scene.taken}`, `shows: [${scene.shows.join(", ")}]`];
  if (marks.length > 0)
    lines.push(
      "marks:",
      ...marks.map(
        ({ n, x, y, label }) => `  - { n: ${n}, x: ${x.toFixed(3)}, y: ${y.toFixed(3)}, label: ${quote(label)} }`,
      ),
    );
  return `${lines.join("\n")}\n`;
}

/** Plain where YAML reads it as plain text, else in double quotes. */
const quote = (text: string): string => (/^[A-Za-z][^:#{}[\],&*!|>'"%@`]*$/.test(text) ? text : JSON.stringify(text));
