/** What an image file is, from its header alone. */
import { stat } from "node:fs/promises";
import type { Photo } from "../schema/collection.ts";

/** Upright size (Exif orientation applied), bytes and format; `undefined` if the file is no image that can be read. */
export async function readImageHeader(path: string): Promise<Photo["image"]> {
  const { default: sharp } = await import("sharp");
  try {
    const [{ size }, header] = await Promise.all([stat(path), sharp(path, { limitInputPixels: false, failOn: "none" }).metadata()]);
    const isTurned = (header.orientation ?? 1) >= 5;
    const [width, height] = isTurned ? [header.height, header.width] : [header.width, header.height];
    return width && height ? { width, height, bytes: size, format: header.format ?? "" } : undefined;
  } catch {
    return undefined;
  }
}
