/** What a screen says in English whatever the collection speaks is marked as English. */
import { languageOfRules } from "../../schema/spoken.ts";
import { html, type Html } from "../html.ts";

/**
 * Attributes of what is said in English whatever the collection speaks, as rules and the reading of documents do (WCAG
 * 2.2, 3.1.2); nothing where it speaks English.
 */
export function inEnglish(): Html | undefined {
  return languageOfRules() && html` lang="en" dir="ltr"`;
}
