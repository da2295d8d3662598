/**
 * What the author's guide and the editors' schemas say of a field, kept beside its shape: a sort for every kind of
 * single value, and words for every field.
 */
import { z } from "zod";

/** A part of a JSON Schema (2020-12), as editors read it. */
export type JsonSchema = { readonly [key: string]: unknown };

/** What has a name by which files speak of it. */
export type Named =
  | "item"
  | "place"
  | "fastening"
  | "state"
  | "configuration"
  | "option"
  | "procedure"
  | "role"
  | "incident"
  | "step"
  | "photo"
  | "rule";

/** How somebody enters a value in a form. */
type Entered =
  | "text"
  | "date"
  | "weight"
  | "age"
  | "flag"
  | "figure"
  | "pieces"
  | { readonly units: readonly string[] }
  | { readonly words: readonly string[] };

/** What kind of single value stands in a field. */
export interface Sort {
  /** In plain words, with its article: `a date`. */
  readonly name: string;
  /** How it is written, in a sentence. */
  readonly how?: string;
  /** A value as it is written in the file; `""` for none. */
  readonly good: string;
  readonly bad: string;
  /** What an editor is told; it refuses nothing that is read. */
  readonly json: JsonSchema;
  /** In a form: where nothing is said a line of text, with how it is written. */
  readonly entered?: Entered;
  /** What it names that is declared elsewhere; several names are parted by spaces, or as a card's are. */
  readonly names?: readonly Named[];
  /** What it is the declared name of. */
  readonly declares?: Named;
}

/** What is said of one field. */
interface FieldWords {
  readonly says: string;
  /** What holds where it is left out. */
  readonly without?: string;
  /** Where it may be left out by its shape, and yet must be there: a part of a sentence after `must be there`. */
  readonly needed?: string;
  /** Values as they are written in the file; those of the sort, where nothing else is said. */
  readonly good?: string;
  readonly bad?: string;
}

const sorts = z.registry<Sort>();
const words = z.registry<FieldWords>();

/** A kind of single value with what is said of it. */
export function sorted<T extends z.ZodType>(type: T, sort: Sort): T {
  const own = type.clone();
  sorts.add(own, sort);
  return own;
}

/** The same kind of value where it names what is declared elsewhere. */
export function naming<T extends z.ZodType>(type: T, ...names: readonly Named[]): T {
  return sorted(type, { ...sortOf(type)!, names });
}

/** The same kind of value where it is the name by which others speak of it. */
export function declaring<T extends z.ZodType>(type: T, declares: Named): T {
  return sorted(type, { ...sortOf(type)!, declares });
}

/** A field with what is said of it; a shape of its own, so that one kind of value can stand in many fields. */
export function field<T extends z.ZodType>(type: T, says: string, more: Omit<FieldWords, "says"> = {}): T {
  const own = type.clone();
  words.add(own, { says, ...more });
  return own;
}

/** What a field holds, whether or not it may be left out. */
export function insideOf(type: z.ZodType): z.ZodType {
  return type instanceof z.ZodOptional ? insideOf(type.unwrap() as z.ZodType) : type;
}

/** The kind of a single value; nothing for a list, for fields and for entries. */
export function sortOf(type: z.ZodType): Sort | undefined {
  return sorts.get(insideOf(type));
}

/** What is said of a field; nothing of a shape that stands in no field. */
export function wordsOfField(type: z.ZodType): FieldWords | undefined {
  return words.get(type);
}
