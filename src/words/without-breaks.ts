/** The text of a page as it is searched: pages have soft hyphens (U+00AD) in long words (`words/long-words.ts`). */

/** The text as it was before soft hyphens were put into it. */
export function withoutBreaks(text: string): string {
  return text.replaceAll("\u00ad", "");
}
