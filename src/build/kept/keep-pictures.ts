/**
 * The small pictures that an issue keeps of the photos it shows: upright, cropped as the sidecar says, without camera,
 * place or owner.
 */
import type { Issuable } from "../../schema/documents.ts";
import { createHash } from "node:crypto";
import { join } from "node:path";
import sharp from "sharp";
import { contentOf } from "../../domain/records/freeze.ts";
import { pathOfPicture, photosIn, type Picture, pictureOf } from "../../domain/records/pictures.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import type { Collection, Photo, Platform } from "../../schema/collection.ts";
import { areaOf, MOST_PIXELS } from "../../site/images.ts";

/** A picture to keep, with its bytes if no issue keeps it yet. */
interface Kept {
  readonly photo: string;
  readonly picture: Picture;
  readonly file?: { readonly path: string; readonly text: Uint8Array };
}

/** A kept picture is no larger than this. */
export const MOST_BYTES = 60_000;
/** Longest sides and qualities that are tried in turn. */
const SIDES = [900, 720, 560, 420, 300, 160];
const QUALITIES = [80, 68, 55];

/**
 * The pictures of all photos that a document shows; those that an issue keeps already are named again. Throws
 * `CannotRun` for a photo that can't be read.
 */
export async function keepPictures(
  folder: string,
  collection: Collection,
  platform: Platform,
  record: Issuable,
): Promise<Kept[]> {
  const photos = new Map(platform.photos.map((photo) => [photo.id, photo]));
  return Promise.all(
    photosIn(contentOf(record, platform)).map(async (content): Promise<Kept> => {
      const { id } = content,
        there = pictureOf(collection, platform.id, content);
      if (there) {
        const { sha256, width, height } = there;
        return { photo: id, picture: { sha256, width, height } };
      }
      const { bytes, width, height } = await render(folder, photos.get(id)!);
      const picture = { sha256: createHash("sha256").update(bytes).digest("hex"), width, height };
      return { photo: id, picture, file: { path: pathOfPicture(platform.id, picture), text: bytes } };
    }),
  );
}

async function render(
  folder: string,
  { id, file = "", image, crop }: Photo,
): Promise<{ readonly bytes: Uint8Array; readonly width: number; readonly height: number }> {
  try {
    const cropped = await sharp(join(folder, file), { limitInputPixels: MOST_PIXELS, failOn: "error" })
      .autoOrient()
      .extract(areaOf(image!, crop))
      .resize({ width: SIDES[0]!, height: SIDES[0]!, fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#fff" })
      .png()
      .toBuffer();
    for (const side of SIDES)
      for (const quality of QUALITIES) {
        const { data, info } = await sharp(cropped)
          .resize({ width: side, height: side, fit: "inside", withoutEnlargement: true })
          .jpeg({ quality, progressive: true })
          .toBuffer({ resolveWithObject: true });
        if (data.length <= MOST_BYTES) return { bytes: data, width: info.width, height: info.height };
      }
  } catch (error) {
    throw new CannotRun(
      `The photo \`${id}\` can't be made small: ${error instanceof Error ? error.message : String(error)}. Take it ` +
        "from the camera again, or open it, look at it and save it again as a JPEG. Nothing was issued.",
    );
  }
  throw new CannotRun(`The photo \`${id}\` can't be made smaller than ${MOST_BYTES} bytes. Nothing was issued.`);
}
