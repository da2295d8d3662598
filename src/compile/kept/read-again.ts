/**
 * A platform's folder that says the same as when it was read last is not compiled anew, neither by a process that reads
 * a collection again nor by the next one: all that was asked of its files is asked again, and the answers are compared.
 */
import { createHash } from "node:crypto";
import { deserialize, serialize } from "node:v8";
import { type Finding, Findings } from "../../findings/finding.ts";
import { Files, type Listing } from "../../read/files.ts";
import type { Source } from "../../read/source.ts";
import type { CompiledShelf } from "./keep-compiled.ts";

/** What is asked beside the files, by what it is about. */
type Others = Readonly<Record<string, (...about: readonly string[]) => unknown>>;

interface Question {
  readonly ask: string;
  readonly about: readonly string[];
  /** A hash of the answer, and of what was found wrong while it was given. */
  readonly answer: string;
}

/** All that a folder was read from. */
interface Asked {
  /** What it was read with. */
  readonly said: string;
  readonly asked: readonly Question[];
}

/** A folder as it was read last. */
interface Before extends Asked {
  /** What it was read with that only this process knows. */
  readonly here: string;
  readonly result: unknown;
  readonly found: readonly Finding[];
}

/** How what a folder came to is written, and read again. */
export interface Packing<Result> {
  /** Throws for what can't be written. */
  readonly pack: (result: Result) => Uint8Array;
  /** `key` stands for all that the result rests on: equal keys, equal results. */
  readonly unpack: (packed: Uint8Array, key: string) => Result;
  readonly name: (result: Result, key: string) => void;
}

const before = new WeakMap<CompiledShelf, Map<string, Before>>();

/** Files that keep what was asked of them. */
export class AskedFiles extends Files {
  readonly asked: Question[] = [];
  readonly #others: Others;

  constructor(root: string, findings: Findings, others: Others) {
    super(root, findings);
    this.#others = others;
  }

  override async list(folder: string): Promise<Listing> {
    const already = this.findings.list.length;
    return this.#keep("list", [folder], await super.list(folder), already);
  }

  override async header(path: string): ReturnType<Files["header"]> {
    return this.#keep("header", [path], await super.header(path));
  }

  override async hash(path: string): ReturnType<Files["hash"]> {
    return this.#keep("hash", [path], await super.hash(path));
  }

  override read(path: string): Source {
    const already = this.findings.list.length,
      source = super.read(path);
    this.#keep("read", [path], textOf(source), already);
    return source;
  }

  /** Asks one of the others. */
  other<Answer>(ask: string, ...about: readonly string[]): Answer {
    return this.#keep(ask, about, this.#others[ask]!(...about)) as Answer;
  }

  /** Whether everything is answered as it was; asked of files of which nothing was asked yet. */
  async isAnswered(asked: readonly Question[]): Promise<boolean> {
    for (const [at, { ask, about, answer }] of asked.entries()) {
      const path = about[0]!;
      if (ask === "read") this.read(path);
      else if (ask === "list") await this.list(path);
      else if (ask === "header") await this.header(path);
      else if (ask === "hash") await this.hash(path);
      else if (Object.hasOwn(this.#others, ask)) this.other(ask, ...about);
      if (this.asked[at]?.answer !== answer) return false;
    }
    return true;
  }

  /** `already`: how many findings there were before it was asked, where asking may find something. */
  #keep<Answer>(ask: string, about: readonly string[], answer: Answer, already = Infinity): Answer {
    const said = typeof answer === "string" ? answer : (JSON.stringify(answer) ?? ""),
      found = this.findings.list.slice(already);
    this.asked.push({ ask, about, answer: hashOf(found.length ? `${JSON.stringify(found)}\0${said}` : said) });
    return answer;
  }
}

const textOf = ({ written, isText }: Source): string => (isText ? written : `\0${written}`);
const hashOf = (text: string): string => createHash("sha256").update(text).digest("base64");

/** What a folder is read with, and how what it comes to is kept. */
interface Reading<Result> {
  /** The folder's name. */
  readonly name: string;
  /** All that the result rests on beside the answers. */
  readonly said: string;
  /** As far as only this process knows it. */
  readonly here: string;
  readonly root: string;
  readonly others: Others;
  readonly packing: Packing<Result>;
}

/**
 * What `work` makes of the files that it is given, or made of the same answers with the same `said` before; what it
 * finds goes to `findings` either way. Within a process the result is the very one of before: nobody may change it.
 */
export async function readAgain<Result>(
  shelf: CompiledShelf | undefined,
  reading: Reading<Result>,
  findings: Findings,
  work: (files: AskedFiles) => Promise<Result>,
): Promise<Result> {
  const { name, said, here, root, others, packing } = reading;
  const known = (shelf && before.get(shelf)) ?? new Map<string, Before>();
  if (shelf) before.set(shelf, known);
  const last = known.get(name);
  for (const candidate of [last?.here === here ? last : undefined, last ? undefined : whatIsKept(shelf, reading)]) {
    if (candidate?.said !== said) continue;
    if (!(await new AskedFiles(root, new Findings(), others).isAnswered(candidate.asked))) continue;
    const { asked, found } = candidate,
      result = candidate.result as Result;
    for (const { ask, about } of asked) if (ask === "read") shelf?.hold(about[0]!);
    known.set(name, { said, here, asked, found, result });
    for (const finding of found) findings.keep(finding);
    return result;
  }
  const own = new Findings(),
    files = new AskedFiles(root, own, others),
    result = await work(files);
  known.set(name, { said, here, asked: files.asked, result, found: own.list });
  packing.name(result, keyOf({ said, asked: files.asked }));
  if (shelf) keepWhole(shelf, reading, { said, here, asked: files.asked, result, found: own.list });
  for (const finding of own.list) findings.keep(finding);
  return result;
}

/** Pictures are asked at once and answer in any order: what is asked, and not when it was answered, makes the key. */
const keyOf = ({ said, asked }: Asked): string =>
  hashOf(JSON.stringify([said, asked.map(({ ask, about, answer }) => JSON.stringify([ask, about, answer])).sort()]));

/** A folder as the last process that read it left it on the shelf. */
interface Kept extends Asked {
  readonly found: readonly Finding[];
  readonly packed: Uint8Array;
}

function whatIsKept<Result>(
  shelf: CompiledShelf | undefined,
  { name, said, here, packing }: Reading<Result>,
): Before | undefined {
  const bytes = shelf?.findWhole(name);
  if (!bytes) return undefined;
  const { packed, ...kept } = deserialize(bytes) as Kept;
  return kept.said === said ? { ...kept, here, result: packing.unpack(packed, keyOf(kept)) } : undefined;
}

function keepWhole<Result>(
  shelf: CompiledShelf,
  { name, said, packing }: Reading<Result>,
  { asked, found, result }: Before,
): void {
  let packed;
  try {
    packed = packing.pack(result as Result);
  } catch {
    // What can't be written is read anew by each process.
    return;
  }
  shelf.putWhole(name, serialize({ said, asked, found, packed } satisfies Kept));
}
