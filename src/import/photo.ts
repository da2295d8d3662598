/** A document's picture as a photo of a collection: upright, cut as the document shows it, without metadata. */
import readExif from "exif-reader";
import sharp, { type Metadata } from "sharp";
import { CannotRun } from "../findings/cannot-run.ts";
import { MOST_PIXELS } from "../site/images.ts";
import type { DrawnPicture } from "./read-body.ts";

/** The longer side of a photo, in pixels: what a page shows at twice its width. */
const LONGEST_SIDE = 2_400;
const READABLE = new Set(["jpeg", "png", "webp", "gif", "tiff"]);

/** A JPEG and the day on which its camera took it (`YYYY-MM-DD`), or why there is none and what to do. */
type Photographed =
  | { readonly jpeg: Uint8Array; readonly taken?: string; readonly left?: string }
  | { readonly jpeg?: undefined; readonly left: string };

/**
 * Turns a picture's bytes into a JPEG in sRGB. What only the document shows of it (mirrored, turned aslant) is said.
 * Throws `CannotRun` for a picture that breaks off or is larger than may be published; one of a format that no camera
 * and no screen makes (drawings such as EMF) is only left out.
 */
export async function photoOf(bytes: Buffer | undefined, picture: DrawnPicture, number: number): Promise<Photographed> {
  const name = `Picture ${number}${picture.alt ? ` (“${picture.alt}”)` : ""}`;
  if (!bytes)
    throw new CannotRun(`${name} is missing from the document. Put it in again and save. Nothing was written.`);
  const header = await headerOf(bytes);
  if (!header || !READABLE.has(header.format ?? "")) {
    if (/\.(?:jpe?g|png|webp|gif|tiff?)$/i.test(picture.part)) throw asBroken(name);
    const format = /[^.]*$/.exec(picture.part)![0].toUpperCase();
    return {
      left: `${name} is of a format that can't be shown (${format}). Save it as PNG or JPEG and put it in by hand`,
    };
  }
  if (header.width * header.height > MOST_PIXELS)
    throw new CannotRun(
      `${name} has more than ${MOST_PIXELS / 1_000_000} million pixels. Make it smaller in your word processor ` +
        "(Compress pictures) and save. Nothing was written.",
    );
  const { cut, turn, mirrored } = picture,
    notes: string[] = [];
  try {
    let image = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: "error" });
    const isTurned = (header.orientation ?? 1) > 1,
      left = Math.round(cut.left * header.width),
      top = Math.round(cut.top * header.height);
    const width = Math.round(header.width * (1 - cut.right)) - left,
      height = Math.round(header.height * (1 - cut.bottom)) - top;
    if (left > 0 || top > 0 || width < header.width || height < header.height) {
      // Which side a cut is at can't be told for sure where the camera's own turn comes between.
      if (isTurned || width < 1 || height < 1) notes.push("is whole here, and cropped in the document");
      else image = sharp(await image.extract({ left, top, width, height }).png().toBuffer());
    }
    if (isTurned) image = sharp(await image.autoOrient().png().toBuffer());
    if (turn % 90 === 0) image = image.rotate(turn);
    else notes.push(`is turned by ${turn}° in the document, and not here`);
    if (mirrored) notes.push("is mirrored in the document, and not here");
    const jpeg = await image
      .flatten({ background: "#fff" })
      .resize({ width: LONGEST_SIDE, height: LONGEST_SIDE, fit: "inside", withoutEnlargement: true })
      .toColourspace("srgb")
      .jpeg({ quality: 85, progressive: true })
      .toBuffer();
    const taken = dayOf(header.exif);
    return { jpeg, ...(taken ? { taken } : {}), ...(notes.length ? { left: `${name} ${notes.join("; it ")}` } : {}) };
  } catch {
    throw asBroken(name);
  }
}

/** What a picture says of itself; `undefined` if it is none that can be read, or empty. */
async function headerOf(bytes: Buffer): Promise<Metadata | undefined> {
  try {
    return await sharp(bytes, { limitInputPixels: false, failOn: "none" }).metadata();
  } catch {
    return undefined;
  }
}

/** The day of Exif's `DateTimeOriginal` (CIPA DC-008, 4.6.5), in the camera's own time; `undefined` if it has none. */
function dayOf(exif: Buffer | undefined): string | undefined {
  try {
    const taken = exif && readExif(exif).Photo?.DateTimeOriginal;
    return taken && !Number.isNaN(taken.valueOf()) ? taken.toISOString().slice(0, 10) : undefined;
  } catch {
    return undefined;
  }
}

function asBroken(name: string): CannotRun {
  return new CannotRun(
    `${name} breaks off or is damaged. Put it into the document again from the camera, save it and try again. ` +
      "Nothing was written.",
  );
}
