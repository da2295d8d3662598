/**
 * Plain Astro with MDX and pagefind over the procedure files of a collection, for the benchmark: no checks, no
 * computations, one page a file.
 * `pages` and `repeat` make a site like ours in number and size: the files come round again under other addresses, and
 * each page says its text `repeat` times.
 */
import { mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import mdx from "@astrojs/mdx";
import { build } from "astro";
import { createIndex } from "pagefind";

const [collection = "", work = "", pages = "0", repeat = "1"] = process.argv.slice(2);
rmSync(work, { recursive: true, force: true });
mkdirSync(join(work, "src/pages"), { recursive: true });
symlinkSync(resolve(import.meta.dirname, "../../node_modules"), join(work, "node_modules"));
const files = readdirSync(collection, { recursive: true, encoding: "utf8" })
  .filter((file) => file.endsWith(".mdx"))
  .sort();
for (let at = 0; at < (Number(pages) || files.length); at++) {
  const file = files[at % files.length]!,
    round = Math.floor(at / files.length);
  const target = join(work, "src/pages", round === 0 ? "" : `round-${round}`, file);
  mkdirSync(dirname(target), { recursive: true });
  // Astro's own MDX reads `{…}` as code and takes no directives: their attributes are left out, which only makes its
  // work less.
  const text = readFileSync(join(collection, file), "utf8").replace(/^(:{2,}[a-z]+(?:\[[^\]]*\])?)\{[^}]*\}/gm, "$1");
  const body = text.slice(text.indexOf("\n---\n") + 5);
  writeFileSync(target, text + body.repeat(Number(repeat) - 1));
}
writeFileSync(join(work, "package.json"), '{ "type": "module" }');
await build({ root: work, logLevel: "error", integrations: [mdx()] });
const { index } = await createIndex();
if (!index) throw new Error("pagefind did not start");
for (const file of readdirSync(join(work, "dist"), { recursive: true, encoding: "utf8" }))
  if (file.endsWith(".html"))
    await index.addHTMLFile({ sourcePath: file, content: readFileSync(join(work, "dist", file), "utf8") });
await index.writeFiles({ outputPath: join(work, "dist/pagefind") });
