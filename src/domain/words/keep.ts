/**
 * Results of long work, kept from one run to the next by all that they rest on. The domain knows no files: who runs it
 * puts up the shelf on which they are kept.
 */
import { onceInProcess } from "../../schema/once-in-process.ts";
import { spokenLanguage } from "../../schema/spoken.ts";
import { spokenNow } from "../../words/heard.ts";
import { withoutTelling } from "./reads.ts";
import { readGraph, setField, writeGraph } from "./graph.ts";

/** Where texts are kept. What is not there, or no longer whole, is `undefined`: it is worked out again. */
export interface ResultShelf {
  /** What was put there under this name for the same question, letter by letter. */
  readonly find: (name: string, question: string) => string | undefined;
  readonly put: (name: string, question: string, answer: string) => void;
}

const now = /* @__PURE__ */ onceInProcess<{ shelf?: ResultShelf | undefined }>("shelf", () => ({}));

/** Puts up the shelf for all work of this process; without one, nothing is kept. */
export function keepOn(shelf: ResultShelf | undefined): void {
  now.shelf = shelf;
}

/** Says of a field of a record that the work does not read it: the work is then given an empty one. */
export type Unread = (field: string, record: Readonly<Record<string, unknown>>) => boolean;

/**
 * The same function, whose results are kept. It must be pure. It is given a copy of its arguments in which places in
 * files are ordinal numbers and what is unread is empty: it can't rest on anything else than the copy, and the copy is
 * the whole question. In its result, objects of the copy are put back as those of the arguments (places with their
 * lines; what was unread as it is written), also in a result that was kept.
 *
 * A result may name what was unread only as the object that it is: not in words of its own. A result with a place of
 * its own making would have a line of the copy: it is worked out anew from the arguments each time, and not kept.
 */
export function kept<Arguments extends readonly object[], Result>(
  name: string,
  unread: Unread,
  work: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  return (...given) => {
    const { shelf } = now;
    if (!shelf) return work(...given);
    return viaShelf(shelf, name + spoken(), unread, work, given);
  };
}

/**
 * What was kept under a question that somebody asks in words of his own: it must hold all that the answer rests on
 * beside the code, the packages and what is spoken. `undefined` where nothing is.
 */
export function findKept(name: string, question: string): unknown {
  const answer = now.shelf?.find(name + spoken(), question);
  return answer === undefined ? undefined : (JSON.parse(answer) as unknown);
}

/** Keeps the answer to such a question: plain data, as JSON writes it. */
export function putKept(name: string, question: string, answer: unknown): void {
  now.shelf?.put(name + spoken(), question, JSON.stringify(answer));
}

/** Whether anything is kept. */
export const isKeeping = (): boolean => now.shelf !== undefined;

/**
 * Work says numbers, days and lists in the language that is spoken, and the service's nouns; those of English are one.
 */
function spoken(): string {
  const language = spokenLanguage();
  return (/^en(?!-X)\b/i.test(language) ? "" : ` in ${language}`) + (spokenNow()?.nouns ?? "");
}

function viaShelf<Arguments extends readonly object[], Result>(
  on: ResultShelf,
  name: string,
  unread: Unread,
  work: (...given: Arguments) => Result,
  given: Arguments,
): Result {
  const { copy, numbers, written } = bareCopy(given, unread);
  const question = writeGraph(copy),
    known = on.find(name, question);
  if (known !== undefined) return readGraph(known, written) as Result;
  let answer;
  try {
    answer = writeGraph(work(...copy), numbers, isPlace);
  } catch (error) {
    // What can't be written can't be kept.
    if (error instanceof TypeError) return work(...given);
    throw error;
  }
  on.put(name, question, answer);
  return readGraph(answer, written) as Result;
}

/** A copy of what is asked, the number of each object in it, and the object by that number in what was given. */
interface Bare<Given> {
  readonly copy: Given;
  readonly numbers: ReadonlyMap<object, number>;
  readonly written: readonly object[];
}

function bareCopy<Given extends readonly object[]>(given: Given, unread: Unread): Bare<Given> {
  const copies = new Map<object, object>(),
    written: object[] = [],
    places = new Map<string, number>();
  const begin = <T extends object>(original: object, copy: T): T => {
    copies.set(original, copy);
    written.push(original);
    return copy;
  };
  const copyOf = (value: unknown): unknown => {
    if (value === null || typeof value !== "object") return value;
    const known = copies.get(value);
    if (known) return known;
    if (Array.isArray(value)) {
      const list = begin<unknown[]>(value, []);
      for (const entry of value) list.push(copyOf(entry));
      return list;
    }
    if (value instanceof Map) {
      const map = begin(value, new Map<unknown, unknown>());
      for (const [key, entry] of value) map.set(copyOf(key), copyOf(entry));
      return map;
    }
    const record = value as Readonly<Record<string, unknown>>;
    if (isPlace(record)) {
      // Equal places stay equal: which line it is the work is not told.
      const key = withoutTelling(() => JSON.stringify(record)),
        line = places.get(key) ?? places.size + 1;
      places.set(key, line);
      return begin(value, { file: record["file"], line, column: 1 });
    }
    const fields = begin<Record<string, unknown>>(value, {});
    for (const key of Object.keys(record))
      setField(fields, key, unread(key, record) ? withoutTelling(() => blank(record[key])) : copyOf(record[key]));
    return fields;
  };
  const blank = (value: unknown): unknown => {
    if (typeof value === "string") return "";
    if (typeof value === "number") return 0;
    if (value === null || typeof value !== "object") return value;
    return copies.get(value) ?? begin(value, Array.isArray(value) ? [] : {});
  };
  const copy = copyOf(given) as Given;
  return {
    copy,
    numbers: new Map([...copies.values()].map((each, number) => [each, number])),
    written,
  };
}

/** Whether a record is a place in a file (`Where`). */
function isPlace(record: Readonly<Record<string, unknown>>): boolean {
  return (
    typeof record["file"] === "string" && "column" in record && withoutTelling(() => typeof record["line"] === "number")
  );
}
