/** What is left of English in a text that is said in a language made by machine. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

/** No words of a language: codes, names of files, the symbol of the minute (SI Brochure, 9th edition, table 8). */
const UNWORDED = /\b[0-9A-Z]{4}-[0-9A-Z]{2}\b|\bC\/[0-9A-Z]{6}\b|(?<=\d\s)min\b|[\w-]+\.(?:json|mdx|yaml)\b/g;

const lower = (text: string) => ` ${(text.toLowerCase().match(/[a-z]+/g) ?? []).join(" ")} `;

/** What a collection itself says: its files, without their remarks, and their names. */
export async function textOfCollection(folder: string): Promise<string> {
  const files = (await readdir(folder, { recursive: true })).filter((file) => /\.(?:mdx|yaml)$/.test(file));
  const texts = await Promise.all(files.map((file) => readFile(join(folder, file), "utf8")));
  return lower([...texts, ...files].join("\n").replace(/^#.*$/gm, ""));
}

/** Words that follow one another in a text and don't so in the collection: they are the program's, and English. */
export function englishIn(text: string, own: string): string[] {
  return (text.replace(UNWORDED, "|").match(/[a-z]+(?:[ '’-]+[a-z]+)*/gi) ?? []).filter(
    (words) => /[a-z]{3}/i.test(words) && !own.includes(lower(words)),
  );
}
