/**
 * Draws every photo of the Tern trolley, by day and by night, and writes its sidecar: `node draw.ts`, or
 * `node draw.ts id id` for some.
 */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { picture } from "./engine/camera.ts";
import { drawScene } from "./engine/scene.ts";
import { scenes } from "./scenes/scenes.ts";

const folder = join(import.meta.dirname, "..");
/** Points drawn for each picture point, each way. */
const fine = 2;

/** Writes a file only if its bytes differ, so that a run without a change leaves the checkout clean. */
function writeIfChanged(file: string, bytes: Uint8Array): boolean {
  if (existsSync(file) && readFileSync(file).equals(bytes)) return false;
  writeFileSync(file, bytes);
  return true;
}

/** As a JPEG without metadata, a little coarser if it would be larger than `most` bytes. */
async function asJpeg(pixels: Uint8Array, most = 245_000): Promise<Uint8Array> {
  let bytes: Uint8Array = new Uint8Array(0);
  for (const quality of [80, 75, 70]) {
    bytes = await sharp(pixels, { raw: { width: picture.width, height: picture.height, channels: 3 } })
      .jpeg({ quality, chromaSubsampling: "4:4:4", mozjpeg: true })
      .toBuffer();
    if (bytes.length <= most) break;
  }
  return bytes;
}

/** By night it is shown on screens alone, 960 points wide. */
const asNight = (pixels: Uint8Array): Promise<Uint8Array> =>
  sharp(pixels, { raw: { width: picture.width, height: picture.height, channels: 3 } })
    .resize({ width: 960 })
    .webp({ quality: 78, effort: 6 })
    .toBuffer();

const wanted = process.argv.slice(2);
const unknown = wanted.filter((id) => !scenes.some((scene) => scene.id === id));
if (unknown.length > 0) throw new Error(`No drawing is called ${unknown.join(", ")}`);
const twice = scenes.filter((scene, i) => scenes.findIndex((other) => other.id === scene.id) !== i);
if (twice.length > 0) throw new Error(`Two drawings are called ${twice.map((scene) => scene.id).join(", ")}`);

let written = 0;
const chosen = wanted.length > 0 ? scenes.filter((scene) => wanted.includes(scene.id)) : scenes;
for (const scene of chosen) {
  const { pixels, night, sidecar, notes } = drawScene(scene, fine);
  const jpeg = await asJpeg(pixels);
  // The night's picture names the day's that it belongs to.
  const nightName = `${scene.id}.night-${createHash("sha256").update(jpeg).digest("hex").slice(0, 8)}.webp`;
  for (const name of readdirSync(folder))
    if (name.startsWith(`${scene.id}.night-`) && name !== nightName) rmSync(join(folder, name));
  const changed = [
    writeIfChanged(join(folder, `${scene.id}.jpg`), jpeg),
    writeIfChanged(join(folder, nightName), await asNight(night)),
    writeIfChanged(join(folder, `${scene.id}.yaml`), Buffer.from(sidecar)),
  ].includes(true);
  if (changed) written += 1;
  if (changed || notes.length > 0)
    process.stderr.write(
      `${changed ? "drawn    " : "unchanged"} ${scene.id}${notes.length > 0 ? `: ${notes.join("; ")}` : ""}\n`,
    );
}
process.stderr.write(`${chosen.length} drawings, ${written} of them new or changed\n`);
