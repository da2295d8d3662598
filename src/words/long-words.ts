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

const isVowel = (letter: string) => /[aeiouyà-æè-öø-ýœ]/i.test(letter);
/** Consonants that are written with several letters, ending before the vowel at `end`; how many letters they are. */
const onset = (word: string, end: number): number =>
  /(sch|[cprst]h|ck)$/i.exec(word.slice(end - 3, end))?.[0].length ?? 1;

function softened(written: string): string {
  const word = written.normalize("NFC");
  let made = "",
    from = 0;
  for (let vowel = LEAST; vowel < word.length; vowel += 1) {
    if (!isVowel(word[vowel]!) || isVowel(word[vowel - 1]!)) continue;
    const at = vowel - onset(word, vowel);
    if (at - from < LEAST || word.length - at < LEAST) continue;
    made += word.slice(from, at) + HYPHEN;
    from = at;
  }
  return made + word.slice(from);
}

/** The text with a soft hyphen wherever a word of 16 letters or more may break; shorter words are left as they are. */
export function breakLongWords(text: string): string {
  return text.replace(LONG, softened);
}
