/** What of a text stays on one line: a number with its unit, a code with its hyphens. */
import { UNITS } from "./isolate.ts";

const NUMBER = String.raw`\d(?:[\d.,]*\d)?`,
  UNIT = `(?:${UNITS}|l|pt)`,
  CODE = String.raw`[\dA-Z]{2,}(?:-[\dA-Z]+)+`,
  WHOLE = new RegExp(String.raw`((?<![\p{L}\p{N}.,-])(?:${NUMBER}[ \u00a0]${UNIT}|${CODE})(?![\p{L}\p{N}-]))`, "u");

/**
 * A text in pieces, in order; together they are the text. Those that no line may end in are `whole`: between a number
 * and its unit stands a space (SI Brochure, 9th edition, 5.4.3) that is not where a line ends, and of a code's parts
 * none names anything.
 */
export function piecesOf(text: string): readonly { readonly text: string; readonly whole: boolean }[] {
  return text
    .split(WHOLE)
    .map((piece, at) => ({ text: piece, whole: at % 2 === 1 }))
    .filter((piece) => piece.text !== "");
}
