/** Every field of a shape with what is said of it, outermost first, each at its path. */
import { z } from "zod";
import { insideOf, sortOf, wordsOfField } from "./described.ts";
import type { Sort } from "./described.ts";
import { sayList } from "./wording.ts";

/** From the outermost field to the one that is meant; `ENTRY` is any id of a map, `EACH` any entry of a list. */
export type FormatPath = readonly string[];
/** In a path: whichever id. */
export const ENTRY = "…";
/** In a path: whichever entry of a list. */
export const EACH = "[ ]";

/** One field as the guide shows it. */
export interface FormatField {
  readonly path: FormatPath;
  readonly name: string;
  readonly says: string;
  /** What stands in it, in plain words. */
  readonly sort: string;
  readonly how?: string;
  /** Whether it must be there. */
  readonly must: string;
  /** What holds where it is left out; absent where it must be there. */
  readonly without?: string;
  readonly good: string;
  readonly bad: string;
}

/** All fields of a shape. Throws where one has no words, or no example. */
export function fieldsOf(shape: z.ZodType, path: FormatPath = []): FormatField[] {
  const inside = insideOf(shape);
  if (inside instanceof z.ZodRecord) return fieldsOf(inside.valueType as z.ZodType, [...path, ENTRY]);
  if (inside instanceof z.ZodArray) return fieldsOf(inside.element as z.ZodType, [...path, EACH]);
  if (!(inside instanceof z.ZodObject)) return [];
  return Object.entries(inside.shape as Record<string, z.ZodType>).flatMap(([name, type]) => [
    describe(name, type, [...path, name]),
    ...fieldsOf(type, [...path, name]),
  ]);
}

function describe(name: string, type: z.ZodType, path: FormatPath): FormatField {
  const words = wordsOfField(type),
    sort = sortOf(type);
  if (!words) throw new TypeError(`Nothing is said of the field ${path.join(" ")}`);
  const { says, without, needed } = words,
    good = words.good ?? sort?.good,
    bad = words.bad ?? sort?.bad;
  if (good === undefined || bad === undefined) throw new TypeError(`The field ${path.join(" ")} has no example`);
  const isOptional = type instanceof z.ZodOptional;
  return {
    path,
    name,
    says,
    sort: saySort(type),
    ...(sort?.how !== undefined ? { how: sort.how } : {}),
    must: isOptional ? (needed ? `must be there ${needed}` : "may be left out") : "must be there",
    ...(isOptional && without !== undefined ? { without } : {}),
    good,
    bad,
  };
}

/** What stands in a field, in plain words: `a list of dates` is said as `a list; each is a date`. */
function saySort(type: z.ZodType): string {
  const inside = insideOf(type),
    sort: Sort | undefined = sortOf(type);
  if (sort) return sort.name;
  if (inside instanceof z.ZodArray) return `a list; each is ${saySort(inside.element as z.ZodType)}`;
  if (inside instanceof z.ZodRecord) {
    const key = saySort(inside.keyType as unknown as z.ZodType);
    return `entries; each is ${key}, and for it ${saySort(inside.valueType as z.ZodType)}`;
  }
  if (inside instanceof z.ZodObject)
    return `fields in braces: ${sayList(
      Object.keys(inside.shape).map((name) => `\`${name}\``),
      "and",
    )}`;
  throw new TypeError("A kind of value that nothing is said of");
}
