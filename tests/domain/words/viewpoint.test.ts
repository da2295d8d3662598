/** From where a photo was taken: what its alternative text says of it, and where the sign under it puts the camera. */
import { describe, expect, it } from "vitest";
import { viewpointOf } from "../../../src/domain/words/viewpoint.ts";
import { cameraWedge, WEDGE_SIGN } from "../../../src/drawing/camera-wedge.ts";

describe("the viewpoint of a photo", () => {
  // Design of the format, its example of an `alt`: "Four pins seated in the capsule base, seen from the foot end".
  it.each([
    ["Four pins seated in the capsule base, seen from the foot end", "from the foot end", 1, 0],
    ["The lever, seen from the foot end, right", "from the foot end, right", 1, 1],
    ["The lever, seen from the head end, left.", "from the head end, left", -1, -1],
    ["The rail, seen from the right side", "from the right side", 0, 1],
    ["The deck, seen from above the foot end, right", "from above the foot end, right", 1, 1],
  ])("%s", (alt, words, along, across) => {
    expect(viewpointOf(alt)).toEqual({ words, about: { along, across } });
  });

  it.each([
    ["The gauge, seen from its front", "from its front"],
    ["The deck, seen from above, head end on the left", "from above, head end on the left"],
  ])("is said and not drawn where it is none about the platform: %s", (alt, words) => {
    expect(viewpointOf(alt)).toEqual({ words });
  });

  it.each(["Four pins in their tray", "Seen from far, a trolley stands in the hangar", "", "Seen from"])(
    "is none where the text does not end with it: %s",
    (alt) => expect(viewpointOf(alt)).toBeUndefined(),
  );

  it("stands outside the platform, on the side that was said, and points at its middle", () => {
    const { x, y, width, height } = WEDGE_SIGN.platform;
    const middle = [x + width / 2, y + height / 2] as const;
    for (const along of [-1, 0, 1])
      for (const across of [-1, 0, 1]) {
        if (along === 0 && across === 0) continue;
        const corners = [...cameraWedge({ along, across }).matchAll(/([-\d.]+) ([-\d.]+)/g)].map(
          ([, px, py]) => [Number(px), Number(py)] as const,
        );
        expect(corners).toHaveLength(3);
        for (const [px, py] of corners) {
          const isOutside = px < x || px > x + width || py < y || py > y + height;
          expect([along, across, isOutside]).toEqual([along, across, true]);
          expect(px >= 0 && px <= WEDGE_SIGN.width && py >= 0 && py <= WEDGE_SIGN.height).toBe(true);
        }
        const [tip, ...blunt] = corners.map(([px, py]) => Math.hypot(px - middle[0], py - middle[1]));
        for (const far of blunt) expect(far).toBeGreaterThan(tip!);
        expect(Math.sign(Math.round(corners[0]![0] - middle[0]))).toBe(along);
        expect(Math.sign(Math.round(corners[0]![1] - middle[1]))).toBe(across);
      }
  });
});
