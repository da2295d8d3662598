/**
 * Photos for screen and paper: cropped as the sidecar says, upright, in several widths, and without camera, place or
 * owner.
 */
import { createHash } from "node:crypto";
import { constants, readFileSync } from "node:fs";
import { copyFile, mkdir, readFile, rm } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import sharp from "sharp";
import type { Photo } from "../schema/collection.ts";
import { forEachOf } from "./for-each-of.ts";
import { AuthorFault } from "./author-fault.ts";
import { watcherHere } from "../domain/words/reads.ts";
import { rememberIn, remember, resultsOf } from "../domain/words/remember.ts";
import type { Site } from "./site.ts";

/**
 * A photo as a page shows it. Addresses count from the site's root; marks and arrows are fractions of the cropped
 * picture.
 */
export interface PhotoView {
  readonly src: string;
  readonly srcset: readonly { readonly address: string; readonly width: number }[];
  /** Width and height of the cropped picture, for the space it takes. */
  readonly width: number;
  readonly height: number;
  /** A JPEG for paper: Chromium puts it into a PDF as it is, and WebP only re-encoded at ten times the size. */
  readonly print: string;
  readonly alt: string;
  readonly marks: readonly { readonly n: number; readonly x: number; readonly y: number; readonly label: string }[];
  readonly arrows: readonly { readonly from: readonly [number, number]; readonly to: readonly [number, number] }[];
}

/** A file of the site to be made from a photo. */
export interface PhotoFile {
  readonly address: string;
  readonly source: string;
  /** The photo's file, relative to the collection. */
  readonly photo: string;
  readonly crop: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly width: number;
  readonly format: "webp" | "jpeg";
}

/** Photos are shown at 600 CSS pixels at most; dense screens take twice as many. */
const SCREEN_WIDTHS = [480, 800, 1200];
/** 300 pixels an inch at 100 mm, wider than any photo of a step on A4. */
const PRINT_WIDTH = 1200;
/** Raised when the pictures made from the same photo would differ. */
const RECIPE = 2;
/** Larger pictures are refused: `photo/too-large`. */
export const MOST_PIXELS = 60_000_000;

/**
 * How a page shows a photo; `undefined` if there is no readable image file. The build makes the files that were asked
 * for.
 */
export function photoFor(site: Site, photo: Photo): PhotoView | undefined {
  // An earlier issue may have had other marks on the same picture, or keeps another picture of the same name.
  const key = JSON.stringify([photo.platform, photo.id, photo.file, photo.crop, photo.marks, photo.arrows, photo.alt]);
  const { view, files } = rememberIn(viewsOf(site), key, () => viewOf(photo, site));
  for (const file of files) site.photos.set(file.address, file);
  return view;
}

/** How a photo is shown, and the files for it. */
interface Viewed {
  readonly view?: PhotoView;
  readonly files: readonly PhotoFile[];
}

/** What was made of the photos so far. */
const viewsOf = remember((_: Site) => resultsOf<Viewed>());

/** The part of an upright image that a crop shows, in whole pixels. */
export function areaOf(
  { width, height }: { readonly width: number; readonly height: number },
  crop: Photo["crop"],
): PhotoFile["crop"] {
  const left = Math.round(crop.x * width),
    top = Math.round(crop.y * height);
  return {
    left,
    top,
    width: Math.max(1, Math.min(width - left, Math.round(crop.width * width))),
    height: Math.max(1, Math.min(height - top, Math.round(crop.height * height))),
  };
}

function viewOf(photo: Photo, site: Site): Viewed {
  const { file, image, crop, marks, arrows, alt = "" } = photo;
  if (!file || !image) return { files: [] };
  const source = resolve(site.folder, file),
    area = areaOf(image, crop);
  // Before it is read: a file that is changed in between has then changed.
  watcherHere()?.outside(source, () => hashOfFile(source));
  const hash = createHash("sha256")
    .update(readFileSync(source))
    .update(JSON.stringify([area, RECIPE]))
    .digest("hex")
    .slice(0, 10);
  const stem = `photos/${photo.platform}-${photo.id}-${hash}`;
  const narrower = SCREEN_WIDTHS.filter((width) => width < area.width);
  const widths = narrower.length < SCREEN_WIDTHS.length ? [...narrower, area.width] : SCREEN_WIDTHS;
  const srcset = widths.map((width) => ({ address: `${stem}-${width}.webp`, width }));
  const print = `${stem}-print.jpg`;
  const files: PhotoFile[] = srcset.map(({ address, width }) => ({
    address,
    source,
    photo: file,
    crop: area,
    width,
    format: "webp",
  }));
  files.push({
    address: print,
    source,
    photo: file,
    crop: area,
    width: Math.min(PRINT_WIDTH, area.width),
    format: "jpeg",
  });
  const inCrop = (x: number, y: number) => [(x - crop.x) / crop.width, (y - crop.y) / crop.height] as const;
  const view: PhotoView = {
    src: (srcset.find(({ width }) => width >= 800) ?? srcset.at(-1)!).address,
    srcset,
    width: area.width,
    height: area.height,
    print,
    alt,
    marks: marks.map(({ n, x, y, label }) => ({ n, label, x: inCrop(x, y)[0], y: inCrop(x, y)[1] })),
    arrows: arrows.map(({ from, to }) => ({ from: inCrop(...from), to: inCrop(...to) })),
  };
  return { view, files };
}

/** Hash of a file's bytes; an empty text where it can't be read. */
function hashOfFile(file: string): string {
  try {
    return createHash("sha256").update(readFileSync(file)).digest("hex");
  } catch {
    return "";
  }
}

/**
 * Writes the files that pages asked for; those made before come from the cache. `log` hears of progress on long work.
 */
export async function writePhotos(
  site: Site,
  folder: string,
  cacheFolder: string,
  log: (line: string) => void,
): Promise<void> {
  const files = [...site.photos.values()];
  for (const parent of new Set(files.map(({ address }) => dirname(join(folder, address)))))
    await mkdir(parent, { recursive: true });
  let done = 0,
    said = Date.now();
  await forEachOf(files, async (file) => {
    await writePhoto(file, join(folder, file.address), join(cacheFolder, file.address));
    done += 1;
    if (Date.now() - said > 2000) {
      said = Date.now();
      log(`Photos: ${done} of ${files.length} files`);
    }
  });
}

/**
 * The bytes of one picture that a page has asked for; `undefined` for any other address. One made before comes from the
 * cache; a new one is put there.
 */
export async function pictureAt(site: Site, address: string, cacheFolder: string): Promise<Uint8Array | undefined> {
  const file = site.photos.get(address);
  if (!file) return undefined;
  const kept = join(cacheFolder, address),
    fresh = `${kept}.${process.pid}`;
  try {
    return await readFile(kept);
  } catch {
    await mkdir(dirname(kept), { recursive: true });
    await writePhoto(file, fresh, kept);
    const bytes = await readFile(fresh);
    await rm(fresh);
    return bytes;
  }
}

async function writePhoto(file: PhotoFile, target: string, kept: string): Promise<void> {
  try {
    return await copyFile(kept, target, constants.COPYFILE_FICLONE);
  } catch {
    // Not made before.
  }
  try {
    await convert(file, target);
  } catch (error) {
    // A full disk is no fault of the picture.
    if (error instanceof Error && /No space|ENOSPC|EACCES/.test(error.message)) throw error;
    throw new AuthorFault(
      "photo/unreadable",
      { file: file.photo, line: 1, column: 1 },
      `\`${basename(file.photo)}\` is damaged inside and can't be shown`,
      "Take it from the camera again, or open it, look at it and save it again as a JPEG",
    );
  }
  try {
    await mkdir(dirname(kept), { recursive: true });
    await copyFile(target, kept, constants.COPYFILE_FICLONE);
  } catch {
    // A folder that can't be written to: the next build makes the file again.
  }
}

async function convert(file: PhotoFile, target: string): Promise<void> {
  const picture = sharp(file.source, { limitInputPixels: MOST_PIXELS, failOn: "error" })
    .autoOrient()
    .extract(file.crop)
    .resize({ width: file.width, withoutEnlargement: true });
  if (file.format === "jpeg")
    await picture
      .flatten({ background: "#fff" })
      .jpeg({ quality: 84, progressive: true, chromaSubsampling: "4:4:4" })
      .toFile(target);
  else await picture.webp({ quality: 82, effort: 2 }).toFile(target);
}
