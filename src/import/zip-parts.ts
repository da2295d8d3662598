/** The parts of a zipped document, by name, within bounds: nothing is unpacked that could fill memory or disk. */
import { readFile, stat } from "node:fs/promises";
import { basename } from "node:path";
import { buffer } from "node:stream/consumers";
import { crc32 } from "node:zlib";
import yauzl from "yauzl";
import { CannotRun } from "../findings/cannot-run.ts";
import { heard } from "../words/heard.ts";

/** What a document may hold. A hundred pages with a photo from a camera on each stay far below. */
const IMPORT_BOUNDS = {
  fileBytes: 200_000_000,
  entries: 5_000,
  unpackedBytes: 500_000_000,
  textBytes: 20_000_000,
};

const megabytes = (bytes: number): string => `${bytes / 1_000_000} MB`;

/** Reads a part's bytes; `undefined` if there is none of that name. Names are compared without case (OPC). */
type ReadPart = (name: string) => Promise<Buffer | undefined>;

/** What of a document can be read. */
export interface Parts {
  readonly names: readonly string[];
  readonly read: ReadPart;
}

/** What begins with this is a compound file: a password's, or the format of Word before 2007 ([MS-CFB] 2.2). */
const COMPOUND = Buffer.from([0xd0, 0xcf, 0x11, 0xe0]);

/** The names of a spreadsheet's own files. */
const IS_SHEET = /\.(?:xls[xmb]?|ods|numbers)$/i;

/** The parts of a document in a file: `partsOf`; throws `CannotRun` too where a folder is named. */
export async function openParts(path: string): Promise<Parts> {
  const found = await stat(path);
  if (found.isDirectory()) throw new CannotRun(`\`${basename(path)}\` is a folder; name a Word document (.docx).`);
  if (found.size > IMPORT_BOUNDS.fileBytes) throw tooLarge(`\`${basename(path)}\``);
  return partsOf(await readFile(path), basename(path));
}

const tooLarge = (shown: string): CannotRun =>
  new CannotRun(
    `${shown} is larger than ${megabytes(IMPORT_BOUNDS.fileBytes)}. Split it, or make its pictures smaller ` +
      "(in Word: Compress pictures). Nothing was written.",
  );

/**
 * Lists the parts of a document (a zip file, ECMA-376 Part 2) that is called `name`. Throws `CannotRun` if it is too
 * large, no zip file, broken, or holds more than the bounds; a part that breaks off, when it is read.
 */
export async function partsOf(bytes: Buffer, name: string): Promise<Parts> {
  const shown = `\`${name}\``;
  if (IS_SHEET.test(name)) throw new CannotRun(heard("tableTaken").isSheet({ name }));
  if (bytes.length > IMPORT_BOUNDS.fileBytes) throw tooLarge(shown);
  if (bytes.subarray(0, 4).equals(COMPOUND))
    throw new CannotRun(
      `${shown} is locked with a password, or is an old .doc. Open it in your word processor and save it as .docx ` +
        "without a password. Nothing was written.",
    );
  if (bytes.toString("latin1", 0, 2) !== "PK")
    throw new CannotRun(
      `${shown} is no Word document (.docx). Open it in your word processor and save it as .docx. Nothing was written.`,
    );
  try {
    return await listParts(bytes, shown);
  } catch (error) {
    throw asBroken(error, shown);
  }
}

function asBroken(error: unknown, shown: string): CannotRun {
  return error instanceof CannotRun
    ? error
    : new CannotRun(
        `${shown} breaks off or is damaged. Open it in your word processor, save it again as .docx, or take it from ` +
          "a copy. Nothing was written.",
      );
}

async function listParts(bytes: Buffer, shown: string): Promise<Parts> {
  const zip = await yauzl.fromBufferPromise(bytes, { lazyEntries: true });
  const refuse = (what: string): never => {
    throw new CannotRun(`${shown} holds ${what}: no document is like that, and it is not read. Nothing was written.`);
  };
  const entries = new Map<string, yauzl.Entry>();
  let unpacked = 0;
  if (zip.entryCount > IMPORT_BOUNDS.entries)
    refuse(`more than ${IMPORT_BOUNDS.entries.toLocaleString("en-GB")} files`);
  for await (const entry of zip.eachEntry()) {
    unpacked += entry.uncompressedSize;
    if (unpacked > IMPORT_BOUNDS.unpackedBytes)
      refuse(`more than ${megabytes(IMPORT_BOUNDS.unpackedBytes)} when it is unpacked`);
    if (!entry.fileName.endsWith("/")) entries.set(entry.fileName.toLowerCase(), entry);
  }
  const read: ReadPart = async (name) => {
    const entry = entries.get(name.toLowerCase());
    if (!entry) return undefined;
    if (/\.(?:xml|rels)$/i.test(name) && entry.uncompressedSize > IMPORT_BOUNDS.textBytes)
      return refuse(`a text of more than ${megabytes(IMPORT_BOUNDS.textBytes)}`);
    try {
      // The reader itself stops where there is more, or less, than the zip file says.
      const part = await buffer(await zip.openReadStreamPromise(entry));
      if (crc32(part) !== entry.crc32) throw new Error("checksum");
      return part;
    } catch (error) {
      throw asBroken(error, shown);
    }
  };
  return { names: [...entries.values()].map(({ fileName }) => fileName), read };
}
