/**
 * The words of a collection's documents, made to tell when they are read (`words/reads.ts`): the text of paragraphs,
 * and in which line anything stands. All else of a record is read without being told.
 */
import type { Collection, Procedure } from "../../schema/collection.ts";
import { factsToldOf, tellFacts } from "../words/fact.ts";
import { beginTelling, tellRead, withoutTelling } from "../words/reads.ts";

type Fields = Record<string, unknown>;

interface Watched {
  readonly name: string;
  readonly fields: readonly string[];
}

/** What tells: by which name, and which of its fields. */
const watched = new WeakMap<object, Watched>();

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
  eachWord(collection, watch);
  eachDocument(collection, (record, document) => {
    watch(record, bodyOf(record), `${document}${BODY}`);
    if ("steps" in record) tellFacts(record, document);
  });
  return collection;
}

function watch(record: Fields, fields: readonly string[], name: string): void {
  if (watched.has(record)) return;
  watched.set(record, { name, fields });
  for (const field of fields) {
    const value = record[field];
    Object.defineProperty(record, field, {
      enumerable: true,
      configurable: true,
      get: () => {
        tellRead(name);
        return value;
      },
    });
  }
}

/** What of a document is told without its words, after its name. */
const BODY = "#body";
/** What lists say of a document, whatever is in it. */
const HEAD = new Set(["id", "platform", "file", "title", "code", "status", "revision", "effective", "where", "at"]);

const bodyOf = (record: Fields): readonly string[] => Object.keys(record).filter((field) => !HEAD.has(field));

/** The bodies of documents and their facts, by the names under which they are told: equal but for words that tell. */
export function watchedBodies(collection: Collection): ReadonlyMap<string, unknown> {
  const found = new Map<string, unknown>();
  withoutTelling(() => {
    eachDocument(collection, (record, document) => {
      const body = Object.fromEntries(bodyOf(record).map((field) => [field, record[field]]));
      found.set(`${document}${BODY}`, body);
      if ("steps" in record) for (const [name, value] of factsToldOf(record, document)) found.set(name, value);
    });
  });
  return found;
}

/**
 * All that tells by the name of the document that is told, as a text: equal texts, equal words. A collection that was
 * not watched has none.
 */
export function watchedWords(collection: Collection): ReadonlyMap<string, string> {
  const found = new Map<string, unknown[]>();
  withoutTelling(() => {
    eachWord(collection, (record, fields) => {
      const name = watched.get(record)?.name;
      if (name === undefined) return;
      const list = found.get(name) ?? [];
      found.set(name, list);
      for (const field of fields) list.push(record[field]);
    });
  });
  return new Map([...found].map(([document, list]) => [document, JSON.stringify(list)]));
}

/** The fields of a record that tell, and by which name: none of one that was not watched. */
export const tellingIn = (record: object): Watched | undefined => watched.get(record);

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
  const met = new Set<object>(),
    others = new Set<object>();
  const look = (value: unknown, document: string): void => {
    if (value === null || typeof value !== "object" || met.has(value) || others.has(value)) return;
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
  // Steps that a procedure includes are another one's words, whichever comes first.
  eachDocument({ platforms }, (record, document) => {
    for (const step of includedIn(record)) others.add(step);
    look(record, document);
    others.clear();
  });
  eachDocument({ platforms }, (record, document) => {
    for (const step of includedIn(record)) look(step, document);
  });
}

function includedIn({ id, steps }: Fields): readonly object[] {
  return Array.isArray(steps) ? (steps as Procedure["steps"]).filter(({ procedure }) => procedure !== id) : [];
}

/** Each document, by its name. */
function eachDocument(
  { platforms }: Pick<Collection, "platforms">,
  take: (record: Fields, name: string) => void,
): void {
  for (const { id, procedures, configurations, options } of platforms)
    for (const [kind, list] of Object.entries({ procedures, configurations, options }))
      for (const record of list) take(record as unknown as Fields, `${id}/${kind}/${record.id}`);
}
