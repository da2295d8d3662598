/** The files of a collection that a Word document becomes: a draft procedure, its photos and their words. */
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { stringify } from "yaml";
import { slugOf } from "../schema/wording.ts";
import { heard } from "../words/heard.ts";
import { draftOf, photoId, titleOf } from "./draft.ts";
import { photoOf } from "./photo.ts";
import { readWordDocument, type WordDocument } from "./read-document.ts";
import type { Parts } from "./zip-parts.ts";

/** A document that is read, what it is called, and the id that this gives (empty if it has no letter). */
interface ReadDocument {
  readonly parts: Parts;
  readonly document: WordDocument;
  readonly title: string;
  readonly id: string;
}

/** Where it goes: the collection's folder, the platform in it, and the id there. */
interface DraftPlace {
  readonly folder: string;
  readonly platform: string;
  readonly id: string;
  /** Its id, in capitals, if it has none. */
  readonly code?: string | undefined;
}

/** What comes of it. */
interface DraftFiles {
  /** The procedure last; paths are below the collection. */
  readonly files: readonly { readonly path: string; readonly text: string | Uint8Array }[];
  readonly procedure: string;
  readonly steps: number;
  readonly photos: number;
  /** What could not be placed, each in a sentence. */
  readonly left: readonly string[];
  /** What a person must still say. */
  readonly toSay: readonly string[];
}

/** The file is there already. */
export class AlreadyThere extends Error {
  override readonly name = "AlreadyThere";
  /** Its path below the collection. */
  readonly path: string;
  constructor(path: string) {
    super(`${path} is there already`);
    this.path = path;
  }
}

/** Reads a document out of its parts; `fileName` names one that names itself nowhere. Throws `CannotRun`. */
export async function readDraft(parts: Parts, fileName: string): Promise<ReadDocument> {
  const document = await readWordDocument(parts),
    title = titleOf(document) || fileName.replace(/\.[^.]*$/, "");
  return { parts, document, title, id: slugOf(title) };
}

/**
 * Makes the draft files. Throws `CannotRun` as `draftOf` does, `AlreadyThere` where a photo would take the name of
 * another file.
 */
export async function draftFiles(
  { parts, document, title }: ReadDocument,
  { folder, platform, id, code }: DraftPlace,
): Promise<DraftFiles> {
  const draft = draftOf(document, id, { title, code: code ?? id.toUpperCase() });
  const files: { path: string; text: string | Uint8Array }[] = [],
    left: string[] = [],
    made = new Set<number>(),
    there = await readdir(join(folder, platform, "photos")).catch(() => []);
  // One after the other: a document may hold a hundred, and each takes its pixels in memory.
  for (const [index, picture] of draft.pictures.entries()) {
    const name = photoId(id, index + 1),
      taken = there.find((each) => each.replace(/\.[^.]*$/, "") === name);
    if (taken !== undefined) throw new AlreadyThere(`${platform}/photos/${taken}`);
    const photo = await photoOf(await parts.read(picture.part), picture, index + 1);
    if (photo.left !== undefined) left.push(photo.left);
    if (!photo.jpeg) continue;
    made.add(index + 1);
    files.push({ path: `${platform}/photos/${name}.jpg`, text: photo.jpeg });
    const beside = { ...(picture.alt ? { alt: picture.alt } : {}), ...(photo.taken ? { taken: photo.taken } : {}) };
    if (Object.keys(beside).length)
      files.push({ path: `${platform}/photos/${name}.yaml`, text: stringify(beside, { lineWidth: 0 }) });
  }
  const procedure = `${platform}/${id}.mdx`;
  return {
    files: [...files, { path: procedure, text: draft.textWith((photo) => made.has(photo)) }],
    procedure,
    steps: draft.steps,
    photos: made.size,
    left: [...draft.left, ...left],
    toSay: [
      ...(code === undefined ? [heard("imported").code] : []),
      heard("imported").forWhom,
      heard("imported").whoDoesWhat,
      heard("imported").whatPhotosShow,
    ],
  };
}
