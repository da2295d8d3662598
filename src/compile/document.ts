/** What a file is compiled with and into: the platform's context, the file, and the shape of its directives. */
import type { Definition, Nodes, Root } from "mdast";
import type { ContainerDirective, LeafDirective, TextDirective } from "mdast-util-directive";
import type { z } from "zod";
import { Findings } from "../findings/finding.ts";
import type { Alert, Band, Check, Include, Inline, Operation, Step, Where } from "../schema/collection.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import type { FoundObject, Reader } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import type { Names } from "./names.ts";
import type { PlacedComponent } from "./text/placed.ts";

/** What all files of a platform are compiled with. */
export interface Context {
  /** The platform's id. */
  readonly platform: string;
  readonly names: Names;
  readonly directives: Directives;
  /** Names of the components that authors may place. */
  readonly components: ReadonlySet<string>;
  /** Whether what a background page imports is there; `file` is the page, relative to the collection. */
  readonly finds: (from: string, file: string) => boolean;
  readonly findings: Findings;
}

/** A compiled file, and the components that its text places: these are judged when the whole collection is known. */
export interface Compiled<T> {
  readonly value: T;
  readonly placed: readonly PlacedComponent[];
}

/** One file while it is compiled. In a file that stopped the parser `findings` are heard by nobody. */
export interface Doc extends Context {
  readonly source: Source;
  readonly reader: Reader;
  readonly definitions: ReadonlyMap<string, Definition>;
  /** The document that the text is of, for its steps. */
  readonly owner: { readonly id: string; readonly band: Band };
  /** Gathered while the text is compiled. */
  readonly placed: PlacedComponent[];
}

/** A directive in the syntax tree, however it is written: `:::block`, `::line` or `:text`. */
export type DirectiveNode = ContainerDirective | LeafDirective | TextDirective;

/** How a directive is written: as a block, a line, either of them, or within a line of text. */
export type Form = "container" | "leaf" | "alert" | "text";

/**
 * Where a directive stands: between the steps of a procedure, in a step, in the body of a configuration or option, in a
 * background page, in another block (a list, a quotation, a warning), or in a line of text.
 */
export type Spot = "procedure" | "step" | "card" | "page" | "block" | "line";

/** What a directive compiles to. */
export type Part =
  | Step
  | Include
  | Alert
  | Operation
  | Inline
  | { readonly kind: "check"; readonly check: Check }
  | { readonly kind: "card"; readonly where: Where };

/** A directive with its attributes read. */
export interface Given<S extends z.ZodObject = z.ZodObject> extends FoundObject<S["shape"]> {
  readonly node: DirectiveNode;
}

/** What the author's guide says of a directive. */
interface DirectiveWords {
  readonly says: string;
  /** As it is written where it may stand, and with a mistake in it. */
  readonly good: string;
  readonly bad: string;
}

/** All that is known of one directive. */
export interface Directive {
  readonly form: Form;
  /** Where it may stand. */
  readonly stands: readonly Spot[];
  readonly attributes: z.ZodObject;
  /** Whether a line `::NAME` takes a label in brackets. */
  readonly label: boolean;
  /** What to do if it stands elsewhere. */
  readonly instead: string;
  /** What the author's guide says of it. */
  readonly guide: DirectiveWords;
  /** What it compiles to; nothing if what is needed for that is missing, which has been reported. */
  readonly compile: (given: Given, doc: Doc) => Part | undefined;
}

/** Every directive by its name. */
export type Directives = ReadonlyMap<string, Directive>;

/** A file ready to compile. In a file that stopped the parser nothing else is reported. */
export function openDoc(file: MarkdownFile, context: Context, owner: Doc["owner"]): Doc {
  const heard = file.brokenBody ? new Findings() : context.findings;
  return {
    ...context,
    source: file.source,
    findings: heard,
    definitions: findDefinitions(file.tree),
    reader: { source: file.source, findings: heard, quiet: file.brokenBody },
    owner,
    placed: [],
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
export function whereOfNode(doc: Pick<Doc, "source">, node: Nodes): Where {
  const start = startOf(node),
    end = endOf(node);
  const first = /^[^\r\n]*/.exec(doc.source.text.slice(start, end))![0].trimEnd();
  return doc.source.words(start, start + first.length);
}

/** What a node is in the source, character by character. */
export function sourceOf(doc: Pick<Doc, "source">, node: Nodes): string {
  return doc.source.text.slice(startOf(node), endOf(node));
}
