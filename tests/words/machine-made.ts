/**
 * Two languages made from the English table by machine, for layout alone: one of long words with marks where a text
 * begins and ends, and one that is written from right to left. What still reads as English in a page built in one of
 * them did not come from the table. The tags are those that CLDR keeps for such languages (UTS 35, "Pseudolocales").
 */
import { TERMS } from "../../src/schema/terms.ts";
import { en, numbers } from "../../src/words/en.ts";
import { addLanguage, type Language } from "../../src/words/languages.ts";

/** The tag of the language of long words: every vowel bears a mark, a text is some 40 % longer, in `⟦` and `⟧`. */
export const LONG = "en-XA";
/** The tag of the language that is written from right to left, in Hebrew letters. */
export const FROM_RIGHT = "ar-XB";

const ACCENTED: Readonly<Record<string, string>> = {
  ...{ a: "á", e: "é", i: "í", o: "ó", u: "ú", y: "ý" },
  ...{ A: "Á", E: "É", I: "Í", O: "Ó", U: "Ú", Y: "Ý" },
};
const HEBREW = "אבגדהוזחטיכלמנסעפצקרשתףץןם";

/** Words of the table's own, outside of what is put in: slots stay, and the forms between which a count chooses. */
function overText(text: string, change: (words: string) => string): string {
  return text.replace(/\{([^{}:]*)(?::([^{}]*))?\}|[^{}]+/g, (whole, name?: string, choices?: string) => {
    if (choices !== undefined) return `{${name}:${choices.split("|").map(change).join("|")}}`;
    return name === undefined ? change(whole) : whole;
  });
}

/** Letters of a text that are the table's own; of forms between which a count chooses the first. */
export function ownLength(text: string): number {
  return text.replace(/\{[^{}:]*:([^|{}]*)[^{}]*\}/g, "$1").replace(/\{[^{}]*\}/g, "").length;
}

/** A text in long words. */
export function lengthen(text: string): string {
  const accented = overText(text, (words) => words.replace(/[aeiouyAEIOUY]/g, (letter) => ACCENTED[letter]!));
  // In words of seven letters: a line may still break.
  const more = "ő".repeat(Math.ceil(ownLength(text) * 0.4)).replace(/(.{7})(?=.)/g, "$1 ");
  // The marks stand inside of blanks at the ends, which part the text from what stands beside it.
  return accented.replace(/^(\s*)([\s\S]*?)(\s*)$/, (_, before, words, after) => `${before}⟦${words}${more}⟧${after}`);
}

/** A text in letters that are read from the right. */
export function mirror(text: string): string {
  return overText(text, (words) =>
    words
      .replace(/[a-z]/gi, (letter) => HEBREW[letter.toLowerCase().charCodeAt(0) - "a".charCodeAt(0)]!)
      // No arrow turns round by itself (UAX #9, L4: BidiMirroring.txt has none).
      .replaceAll("→", "←"),
  );
}

/** Whether a text is of symbols of units alone, which no language changes (SI Brochure, 9th edition, 5.2). */
const isOfSymbols = (room: string, text: string) => room === "measures" && !text.includes(":");

/** The whole table and the counts, each entry changed. */
export function languageOf(change: (text: string) => string): Language {
  return {
    table: Object.fromEntries(
      Object.entries(en).map(([room, entries]) => [
        room,
        Object.fromEntries(
          Object.entries(entries).map(([name, text]) => [name, isOfSymbols(room, text) ? text : change(text)]),
        ),
      ]),
    ) as unknown as Language["table"],
    numbers: numbers.map(change),
    terms: Object.fromEntries(
      Object.entries(TERMS).map(([name, { one, many, article }]) => [
        name,
        { one: change(one), many: change(many), article: change(article) },
      ]),
    ) as unknown as Language["terms"],
  };
}

/** Speaks both from now on. */
export function addMachineMade(): void {
  addLanguage(LONG, languageOf(lengthen));
  addLanguage(FROM_RIGHT, languageOf(mirror));
}
