/** The words of pages and outputs as they are read by eye, so that one text can be looked for in another. */

/** White space folded, and none before a sign. */
export const fold = (text: string): string => text.replace(/\s+/g, " ").replace(/ ([,.;:!?’”)])/g, "$1");

/** The words of a page; scripts and styles are left out. */
export const wordsOfPage = (html: string): string =>
  fold(
    html
      .replace(/<(script|style)\b[^]*?<\/\1>/g, "")
      .replace(/<[^>]*>/g, " ")
      .replace(/&quot;|&#34;/g, '"')
      .replace(/&#39;/g, "'")
      .replace(/&lt;/g, "<")
      .replace(/&gt;/g, ">")
      .replace(/&amp;/g, "&"),
  );
