/** A value as YAML text, in the manner of what stands beside it; the quotes are the library's (yaml 2, stringify). */
import { Document, isScalar, Scalar, YAMLMap } from "yaml";
import type { FieldValue } from "./edit.ts";
import { isList } from "./plain-value.ts";

/** How a text is written in quotes: as it was before, if it can be. */
type QuoteStyle = "PLAIN" | "QUOTE_SINGLE" | "QUOTE_DOUBLE";

/** What YAML, or what reads it here, takes for nothing, for curly quotes round it, or for a pointer. */
const NOT_PLAIN = /^(?:|~|null|[“„‟”‘‚][^\n]*|.*\n.*)$/is;

/** A text on one line: in the quotes asked for, or in others where these would be read as something else. */
export function writeText(text: string, inBraces: boolean, style: QuoteStyle = "PLAIN"): string {
  const scalar = new Scalar(text);
  scalar.type = /[\r\n]/.test(text) || (style === "PLAIN" && NOT_PLAIN.test(text)) ? "QUOTE_DOUBLE" : style;
  const map = new YAMLMap();
  map.flow = inBraces;
  map.set(new Scalar("k"), scalar);
  const document = new Document(map, { schema: "failsafe" });
  const written = document.toString({ lineWidth: 0, flowCollectionPadding: false }).trimEnd();
  return inBraces ? written.slice("{k: ".length, -1) : written.slice("k: ".length);
}

/** A value on one line: `[a, b]`, `{ a: b }`. */
export function writeInLine(value: FieldValue, inBraces: boolean): string {
  if (typeof value === "string") return writeText(value, inBraces);
  if (isList(value)) return `[${value.map((each) => writeInLine(each, true)).join(", ")}]`;
  const fields = Object.entries(value).map(([key, each]) => `${writeText(key, true)}: ${writeInLine(each, true)}`);
  return fields.length ? `{ ${fields.join(", ")} }` : "{}";
}

/** Longer values are written on lines of their own, unless their neighbours are not. */
const LONGEST = 100;

/** What stands behind the `:` of a field, or behind the `-` of an entry. */
export interface Manner {
  /** Columns by which what a value holds is indented. */
  readonly indent: number;
  readonly lineEnd: string;
  /** Neighbours of its sort stand on one line each, or on several; by its length where there are none. */
  readonly inLine?: boolean | undefined;
}

/** A value behind `name:`, its space or line end before it. */
export function writeBehindName(value: FieldValue, manner: Manner): string {
  const block = asBlock(value, manner);
  return block === undefined
    ? ` ${writeInLine(value, false)}`
    : block.map((line) => manner.lineEnd + " ".repeat(manner.indent) + line).join("");
}

/** A value behind `-`, without the space before it. */
export function writeAsEntry(value: FieldValue, manner: Manner): string {
  const block = isList(value) ? undefined : asBlock(value, manner);
  return block === undefined ? writeInLine(value, false) : block.join(manner.lineEnd + " ".repeat(manner.indent));
}

/** The lines of a value that does not stand on one; nothing for one that does. */
function asBlock(value: FieldValue, manner: Manner): readonly string[] | undefined {
  if (typeof value === "string") return undefined;
  const entries = isList(value) ? value : Object.values(value);
  if (entries.length === 0) return undefined;
  // A list of changes or marks has a line for each of them, which stands in braces.
  const isListOfMaps = isList(value) && entries.some((entry) => typeof entry === "object");
  if (manner.inLine ?? (!isListOfMaps && writeInLine(value, false).length <= LONGEST)) return undefined;
  if (isList(value)) return value.map((entry) => `- ${writeInLine(entry, false)}`);
  return Object.entries(value).map(([key, entry]) => `${writeText(key, false)}: ${writeInLine(entry, false)}`);
}

/** The quotes in which a node stands. */
export function quoteStyleOf(node: unknown): QuoteStyle {
  const type = isScalar(node) ? node.type : undefined;
  return type === "QUOTE_SINGLE" || type === "QUOTE_DOUBLE" ? type : "PLAIN";
}
