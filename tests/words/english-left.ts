/** What is left of English in a text that is said in a language made by machine. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "parse5";

/** Codes, names of files, addresses, the symbol of the minute (SI Brochure, 9th edition, table 8): of no language. */
const UNWORDED =
  /\b[0-9A-Z]{4}-[0-9A-Z]{2}\b|\bC\/[0-9A-Z]{6}\b|(?<=\d\s)min\b|[\w-]+\.(?:json|mdx|yaml)\b|\b[\w.-]+\.org\/\S*/g;

/** Words of a text, small, in their order. */
export const wordsIn = (text: string): string => ` ${(text.toLowerCase().match(/[a-z]+/g) ?? []).join(" ")} `;

/** What a collection itself says: its files, without their remarks, and their names. */
export async function textOfCollection(folder: string): Promise<string> {
  const files = (await readdir(folder, { recursive: true })).filter((file) => /\.(?:mdx|yaml)$/.test(file));
  const texts = await Promise.all(files.map((file) => readFile(join(folder, file), "utf8")));
  // In a document `#` begins a heading, in YAML a remark.
  const said = texts.map((text, at) => (files[at]!.endsWith(".yaml") ? text.replace(/^#.*$/gm, "") : text));
  return wordsIn([...said, ...files].join("\n"));
}

/** Words that follow one another in a text and don't so in the collection: they are the program's, and English. */
export function englishIn(text: string, own: string): string[] {
  return (text.replace(UNWORDED, "|").match(/[a-z]+(?:[ '’-]+[a-z]+)*/gi) ?? []).filter(
    (words) => /[a-z]{3}/i.test(words) && !own.includes(wordsIn(words)),
  );
}

interface Html {
  readonly nodeName: string;
  readonly value?: string;
  readonly attrs?: readonly { readonly name: string; readonly value: string }[];
  readonly childNodes?: readonly Html[];
}

const READ_OUT = /^(?:alt|title|label|aria-(?:label|description|roledescription|valuetext)|placeholder)$/;

/** All that is read or read out in a page, a text for each node and attribute, but what it says is English. */
export function textsOfPage(html: string): string[] {
  const texts = textsOf(parse(html, { scriptingEnabled: false }) as unknown as Html);
  return texts.map((text) => text.replace(/\s+/g, " ").trim());
}

function textsOf({ nodeName, value = "", attrs = [], childNodes = [] }: Html): string[] {
  if (["script", "style", "code"].includes(nodeName)) return [];
  // What rules find is said in English, and the page says so (WCAG 2.2, 3.1.2).
  if (attrs.some((each) => each.name === "lang" && each.value === "en")) return [];
  return [
    ...(nodeName === "#text" ? [value] : []),
    ...attrs.filter(({ name }) => READ_OUT.test(name)).map((each) => each.value),
    ...childNodes.flatMap(textsOf),
  ];
}
