/**
 * Numbers with their units in text that is written from the right. By the Unicode bidirectional algorithm (UAX #9, N1)
 * a blank between a figure and a Latin letter takes the direction of the line, so that `2 kg` would be shown as `kg 2`;
 * the number stands before its unit (SI Brochure, 9th edition, 5.4.3), so such a measure is isolated from left to right
 * (UAX #9, 2.7: U+2066 and U+2069). Likewise a code that begins with a figure.
 */

/** Asking `Intl` takes longer than a page takes for all its short texts. */
const directions = new Map<string, "rtl" | undefined>();

/** `rtl` for a language that is written from right to left, else `undefined`: the `dir` of a page (CLDR, by Intl). */
export function directionOf(tag: string): "rtl" | undefined {
  if (!directions.has(tag)) directions.set(tag, findDirection(tag));
  return directions.get(tag);
}

function findDirection(tag: string): "rtl" | undefined {
  // Newer than the types of the library: https://tc39.es/proposal-intl-locale-info/
  const locale = new Intl.Locale(tag) as Intl.Locale & { getTextInfo?: () => { direction?: string } };
  return locale.getTextInfo?.().direction === "rtl" ? "rtl" : undefined;
}

/** Units as a measure is written with them, one or the other. */
export const UNITS = "kg|g|lb|oz|kNm?|N|mm|cm|m|kB|MB|ms|s|min|h|%";

const NUMBER = String.raw`[≈±−-]?\d(?:[\d.,:–]*\d)?`,
  UNIT = String.raw`(?:${UNITS})(?![\p{L}\p{N}])`,
  MEASURE = String.raw`${NUMBER}[ \u00a0\u202f]${UNIT}`,
  CODE = String.raw`\d[\dA-Z]{3}-[\dA-Z]{2}(?![\p{L}\p{N}-])`;
const MEASURES = new RegExp(
  String.raw`\u2066[^\u2066\u2069]*\u2069|(?<![\p{L}\p{N}\u2066])(?:${MEASURE}(?:[ \u00a0]${MEASURE})*|${CODE})`,
  "gu",
);

/**
 * The text with every measure and every such code isolated, once, unless it follows words that are read from the left:
 * `2 kg`, `4 min 10 s`, `7234-QS`.
 */
export function isolateMeasures(text: string): string {
  let from = 0,
    isLatin = false;
  return text.replace(MEASURES, (found, at: number) => {
    const last = text.slice(from, at).match(/\p{L}/gu)?.at(-1);
    from = at + found.length;
    // After a letter that is read from the left, number and unit are read so too (UAX #9, W7 and N1); isolated they
    // would be torn out of their own sentence.
    if (last !== undefined) isLatin = !/[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff]/.test(last);
    return isLatin || found.startsWith("\u2066") ? found : `\u2066${found}\u2069`;
  });
}

const DAY = /\d{1,2} [\p{Script=Arabic}\p{Script=Hebrew}\p{M}]+ \d{4}/gu;

/**
 * English text with every day isolated that is written in a language from the right (UAX #9, 2.7: U+2068 and U+2069):
 * the figure before its month would else be read with the English before it (W7), and the year would come between.
 */
export function isolateDays(text: string): string {
  return text.replace(DAY, "\u2068$&\u2069");
}

const UNREAD = /<(script|style|textarea|title)\b[\s\S]*?<\/\1>|<!--[\s\S]*?-->|<(?:"[^"]*"|'[^']*'|[^>"'])*>/g;

/** A page with `change` made to its text; tags, scripts and styles stay as they are. */
export function changeTexts(html: string, change: (text: string) => string): string {
  let from = 0,
    made = "";
  for (const { 0: unread, index } of html.matchAll(UNREAD)) {
    made += change(html.slice(from, index)) + unread;
    from = index + unread.length;
  }
  return made + change(html.slice(from));
}
