/** The search index over the built pages, and the list of titles, codes and words that ranks and corrects queries. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { close, createIndex } from "pagefind";
import { wordsOf } from "../domain/find.ts";
import type { Job } from "./job.ts";

/** Files of the index that the pages use; the library's own interfaces are left out. */
const USED = /^(pagefind\.js|pagefind-worker\.js|pagefind-entry\.json|wasm\.[\w-]+\.pagefind|pagefind\.[\w-]+\.pf_meta|(fragment|filter|index)\/.*)$/;

/** Writes `pagefind/` and `assets/find-list.js` into the site; answers with the number of pages indexed. */
export async function writeSearch(job: Job, folder: string): Promise<number> {
  const { index, errors } = await createIndex({ forceLanguage: job.collection.service.language.split("-")[0]!.toLowerCase() });
  if (!index) throw new Error(`The search index could not be begun: ${errors.join("; ")}`);
  const known = new Map<string, number>();
  try {
    const addresses = job.pages.keys();
    const work = async () => {
      for (const address of addresses) {
        const content = await readFile(join(folder, address, "index.html"), "utf8");
        countWords(content, known);
        // Blanks between elements: the index reads `<b>Card</b><i>Code</i>` as one word.
        const added = await index.addHTMLFile({ url: address, content: content.replaceAll("><", "> <") });
        if (added.errors.length) throw new Error(`The search index refused ${address}: ${added.errors.join("; ")}`);
      }
    };
    await Promise.all([work(), work(), work(), work()]);
    for (const { path, content } of (await index.getFiles()).files) {
      if (!USED.test(path)) continue;
      await mkdir(dirname(join(folder, "pagefind", path)), { recursive: true });
      await writeFile(join(folder, "pagefind", path), content);
    }
  } finally {
    await index.deleteIndex();
    await close();
  }
  await writeFile(join(folder, "assets/find-list.js"), listScript(job, known));
  return job.pages.size;
}

/** Counts the words of the page's own text, and those of its hidden other names. */
function countWords(html: string, known: Map<string, number>): void {
  const main = html.slice(html.indexOf("<main"), html.indexOf("</main>")).replace(/<(script|style)\b[\s\S]*?<\/\1>/g, " ").replace(/<[^>]+>/g, " ").replace(/&[#\w]+;/g, " ");
  for (const word of wordsOf(main)) if (word.length > 2 && !/\d/.test(word)) known.set(word, (known.get(word) ?? 0) + 1);
}

/** A classic script, so that a site opened from a folder can be searched by title, code and name too. */
function listScript(job: Job, known: ReadonlyMap<string, number>): string {
  const data = { pages: [...job.pages.values()].sort((a, b) => (a.address < b.address ? -1 : 1)), words: Object.fromEntries([...known].sort(([a], [b]) => (a < b ? -1 : 1))), otherNames: job.collection.service.otherNames };
  return `globalThis.rerigFind=${JSON.stringify(data).replaceAll("<", "\\u003c")};\n`;
}
