/** Reads a query: its words, which of them say something, and the weights and ages in it. */

/** Lower case, without accents; letters and digits only. `won't` is one word, and of `I've` only `I` is kept. */
export function searchWords(text: string): string[] {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/n[’']t\b/g, "nt")
    .replace(/[’'](?:s|ve|re|ll|m|d)\b/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
}

/** A text as its words alone. */
export function plain(text: string): string {
  return searchWords(text).join(" ");
}

/** The query's words that say something; all of them if none does. */
export function queryWords(query: string): string[] {
  const read = (how: (word: string) => string) => [
    ...new Set(
      searchWords(MEASURES.reduce((text, [measure, word]) => text.replace(measure, how(word)), inFigures(query))),
    ),
  ];
  const isTelling = (word: string) => !EMPTY.has(word);
  // Whose weight it is tells nothing of what is asked beside it.
  const beside = read(() => " ").filter(isTelling);
  if (beside.length > 0) return beside;
  const all = read((word) => word),
    telling = all.filter(isTelling);
  return telling.length ? telling : all;
}

/** Whether a word says nothing about what is wanted. */
export function isFiller(word: string): boolean {
  return EMPTY.has(word);
}

/** A text without the times and ages in it. */
export function agesApart(text: string): string {
  return inFigures(text).replace(MEASURES[1]![0], " ");
}

/** Whether a text has an age, or a time, in it. */
export function hasAge(text: string): boolean {
  return agesApart(text) !== inFigures(text);
}

/** The first weight in a query, as it was typed: `3.2kg`, `8 lb 9 oz`; `undefined` if it has none. */
export function weightIn(typed: string): string | undefined {
  const [weight] = MEASURES[0]!,
    query = inFigures(typed),
    found = [...query.matchAll(weight)];
  const [first, second] = found;
  if (!first) return undefined;
  // Pounds and ounces are one weight.
  const isOne = second && /^\s*$/.test(query.slice(first.index + first[0].length, second.index));
  return query.slice(first.index, isOne ? second.index + second[0].length : first.index + first[0].length);
}

/** Words that say nothing about what is wanted. */
const EMPTY = new Set(
  searchWords(`a after all an and any are at be before by can cant could do does doesnt dont during for from
get give go goes
had has have how hows i if in into is isnt it its just me my need no not of on or our out please put should show
so some tell that the their them then there they this to up us use want was we were what whats when where wheres
which who why will with wont would you your also am been being but did done getting going got if let like now ok
really than thing things using via yet about again each every he her him his himself herself many much myself
one our ourselves she something someone somebody anything anyone anybody these those too very yourself themselves
onto either neither else stuff underneath beneath besides
ones know knows known bit bits till until unless although though because whether maybe perhaps actually anymore
shall may might must cannot didnt wasnt werent arent couldnt shouldnt wouldnt hasnt havent hadnt im ive weve whos
whats thats theres theyre hi hello please pls thanks
year years month months week weeks today
location located whereabouts exactly roughly approximately nearly almost precisely`),
);

/** Small numbers in words, from one on. */
const COUNTED = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** A text with small numbers before a unit of weight or age in figures: `two year old` is `2 year old`. */
function inFigures(text: string): string {
  return text.replace(
    new RegExp(`\\b(${COUNTED.join("|")})(?=[\\s-]+(?:kilo|kg|pound|lb|day|week|month|year)s?\\b)`, "gi"),
    (word) => String(COUNTED.indexOf(word.toLowerCase()) + 1),
  );
}

/** Weights and ages as people write them, each with the word that it is where nothing else is asked. */
const MEASURES: readonly (readonly [RegExp, string])[] = [
  [/\b\d+(?:[.,]\d+)?\s*(?:kg|kgs|kilos?|kilograms?|lbs?|pounds?|oz|ounces?|g|grams?)\b/gi, " weight "],
  [/\b\d+[\s-]*(?:days?|weeks?|months?|mo|years?|yrs?|yo)(?:[\s-]*olds?)?\b/gi, " age "],
];

/** Two letters shorten something (`nb capsule`): they don't say that it is another thing. */
export function isWord(word: string): boolean {
  return word.length > 2;
}
