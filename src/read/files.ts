/** Which files a collection has, and their text. Nothing outside the folder is read. */
import { readFileSync } from "node:fs";
import { lstat, readdir, realpath } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import type { Findings } from "../findings/finding.ts";
import { hashFile, readImageHeader } from "./image.ts";
import { Source } from "./source.ts";
import { isLeftBehind } from "./unread.ts";

/** Text files above this are refused. */
const MOST_BYTES = 2_000_000;

/** A folder's entries: names of files and of folders, sorted. */
export interface Listing {
  readonly files: readonly string[];
  readonly folders: readonly string[];
}

/** Reads files below one folder. */
export class Files {
  readonly root: string;
  readonly findings: Findings;

  constructor(root: string, findings: Findings) {
    this.root = root;
    this.findings = findings;
  }

  /**
   * What is in a folder (`""`: the collection itself); empty if it does not exist. Links that leave the collection are
   * reported and left out; hidden files and what editors leave behind are left out in silence.
   */
  async list(folder: string): Promise<Listing> {
    const files: string[] = [],
      folders: string[] = [];
    let entries;
    try {
      entries = await readdir(join(this.root, folder), { withFileTypes: true });
    } catch {
      return { files, folders };
    }
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      if (isLeftBehind(entry.name)) continue;
      if (entry.isSymbolicLink()) {
        const path = folder === "" ? entry.name : `${folder}/${entry.name}`;
        const target = await this.#target(path);
        if (target === "file") files.push(entry.name);
        else if (target === "folder") folders.push(entry.name);
      } else if (entry.isDirectory()) folders.push(entry.name);
      else if (entry.isFile()) files.push(entry.name);
    }
    return { files, folders };
  }

  async #target(path: string): Promise<"file" | "folder" | undefined> {
    try {
      const [root, real] = await Promise.all([realpath(this.root), realpath(join(this.root, path))]);
      const inside = relative(root, real);
      if (inside !== "" && !inside.startsWith("..") && !inside.startsWith(sep))
        return (await lstat(real)).isDirectory() ? "folder" : "file";
    } catch {
      /* A link to nothing is reported like one that leaves. */
    }
    this.findings.error(
      "text/bad-value",
      { file: path, line: 1, column: 1 },
      {
        message: `\`${path}\` is a link that leaves the collection or leads nowhere`,
        fix: "Put the file itself into the collection",
      },
    );
    return undefined;
  }

  /** What an image file says of itself, and its hash; `undefined` where it is none. */
  async header(path: string): ReturnType<typeof readImageHeader> {
    return readImageHeader(join(this.root, path));
  }

  async hash(path: string): ReturnType<typeof hashFile> {
    return hashFile(join(this.root, path));
  }

  /** A text file; without text, and with a finding, if it is too large, no text or can't be read. */
  read(path: string): Source {
    const where = { file: path, line: 1, column: 1 };
    const refuse = (rule: string, message: string, fix: string, at = where): Source => {
      this.findings.error(rule, at, { message, fix });
      return new Source(path, "", false);
    };
    let bytes: Buffer;
    try {
      // Read at once: for many small files, waiting for each costs more than reading it.
      bytes = readFileSync(join(this.root, path));
    } catch {
      return refuse("text/bad-value", `\`${path}\` can't be read`, "Check the file and who may read it");
    }
    if (bytes.length > MOST_BYTES)
      return refuse(
        "text/bad-value",
        `\`${path}\` is larger than 2 MB, expected a text of that size at most`,
        "Split it, or remove what does not belong there",
      );
    if (bytes.length > 1 && [0xfeff, 0xfffe].includes(bytes.readUInt16BE(0)))
      return refuse("text/syntax", "This file is UTF-16 text, expected UTF-8", "Save it again with the encoding UTF-8");
    const zero = bytes.indexOf(0);
    if (zero >= 0)
      return refuse(
        "text/syntax",
        "This file is no text: it holds a zero byte here",
        "Put the text back from a copy, or write it anew",
        new Source(path, bytes.toString("utf8", 0, zero)).where(Infinity),
      );
    try {
      return new Source(path, new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
    } catch {
      const source = new Source(path, bytes.toString("utf8"));
      this.findings.error("text/syntax", source.where(Math.max(0, source.text.indexOf("\ufffd"))), {
        message: `This file is not UTF-8 text; by its signs it is Latin-1 or Windows-1252${signIn(bytes)}`,
        fix: "Save it again with the encoding UTF-8",
      });
      return source;
    }
  }
}

/** The first word with a sign that is none in UTF-8, read as spreadsheets and editors used to save it. */
function signIn(bytes: Buffer): string {
  const at = Buffer.byteLength(bytes.toString("utf8").split("\ufffd", 1)[0]!);
  // In Windows-1252 each byte is a sign.
  const near = new TextDecoder("windows-1252").decode(bytes.subarray(Math.max(0, at - 30), at + 30));
  const middle = Math.min(at, 30);
  const word = /\S*$/.exec(near.slice(0, middle))![0] + /^\S*/.exec(near.slice(middle))![0];
  return /\p{L}/u.test(word) ? `, in which it reads \`${word}\` here` : "";
}
