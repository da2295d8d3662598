/**
 * Where a long word may break. A name of 40 letters (German compounds have no upper bound) is wider than a phone's
 * column and would widen the table that it stands in; a browser hyphenates it only where it has that language's words.
 * A soft hyphen (U+00AD; CSS Text Module Level 3, section 5.4) takes no room until a line ends there. The points are
 * those of the German rules (Amtliche Regelung der deutschen Rechtschreibung, §§ 110 and 111): of the consonants
 * between two vowels only the last begins the next line, and ch, ck, ph, rh, sch, sh and th are never parted.
 */

const LONG = /[\p{Script=Latin}\p{M}]{16,}/gu;
const HYPHEN = "\u00ad";
/** Letters that stay together at either end of a word and between two points. */
const LEAST = 5;

const isVowel = (letter: string) => /^[aeiouyæœø]/i.test(letter.normalize("NFD"));
/** Consonants that are written with several letters, ending before the vowel at `end`; how many letters they are. */
const onset = (letters: readonly string[], end: number): number => {
  const before = letters
    .slice(Math.max(0, end - 3), end)
    .join("")
    .toLowerCase();
  return /sch$/.test(before) ? 3 : /(?:[cprst]h|ck)$/.test(before) ? 2 : 1;
};

function softened(word: string): string {
  const letters = [...word.normalize("NFC")];
  let made = "",
    from = 0;
  for (let vowel = LEAST; vowel < letters.length; vowel += 1) {
    if (!isVowel(letters[vowel]!) || isVowel(letters[vowel - 1]!)) continue;
    const at = vowel - onset(letters, vowel);
    if (at - from < LEAST || letters.length - at < LEAST) continue;
    made += letters.slice(from, at).join("") + HYPHEN;
    from = at;
  }
  return made + letters.slice(from).join("");
}

/** The text with a soft hyphen wherever a word of 16 letters or more may break; shorter words are left as they are. */
export function breakLongWords(text: string): string {
  return text.replace(LONG, softened);
}

/** The text as it was before soft hyphens were put into it. */
export function withoutBreaks(text: string): string {
  return text.replaceAll(HYPHEN, "");
}
