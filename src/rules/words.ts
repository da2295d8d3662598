/** Sentences and words of running text with the place of each, for the wording rules. */
import type { Inline, Paragraph, Where } from "../schema/collection.ts";
import { remember } from "../domain/words/remember.ts";

/** A sentence of a paragraph. Offsets count from 0 within `text`. */
interface Sentence {
  readonly text: string;
  /** Place of the words that begin at an offset; with their length also where they end, if that is in the same line. */
  readonly whereAt: (offset: number, length?: number) => Where;
}

/** Stands for every character of code in running text, so that no rule reads code as words. */
const CODE = "\uE000";
const ABBREVIATION = /(?:^|[\s(])(?:e\.g|i\.e|etc|approx|max|min|no|fig|vs|dr|st)\.$/i;
/** A mark at which a sentence could end before the text does. */
const INNER_END = /[.!?…]["'”’)\]]*\s/;
const SENTENCE_END = /[.!?…]+["'”’)\]]*\s+(?=["'“‘([]?[\p{Lu}\p{N}])/gu;

/**
 * The sentences of a paragraph in order; none for an empty one. A sentence ends at a full stop, question or exclamation
 * mark before a capital or a number.
 */
export const sentencesOf: (paragraph: Paragraph) => readonly Sentence[] = remember(splitSentences);

function splitSentences(paragraph: Paragraph): Sentence[] {
  const { text, whereAt } = flatten(paragraph);
  // Most paragraphs are one sentence, which needs no search for where it ends.
  if (!INNER_END.test(text)) return oneSentence(text, 0, whereAt);
  const ends = [...text.matchAll(SENTENCE_END)]
    .filter((match) => !ABBREVIATION.test(text.slice(0, match.index + 1)))
    .map((match) => match.index + match[0].length);
  return [0, ...ends].flatMap((start, at) => {
    return oneSentence(text.slice(start, ends[at] ?? text.length), start, whereAt);
  });
}

function oneSentence(raw: string, start: number, whereAt: Sentence["whereAt"]): Sentence[] {
  const text = raw.trim();
  if (!text) return [];
  const from = start + (raw.length - raw.trimStart().length);
  return [{ text, whereAt: from === 0 ? whereAt : (offset, length) => whereAt(from + offset, length) }];
}

/** A paragraph as one text with the place of each character; code is blanked out. */
export function flatten(paragraph: Paragraph): Sentence {
  const pieces: { readonly start: number; readonly text: string; readonly where?: Where }[] = [];
  let length = 0;
  const add = (text: string, where?: Where) => {
    pieces.push({ start: length, text, ...(where ? { where } : {}) });
    length += text.length;
  };
  const walk = (nodes: readonly Inline[]): void => {
    for (const node of nodes) {
      if (node.kind === "text") add(node.text, node.where);
      else if (node.kind === "code") add(CODE.repeat(node.text.length));
      else if (node.kind === "break") add("\n");
      else walk(node.children);
    }
  };
  walk(paragraph.children);
  const pointAt = (offset: number): Where => {
    const piece = pieces.findLast((piece) => piece.where && piece.start <= offset);
    if (!piece?.where) return beginningOf(paragraph.where);
    const before = piece.text.slice(0, offset - piece.start);
    const lines = before.split("\n");
    // Markdown drops the indent of a continued line; its text goes on in the paragraph's own column.
    return lines.length === 1
      ? {
          file: piece.where.file,
          line: piece.where.line,
          column: piece.where.column + (offset - piece.start),
        }
      : {
          file: piece.where.file,
          line: piece.where.line + lines.length - 1,
          column: paragraph.where.column + lines.at(-1)!.length,
        };
  };
  const whereAt = (offset: number, length = 0): Where => {
    const start = pointAt(offset);
    if (length === 0) return start;
    const last = pointAt(offset + length - 1);
    if (last.line !== start.line || last.column < start.column) return start;
    return { ...start, end: { line: last.line, column: last.column + 1 } };
  };
  return { text: pieces.map((piece) => piece.text).join(""), whereAt };
}

function beginningOf({ file, line, column }: Where): Where {
  return { file, line, column };
}

/** The sign or name of a unit, as it stands after a figure. */
export const UNIT =
  /^(?:kg|g|mg|lb|lbs|mm|cm|m|km|ft|in|s|min|h|hours?|minutes?|seconds?|kN|N|Nm|l|L|ml|mL|bar|psi|kPa|hPa|°C|°|%|V|A|W|Hz)\.?$/;

/**
 * Words as a controlled-language count takes them (ASD-STE100 Issue 9, rules 8.x): a hyphenated word is one, so is a
 * number with its
 * unit, a quoted text and an identifier (the last three from memory); a dash that stands alone is none.
 */
export function countWords(text: string): number {
  const tokens = text
    .replace(/"[^"]*"|“[^”]*”|‘[^’]*’(?!\p{L})/gu, " quoted ")
    .split(/[\s—]+/)
    .filter((token) => /[\p{L}\p{N}\uE000]/u.test(token) || /^[°%]$/.test(token));
  return tokens.filter((token, at) => !(UNIT.test(token) && at > 0 && /^[\d.,]+$/.test(tokens[at - 1]!))).length;
}

/**
 * The parts of a sentence that each count for themselves, with their offsets: what stands before and after a colon
 * (ASD-STE100 says so for a colon before a
 * list, Flesch's counting rules for every colon), and what stands in parentheses (ASD-STE100, from memory).
 */
export function countedParts(text: string): { readonly text: string; readonly start: number }[] {
  const inner = [...text.matchAll(/\(([^()]*)\)/g)].map((match) => ({ text: match[1]!, start: match.index + 1 }));
  const outer = text.replace(/\([^()]*\)/g, (part) => " ".repeat(part.length));
  const starts = [0, ...[...outer.matchAll(/:\s+/g)].map((match) => match.index + match[0].length)];
  return [...starts.map((start, at) => ({ text: outer.slice(start, starts[at + 1]), start })), ...inner];
}
