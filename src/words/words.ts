/** The fixed text of pages, cards and commands: a table for each language, and a service's own nouns in it. */
import { TERMS, type TermName } from "../schema/terms.ts";
import { type Language, languageFor } from "./languages.ts";
import { BRACES, hearWords, type Speaker, type ToldWords, type WordRoom, type Words } from "./hear.ts";
import { sayBy, spokenNow } from "./heard.ts";
import { directionOf, isolateMeasures } from "./isolate.ts";
import { speakIn } from "../schema/spoken.ts";

/** A text with the nouns in place; what the caller gives is left open. */
function withTerms(text: string, forms: ReadonlyMap<string, string>): string {
  return text.replace(BRACES, (whole, name: string) => forms.get(name) ?? whole);
}

/** Every form of every noun by the name that it has in the table. */
function formsOf(own: NonNullable<Speaker["words"]>, usual: Language["terms"]): ReadonlyMap<string, string> {
  const forms = new Map<string, string>();
  for (const name of Object.keys(TERMS) as TermName[]) {
    const { one, many, article } = own[name] ?? usual[name];
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

/** In place of an entry: all of its room. */
export const WHOLE_ROOM = "*";

/** Questions that are answered of a language at a time: services of one process, times the scripts of pages. */
const MOST_KNOWN = 500;

/**
 * The answer to a question about a language: worked out once, whoever asks in the same words. Each page tells its
 * scripts some of few selections, and each reading of a collection has a record of its own of the same service.
 */
function knownOf<Answer>(): (language: Language, question: readonly unknown[], work: () => Answer) => Answer {
  const all = new WeakMap<Language, Map<string, Answer>>();
  return (language, question, work) => {
    const known = all.get(language) ?? new Map<string, Answer>(),
      key = JSON.stringify(question);
    all.set(language, known);
    const answer = known.get(key) ?? work();
    if (known.size >= MOST_KNOWN) known.clear();
    known.set(key, answer);
    return answer;
  };
}

const toldOf = knownOf<ToldWords>(),
  wordsOf = knownOf<Words>();

/**
 * The rooms of that name in a service's language and nouns, as data for a page's script; of other rooms those entries
 * (`room.entry`).
 */
export function tellWords(
  { language, words = {} }: Speaker,
  rooms: readonly WordRoom[],
  entries: readonly string[] = [],
): ToldWords {
  return toldOf(languageFor(language), [language, words, rooms, entries], () =>
    workOutTold({ language, words }, rooms, entries),
  );
}

function workOutTold(
  { language, words }: Required<Speaker>,
  rooms: readonly WordRoom[],
  entries: readonly string[],
): ToldWords {
  const { table, numbers, terms } = languageFor(language),
    forms = formsOf(words, terms);
  const also = new Set(entries),
    alsoFrom = entries.map((entry) => entry.split(".")[0] as WordRoom);
  const told = Object.fromEntries(
    [...new Set([...rooms, ...alsoFrom])].map((room) => [
      room,
      Object.fromEntries(
        Object.entries(table[room] as Readonly<Record<string, string>>)
          .filter(([name]) => rooms.includes(room) || [name, WHOLE_ROOM].some((each) => also.has(`${room}.${each}`)))
          .map(([name, text]) => [name, withTerms(text, forms)]),
      ),
    ]),
  );
  // Counts in words only where they are said.
  const countsInWords = Object.values(told).some((texts) =>
    Object.values(texts).some((text) => /\{\w+:[^{}]*[~^]/.test(text)),
  );
  return { language, numbers: countsInWords ? numbers : [], rooms: told };
}

const known = new WeakMap<object, Words>();

/** All that the program says, in a service's language and with its nouns. */
export function wordsFor(service: Speaker): Words {
  const before = known.get(service);
  if (before) return before;
  const { language } = service,
    spoken = languageFor(language);
  const words = wordsOf(spoken, [language, service.words], () =>
    hearWords<WordRoom>(
      tellWords(service, Object.keys(spoken.table) as WordRoom[]),
      directionOf(language) === "rtl" ? isolateMeasures : (text) => text,
    ),
  );
  known.set(service, words);
  return words;
}

/** Speaks for a service from now on in this process: its language, and its nouns in the table. */
export function speakFor(service: Speaker): void {
  speakIn(service.language, languageFor(service.language).capitals);
  sayBy(spokenFor(service));
}

function spokenFor(service: Speaker): Parameters<typeof sayBy>[0] {
  return {
    words: () => wordsFor(service),
    of: wordsFor,
    nouns: service.words ? JSON.stringify(service.words) : "",
  };
}

const ENGLISH: Speaker = { language: "en" };
// Whoever has loaded the table can say it, also before a service is known.
if (!spokenNow()) sayBy(spokenFor(ENGLISH));
