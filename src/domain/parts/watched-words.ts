/**
 * The words of a collection's documents, made to tell when they are read (`words/reads.ts`): the text of paragraphs,
 * and in which line anything stands. All else of a record is read without being told.
 */
import type { Collection } from "../../schema/collection.ts";
import { beginTelling, tellRead, withoutTelling } from "../words/reads.ts";

type Fields = Record<string, unknown>;

/** What tells, and of which document it is. */
const watched = new WeakMap<object, string>();

function fieldsThatTell(record: Fields): readonly string[] {
  // A text of prose has a kind; words of an author for a quantity (`Range`) have none, and are read by proofs.
  if ("text" in record && (record["kind"] === "text" || record["kind"] === "code")) return ["text"];
  // Where something begins, and where it ends.
  return "line" in record && "column" in record ? ["line", "column"] : [];
}

/**
 * Makes the words of a collection tell from now on: before anybody has asked anything of it, since what is remembered
 * from before tells nothing. Changes its records, which say the same as before. The same for all of a process.
 */
export function watchWords(collection: Collection): Collection {
  beginTelling();
  eachWord(collection, (record, fields, document) => {
    if (watched.has(record)) return;
    watched.set(record, document);
    for (const field of fields) {
      const value = record[field];
      Object.defineProperty(record, field, {
        enumerable: true,
        configurable: true,
        get: () => {
          tellRead(document);
          return value;
        },
      });
    }
  });
  return collection;
}

/**
 * All that tells by the name of the document that is told, as a text: equal texts, equal words. A collection that was
 * not watched has none.
 */
export function watchedWords(collection: Collection): ReadonlyMap<string, string> {
  const found = new Map<string, unknown[]>();
  withoutTelling(() => {
    eachWord(collection, (record, fields) => {
      const document = watched.get(record);
      if (document === undefined) return;
      const list = found.get(document) ?? [];
      found.set(document, list);
      for (const field of fields) list.push(record[field]);
    });
  });
  return new Map([...found].map(([document, list]) => [document, JSON.stringify(list)]));
}

/** The fields of a record that tell, and of which document they are: none of one that was not watched. */
export function wordsOf(record: object): { readonly document: string; readonly fields: readonly string[] } | undefined {
  const document = watched.get(record);
  return document === undefined ? undefined : { document, fields: fieldsThatTell(record as Fields) };
}

/** Whether a value is a record: no object of a class. */
export function isPlain(record: object): boolean {
  const made = Object.getPrototypeOf(record) as unknown;
  return made === Object.prototype || made === null;
}

/** Each record once, in an order that rests on nothing but what the collection says without its words. */
function eachWord(
  { platforms }: Collection,
  take: (record: Fields, fields: readonly string[], document: string) => void,
): void {
  const met = new Set<object>();
  const look = (value: unknown, document: string): void => {
    if (value === null || typeof value !== "object" || met.has(value)) return;
    met.add(value);
    if (Array.isArray(value)) {
      for (const each of value) look(each, document);
      return;
    }
    // Nothing that stands in a document is a map or an object of a class.
    if (!isPlain(value)) return;
    const record = value as Fields,
      fields = fieldsThatTell(record);
    if (fields.length > 0) take(record, fields, document);
    for (const key of Object.keys(record)) if (!fields.includes(key)) look(record[key], document);
  };
  for (const { id, procedures, configurations, options } of platforms)
    for (const [kind, list] of Object.entries({ procedures, configurations, options }))
      for (const record of list) look(record, `${id}/${kind}/${record.id}`);
}
