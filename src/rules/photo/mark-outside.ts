/** Marks that nobody sees. */
import type { Photo } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { photosOf } from "../photos.ts";

/** Every mark, and both ends of every arrow, lie in the part of the image that is shown; its edge belongs to it. */
export const markOutside: Rule = {
  id: "photo/mark-outside",
  severity: "error",
  asks: "Every mark and arrow lies in the part of the photo that is shown.",
  why: "A number in the words that has no mark in the picture sends the eye searching.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const photo of photosOf(collection)) {
      const points = [
        ...photo.marks.map((mark) => ({
          name: `Mark ${mark.n}`,
          where: mark.where,
          ends: [[mark.x, mark.y] as const],
        })),
        ...photo.arrows.map((arrow) => ({ name: "This arrow", where: arrow.where, ends: [arrow.from, arrow.to] })),
      ];
      for (const { name, where, ends } of points) {
        const outside = ends.find((end) => !isShown(photo, end));
        if (outside)
          report(where, {
            message:
              `${name} at ${outside.join(", ")} lies outside the ` +
              (isWhole(photo)
                ? "image, expected fractions from 0 to 1"
                : `crop, expected x ${span(photo.crop.x, photo.crop.width)} and ` +
                  `y ${span(photo.crop.y, photo.crop.height)}`),
            fix: isWhole(photo)
              ? "Give it as fractions of the image, counted from its upper left corner"
              : "Move it, or make `crop` larger; both are fractions of the whole image",
          });
      }
    }
  },
};

/** Fractions of an image are typed by hand: a millionth is no difference. */
const SLACK = 1e-6;

function isShown({ crop }: Photo, [x, y]: readonly [number, number]): boolean {
  const inside = (value: number, from: number, size: number) =>
    value >= Math.max(0, from) - SLACK && value <= Math.min(1, from + size) + SLACK;
  return inside(x, crop.x, crop.width) && inside(y, crop.y, crop.height);
}

function isWhole({ crop }: Photo): boolean {
  return crop.x === 0 && crop.y === 0 && crop.width === 1 && crop.height === 1;
}

function span(from: number, size: number): string {
  return `${round(from)} to ${round(from + size)}`;
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}
