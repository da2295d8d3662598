/** Sentences that are too long to take in at a glance. */
import type { Rule } from "../../findings/finding.ts";
import { isEnglish, textsOf } from "../texts.ts";
import { countWords, sentencesOf, countedParts } from "../words.ts";

/** Most words of a sentence that says what to do, and of any other. */
const MOST_WORDS = { instruction: 20, other: 25 } as const;

/** An instruction has at most 20 words a sentence, other text at most 25. */
export const longSentence: Rule = {
  id: "wording/long-sentence",
  severity: "warning",
  asks: "A sentence of an instruction has at most 20 words, any other sentence at most 25.",
  why:
    "A crew reads with one glance between two grips, and a long sentence is lost half-way. A colon ends a " +
    "sentence; a hyphenated word, a number with its unit and a quoted text count as one word each.",
  source:
    "ASD-STE100 Simplified Technical English, Issue 9, rule 8.4 and the counting rules of section 8 (as " +
    "quoted by others); colons as in the counting rules of R. Flesch",
  byPlatform: true,
  check(collection, report) {
    if (!isEnglish(collection.service)) return;
    for (const { kind, paragraph } of textsOf(collection)) {
      const most = kind === "instruction" ? MOST_WORDS.instruction : MOST_WORDS.other;
      for (const sentence of sentencesOf(paragraph)) {
        // No part can have more words than the sentence has pieces between blanks: most are passed by this count.
        if (sentence.text.length < 2 * most || (sentence.text.match(/[\s—]+/g)?.length ?? 0) < most) continue;
        for (const part of countedParts(sentence.text)) {
          const words = countWords(part.text);
          if (words > most)
            report(sentence.whereAt(part.start, part.text.length), {
              actual: String(words),
              expected: [`at most ${most}`],
              message:
                `This sentence has ${words} words, expected at ` +
                `most ${most}${kind === "instruction" ? " in an instruction" : ""}`,
              fix:
                kind === "instruction"
                  ? "Split it into steps, or move what explains it into a paragraph that begins `Why:`"
                  : "Split it, or make a list of it",
            });
        }
      }
    }
  },
};
