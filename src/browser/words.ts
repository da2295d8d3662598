/** What a page tells its scripts of the fixed text: the rooms that `<Script words={…}>` names. */
import { hearWords, type ToldWords, type WordRoom, type Words } from "../words/hear.ts";

/** What a page tells stays as it is. */
const heard = new Map<string, Partial<Words>>();

/** Those rooms of the table, ready to be said; throws where the page tells them not. */
export function wordsHere<Room extends WordRoom>(...rooms: readonly Room[]): Pick<Words, Room> {
  const key = rooms.join(" "),
    before = heard.get(key);
  if (before) return before as Pick<Words, Room>;
  const told = [...document.querySelectorAll("script[data-words]")].map(
    ({ textContent }) => JSON.parse(textContent) as ToldWords,
  );
  const all = Object.assign({}, ...told.map(({ rooms: each }) => each)) as ToldWords["rooms"],
    missing = rooms.filter((room) => !all[room]);
  if (missing.length > 0) throw new Error(`The page tells its scripts nothing of ${missing.join(", ")}`);
  const numbers = told.find((each) => each.numbers.length > 0)?.numbers ?? [];
  const words = hearWords<Room>({ language: told[0]?.language ?? "en", numbers, rooms: all });
  heard.set(key, words);
  return words;
}
