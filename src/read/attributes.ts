/**
 * Places of a directive's attributes: the syntax tree has only their values, so the source is scanned once more between
 * the braces.
 */
import type { Findings } from "../findings/finding.ts";
import type { Raw, RawEntry, RawMap } from "./raw.ts";
import type { Source } from "./source.ts";

/** A directive in the source: where its name, label and attributes stand. */
export interface Opening {
  /** Offset after the closing brace (or after the label or name without one). */
  readonly end: number;
  readonly nameOffset: number;
  readonly colons: number;
  /** Text between `[` and `]`, as written; absent without a label. */
  readonly label?: { readonly offset: number; readonly text: string };
  readonly attributes: RawMap;
}

/** A directive's name: no punctuation but hyphens and underscores, and none of these last. */
const NAME = /[\p{L}\p{N}\p{M}\p{S}_-]*[\p{L}\p{N}\p{M}\p{S}]/uy;
const REFERENCES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

/**
 * Scans a directive that begins at `offset`. Names and values are read as the CommonMark generic-directives proposal
 * (and micromark-extension-directive) read
 * them, with one difference: an attribute given twice is reported, not overwritten.
 */
export function scanOpening(source: Source, offset: number, findings: Findings | undefined): Opening {
  const { text } = source;
  let at = offset;
  while (text[at] === ":") at += 1;
  const colons = at - offset,
    nameOffset = at;
  NAME.lastIndex = at;
  at += NAME.exec(text)?.[0].length ?? 0;
  let label: Opening["label"];
  if (text[at] === "[") {
    const end = endOfLabel(text, at);
    if (end !== undefined) {
      label = { offset: at + 1, text: text.slice(at + 1, end) };
      at = end + 1;
    }
  }
  const entries: RawEntry[] = [],
    open = at;
  if (text[at] === "{") at = scanAttributes(source, at + 1, entries, findings);
  return {
    end: at,
    nameOffset,
    colons,
    ...(label ? { label } : {}),
    attributes: { kind: "map", entries, offset: open },
  };
}

function endOfLabel(text: string, open: number): number | undefined {
  let depth = 0;
  for (let at = open; at < text.length && at < open + 4000; at += 1) {
    const character = text[at];
    if (character === "\\") at += 1;
    else if (character === "[") depth += 1;
    else if (character === "]" && --depth === 0) return at;
  }
  return undefined;
}

/** Fills `entries`; gives the offset after the closing brace. */
function scanAttributes(source: Source, start: number, entries: RawEntry[], findings: Findings | undefined): number {
  const { text } = source;
  let at = start;
  const add = (key: string, keyOffset: number, value: Raw) => {
    const earlier = entries.find((entry) => entry.key === key);
    if (!earlier) entries.push({ key, keyOffset, value });
    else
      findings?.error("text/syntax", source.where(keyOffset), {
        message: `\`${key}\` is given twice`,
        fix: "Keep one of the two",
        cause: source.where(earlier.keyOffset),
      });
  };
  while (at < text.length && text[at] !== "}") {
    const character = text[at]!;
    if (/\s/.test(character)) {
      at += 1;
      continue;
    }
    const keyOffset = at;
    if (character === "#" || character === ".") {
      at += 1;
      const from = at;
      while (at < text.length && !/[\s"#'.<=>`}]/.test(text[at]!)) at += 1;
      add(character === "#" ? "id" : "class", keyOffset, {
        kind: "text",
        text: text.slice(from, at),
        offset: from,
        exact: true,
        empty: false,
      });
      if (at === from) at += 1;
      continue;
    }
    while (at < text.length && !/[\s={}"'<>`#]/.test(text[at]!)) at += 1;
    const key = text.slice(keyOffset, at);
    if (key === "") {
      at += 1;
      continue;
    }
    let after = at;
    while (/[ \t\r\n]/.test(text[after] ?? "")) after += 1;
    if (text[after] !== "=") {
      add(key, keyOffset, { kind: "text", text: "", offset: keyOffset, exact: false, empty: false, bare: true });
      continue;
    }
    after += 1;
    while (/[ \t\r\n]/.test(text[after] ?? "")) after += 1;
    const quote = text[after];
    const isQuoted = quote === '"' || quote === "'";
    const from = isQuoted ? after + 1 : after;
    let to = from;
    if (isQuoted) {
      while (to < text.length && text[to] !== quote) to += 1;
    } else while (to < text.length && !/[\s}]/.test(text[to]!)) to += 1;
    at = isQuoted ? to + 1 : to;
    const written = text.slice(from, to);
    const value = written.includes("&")
      ? written.replace(/&(amp|lt|gt|quot|apos);/g, (_, reference: string) => REFERENCES[reference]!)
      : written;
    add(key, keyOffset, { kind: "text", text: value, offset: from, exact: value === written, empty: false });
  }
  return Math.min(at + 1, text.length);
}
