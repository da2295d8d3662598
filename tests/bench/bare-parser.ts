/**
 * The bare parser for the benchmark: reads every MDX file of a folder and parses it with the same unified plugins, and
 * nothing more.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import remarkDirective from "remark-directive";
import remarkFrontmatter from "remark-frontmatter";
import remarkMdx from "remark-mdx";
import remarkParse from "remark-parse";
import { unified } from "unified";

const folder = process.argv[2]!;
const parser = unified().use(remarkParse).use(remarkFrontmatter).use(remarkMdx).use(remarkDirective).freeze();
let nodes = 0;
for (const file of readdirSync(folder, { recursive: true, encoding: "utf8" }))
  if (file.endsWith(".mdx")) nodes += parser.parse(readFileSync(join(folder, file), "utf8")).children.length;
process.stdout.write(`${nodes}\n`);
