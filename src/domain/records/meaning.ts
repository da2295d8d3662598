/** Whether two wordings tell people to do the same: what of a changed text can be trusted to be harmless. */
import nlp from "compromise/three";
import { numberOf, unitOf } from "../words/quantities.ts";
import { editsBetween } from "./edits.ts";

/**
 * What a change of words amounts to, from nothing to most. `same`: case, spacing, punctuation. `alike`: other words for
 * the same (`4` for `four`, `don't` for `do not`, `press` for `push`). `more`: something is said besides. `doubtful`:
 * words are gone or others stand in their place. `telling`: a number, sign, unit, negation, condition or one of two
 * opposites came, went or changed places.
 */
export type Verdict = "same" | "alike" | "more" | "doubtful" | "telling";

/**
 * Compares two texts. What is not known to be harmless is doubtful or worse: the lists below can only be too short in
 * the safe direction. They are English; figures and symbols count in any language.
 */
export function compareWords(before: string, after: string): Verdict {
  const [was, is] = [tokensOf(before), tokensOf(after)];
  if (sameList(was.map(wordOf), is.map(wordOf))) return "same";
  const [meant, means] = [meaningOf(was), meaningOf(is)];
  if (sameList(meant, means)) return "alike";
  const changed = editsBetween(meant, means).filter(({ kind }) => kind !== "keep");
  if (changed.some(({ value }) => isTelling(value))) return "telling";
  return changed.every(({ kind }) => kind === "added") ? "more" : "doubtful";
}

/**
 * A text as the pieces that make a difference, in order: words in lower case (the letters of a unit as they are),
 * figures with their sign and point, and every symbol. Punctuation, quotes and hyphens between words are left out.
 */
function tokensOf(text: string): Token[] {
  const even = text
    .normalize("NFC")
    .replace(/[‐‑‒–—−]/g, "-")
    .replace(/[’‘ʼ]/g, "'")
    .replace(/µ/g, "μ")
    .replace(/\bmake sure\b/gi, "check");
  const tokens: Token[] = [];
  for (const [found] of even.matchAll(TOKEN)) {
    if (/\p{Nd}/u.test(found)) tokens.push({ kind: "figure", text: figureOf(found) });
    else if (/^[\p{L}\p{M}]/u.test(found))
      // A hyphen holds a number together (`twenty-five`); `head-flap` is `head flap`.
      for (const word of numberOf(found.toLowerCase()) === undefined ? found.split("-") : [found])
        tokens.push(wordAfter(word, tokens.at(-1)));
    else tokens.push({ kind: "sign", text: found });
  }
  return tokens;
}

/** A piece of a text. `text` is as it is compared; a unit after a figure is written as one of it (`1kg`). */
interface Token {
  readonly kind: "figure" | "unit" | "word" | "sign";
  readonly text: string;
}

/**
 * A figure may have a sign before it, points, commas, colons and slashes inside it, and marks of feet, inches or angle
 * after it; a dash between two figures is a sign.
 */
const TOKEN =
  /(?<![\p{L}\p{N}])[-+±]?(?:\.(?=\p{Nd}))?\p{Nd}+(?:[.,:/]\p{Nd}+)*(?:['"](?!\p{L}))?|(?<=\p{Nd})(?:[.,:/]?\p{Nd})+|(?<=\p{Nd}\s?)-(?=\s?\p{Nd})|[\p{L}\p{M}]+(?:['-][\p{L}\p{M}]+)*|°[CFK]?|[^\s\p{L}\p{M}\p{Nd}.,;:!?'"“”„‚«»‹›()[\]{}…·•-]/gu;

/** A figure as it is compared: `.5` is 0.5. Zeros at the end stay, since `5.0` is read as 50. */
function figureOf(found: string): string {
  return found.replace(/^([-+±]?)\./, "$10.");
}

function wordAfter(found: string, previous: Token | undefined): Token {
  const isCounted = previous?.kind === "figure" || (previous?.kind === "word" && numberOf(previous.text) !== undefined);
  const unit = isCounted ? unitOf(found) : undefined;
  return unit ? { kind: "unit", text: `1${unit}` } : { kind: "word", text: found.toLowerCase() };
}

const wordOf = ({ text }: Token): string => text;

/** The pieces by what they mean: fillers left out, other words for the same as one. */
function meaningOf(tokens: readonly Token[]): string[] {
  return tokens
    .flatMap(({ kind, text }) => (kind === "word" ? longFormOf(text) : [text]))
    .filter((word) => !FILLERS.has(word))
    .map((word) => numberOf(word) ?? SAME_AS.get(word) ?? word);
}

/** `don't` as `do not`, `onto` as `on to`; every other word as it is. */
function longFormOf(word: string): string[] {
  const known = LONG.get(word);
  if (known) return known;
  if (!word.includes("'") || /'s$/.test(word)) return [word];
  const long = nlp(word).contractions().expand().text().toLowerCase().split(" ");
  LONG.set(word, long);
  return long;
}

const LONG = new Map<string, string[]>([
  ["cannot", ["can", "not"]],
  ["can't", ["can", "not"]],
  ["won't", ["will", "not"]],
  ["shan't", ["shall", "not"]],
  ["onto", ["on", "to"]],
  ["into", ["in", "to"]],
  ["ensure", ["check"]],
]);

/** Whether a piece decides by itself what is done. */
function isTelling(word: string): boolean {
  return (
    /[^\p{L}\p{M}']/u.test(word) ||
    numberOf(word) !== undefined ||
    DECISIVE.has(word) ||
    (word.length > 1 && unitOf(word) !== undefined)
  );
}

const words = (text: string): string[] => text.trim().split(/\s+/);

/** Words that may come and go. */
const FILLERS = new Set(words("a an the this that these those its your their please carefully simply of"));

/** Words for the same, each group with its forms written out: the first stands for all. */
const SAME_AS = new Map(
  `
  push press
  pushes presses
  pushed pressed
  pushing pressing
  close shut
  closes shuts
  turn rotate
  turns rotates
  fit mount attach
  put place lay
  pull draw
  take pick
  until till
  begin start
  check verify confirm
  look watch
  hold keep
  grip grasp
  large big
  small little
  grey gray
  colour color
  centre center
  litre liter
  metre meter
  `
    .trim()
    .split("\n")
    .flatMap((line) => words(line).map((word) => [word, words(line)[0]!] as const)),
);

/** Negations, conditions, quantities, who, when and the opposites of handling. */
const DECISIVE = new Set(
  words(`
    not no never none nobody nothing neither nor without avoid refrain stop cease
    if unless except until before after while when once during instead otherwise only but or and
    must may can should shall might need
    all each every any some both either half quarter twice thrice pair dozen single double triple several few many
    more less most least fewer enough additional another other same different first last next previous
    always sometimes fully partly completely halfway
    seconds minutes hours days second minute hour day week weeks month months year years
    open closed close shut lock locked unlock unlocked release released free engage disengage
    left right up down upward downward top bottom upper lower raise raised lowered above below over under beneath
    in out inner outer inside outside inward outward on off into onto from to towards away
    front rear back forward backward forwards backwards head foot near far side sideways
    clockwise anticlockwise counterclockwise
    push pull lift drop insert remove fit attach detach connect disconnect plug unplug join part
    tighten loosen tight loose slack taut fill empty full start begin hold wet dry hot cold warm cool
    high low higher lower fast slow long short thick thin large small
    red green amber yellow blue black white grey orange
    lead both second together alone
  `),
);

function sameList(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((word, at) => word === b[at]);
}
