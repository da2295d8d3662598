/**
 * A platform's folder that says the same as when it was read last is not compiled anew, in a process that reads a
 * collection again: all that was asked of its files is asked again, and the answers are compared.
 */
import { type Finding, Findings } from "../findings/finding.ts";
import { Files, type Listing } from "../read/files.ts";
import type { Source } from "../read/source.ts";
import type { CompiledShelf } from "./keep-compiled.ts";

/** What is asked beside the files, by what it is about. */
type Others = Readonly<Record<string, (...about: readonly string[]) => unknown>>;

interface Question {
  readonly ask: string;
  readonly about: readonly string[];
  readonly answer: string;
}

/** A folder as it was read last. */
interface Before {
  /** What it was read with. */
  readonly said: string;
  readonly asked: readonly Question[];
  readonly result: unknown;
  readonly found: readonly Finding[];
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
    return this.#keep("list", [folder], await super.list(folder));
  }

  override async header(path: string): ReturnType<Files["header"]> {
    return this.#keep("header", [path], await super.header(path));
  }

  override async hash(path: string): ReturnType<Files["hash"]> {
    return this.#keep("hash", [path], await super.hash(path));
  }

  override read(path: string): Source {
    const source = super.read(path);
    this.#keep("read", [path], textOf(source));
    return source;
  }

  /** Asks one of the others. */
  other<Answer>(ask: string, ...about: readonly string[]): Answer {
    return this.#keep(ask, about, this.#others[ask]!(...about)) as Answer;
  }

  /** Whether everything is answered as it was. */
  async isAnswered(asked: readonly Question[]): Promise<boolean> {
    for (const { ask, about, answer } of asked) {
      const path = about[0]!;
      const now =
        ask === "read"
          ? textOf(super.read(path))
          : ask === "list"
            ? await super.list(path)
            : ask === "header"
              ? await super.header(path)
              : ask === "hash"
                ? await super.hash(path)
                : this.#others[ask]!(...about);
      if (sayAnswer(now) !== answer) return false;
    }
    return true;
  }

  #keep<Answer>(ask: string, about: readonly string[], answer: Answer): Answer {
    this.asked.push({ ask, about, answer: sayAnswer(answer) });
    return answer;
  }
}

const textOf = ({ written, isText }: Source): string => (isText ? written : `\0${written}`);
const sayAnswer = (answer: unknown): string => (typeof answer === "string" ? answer : (JSON.stringify(answer) ?? ""));

/**
 * What `work` makes of the files that it is given, or made of the same answers with the same `said` before; what it
 * finds goes to `findings` either way. The result is the very one of before: nobody may change it.
 */
export async function readAgain<Result>(
  shelf: CompiledShelf | undefined,
  {
    name,
    said,
    root,
    others,
  }: { readonly name: string; readonly said: string; readonly root: string; readonly others: Others },
  findings: Findings,
  work: (files: AskedFiles) => Promise<Result>,
): Promise<Result> {
  const known = (shelf && before.get(shelf)) ?? new Map<string, Before>(),
    last = known.get(name);
  if (shelf) before.set(shelf, known);
  if (last?.said === said && (await new AskedFiles(root, new Findings(), others).isAnswered(last.asked))) {
    for (const { ask, about } of last.asked) if (ask === "read") shelf?.hold(about[0]!);
    for (const finding of last.found) findings.keep(finding);
    return last.result as Result;
  }
  const own = new Findings(),
    files = new AskedFiles(root, own, others),
    result = await work(files);
  known.set(name, { said, asked: files.asked, result, found: own.list });
  for (const finding of own.list) findings.keep(finding);
  return result;
}
