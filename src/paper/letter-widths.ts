/** How wide text is in the face of the cards, so that a layout can be proved without a browser. */

/**
 * Advance widths of B612, in 2000 units an em; regular and bold have the same. From the table `hmtx` of the npm package
 * @fontsource/b612 5.3.0 (a test
 * compares every one). Cards are set without kerning and ligatures, so that a word is exactly as wide as its letters.
 */
const WIDTHS: readonly (readonly [number, string])[] = [
  [400, "'|¦"],
  [500, ",;·′"],
  [600, ".:Iij°²³¹ÌÍÎÏìíîï"],
  [700, " !l\u00a0¡‘’‚"],
  [800, '"frtªº″'],
  [900, "()-J[s‹›"],
  [1000, "=]cz¢§“”„↑↓"],
  [1042, "ç"],
  [1050, "a"],
  [1100, "$*/?FLS\\_`ekvxy£¨©®¯´¸¿àáâãäåèéêë÷ýÿˆ˚˜–−"],
  [1200, "+CEKPTYZbdghnopqu}¤¥±ÈÉÊËÝñòóôõöøùúûüþ•"],
  [1298, "{"],
  [1300, "0123456789<>ABDGRVXµÀÁÂÃÄÅÇÐÞßð"],
  [1400, "&HU«¶»ÙÚÛÜ€"],
  [1500, "N^w~¼½¾Ñ…"],
  [1600, "OQÒÓÔÕÖ×Ø"],
  [1700, "#¬Ææ™"],
  [1800, "%Mm"],
  [1900, "Wœ"],
  [2000, "@Œ"],
  [2100, "—"],
];
const EM = 2000;
/** For signs that B612 lacks, and another face stands in: as wide as its widest. */
const WIDEST = 2100;
const widths = new Map(WIDTHS.flatMap(([width, signs]) => [...signs].map((sign) => [sign, width] as const)));

/** Height of a small x in B612, in ems (`sxHeight` of its table OS/2: 1100 of 2000). */
export const X_HEIGHT = 0.55;

/** Millimetres in a point: 25.4 / 72. */
export const MM_PER_POINT = 25.4 / 72;

/** Width of a sign in thousandths of an em; the widest there is for a sign that the face lacks. */
export function signWidth(sign: string): number {
  return ((widths.get(sign) ?? WIDEST) * 1000) / EM;
}

/** Width of a line of text in millimetres at a size in points; `spacing` is added after each sign, in ems. */
export function widthOf(text: string, points: number, spacing = 0): number {
  let units = 0;
  for (const sign of text) units += widths.get(sign) ?? WIDEST;
  return (units / EM + [...text].length * spacing) * points * MM_PER_POINT;
}

/**
 * How many lines the text takes in a column of that width in millimetres, at least one. Lines break at blanks only, and
 * a word that is too long for a line
 * within itself, as browsers do with `overflow-wrap: anywhere`; they may also break after a hyphen, which never takes
 * more lines than this. `indent` is what stands at the beginning of the first line already, its space included.
 */
export function countLines(text: string, points: number, widthMm: number, indent = 0): number {
  let lines = 1;
  let used = indent;
  const blank = widthOf(" ", points);
  for (const [at, word] of text
    .split(/[ \n\t]+/)
    .filter(Boolean)
    .entries()) {
    const width = widthOf(word, points),
      space = at === 0 ? 0 : blank;
    if (used > 0 && used + space + width <= widthMm) used += space + width;
    else {
      if (used > 0) lines += 1;
      const more = Math.ceil(width / widthMm) - 1;
      // A word broken within itself fills its lines only as far as whole letters go.
      lines += more > 0 ? Math.ceil(width / (widthMm - widthOf("—", points))) - 1 : 0;
      used = more > 0 ? widthMm : width;
    }
  }
  return lines;
}
