/** HTML text in which whatever is put in is plain text, unless it was made here. */
import { escapeMarkup } from "../domain/words/escape.ts";

/** Text that is HTML already. */
export interface Html {
  readonly html: string;
}

/** What can stand in a template: nothing, texts, HTML, and lists of them. */
type Part = string | number | false | undefined | Html | readonly Part[];

/** A template of HTML. `false` and `undefined` stand for nothing; texts are escaped, in attributes (in `"`) too. */
export function html(texts: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return { html: texts.reduce((all, text, at) => `${all}${htmlOf(parts[at - 1])}${text}`) };
}

function htmlOf(part: Part): string {
  if (part === undefined || part === false) return "";
  if (typeof part === "string" || typeof part === "number") return escapeMarkup(String(part));
  return "html" in part ? part.html : part.map(htmlOf).join("");
}
