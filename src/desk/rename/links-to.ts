/** Links in running text that lead to the page of something: its id is a part of the address. */
import type { Nodes } from "mdast";
import { visit } from "unist-util-visit";
import { Findings } from "../../findings/finding.ts";
import { readMarkdown, readPage } from "../../read/markdown.ts";
import { Source } from "../../read/source.ts";
import { kindOfFile } from "../screens/guide-of.ts";
import type { Renaming } from "./rename.ts";

/** The part of a page's address that says what it shows. */
const PAGES: Readonly<Record<string, string>> = {
  procedure: "procedures",
  configuration: "configurations",
  option: "options",
  item: "items",
  place: "places",
  fastening: "fastenings",
  reading: "reading",
  amendment: "amendments",
};

/** Offsets, a byte-order mark not counted, at which links of a text have the id in their address. */
export function linksTo(file: string, text: string, { what, platform, from }: Omit<Renaming, "to">): number[] {
  const kind = kindOfFile(file)?.id ?? "",
    own = PAGES[kind],
    target = PAGES[what];
  if (!file.endsWith(".mdx") || own === undefined) return [];
  if (what !== "platform" && (target === undefined || platform === undefined)) return [];
  const begins = what === "platform" ? `/${from}` : `/${platform}/${target}/${from}`;
  const source = new Source(file, text),
    read = kind === "reading" ? readPage : readMarkdown,
    { tree } = read(source, new Findings());
  if (!tree) return [];
  const page = new URL(`http://localhost/${file.split("/")[0]!}/${own}/${/([^/]+)\.mdx$/.exec(file)![1]!}/`),
    found: number[] = [];
  visit(tree as Nodes, ["link", "definition"], (node) => {
    if (!("url" in node) || !node.position || /^[a-z][a-z0-9+.-]*:|^\/\//i.test(node.url)) return;
    const address = URL.canParse(node.url, page) ? new URL(node.url, page).pathname : "";
    if (address !== begins && !address.startsWith(`${begins}/`)) return;
    const start = node.position.start.offset ?? 0,
      written = source.written.slice(start, node.position.end.offset),
      url = written.lastIndexOf(node.url),
      segment = new RegExp(`(?<=^|/)${from}(?=[/?#]|$)`).exec(node.url);
    if (url >= 0 && segment) found.push(start + url + segment.index);
  });
  return found;
}
