/** The languages that the program speaks, a table each. `language` in service.yaml chooses one; else it is English. */
import { en, numbers } from "./en.ts";
import type { WordRoom } from "./hear.ts";
import { onceInProcess } from "../schema/once-in-process.ts";
import { TERMS, type Term, type TermName } from "../schema/terms.ts";

/** The fixed text in one language: all rooms and entries of English, none more. */
type Table = { readonly [Room in WordRoom]: { readonly [Entry in keyof (typeof en)[Room]]: string } };

/** All that a language needs: its table, and its counts in words from none on. */
export interface Language {
  readonly table: Table;
  readonly numbers: readonly string[];
  /** The nouns that stand where a service gives none of its own. */
  readonly terms: Readonly<Record<TermName, Term>>;
  /** Names and titles keep their capital within a sentence, as German nouns do (Amtliche Regelung, § 55). */
  readonly capitals?: boolean;
}

const languages = onceInProcess(
  "languages",
  () => new Map<string, Language>([["en", { table: en, numbers, terms: TERMS }]]),
);

/** The language of a tag (BCP 47): that of the whole tag, else of its first part, else English. */
export function languageFor(tag: string): Language {
  return languages.get(tag) ?? languages.get(tag.split("-")[0]!.toLowerCase()) ?? languages.get("en")!;
}

/** Speaks one more language from now on in this process. */
export function addLanguage(tag: string, language: Language): void {
  languages.set(tag, language);
}
