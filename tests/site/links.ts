/** Follows every internal link of a built site: pages, pictures, styles, scripts and fragments. */
import { existsSync } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { dirname, join, relative } from "node:path";
import { parse, type DefaultTreeAdapterTypes as Tree } from "parse5";

/** A link that leads nowhere, or out of the site to another host in a page's own resources. */
export interface BrokenLink {
  readonly page: string;
  readonly link: string;
  readonly why: string;
}

interface Page {
  readonly file: string;
  readonly ids: ReadonlySet<string>;
  readonly links: readonly string[];
}

/** Checks every page in the folder; gives the number of links followed and those that are broken. */
export async function followLinks(
  folder: string,
): Promise<{ readonly pages: number; readonly links: number; readonly broken: readonly BrokenLink[] }> {
  const files = (await readdir(folder, { recursive: true })).filter((file) => file.endsWith(".html"));
  const pages = new Map<string, Page>();
  for (const file of files) pages.set(file, readPage(file, await readFile(join(folder, file), "utf8")));
  const broken: BrokenLink[] = [];
  let links = 0;
  for (const page of pages.values())
    for (const link of new Set(page.links)) {
      if (/^(?:mailto|tel|data):/i.test(link)) continue;
      links++;
      const why = await follow(folder, pages, page, link);
      if (why) broken.push({ page: page.file, link, why });
    }
  return { pages: pages.size, links, broken };
}

async function follow(
  folder: string,
  pages: ReadonlyMap<string, Page>,
  page: Page,
  link: string,
): Promise<string | undefined> {
  if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(link))
    return /^https?:/i.test(link) ? undefined : "an address of an unknown kind";
  const [path = "", fragment] = link.split("#") as [string, string | undefined];
  const clean = decodeURIComponent(path.split("?")[0]!);
  let target =
    clean === ""
      ? page.file
      : relative(folder, clean.startsWith("/") ? join(folder, clean) : join(folder, dirname(page.file), clean));
  if (target.startsWith("..")) return "leads out of the site";
  const full = join(folder, target);
  if (!existsSync(full)) return "there is no such file";
  if ((await stat(full)).isDirectory()) target = join(target, "index.html");
  if (!existsSync(join(folder, target))) return "a folder without a page";
  // `#kg=7.2` carries a weight from page to page; it names no place.
  if (!fragment || fragment.includes("=") || !target.endsWith(".html")) return undefined;
  return pages.get(target)?.ids.has(decodeURIComponent(fragment)) ? undefined : "there is no such place on the page";
}

function readPage(file: string, html: string): Page {
  const ids = new Set<string>();
  const links: string[] = [];
  const visit = (node: Tree.Node): void => {
    if ("attrs" in node)
      for (const { name, value } of node.attrs) {
        if (name === "id") ids.add(value);
        if (name === "href" || name === "src" || name === "action") links.push(value);
        if (name === "srcset") links.push(...value.split(",").map((part) => part.trim().split(/\s+/)[0]!));
      }
    if ("content" in node) visit(node.content);
    if ("childNodes" in node) node.childNodes.forEach(visit);
  };
  visit(parse(html));
  return { file, ids, links: links.filter(Boolean) };
}
