/** One Markdown file while it is compiled: what its parts need to know, and how they report. */
import type { Definition, Nodes, Root } from "mdast";
import { Findings } from "../findings/finding.ts";
import type { Where } from "../schema/collection.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import type { Reader } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import type { Names } from "./names.ts";

/** A file's source, where it reports to, and the names it may use. */
export interface Doc {
  readonly source: Source;
  readonly findings: Findings;
  readonly names: Names;
  readonly components: ReadonlySet<string>;
  readonly definitions: ReadonlyMap<string, Definition>;
  readonly reader: Reader;
}

/** A file ready to compile. In a file that stopped the parser nothing else is reported. */
export function openDoc(file: MarkdownFile, findings: Findings, names: Names, components: ReadonlySet<string>): Doc {
  const heard = file.brokenBody ? new Findings() : findings;
  return {
    source: file.source,
    findings: heard,
    names,
    components,
    definitions: findDefinitions(file.tree),
    reader: { source: file.source, findings: heard, quiet: file.brokenBody },
  };
}

/** The first definition of each name, wherever it stands, a step included (CommonMark 0.31, section 4.7). */
function findDefinitions(tree: Root): ReadonlyMap<string, Definition> {
  const found = new Map<string, Definition>();
  const look = (node: Nodes): void => {
    if (node.type === "definition" && !found.has(node.identifier)) found.set(node.identifier, node);
    if ("children" in node) for (const child of node.children) look(child);
  };
  look(tree);
  return found;
}

/** Offset at which a node begins. */
export function startOf(node: Nodes): number {
  return node.position?.start.offset ?? 0;
}

/** Offset at which a node ends. */
export function endOf(node: Nodes): number {
  return node.position?.end.offset ?? 0;
}

/** Where a node stands: all of it within a line, else its first line, which for a directive is its opening. */
export function whereOfNode(doc: Doc, node: Nodes): Where {
  const start = startOf(node),
    end = endOf(node);
  const first = /^[^\r\n]*/.exec(doc.source.text.slice(start, end))![0].trimEnd();
  return doc.source.words(start, start + first.length);
}

/** What a node is in the source, character by character. */
export function sourceOf(doc: Doc, node: Nodes): string {
  return doc.source.text.slice(startOf(node), endOf(node));
}
