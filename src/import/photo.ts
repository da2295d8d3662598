/** A document's or a camera's picture as a photo of a collection: upright, without metadata, of a size to be shown. */
import readExif from "exif-reader";
import sharp, { type Metadata, type Sharp } from "sharp";
import { CannotRun } from "../findings/cannot-run.ts";
import { MOST_PIXELS } from "../site/images.ts";
import type { DrawnPicture } from "./read-body.ts";

/** The longer side of a photo, in pixels: what a page shows at twice its width. */
const LONGEST_SIDE = 2_400;
const READABLE = new Set(["jpeg", "png", "webp", "gif", "tiff", "heif"]);

/** A JPEG in sRGB and the day on which its camera took it (`YYYY-MM-DD`), where it says so. */
interface Taken {
  readonly jpeg: Uint8Array;
  readonly taken?: string;
}

/** The same, with what of the document's own drawing it lacks; or why there is none and what to do. */
type Photographed = (Taken & { readonly left?: string }) | { readonly jpeg?: undefined; readonly left: string };

/** Where a picture is brought from: what its author does about one that can't be taken. */
const REMEDIES = {
  document: {
    again: "Put it into the document again from the camera, save it and try again.",
    smaller: "Make it smaller in your word processor (Compress pictures) and save.",
    otherwise: "Save it as PNG or JPEG, and put it into the document so.",
  },
  file: {
    again: "Take it from the camera again, look at it, and choose it anew.",
    smaller: "Save it smaller: 4,000 pixels on the long side are plenty.",
    otherwise: "Save or export it as JPEG or PNG, and choose that.",
  },
} as const;
type Origin = keyof typeof REMEDIES;

/**
 * A picture file as it comes from a camera or a phone: a JPEG in sRGB, turned upright, without camera, place or owner,
 * at most 2,400 pixels on its longer side. Throws `CannotRun`, in a sentence, for a file that is no picture, breaks
 * off, is larger than may be published, or of a form that can't be read here.
 */
export async function photoOfFile(bytes: Buffer, fileName: string): Promise<Taken> {
  const name = fileName ? `“${fileName}”` : "This file";
  if (bytes.length === 0) throw new CannotRun(`${name} is empty. ${REMEDIES.file.again} Nothing was written.`);
  const header = await headerOf(bytes);
  if (!isReadable(header) && beginsAsHeic(bytes)) throw asUnknown(name, "file");
  if (!isReadable(header))
    throw beginsAsPicture(bytes)
      ? asBroken(name, "file")
      : new CannotRun(
          `${name} is no picture that can be read here (JPEG, PNG, WebP). ` +
            "If it is one, save it as JPEG and choose that. Nothing was written.",
        );
  return uprightOf(bytes, header, { name, origin: "file" });
}

/**
 * A document's picture, cut and turned as the document shows it. What only the document shows of it (mirrored, turned
 * aslant) is said. Throws `CannotRun` for a picture that breaks off or is larger than may be published; one of a format
 * that no camera and no screen makes (drawings such as EMF) is only left out.
 */
export async function photoOf(bytes: Buffer | undefined, picture: DrawnPicture, number: number): Promise<Photographed> {
  const name = `Picture ${number}${picture.alt ? ` (“${picture.alt}”)` : ""}`;
  if (!bytes)
    throw new CannotRun(`${name} is missing from the document. Put it in again and save. Nothing was written.`);
  const header = await headerOf(bytes);
  if (!isReadable(header)) {
    if (/\.(?:jpe?g|png|webp|gif|tiff?)$/i.test(picture.part)) throw asBroken(name, "document");
    const format = /[^.]*$/.exec(picture.part)![0].toUpperCase();
    return {
      left: `${name} is of a format that can't be shown (${format}). Save it as PNG or JPEG and put it in by hand`,
    };
  }
  const { cut, turn, mirrored } = picture,
    notes: string[] = [];
  const photo = await uprightOf(bytes, header, {
    name,
    origin: "document",
    cut: (image) => {
      const left = Math.round(cut.left * header.width),
        top = Math.round(cut.top * header.height);
      const width = Math.round(header.width * (1 - cut.right)) - left,
        height = Math.round(header.height * (1 - cut.bottom)) - top;
      if (left <= 0 && top <= 0 && width >= header.width && height >= header.height) return undefined;
      // Which side a cut is at can't be told for sure where the camera's own turn comes between.
      if (!isTurned(header) && width >= 1 && height >= 1) return image.extract({ left, top, width, height });
      notes.push("is whole here, and cropped in the document");
      return undefined;
    },
    turn: (image) => {
      if (turn % 90 === 0) return image.rotate(turn);
      notes.push(`is turned by ${turn}° in the document, and not here`);
      return image;
    },
  });
  if (mirrored) notes.push("is mirrored in the document, and not here");
  return { ...photo, ...(notes.length ? { left: `${name} ${notes.join("; it ")}` } : {}) };
}

/** What is done to a picture on the way, and how it is spoken of. */
interface Way {
  readonly name: string;
  readonly origin: Origin;
  /** Cuts it; nothing where it stays whole. */
  readonly cut?: (image: Sharp) => Sharp | undefined;
  readonly turn?: (image: Sharp) => Sharp;
}

async function uprightOf(bytes: Buffer, header: Metadata, { name, origin, cut, turn }: Way): Promise<Taken> {
  if (header.width * header.height > MOST_PIXELS)
    throw new CannotRun(
      `${name} has more than ${MOST_PIXELS / 1_000_000} million pixels. ${REMEDIES[origin].smaller} ` +
        "Nothing was written.",
    );
  try {
    let image = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: "error" });
    const part = cut?.(image);
    if (part) image = sharp(await part.png().toBuffer());
    // What a document turns is turned as the camera held it: the library turns once in one go.
    if (turn) image = turn(isTurned(header) ? sharp(await image.autoOrient().png().toBuffer()) : image);
    else image = image.autoOrient();
    const jpeg = await image
      .flatten({ background: "#fff" })
      .resize({ width: LONGEST_SIDE, height: LONGEST_SIDE, fit: "inside", withoutEnlargement: true })
      .toColourspace("srgb")
      .jpeg({ quality: 85, progressive: true })
      .toBuffer();
    const taken = dayOf(header.exif);
    return { jpeg, ...(taken ? { taken } : {}) };
  } catch {
    // The header of what newer phones write is read by libraries that have no licence for its pixels.
    throw header.compression === "hevc" ? asUnknown(name, origin) : asBroken(name, origin);
  }
}

const isTurned = ({ orientation = 1 }: Metadata) => orientation > 1;

function isReadable(header: Metadata | undefined): header is Metadata {
  return READABLE.has(header?.format ?? "");
}

/** Whether a file begins as JPEG (ISO/IEC 10918-1, B.2.1), PNG (W3C PNG, 5.2) or WebP (RFC 9649, 2.4) does. */
function beginsAsPicture(bytes: Buffer): boolean {
  const begin = bytes.subarray(0, 12).toString("latin1");
  return /^(?:\xff\xd8|\x89PNG|RIFF....WEBP)/s.test(begin);
}

/** Whether a file says that it is of the sort that newer phones write: a brand of ISO/IEC 23008-12, annex B. */
function beginsAsHeic(bytes: Buffer): boolean {
  return /^....ftyp(?:hei[cxms]|hev[cxms]|mif1|msf1)/s.test(bytes.subarray(0, 12).toString("latin1"));
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

function asBroken(name: string, origin: Origin): CannotRun {
  return new CannotRun(`${name} breaks off or is damaged. ${REMEDIES[origin].again} Nothing was written.`);
}

function asUnknown(name: string, origin: Origin): CannotRun {
  return new CannotRun(
    `${name} is of a form of newer phones (HEIC) that can't be read here. ${REMEDIES[origin].otherwise} ` +
      "For the next ones, set the phone's camera to JPEG. Nothing was written.",
  );
}
