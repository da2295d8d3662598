/** Plain Astro with MDX and pagefind over the procedure files of a collection, for the benchmark: no checks, no computations, one page a file. */
import { mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import mdx from "@astrojs/mdx";
import { build } from "astro";
import { createIndex } from "pagefind";

const [collection = "", work = ""] = process.argv.slice(2);
rmSync(work, { recursive: true, force: true });
mkdirSync(join(work, "src/pages"), { recursive: true });
symlinkSync(resolve(import.meta.dirname, "../../node_modules"), join(work, "node_modules"));
for (const file of readdirSync(collection, { recursive: true, encoding: "utf8" })) {
  if (!file.endsWith(".mdx")) continue;
  mkdirSync(join(work, "src/pages", dirname(file)), { recursive: true });
  // Astro's own MDX reads `{…}` as code and takes no directives: their attributes are left out, which only makes its work less.
  writeFileSync(join(work, "src/pages", file), readFileSync(join(collection, file), "utf8").replace(/^(:{2,}[a-z]+(?:\[[^\]]*\])?)\{[^}]*\}/gm, "$1"));
}
writeFileSync(join(work, "package.json"), '{ "type": "module" }');
await build({ root: work, logLevel: "error", integrations: [mdx()] });
const { index } = await createIndex();
if (!index) throw new Error("pagefind did not start");
for (const file of readdirSync(join(work, "dist"), { recursive: true, encoding: "utf8" }))
  if (file.endsWith(".html")) await index.addHTMLFile({ sourcePath: file, content: readFileSync(join(work, "dist", file), "utf8") });
await index.writeFiles({ outputPath: join(work, "dist/pagefind") });
