/** Instructions that do not order anything. */
import type { Rule } from "../../findings/finding.ts";
import irregularVerbs from "english-verbs-irregular/dist/verbs.json" with { type: "json" };
import { isEnglish, ownSteps } from "../texts.ts";
import { sentencesOf } from "../words.ts";

/** Participles that are read as adjectives (`is wet`, `is fit for use`, `is lit`): what they say is seen. */
const ADJECTIVES = new Set(["wet", "fit", "even", "been", "become", "come", "gone", "had", "lit"]);
/** Irregular participles of the word list, with `un-` and `re-` before them: `unwound`, `reset`. */
const IRREGULAR = [
  ...new Set(Object.values(irregularVerbs).flatMap((forms) => forms.map(([, participle]) => participle!))),
]
  .filter((participle) => !ADJECTIVES.has(participle))
  .join("|");
const BETWEEN = "(?:(?:\\p{L}+ly|now|then|first|again|always|never|not|also|both|all)\\s+)?";
const PARTICIPLE = `${BETWEEN}(?:\\p{L}{2,}ed|(?:un|re)?(?:${IRREGULAR}))\\b(?!-|\\s+of\\b)`;
/** An order in disguise, anywhere: `must be locked`, `is to be locked`. */
const DISGUISED = new RegExp(
  `\\b(?:must|should|shall|has to|have to|needs? to|is to|are to|ought ` +
    `to|can|may|will)\\s+(?:(?:now|then|first|also|not|always|never)\\s+)?be\\s+${PARTICIPLE}`,
  "iu",
);
const PLAIN = new RegExp(`\\b(?:is|are|was|were|gets?|being)\\s+${PARTICIPLE}`, "iu");
const SUBORDINATE =
  /\b(?:until|till|when|whenever|if|unless|once|while|before|after|because|so that|so|that|which|whose|who|where|as|since|although|what|how|whether)\b/iu;

/**
 * An instruction is an order in the active voice. In its first sentence a passive main clause counts (`The pins are
 * pushed in`); in later ones only an order in disguise
 * (`must be locked`), because they may describe what is seen. States after `until`, `when`, `that` and the like are
 * fine.
 */
export const passive: Rule = {
  id: "wording/passive",
  severity: "warning",
  asks: "An instruction says what to do, in the active voice: `Lock the lever`, not `The lever is locked`.",
  why: "A passive sentence does not say who acts, and can be read as something that is already so.",
  source: "ASD-STE100 Issue 9: imperative form and active voice in procedures (as quoted by others)",
  byPlatform: true,
  check(collection, report) {
    if (!isEnglish(collection.service)) return;
    for (const { step } of ownSteps(collection))
      for (const [at, sentence] of sentencesOf(step.instruction).entries()) {
        const found = findPassive(sentence.text, at === 0);
        if (found)
          report(sentence.whereAt(found.offset, found.words.length), {
            message: `\`${found.words}\` does not say who acts, expected an order`,
            fix: "Begin with the verb: `Lock …`, `Push …`, and say who with `by`",
            actual: found.words,
          });
      }
  },
};

/**
 * The passive words of a sentence's main clause; `undefined` if there are none. In sentences after the first only an
 * order in disguise counts.
 */
export function findPassive(
  text: string,
  isFirst: boolean,
): { readonly words: string; readonly offset: number } | undefined {
  const start = mainClauseStart(text);
  const end = start + (SUBORDINATE.exec(text.slice(start))?.index ?? text.length);
  const clause = text.slice(start, end);
  const match = DISGUISED.exec(clause) ?? (isFirst ? PLAIN.exec(clause) : null);
  return match ? { words: match[0], offset: start + match.index } : undefined;
}

/** Where the main clause begins: after the comma, if the sentence begins with a condition. */
function mainClauseStart(text: string): number {
  if (!new RegExp(`^${SUBORDINATE.source}`, "iu").test(text)) return 0;
  const comma = text.indexOf(",");
  return comma < 0 ? text.length : comma + 1;
}
