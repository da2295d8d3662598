/**
 * What an image file is, from its header and its last bytes alone; and the hash of all of it, where it is asked for.
 */
import { createHash } from "node:crypto";
import { open, readFile } from "node:fs/promises";
import type { FileHandle } from "node:fs/promises";
import type { Photo } from "../schema/collection.ts";
import { whileSame } from "./while-same.ts";

/** How many bytes at the end of a file are looked at: cameras put some of their own after the picture. */
const TAIL = 65_536;
const FORMATS = new Set(["jpeg", "png", "webp"]);

/**
 * Upright size (Exif orientation applied), bytes and format; `undefined` if the file is no image that can be read, or
 * breaks off.
 */
export const readImageHeader = whileSame(async (path: string): Promise<Photo["image"]> => {
  const { default: sharp } = await import("sharp");
  try {
    const [size, header] = await Promise.all([
      sizeOfWhole(path),
      sharp(path, { limitInputPixels: false, failOn: "none" }).metadata(),
    ]);
    const isTurned = (header.orientation ?? 1) >= 5;
    const [width, height] = isTurned ? [header.height, header.width] : [header.width, header.height];
    return size !== undefined && width && height && FORMATS.has(header.format ?? "")
      ? { width, height, bytes: size, format: header.format ?? "" }
      : undefined;
  } catch {
    return undefined;
  }
});

/** Bytes of a file whose picture has its end; `undefined` if it breaks off, as after a copy that was stopped. */
async function sizeOfWhole(path: string): Promise<number | undefined> {
  const file = await open(path);
  try {
    const { size } = await file.stat();
    return (await hasEnd(file, size)) ? size : undefined;
  } finally {
    await file.close();
  }
}

/**
 * JPEG (ISO/IEC 10918-1, B.1.1.3) ends with the marker FF D9, PNG (ISO/IEC 15948) with the chunk IEND, and WebP (RFC
 * 9649) says in its header how long it is.
 */
async function hasEnd(file: FileHandle, size: number): Promise<boolean> {
  const head = (await file.read(Buffer.alloc(12), 0, 12, 0)).buffer,
    tail = (await file.read(Buffer.alloc(Math.min(size, TAIL)), 0, Math.min(size, TAIL), Math.max(0, size - TAIL)))
      .buffer;
  if (head.readUInt16BE(0) === 0xffd8) return tail.lastIndexOf(Buffer.from([0xff, 0xd9])) >= 0;
  if (head.readUInt32BE(0) === 0x89504e47) return tail.lastIndexOf("IEND", undefined, "latin1") >= 0;
  return head.toString("latin1", 0, 4) !== "RIFF" || head.readUInt32LE(4) + 8 <= size;
}

/** SHA-256 of a file's bytes in 64 hexadecimal digits (FIPS 180-4); `undefined` if it can't be read. */
export const hashFile = whileSame(async (path: string): Promise<string | undefined> => {
  try {
    return createHash("sha256")
      .update(await readFile(path))
      .digest("hex");
  } catch {
    return undefined;
  }
});
