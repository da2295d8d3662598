/** Numbers in words and the names of units, by the libraries that know them. */
import nlp from "compromise/three";
import Qty from "js-quantities";

const numbers = new Map<string, string | undefined>();

/**
 * A number in English words as a figure (`fifteen` -> `15`, `third` -> `3rd`); `undefined` for any other word (library:
 * compromise).
 */
export function numberOf(word: string): string | undefined {
  if (/[^\p{L}-]/u.test(word)) return undefined;
  if (!numbers.has(word)) {
    const said = nlp(word);
    said.numbers().toNumber();
    const figure = said.text();
    numbers.set(word, /^\d/.test(figure) ? figure : undefined);
  }
  return numbers.get(word);
}

/** A whole number in English words: `4` -> `four`, `25` -> `twenty-five`. */
export function numberInWords(figure: number): string {
  const said = nlp(String(figure));
  said.numbers().toText();
  return said.text().replace(/(ty) (?=[a-z])/g, "$1-");
}

const units = new Map<string, string | undefined>();

/**
 * The sign of a unit from its sign or name (`kilograms` -> `kg`), case as it is; `undefined` for any other word
 * (library: js-quantities).
 */
export function unitOf(word: string): string | undefined {
  if (!units.has(word)) {
    let unit: string | undefined;
    try {
      unit = Qty(1, word).units();
    } catch {
      // Not a unit that the library knows.
    }
    units.set(word, unit);
  }
  return units.get(word);
}
