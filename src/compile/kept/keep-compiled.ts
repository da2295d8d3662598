/** Compiled files, kept by all that they rest on: a file that is as it was is not parsed again. */
import { deserialize, serialize } from "node:v8";
import { type Finding, Findings } from "../../findings/finding.ts";
import type { Source } from "../../read/source.ts";
import type { Compiled, Context } from "../document.ts";

/** Where compiled files are kept; what is not there, or was made from something else, is `undefined`. */
export interface CompiledShelf {
  /** What was put there under this name for the same question, letter by letter. */
  readonly find: (name: string, question: readonly string[]) => Uint8Array | undefined;
  readonly put: (name: string, question: readonly string[], answer: Uint8Array) => void;
  /** Says of what was put there under this name that it is still asked for. */
  readonly hold: (name: string) => void;
  /** What a folder of the collection came to as a whole, as it was put there under this name last. */
  readonly findWhole: (name: string) => Uint8Array | undefined;
  readonly putWhole: (name: string, answer: Uint8Array) => void;
  /** Whether something was put there so, whatever has become of it. */
  readonly holdsWhole: (name: string) => boolean;
  /** Says that a collection has been read. */
  readonly done: () => void;
}

/** A compiled file with what was found in it, as it is kept. */
interface Whole<T> {
  readonly compiled: Compiled<T>;
  readonly found: readonly Finding[];
}

/**
 * What a file is compiled with, as a text: equal texts, equal results for equal files. Whether an import is there is
 * not in it, so that background pages are not kept.
 */
export function sayContext({ platform, names, components }: Context): string {
  const plain = (_key: string, value: unknown) =>
    value instanceof Set || value instanceof Map ? [...(value as Iterable<unknown>)] : value;
  return JSON.stringify([platform, names, components], plain);
}

/**
 * What `work` makes of a file, or made of the same text with the same context (`sayContext`) under the same `kind`.
 * Each time it is a fresh copy: nobody's object is in two collections. What was found goes to `findings` either way. In
 * a copy, records of attributes and places have a prototype, which they lack otherwise: ask for what they own.
 */
export function viaCompiled<T>(
  shelf: CompiledShelf | undefined,
  kind: string,
  source: Source,
  context: string,
  findings: Findings,
  work: (findings: Findings) => Compiled<T>,
): Compiled<T> {
  if (!shelf || !source.isText) return work(findings);
  const question = [kind, context, source.written];
  let bytes = shelf.find(source.file, question);
  if (!bytes) {
    const own = new Findings();
    bytes = serialize({ compiled: work(own), found: own.list } satisfies Whole<T>);
    shelf.put(source.file, question, bytes);
  }
  // Read back also where it was compiled just now: what rests on it asks the same of both, letter by letter.
  const whole = deserialize(bytes) as Whole<T>;
  for (const finding of whole.found) findings.keep(finding);
  return whole.compiled;
}
