/** What there is already, taken in at the desk: a word processor's document as a draft, a table as equipment. */
import { z } from "zod";
import { CannotRun } from "../../findings/cannot-run.ts";
import { AlreadyThere, draftFiles, readDraft } from "../../import/draft-files.ts";
import { IS_TABLE, moreEquipment } from "../../import/more-equipment.ts";
import { partsOf } from "../../import/zip-parts.ts";
import type { Platform } from "../../schema/collection.ts";
import { ID } from "../../schema/leaves.ts";
import type { Words } from "../../words/hear.ts";
import { fileText } from "../disk/file-text.ts";
import { sentLine } from "../handler.ts";
import { contentHash } from "../disk/keep-states.ts";
import type { ChangeOutcome } from "../outcome.ts";
import { parted } from "./parted.ts";
import type { CollectionReader } from "../reader.ts";
import { Refusal } from "../disk/refusal.ts";
import { wordsIn } from "../say-in.ts";
import { type FileToSave, saveFiles } from "../disk/save.ts";
import { tellSaved } from "./tell-saved.ts";

const taking = z.strictObject({
  platform: sentLine,
  /** What the file is called where it comes from; empty for a table that was pasted. */
  fileName: z.string().max(200),
  /** The place where items are kept whose row names none. */
  home: z.string().max(200),
});

/** What came of one file: for the screen that says so, until the desk is closed. */
export interface TakenIn {
  readonly platform: string;
  /** The screen on which one goes on. */
  readonly address: string;
  /** What the file was called; empty if it was pasted. */
  readonly fileName: string;
  readonly steps?: number;
  readonly photos?: number;
  readonly items?: number;
  /** What could not be placed, or not as in the file. */
  readonly left: readonly string[];
  /** What a person must still say before it can be reviewed. */
  readonly toSay: readonly string[];
}

/** The address to which a document or a table is sent. */
const ADDRESS = "take-in";

/** Saves what was sent to its address; `undefined` for any other one. Nothing is written unless all can be. */
export async function takeIn(
  reader: CollectionReader,
  address: string,
  sent: Buffer,
): Promise<ChangeOutcome | undefined> {
  if (address !== ADDRESS) return undefined;
  const { deskSaid: say } = await wordsIn(reader);
  try {
    const { head, bytes } = parted(sent, taking);
    const platform = (await reader.now()).files.platforms.find(({ id }) => id === head.platform);
    if (!platform) return { refused: say.platformGone };
    if (bytes.length === 0) return { refused: say.nothingChosen };
    const made =
      head.fileName === "" || IS_TABLE.test(head.fileName)
        ? await equipment(reader, platform, bytes, head, say)
        : await draft(reader, platform.id, bytes, head.fileName, say);
    const result = saveFiles(reader.folder, made.files);
    if ("changed" in result) return { refused: made.ifChanged };
    if ("refused" in result) return result;
    reader.takenIn.push(made.said);
    return await tellSaved(reader, made.file, result, `taken-in/${reader.takenIn.length}/`);
  } catch (error) {
    if (error instanceof Refusal || error instanceof CannotRun) return { refused: error.message };
    if (error instanceof AlreadyThere) return { refused: say.titleTaken };
    throw error;
  }
}

type Say = Words["deskSaid"];

/** What is to be saved, the file that it is about, and what is said of it. */
interface Made {
  readonly files: readonly FileToSave[];
  readonly file: string;
  readonly said: TakenIn;
  /** What a file means that is not as it was read. */
  readonly ifChanged: string;
}

async function draft(
  reader: CollectionReader,
  platform: string,
  bytes: Buffer,
  fileName: string,
  say: Say,
): Promise<Made> {
  const read = await readDraft(await partsOf(bytes, fileName), fileName),
    { id } = read;
  if (!ID.test(id)) throw new Refusal(say.noLetter);
  const { files, procedure, steps, photos, left, toSay } = await draftFiles(read, {
    folder: reader.folder,
    platform,
    id,
  });
  return {
    files: files.map((each) => ({ ...each, basedOn: null })),
    file: procedure,
    said: { platform, address: `procedures/${platform}/${id}/`, fileName, steps, photos, left, toSay },
    ifChanged: say.titleTaken,
  };
}

async function equipment(
  reader: CollectionReader,
  platform: Platform,
  bytes: Buffer,
  { fileName, home }: z.infer<typeof taking>,
  say: Say,
): Promise<Made> {
  const file = `${platform.id}/equipment.yaml`,
    before = await fileText(reader, file);
  const { text, count, left } = moreEquipment(bytes, before ?? "", { platform, home: home || undefined, shown: file });
  return {
    files: [{ path: file, basedOn: before === undefined ? null : contentHash(before), text }],
    file,
    said: { platform: platform.id, address: `form/${file}`, fileName, items: count, left, toSay: [] },
    ifChanged: say.raced,
  };
}
