/** Shadows on one level plane, so that the eye sees what stands and what hangs in the air. */
import { project, type Frame } from "./camera.ts";
import { forEachSpan, materials, type Seen } from "./raster.ts";
import type { Shape } from "./shapes.ts";

const shade = materials.indexOf("shade") * 4;
/** How far the shadow runs sideways for each millimetre of height: a lamp nearly overhead. */
const slant = { x: 0.12, y: -0.1 } as const;

/**
 * Darkens the plane z = `floor` (and the bare ground, if nothing is drawn there) under everything that stands above it.
 */
export function castShadow(seen: Seen, frame: Frame, shape: Shape, floor: number): void {
  const { width, height, fine, solid } = seen;
  for (const { surfaces } of shape)
    for (const { triangles, material } of surfaces) {
      if (material === "glass") continue;
      for (const { points } of triangles) {
        if (points.every((p) => p[2] <= floor + 0.5)) continue;
        const [a, b, c] = points.map(
          ([x, y, z]) =>
            project(frame, [x + (z - floor) * slant.x, y + (z - floor) * slant.y, floor]).map((v, k) =>
              k < 2 ? v * fine : v,
            ) as [number, number, number],
        ) as [[number, number, number], [number, number, number], [number, number, number]];
        const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        if (Math.abs(area) < 1e-6) continue;
        const dx = ((b[2] - a[2]) * (c[1] - a[1]) - (c[2] - a[2]) * (b[1] - a[1])) / area,
          dy = ((c[2] - a[2]) * (b[0] - a[0]) - (b[2] - a[2]) * (c[0] - a[0])) / area;
        forEachSpan(width, height, a[0], a[1], b[0], b[1], c[0], c[1], (y, x0, x1) => {
          for (let x = x0, i = y * width + x0; x <= x1; x++, i++) {
            if (solid.key[i] === 0) solid.paint[i] = shade;
            else if (
              solid.paint[i]! % 4 === 0 &&
              Math.abs(solid.depth[i]! - (a[2] + (x + 0.5 - a[0]) * dx + (y + 0.5 - a[1]) * dy)) < 1.5
            )
              solid.paint[i]! += 1;
          }
        });
      }
    }
}
