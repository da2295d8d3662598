/**
 * What an author wrote before anybody asks what it means: texts, lists and maps with their places, from YAML or from a
 * directive's attributes.
 */
import type { Where } from "../schema/collection.ts";
import type { Source } from "./source.ts";

/** A text. `offset` is where its first character stands; if `exact`, the text stands there character by character. */
export interface RawText {
  readonly kind: "text";
  readonly text: string;
  readonly offset: number;
  readonly exact: boolean;
  /** Left empty (`title:`). */
  readonly empty: boolean;
  /** An attribute without a value (`critical`). */
  readonly bare?: boolean;
}

export interface RawList {
  readonly kind: "list";
  readonly items: readonly Raw[];
  readonly offset: number;
}

export interface RawEntry {
  readonly key: string;
  readonly keyOffset: number;
  readonly value: Raw;
}

export interface RawMap {
  readonly kind: "map";
  readonly entries: readonly RawEntry[];
  readonly offset: number;
}

export type Raw = RawText | RawList | RawMap;

/** Place of a character of a text; of its beginning if the text is not in the file character by character. */
export function placeIn(source: Source, raw: RawText, index = 0): Where {
  return source.where(raw.offset + (raw.exact ? index : 0));
}

/** The words of a text, with their places. */
export function wordsOf(source: Source, raw: RawText): { id: string; where: Where }[] {
  return [...raw.text.matchAll(/\S+/g)].map((word) => ({ id: word[0], where: placeIn(source, raw, word.index) }));
}
