/**
 * A Markdown file to its syntax tree and front matter, parsed once. What Markdown lets pass in silence is caught here
 * or in `compile/`.
 */
import type { Nodes, Root } from "mdast";
import { gfmTableFromMarkdown } from "mdast-util-gfm-table";
import { gfmTable } from "micromark-extension-gfm-table";
import remarkDirective from "remark-directive";
import remarkMdx from "remark-mdx";
import remarkParse from "remark-parse";
import { unified } from "unified";
import type { Processor } from "unified";
import { Findings } from "../findings/finding.ts";
import { directivePlaces } from "./attributes.ts";
import { reportTooMuch } from "./bounds.ts";
import { repairCurlyQuotes } from "./curly-quotes.ts";
import { repairSpacedFences } from "./fences.ts";
import { explainFailure, explainPageFailure } from "./mdx-failure.ts";
import type { Raw } from "./raw.ts";
import type { Source } from "./source.ts";
import { readYaml } from "./yaml.ts";

const parser = unified().use(remarkParse).use(remarkMdx).use(remarkDirective).use(withPlacesAndTables).freeze();

/** Directives say where their attributes stand; tables with bars (GitHub Flavored Markdown 0.29, section 4.10). */
function withPlacesAndTables(this: Processor): void {
  const data = this.data();
  (data.micromarkExtensions ??= []).push(gfmTable());
  (data.fromMarkdownExtensions ??= []).push(gfmTableFromMarkdown(), directivePlaces());
}

/** How often a file with broken code in it is mended and read again, so that the rest of it is known. */
const MOST_REPAIRS = 12;

/**
 * How deep blocks may stand inside each other. Nobody writes so, and reading it on would need as many calls inside each
 * other.
 */
const MOST_DEPTH = 100;
const NOTHING: Root = { type: "root", children: [] };

/** How many nodes stand inside each other, counted without calling itself. */
function depthOf(tree: Root): number {
  let level: Nodes[] = [tree],
    depth = 0;
  for (; level.length > 0; depth += 1)
    level = level.flatMap((node) => ("children" in node ? (node.children as Nodes[]) : []));
  return depth;
}

function reportDepth(source: Source, bodyOffset: number, findings: Findings): void {
  findings.error("text/syntax", source.where(bodyOffset + /^\s*/.exec(source.text.slice(bodyOffset))![0].length), {
    message: "Something in this text is nested too deeply to be read",
    fix: "Look for long rows of `>`, `-`, `*`, `[` or tags inside each other, and write them flat",
  });
}

/** A parsed file. */
export interface MarkdownFile {
  readonly source: Source;
  readonly tree: Root;
  readonly head: Raw | undefined;
  /** The front matter or the body has a syntax error: what is missing from it is not reported. */
  readonly brokenHead: boolean;
  readonly brokenBody: boolean;
  /** Offset at which the body begins. */
  readonly bodyOffset: number;
}

/**
 * Reads a procedure, configuration or option. A syntax error is one finding; the file is mended as far as it goes and
 * read on in silence.
 */
export function readMarkdown(source: Source, findings: Findings): MarkdownFile {
  if (!source.isText)
    return { source, tree: NOTHING, head: undefined, brokenHead: true, brokenBody: true, bodyOffset: 0 };
  const head = readHead(source, findings);
  if (reportTooMuch(source, head.bodyOffset, findings)) return { source, tree: NOTHING, ...head, brokenBody: true };
  source.mend(repairSpacedFences(source, head.bodyOffset, findings));
  source.mend(repairCurlyQuotes(source, head.bodyOffset, findings));
  // The front matter has been read: in its stead the parser gets one blank line as long as it, so that offsets stay
  // what they are.
  if (head.bodyOffset > 0) source.mend(" ".repeat(head.bodyOffset) + source.text.slice(head.bodyOffset));
  let isBroken = false;
  for (let round = 0; round <= MOST_REPAIRS; round += 1) {
    try {
      const tree = parser.parse(source.text);
      if (depthOf(tree) <= MOST_DEPTH) return { source, tree, ...head, brokenBody: isBroken };
      reportDepth(source, head.bodyOffset, findings);
      break;
    } catch (error) {
      if (error instanceof RangeError) {
        reportDepth(source, head.bodyOffset, findings);
        break;
      }
      const failure = explainFailure(source.text, head.bodyOffset, error);
      if (!isBroken) findings.error(failure.rule, source.where(failure.offset), failure.remark);
      isBroken = true;
      source.mend(failure.mended);
    }
  }
  return { source, tree: NOTHING, ...head, brokenBody: true };
}

/** A background page; without a tree if its text can't be parsed. */
export type PageFile = Pick<MarkdownFile, "source" | "head" | "brokenHead"> & { readonly tree: Root | undefined };

/** Reads a background page: full MDX. Its first syntax error is reported, and then there is no tree. */
export function readPage(source: Source, findings: Findings): PageFile {
  if (!source.isText) return { source, head: undefined, brokenHead: true, tree: undefined };
  const { head, brokenHead, bodyOffset } = readHead(source, findings);
  if (reportTooMuch(source, bodyOffset, findings)) return { source, head, brokenHead, tree: undefined };
  source.mend(repairSpacedFences(source, bodyOffset, findings));
  source.mend(repairCurlyQuotes(source, bodyOffset, findings));
  const text = " ".repeat(bodyOffset) + source.text.slice(bodyOffset);
  try {
    const tree = parser.parse(text);
    if (depthOf(tree) <= MOST_DEPTH) return { source, head, brokenHead, tree };
    reportDepth(source, bodyOffset, findings);
  } catch (error) {
    if (error instanceof RangeError) reportDepth(source, bodyOffset, findings);
    else {
      const { offset, remark } = explainPageFailure(text, bodyOffset, error);
      findings.error("text/syntax", source.where(offset), remark);
    }
  }
  return { source, head, brokenHead, tree: undefined };
}

/** Offsets of a file's front matter: of the YAML between the first line `---` and the next, and of what follows. */
interface HeadPlace {
  readonly start: number;
  /** Left out where the front matter is left open. */
  readonly end?: number;
  readonly bodyOffset?: number;
}

/** Where the front matter of a text stands; nothing where the first line is no `---`. */
export function placeOfHead(text: string): HeadPlace | undefined {
  const start = /^---[ \t]*(?:\r\n|\n|\r)/.exec(text)?.[0].length;
  if (start === undefined) return undefined;
  const close = /^---[ \t]*(?=\r|\n|$(?![\s\S]))/gm;
  close.lastIndex = start;
  const end = close.exec(text);
  return end ? { start, end: end.index, bodyOffset: end.index + end[0].length } : { start };
}

/** Reads the front matter of a file. */
function readHead(
  source: Source,
  findings: Findings,
): { head: Raw | undefined; brokenHead: boolean; bodyOffset: number } {
  const { text } = source,
    place = placeOfHead(text);
  if (!place) {
    const indented = /^\s*---/.test(text);
    findings.error(indented ? "text/syntax" : "text/missing-field", source.where(0), {
      message: indented
        ? "The line `---` must be the first line, without spaces before it"
        : "The front matter is missing",
      fix: "Begin the file with a line `---`, then fields such as `title:`, then another line `---`",
    });
    return { head: undefined, brokenHead: true, bodyOffset: 0 };
  }
  const { start, end, bodyOffset } = place;
  if (end === undefined || bodyOffset === undefined) {
    findings.error("text/syntax", source.where(0), {
      message: "The front matter is left open",
      fix: "Add a line `---` after its last field",
    });
    const guess = endOfFields(text, start),
      blank = text.slice(0, guess).replace(/[^\r\n]/g, " ");
    const { raw } = readYaml(source, text.slice(start, guess), start, new Findings());
    source.mend(blank + text.slice(guess));
    return { head: raw, brokenHead: true, bodyOffset: guess };
  }
  const { raw, broken } = readYaml(source, text.slice(start, end), start, findings);
  return { head: raw, brokenHead: broken, bodyOffset };
}

/** Where front matter without an end probably ends: at the first line that is blank or no field. */
function endOfFields(text: string, start: number): number {
  const line = /[^\r\n]*(?:\r\n|\n|\r|$)/y;
  let at = start;
  for (line.lastIndex = at; at < text.length; at = line.lastIndex) {
    const found = line.exec(text)![0];
    if (!/^(?:[\w-]+:|[ \t]+\S|- |#)/.test(found)) break;
  }
  return at;
}
