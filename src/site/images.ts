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
import { nightOf, WITH_NIGHT } from "../drawing/night-of.ts";
import { remember } from "../domain/words/remember.ts";
import { askFor, type Site } from "./site.ts";
import type { SiteFolder } from "./site-folder.ts";
import { heard } from "../words/heard.ts";

/**
 * A photo as a page shows it. Addresses count from the site's root; marks and arrows are fractions of the cropped
 * picture.
 */
export interface PhotoView {
  readonly src: string;
  /** Whether `src` and the narrowest of `srcset` have a twin for dark screens: `nightOf` has its address. */
  readonly hasNight: boolean;
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
  /** For a picture of the night: size of the day's, which it must have the shape of. */
  readonly like?: { readonly width: number; readonly height: number };
}

/** Photos are shown at 600 CSS pixels at most; dense screens take twice as many. */
const SCREEN_WIDTHS = [480, 800, 1200];
/** 300 pixels an inch at 100 mm, wider than any photo of a step on A4. */
const PRINT_WIDTH = 1200;
/** Raised when the pictures made from the same photo would differ. */
const RECIPE = 2;
/** Drawings for the night have few tones, and are looked at on a phone or beside the text. */
const NIGHT_WIDTH = 960;
/** Larger pictures are refused: `photo/too-large`. */
export const MOST_PIXELS = 60_000_000;

/**
 * How a page shows a photo; `undefined` if there is no readable image file. The build makes the files that were asked
 * for.
 */
export function photoFor(site: Site, photo: Photo): PhotoView | undefined {
  // An earlier issue may have had other marks on the same picture, or keeps another picture of the same name.
  const key = JSON.stringify([
    photo.platform,
    photo.id,
    photo.file,
    photo.night,
    photo.crop,
    photo.marks,
    photo.arrows,
    photo.alt,
  ]);
  const known = viewsOf(site),
    made = known.get(key) ?? viewOf(photo, site);
  known.set(key, made);
  // Each page asks for all that it shows, also what a page before it has asked for.
  for (const file of made.files) askFor(site, "photos", file.address, file);
  return made.view;
}

interface MadeView {
  readonly view?: PhotoView;
  /** What the build makes for it. */
  readonly files: readonly PhotoFile[];
}

/** What was made of the photos so far. */
const viewsOf = remember((_: Site) => new Map<string, MadeView>());

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

function viewOf(photo: Photo, site: Site): MadeView {
  const { file, night, image, crop, marks, arrows, alt = "" } = photo;
  if (!file || !image) return { files: [] };
  const source = resolve(site.folder, file),
    area = areaOf(image, crop);
  const hash = createHash("sha256").update(readFileSync(source));
  if (night) hash.update(readFileSync(resolve(site.folder, night)));
  hash.update(JSON.stringify([area, RECIPE]));
  const stem = `photos/${photo.platform}-${photo.id}-${hash.digest("hex").slice(0, 10)}${night ? WITH_NIGHT : ""}`;
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
  const src = (srcset.find(({ width }) => width >= 800) ?? srcset.at(-1)!).address;
  for (const day of night ? new Set([src, srcset[0]!.address]) : [])
    files.push({
      address: nightOf(day)!,
      source: resolve(site.folder, night!),
      photo: night!,
      crop: area,
      width: day === src ? NIGHT_WIDTH : srcset[0]!.width,
      format: "webp",
      like: { width: image.width, height: image.height },
    });
  const inCrop = (x: number, y: number) => [(x - crop.x) / crop.width, (y - crop.y) / crop.height] as const;
  const view: PhotoView = {
    src,
    hasNight: night !== undefined,
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

/**
 * Writes the files that pages asked for; those made before come from the cache. `log` hears of progress on long work.
 */
export async function writePhotos(
  site: Site,
  folder: SiteFolder,
  cacheFolder: string,
  log: (line: string) => void,
): Promise<void> {
  const files = [...site.photos.values()];
  let done = 0,
    said = Date.now();
  await forEachOf(files, async (file) => {
    const kept = join(cacheFolder, file.address);
    try {
      await folder.copy(kept, file.address);
    } catch {
      await makePhoto(file, await folder.place(file.address), kept);
    }
    done += 1;
    if (Date.now() - said > 2000) {
      said = Date.now();
      log(heard("buildProgress").picturesDone({ done, of: files.length }));
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
    await makePhoto(file, fresh, kept);
    const bytes = await readFile(fresh);
    await rm(fresh);
    return bytes;
  }
}

/** Makes a picture and keeps a copy. Throws `AuthorFault` where its photo can't be shown. */
async function makePhoto(file: PhotoFile, target: string, kept: string): Promise<void> {
  try {
    await convert(file, target);
  } catch (error) {
    // A full disk is no fault of the picture.
    if (error instanceof AuthorFault) throw error;
    if (error instanceof Error && /No space|ENOSPC|EACCES/.test(error.message)) throw error;
    throw unreadable(
      file,
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

function unreadable({ photo }: PhotoFile, message: string, fix: string): AuthorFault {
  return new AuthorFault({
    rule: "photo/unreadable",
    severity: "error",
    file: photo,
    line: 1,
    column: 1,
    message,
    fix,
  });
}

/** The crop of a picture of the night, by its own size. */
async function cropLike(file: PhotoFile): Promise<PhotoFile["crop"]> {
  if (!file.like) return file.crop;
  const { width, height } = (await sharp(file.source, { limitInputPixels: MOST_PIXELS }).metadata()).autoOrient,
    by = width / file.like.width;
  if (Math.abs(height / (file.like.height * by) - 1) > 0.01)
    throw unreadable(
      file,
      `\`${basename(file.photo)}\` is ${width} × ${height} px, expected the shape of the picture by day, ` +
        `${file.like.width} × ${file.like.height}: marks would point beside what they mean`,
      "Cut it as the picture by day is cut, or remove it",
    );
  const { left, top } = { left: Math.round(file.crop.left * by), top: Math.round(file.crop.top * by) };
  return {
    left,
    top,
    width: Math.max(1, Math.min(width - left, Math.round(file.crop.width * by))),
    height: Math.max(1, Math.min(height - top, Math.round(file.crop.height * by))),
  };
}

async function convert(file: PhotoFile, target: string): Promise<void> {
  const picture = sharp(file.source, { limitInputPixels: MOST_PIXELS, failOn: "error" })
    .autoOrient()
    .extract(await cropLike(file))
    .resize({ width: file.width, withoutEnlargement: true });
  if (file.format === "jpeg")
    await picture
      .flatten({ background: "#fff" })
      .jpeg({ quality: 84, progressive: true, chromaSubsampling: "4:4:4" })
      .toFile(target);
  else await picture.webp({ quality: 82, effort: 2 }).toFile(target);
}
