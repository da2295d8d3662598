/** What the desk answers with, in the words of the collection that is open. */
import type { Words } from "../words/hear.ts";
import { wordsFor } from "../words/words.ts";
import type { CollectionReader } from "./reader.ts";

/** The fixed text, for whoever has the collection open. */
export async function wordsIn(reader: CollectionReader): Promise<Words> {
  return wordsFor((await reader.now()).files.service);
}
