/** Left and right without saying whose. */
import type { Rule } from "../../findings/finding.ts";
import { isEnglish, textsOf, type RunningText } from "../texts.ts";
import { flatten, sentencesOf } from "../words.ts";

/** Before `left`, these make it a verb or a state: `is left`, `what was left`. */
const NOT_LEFT_AFTER =
  /\b(?:is|are|was|were|be|been|being|has|have|had|gets?|got|nothing|anything|something|none|one|what|it|they|who|whoever|you|she|he|nobody|if|when|not)\s+$/i;
/** After `left`, these make it a state: `left open`, `left in`. */
const NOT_LEFT_BEFORE =
  /^\s+(?:open|closed|shut|in|out|inside|outside|behind|over|on|off|undone|loose|alone|to\s+(?!(?:the\b|right\b))|by|at|hanging|unattended|aboard|down|up|with|there|blank|empty|under|unlocked|unsecured|lying|standing)\b/i;
/** After `right`, these make it "correct", "exactly" or an angle. */
const NOT_RIGHT_BEFORE =
  /^[\s-]+(?:away|angles?|way|one|order|size|time|place|moment|weight|patient|person|people|band|card|amount|dose|answer|words?|number|model|item|total|count|now|after|before|across|through|up|down|in|into|out|at|under|over|to|on|round|back|next|behind|beside|home|above|below|against|along|length|type|kind)\b/i;
/** Before `right`, these make it a side if a part follows: `the right pin`, `head right pin`. */
const RIGHT_AFTER =
  /\b(?:the|its|your|their|front|rear|head|foot|upper|lower|far|near|on|to|towards|left and|left or)\s+$/i;
const MOTION_BEFORE = /\b(?:turn|slide|push|pull|move|swing|lean|tilt|step|roll|shift|rotate)\s+$/i;
const NOUN_BEFORE = /\b(?:the|your|its|their)\s+$/i;
const NOUN_AFTER = /^\s*(?:[.,;:)]|$|\b(?:to|in|on|at|into|over|up|down|and|or|of|as|until|till|again)\b)/i;

const VIEWPOINT =
  /\b(?:seen|viewed|looking|look|facing|standing|stand)\b[^.]*\b(?:from|at|towards?|the|to|over|along)\b|\p{L}['’]s?\s+(?:own\s+)?(?:left|right)\b|\byour\s+(?:left|right)\b|\bfrom (?:the )?(?:head|foot|front|rear|back|door|nose|tail|side)(?:\s+(?:end|side))?\b|\b(?:left|right)(?:-hand)? of the (?:patient|child|driver|pilot|vehicle|aircraft)\b/iu;

/**
 * `left` and `right` say whose, or from where seen. `left open` and `the right way` are not sides. The viewpoint may
 * stand in any text of the same step, or once for
 * the whole procedure in its purpose or in an alert outside the steps, in a sentence that names a side.
 */
export const sideWithoutViewpoint: Rule = {
  id: "wording/side-without-viewpoint",
  severity: "warning",
  asks: "`Left` and `right` say whose left, or from where it is seen.",
  why: "Two people on opposite sides of a trolley have opposite lefts, and so have the patient and the photo.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    if (!isEnglish(collection.service)) return;
    const texts = textsOf(collection);
    const settled = new Set(texts.filter((text) => !text.step && settlesSides(text)).map((text) => text.record));
    let byStep: ReadonlyMap<RunningText["step"], readonly RunningText[]> | undefined;
    for (const text of texts) {
      // Most sentences name no side: what else the step says is looked at only for those that do.
      const sides = sentencesOf(text.paragraph).flatMap((sentence) => {
        const side = findSide(sentence.text);
        return side ? [{ ...side, where: sentence.whereAt(side.offset, side.word.length) }] : [];
      });
      if (
        sides.length === 0 ||
        settled.has(text.record) ||
        neighbours((byStep ??= Map.groupBy(texts, ({ step }) => step)), text).some((other) =>
          VIEWPOINT.test(flatten(other.paragraph).text),
        )
      )
        continue;
      for (const { word, where } of sides)
        report(where, {
          message: `\`${word}\` does not say whose, or from where it is seen`,
          fix:
            `Write it as \`the patient’s ${word.toLowerCase()}\` or add \`seen from the foot end\`, or name the ` +
            "part",
        });
    }
  },
};

/** The first `left` or `right` of a sentence that means a side; `undefined` if there is none. */
export function findSide(text: string): { readonly word: string; readonly offset: number } | undefined {
  if (!/left|right/i.test(text)) return undefined;
  for (const match of text.matchAll(/\b(?:left|right)\b/gi)) {
    const before = text.slice(0, match.index);
    const after = text.slice(match.index + match[0].length);
    const asNoun = NOUN_BEFORE.test(before) && NOUN_AFTER.test(after);
    const asCompound = /^-?(?:hand\b|\s+(?:side|hand)\b)/i.test(after);
    const isSide =
      match[0].toLowerCase() === "left"
        ? !NOT_LEFT_AFTER.test(before) && !NOT_LEFT_BEFORE.test(after)
        : isRightSide(before, after);
    if (asNoun || asCompound || isSide) return { word: match[0], offset: match.index };
  }
  return undefined;
}

/**
 * `right` as a side. Before a part it may as well mean the correct one, so that it needs an article or another side
 * word before it.
 */
function isRightSide(before: string, after: string): boolean {
  if (MOTION_BEFORE.test(before) && NOUN_AFTER.test(after)) return true;
  return RIGHT_AFTER.test(before) && !NOT_RIGHT_BEFORE.test(after);
}

/** The texts that a reader has before her with this one: of the same step, else the paragraph alone. */
function neighbours(
  byStep: ReadonlyMap<RunningText["step"], readonly RunningText[]>,
  text: RunningText,
): readonly RunningText[] {
  return (text.step && byStep.get(text.step)) ?? [text];
}

function settlesSides(text: RunningText): boolean {
  return sentencesOf(text.paragraph).some(
    (sentence) => /\b(?:left|right)\b/i.test(sentence.text) && VIEWPOINT.test(sentence.text),
  );
}
