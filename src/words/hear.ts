/** Told words made ready to be said. A page's script takes this file and is told its words; English stays behind. */
import { writeDecimal } from "../schema/spoken.ts";
import type { Term, TermName } from "../schema/terms.ts";
import type { en } from "./en.ts";
import { LAID } from "./laid.ts";

/** `patient`, `patients`, `a patient`, and the same with a capital. */
type Form = `${"" | "a "}${TermName}` | `${TermName}s`;
type SlotIn<Braces extends string> = Braces extends `${infer Name}:${string}` ? Name : Braces;
/** What the caller must give to an entry. */
type SlotsOf<Text extends string> = Text extends `${string}{${infer Braces}}${infer Rest}`
  ? Exclude<SlotIn<Braces>, Form | Capitalize<Form>> | SlotsOf<Rest>
  : never;
type Say<Text extends string> = [SlotsOf<Text>] extends [never]
  ? string
  : (given: Readonly<Record<SlotsOf<Text>, string | number>>) => string;

type English = typeof en;
/** A name of a room of the table. */
export type WordRoom = keyof English;
/** What pages, cards and commands say: entries without slots as texts, others as functions of what is given. */
export type Words = {
  readonly [Room in WordRoom]: {
    readonly [Entry in keyof English[Room]]: English[Room][Entry] extends string ? Say<English[Room][Entry]> : never;
  };
};
/** For whom is spoken: a service's language, and its own nouns; one that is left out is the program's. */
export interface Speaker {
  readonly language: string;
  readonly words?: { readonly [Name in TermName]?: Term };
}

/** Some rooms of the table with a service's nouns in place: all that a script of a page needs to speak. */
export interface ToldWords {
  readonly language: string;
  /** Counts in words, from none on: `no`, `one`, `two`; larger ones are said in figures. Empty if no entry says one. */
  readonly numbers: readonly string[];
  readonly rooms: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

/** What stands in braces in an entry. */
export const BRACES = /\{([^{}]*)\}/g;

/** What is done to each text when it is said; on a page from the right its own script says what (`LAID`). */
type Lay = (text: string) => string;

/** Told words made ready: an entry with something to give is a function. */
export function hearWords<Room extends WordRoom>(
  { language, numbers, rooms }: ToldWords,
  laid: Lay = (globalThis as { [LAID]?: Lay })[LAID] ?? ((text) => text),
): Pick<Words, Room> {
  const plural = new Intl.PluralRules(language),
    inWords = (count: number) => numbers[count] ?? String(count);
  return Object.fromEntries(
    Object.entries(rooms).map(([room, entries]) => [
      room,
      Object.fromEntries(Object.entries(entries).map(([name, text]) => [name, sayOf(text, plural, inWords, laid)])),
    ]),
  ) as Pick<Words, Room>;
}

const large = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function sayOf(
  text: string,
  plural: Intl.PluralRules,
  inWords: (count: number) => string,
  laid: (text: string) => string,
): string | ((given: Record<string, string | number>) => string) {
  if (!text.includes("{")) return laid(text);
  return (given) =>
    laid(
      text.replace(BRACES, (_, slot: string) => {
        const [name = "", choices] = slot.split(":"),
          value = given[name];
        if (value === undefined) throw new Error(`\`${name}\` is lacking: ${text}`);
        if (choices === undefined)
          return typeof value === "number" && !Number.isInteger(value) ? writeDecimal(String(value)) : String(value);
        const [one = "", many = one] = choices.split("|"),
          count = Number(value);
        return (plural.select(count) === "one" ? one : many)
          .replaceAll("#", String(value))
          .replaceAll("~", inWords(count))
          .replaceAll("^", large(inWords(count)));
      }),
    );
}
