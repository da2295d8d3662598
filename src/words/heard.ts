/**
 * The fixed text as it is spoken now: a process speaks for one service at a time, in its language and with its nouns
 * (`speakFor`); in a browser it is what the page tells its scripts. A function that is handed neither service nor words
 * says by it; what the browser loads takes no table along.
 */
import { onceInProcess } from "../schema/once-in-process.ts";
import { hearWords, type Speaker, type ToldWords, type WordRoom, type Words } from "./hear.ts";

interface Spoken {
  readonly words: () => Words;
  /** The words of another service. */
  readonly of: (service: Speaker) => Words;
  /** What tells these words from others beside their language: the service's own nouns; empty where it has none. */
  readonly nouns: string;
}

const now = onceInProcess<{ spoken?: Spoken }>("words", () => ({}));

/** Says by these words from now on in this process. */
export function sayBy(spoken: Spoken): void {
  now.spoken = spoken;
}

/** Whose words a process says now; `undefined` before it has any, and in a browser. */
export function spokenNow(): Spoken | undefined {
  return now.spoken;
}

/** A room of the table, ready to be said: the process's, else what the page tells; throws where there is neither. */
export function heard<Room extends WordRoom>(room: Room): Words[Room] {
  return spokenNow()?.words()[room] ?? wordsHere(room)[room];
}

/** A room of the table for a service that is at hand: in its own language and nouns, whoever is spoken for now. */
export function heardFor<Room extends WordRoom>(service: Speaker, room: Room): Words[Room] {
  return spokenNow()?.of(service)[room] ?? wordsHere(room)[room];
}

/** What a page tells stays as it is. */
const onPage = new Map<string, Partial<Words>>();

/** Those rooms of what the page tells its scripts; throws where it tells them not. */
export function wordsHere<Room extends WordRoom>(...rooms: readonly Room[]): Pick<Words, Room> {
  const key = rooms.join(" "),
    before = onPage.get(key);
  if (before) return before as Pick<Words, Room>;
  const told = [...document.querySelectorAll("script[data-words]")].map(
    ({ textContent }) => JSON.parse(textContent) as ToldWords,
  );
  const all: Record<string, Readonly<Record<string, string>>> = {};
  // A room may be told in parts, to each script what it says.
  for (const { rooms: each } of told)
    for (const [room, entries] of Object.entries(each)) all[room] = { ...all[room], ...entries };
  const missing = rooms.filter((room) => !all[room]);
  if (missing.length > 0) throw new Error(`The page tells its scripts nothing of ${missing.join(", ")}`);
  const words = hearWords<Room>({
    language: told[0]?.language ?? "en",
    numbers: told.find(({ numbers }) => numbers.length > 0)?.numbers ?? [],
    rooms: all,
  });
  onPage.set(key, words);
  return words;
}
