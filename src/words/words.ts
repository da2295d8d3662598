/** The fixed text of pages, cards and commands: a table for each language, and a service's own nouns in it. */
import { TERMS, type Term, type TermName } from "../schema/terms.ts";
import { languageFor } from "./languages.ts";
import { BRACES, hearWords, type ToldWords, type WordRoom, type Words } from "./hear.ts";

/** A service's own nouns; one that is left out is the program's. */
type Terms = { readonly [Name in TermName]?: Term };

/** A slot that says its count in words. */
const COUNT_IN_WORDS = /\{[^{}]*[~^][^{}]*\}/;

interface Speaker {
  readonly language: string;
  readonly words?: Terms;
}

/** A text with the nouns in place; what the caller gives is left open. */
function withTerms(text: string, forms: ReadonlyMap<string, string>): string {
  return text.replace(BRACES, (whole, name: string) => forms.get(name) ?? whole);
}

/** Every form of every noun by the name that it has in the table. */
function formsOf(terms: Terms): ReadonlyMap<string, string> {
  const forms = new Map<string, string>();
  for (const name of Object.keys(TERMS) as TermName[]) {
    const { one, many, article } = terms[name] ?? TERMS[name];
    for (const [form, said] of [
      [name, one],
      [`${name}s`, many],
      [`a ${name}`, `${article} ${one}`],
    ] as const) {
      forms.set(form, said);
      forms.set(large(form), large(said));
    }
  }
  return forms;
}

const large = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The rooms of that name in a service's language and nouns, as data for a page's script. */
export function tellWords({ language, words = {} }: Speaker, rooms: readonly WordRoom[]): ToldWords {
  const forms = formsOf(words),
    { table, numbers } = languageFor(language);
  const told = rooms.map((room) => {
    const entries = Object.entries(table[room] as Readonly<Record<string, string>>);
    return [room, Object.fromEntries(entries.map(([name, text]) => [name, withTerms(text, forms)]))] as const;
  });
  const areSaid = told.some(([, entries]) => Object.values(entries).some((text) => COUNT_IN_WORDS.test(text)));
  return { language, numbers: areSaid ? numbers : [], rooms: Object.fromEntries(told) };
}

const known = new WeakMap<object, Words>();

/** All that the program says, in a service's language and with its nouns. */
export function wordsFor(service: Speaker): Words {
  const before = known.get(service);
  if (before) return before;
  const words = hearWords<WordRoom>(tellWords(service, Object.keys(languageFor(service.language).table) as WordRoom[]));
  known.set(service, words);
  return words;
}
