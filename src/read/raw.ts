/**
 * What an author wrote before anybody asks what it means: texts, lists and maps with their places, from YAML or from a
 * directive's attributes.
 */
import type { Where } from "../schema/collection.ts";
import type { Source } from "./source.ts";

/** A text. `offset` is where its first character stands; if `exact`, the text stands there character by character. */
interface RawText {
  readonly kind: "text";
  readonly text: string;
  readonly offset: number;
  readonly exact: boolean;
  /** Left empty (`title:`). */
  readonly empty: boolean;
  /** An attribute without a value (`critical`). */
  readonly bare?: boolean;
}

interface RawList {
  readonly kind: "list";
  readonly items: readonly Raw[];
  readonly offset: number;
}

/** A key with its value; offsets count characters of the file from 0. */
export interface RawEntry {
  readonly key: string;
  readonly keyOffset: number;
  readonly value: Raw;
}

/** Keys in the order of the file; empty for `{}`. */
export interface RawMap {
  readonly kind: "map";
  readonly entries: readonly RawEntry[];
  readonly offset: number;
}

/** A value as it stands in a file, before anything is made of it. */
export type Raw = RawText | RawList | RawMap;

/** Place of a character of a text; of its beginning if the text is not in the file character by character. */
export function placeIn(source: Source, raw: RawText, index = 0): Where {
  if (!raw.exact) return source.where(raw.offset);
  return source.words(raw.offset + index, raw.offset + (index === 0 ? raw.text.length : wordEnd(raw.text, index)));
}

/** Where the word ends in which an index lies. */
function wordEnd(text: string, index: number): number {
  return index + (/^\S*/.exec(text.slice(index))?.[0].length ?? 0);
}

/** The name of a field. */
export function placeOfKey(source: Source, { key, keyOffset }: Pick<RawEntry, "key" | "keyOffset">): Where {
  const written = source.written.startsWith(key, keyOffset) ? key.length : 0;
  return source.words(keyOffset, keyOffset + written);
}

/** The words of a text, with their places. */
export function placedWords(source: Source, raw: RawText): { id: string; where: Where }[] {
  return [...raw.text.matchAll(/\S+/g)].map((word) => ({
    id: word[0],
    where: raw.exact
      ? source.words(raw.offset + word.index, raw.offset + word.index + word[0].length)
      : placeIn(source, raw, word.index),
  }));
}
