/**
 * Pictures that a screen sends: taken in as photos of a step, put in the place of another, or taken out. A picture, its
 * sidecar and the procedure that shows it are saved all or none.
 */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import { CannotRun } from "../../findings/cannot-run.ts";
import { photoId } from "../../import/draft.ts";
import { photoOfFile } from "../../import/photo.ts";
import { heard } from "../../words/heard.ts";
import { applyAll } from "../edits/apply-all.ts";
import type { FileEdit } from "../edits/edit.ts";
import { outlineOf } from "../edits/outline.ts";
import { sentLine } from "../handler.ts";
import { contentHash } from "../disk/keep-states.ts";
import { parted } from "./parted.ts";
import type { CollectionReader } from "../reader.ts";
import { Refusal } from "../disk/refusal.ts";
import { type FileToSave, saveFiles, type SaveResult } from "../disk/save.ts";

/** What is said beside a picture: in a line of JSON before its bytes. */
const words = z.string().max(2_000),
  name = sentLine,
  hash = sentLine;

const taking = z.strictObject({
  platform: name,
  /** What the file is called where it comes from; only for what is said of it. */
  fileName: name,
  alt: words,
  /** The step that shows it; without one it is only put into the folder. */
  step: z.strictObject({ file: name, basedOn: hash, number: z.int().min(1).max(100_000) }).optional(),
});
const replacing = z.strictObject({
  platform: name,
  id: name,
  fileName: name,
  alt: words,
  /** Hashes of what the screen showed; `sidecar` is `null` where there was none. */
  basedOn: z.strictObject({ image: hash, sidecar: hash.nullable() }),
  /** Whether marks and crop are kept: they lie where they lay, on another picture. */
  marks: z.enum(["keep", "drop"]),
});
const removing = z.strictObject({
  platform: name,
  id: name,
  basedOn: z.strictObject({ image: hash, sidecar: hash.nullable() }),
});

/** What became of it: `file` is the one on whose hash the screen goes on; `address`: the screen to go to. */
interface PictureSaved {
  readonly file: string;
  readonly result: SaveResult;
  readonly address?: string;
}

type Taker = (sent: Buffer, reader: CollectionReader) => Promise<PictureSaved>;

/** By the address to which it is sent. */
const TAKERS: Readonly<Record<string, Taker>> = {
  "take-photo": async (sent, reader) => {
    const { head, bytes } = parted(sent, taking),
      { platform, fileName, alt, step } = head;
    const { procedures } = await platformOf(reader, platform);
    if (step && !procedures.some(({ file }) => file === step.file))
      throw new Refusal(heard("deskRefused").procedureGone);
    const said = askedAlt(alt),
      { jpeg, taken } = await photoOfFile(bytes, fileName);
    const stem = step ? step.file.replace(/^.*\/|\.mdx$/g, "") : "photo",
      procedure = step && (await readFile(join(reader.folder, step.file), "utf8").catch(() => undefined));
    if (step && (procedure === undefined || contentHash(procedure) !== step.basedOn))
      return {
        file: step.file,
        result: changedElsewhere(step.file, procedure, heard("deskScript").aPhoto({ alt: said })),
      };
    // Another program may put a file there meanwhile: then the next number is taken.
    for (let tries = 0; tries < MOST_TRIES; tries += 1) {
      const id = await freeId(reader, platform, stem),
        sidecar = `${platform}/photos/${id}.yaml`;
      const files: FileToSave[] = [
        { path: `${platform}/photos/${id}.jpg`, basedOn: null, text: jpeg },
        { path: sidecar, basedOn: null, text: sidecarText(said, taken) },
        ...(step && procedure !== undefined
          ? [{ path: step.file, basedOn: step.basedOn, text: withPhoto(procedure, step.number, id) }]
          : []),
      ];
      const result = saveFiles(reader.folder, files);
      if ("changed" in result && result.changed.every(({ path }) => path !== step?.file)) continue;
      return { file: step?.file ?? sidecar, result, ...(step ? {} : { address: `photos/${platform}/${id}/` }) };
    }
    throw new Refusal(heard("deskRefused").photosBusy);
  },
  "replace-photo": async (sent, reader) => {
    const { head, bytes } = parted(sent, replacing),
      { platform, id, fileName, alt, basedOn, marks } = head;
    const { image, sidecar, night } = await filesOf(reader, platform, id),
      said = askedAlt(alt);
    const { jpeg, taken } = await photoOfFile(bytes, fileName),
      old = (await readFile(join(reader.folder, sidecar), "utf8").catch(() => undefined)) ?? "";
    const edits: FileEdit[] = [
      { kind: "set-field", path: ["alt"], value: said },
      ...field("taken", taken, old),
      ...(marks === "drop" ? [...field("marks", undefined, old), ...field("crop", undefined, old)] : []),
    ];
    const fresh = `${platform}/photos/${id}.jpg`;
    const result = saveFiles(reader.folder, [
      ...(image === fresh ? [] : [{ path: image, basedOn: basedOn.image, text: null }]),
      { path: fresh, basedOn: image === fresh ? basedOn.image : null, text: jpeg },
      { path: sidecar, basedOn: basedOn.sidecar, text: edited(old, edits) },
      ...night,
    ]);
    return { file: sidecar, result };
  },
  "remove-photo": async (sent, reader) => {
    const { head } = parted(sent, removing),
      { platform, id, basedOn } = head;
    const { image, sidecar, night } = await filesOf(reader, platform, id);
    const result = saveFiles(reader.folder, [
      { path: image, basedOn: basedOn.image, text: null },
      ...night,
      ...(basedOn.sidecar === null ? [] : [{ path: sidecar, basedOn: basedOn.sidecar, text: null }]),
    ]);
    return { file: image, result, address: "" };
  },
};

const MOST_TRIES = 20;

/**
 * Saves a picture that was sent to an address; `undefined` for any other address. A sentence where it can't be taken:
 * nothing is written then.
 */
export async function takePicture(
  reader: CollectionReader,
  address: string,
  sent: Buffer,
): Promise<PictureSaved | { readonly refused: string } | undefined> {
  if (!Object.hasOwn(TAKERS, address)) return undefined;
  try {
    const made = await TAKERS[address]!(sent, reader);
    // Of two pictures nobody can see here which is whose.
    if ("changed" in made.result && made.result.changed.some(({ path }) => path !== made.file))
      throw new Refusal(heard("deskRefused").pictureChanged);
    return made;
  } catch (error) {
    if (error instanceof Refusal || error instanceof CannotRun) return { refused: error.message };
    throw error;
  }
}

/** Only a person can say what a picture shows. */
function askedAlt(alt: string): string {
  const said = alt.replace(/\s+/g, " ").trim();
  if (said === "") throw new Refusal(heard("deskRefused").sayWhatItShows);
  return said;
}

async function platformOf(reader: CollectionReader, id: string) {
  const platform = (await reader.now()).files.platforms.find((each) => each.id === id);
  if (!platform) throw new Refusal(heard("deskSaid").platformGone);
  return platform;
}

/** The files of a photo. `night` takes its picture for dark screens away, which shows no other one. */
async function filesOf(reader: CollectionReader, platform: string, id: string) {
  const photo = (await platformOf(reader, platform)).photos.find((each) => each.id === id);
  if (!photo?.file) throw new Refusal(heard("deskRefused").photoGone);
  const bytes = photo.night && (await readFile(join(reader.folder, photo.night)).catch(() => undefined));
  const night: FileToSave[] = bytes ? [{ path: photo.night!, basedOn: contentHash(bytes), text: null }] : [];
  return { image: photo.file, sidecar: photo.sidecar ?? `${platform}/photos/${id}.yaml`, night };
}

/** The first name of its sort that no file has, whatever its ending. */
async function freeId({ folder }: CollectionReader, platform: string, stem: string): Promise<string> {
  const names = await readdir(join(folder, platform, "photos")).catch(() => []),
    taken = new Set(names.map((each) => each.replace(/\.[^.]*$/, "").toLowerCase()));
  let number = 1;
  while (taken.has(photoId(stem, number))) number += 1;
  return photoId(stem, number);
}

function sidecarText(alt: string, taken: string | undefined): string {
  return edited("", [
    { kind: "set-field", path: ["alt"], value: alt },
    ...(taken ? [{ kind: "set-field", path: ["taken"], value: taken } as const] : []),
  ]);
}

/** A field said anew, or taken away where it is there. */
function field(key: string, value: string | undefined, text: string): FileEdit[] {
  if (value !== undefined) return [{ kind: "set-field", path: [key], value }];
  return new RegExp(`^${key}:`, "m").test(text) ? [{ kind: "remove-field", path: [key] }] : [];
}

/** The procedure's text in which the step shows one photo more. */
function withPhoto(text: string, step: number, id: string): string {
  const steps = (outlineOf(text.replace(/^\ufeff/, "")) ?? []).flatMap((entry) =>
      entry.kind === "step" ? [entry.step] : [],
    ),
    shown = steps[step - 1]?.attributes["photo"];
  const value = [...(typeof shown === "string" ? shown.split(/\s+/).filter(Boolean) : []), id].join(" ");
  return edited(text, [{ kind: "set-attribute", step, name: "photo", value }]);
}

function edited(text: string, edits: readonly FileEdit[]): string {
  const made = applyAll(text, edits);
  if ("refused" in made) throw new Refusal(made.refused);
  return made.text;
}

function changedElsewhere(path: string, text: string | undefined, yours: string): SaveResult {
  const theirs = text ?? null;
  return { changed: [{ path, theirs, hash: theirs === null ? null : contentHash(theirs), yours }] };
}
