/** YAML text to texts, lists and maps with places. Nothing in it is code: no tags, no merge keys, few aliases. */
import { isAlias, isMap, isScalar, isSeq, parseDocument, Schema } from "yaml";
import type { Document, Node, YAMLError } from "yaml";
import type { Findings, Remark } from "../findings/finding.ts";
import type { Raw, RawEntry } from "./raw.ts";
import type { Source } from "./source.ts";

/** Everything is a text, a list or a map; made once for all files. */
const FAILSAFE = new Schema({ schema: "failsafe" });
/** Aliases in one file; more are refused, since aliases of aliases can grow without bound. */
const MOST_ALIASES = 50;
const MOST_DEPTH = 40;
/**
 * The one name that would not be stored as itself in a record; no id looks like it. Ids such as `constructor` are fine:
 * ids are kept in maps.
 */
const RESERVED = "__proto__";

/** A value on one line that stands wholly in curly quotes, which YAML takes as letters of it. */
const CURLY = /^(?:[“„‟”]([^“„‟”\n]*)[“”‟]|[‘‚]([^‘‚’\n]*)[’‘])$/;

/**
 * What a YAML text holds; `broken` if it has a syntax error (reported), so that nothing that is missing from it should
 * be reported too.
 */
interface YamlReading {
  readonly raw: Raw | undefined;
  readonly broken: boolean;
}

/**
 * The library's own tree of a YAML text, read as everything here is; for who changes a text with the tokens that it was
 * made of. Throws a RangeError where it is nested too deeply.
 */
export function parseYaml(text: string, { tokens = false } = {}): Document.Parsed {
  return parseDocument(text, {
    schema: FAILSAFE,
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: "silent",
    strict: true,
    keepSourceTokens: tokens,
  });
}

/** Reads YAML that begins at `offset` of a source. Duplicate keys are kept: `readFields` reports them. */
export function readYaml(source: Source, text: string, offset: number, findings: Findings): YamlReading {
  if (!source.isText) return { raw: undefined, broken: true };
  let document: Document.Parsed;
  try {
    document = parseYaml(text);
  } catch {
    findings.error("text/syntax", source.where(offset), {
      message: "This YAML is nested too deeply to be read",
      fix: "Write it with fewer brackets inside brackets",
    });
    return { raw: undefined, broken: true };
  }
  const error = document.errors[0];
  if (error) reportError(source, text, offset, error, findings);
  const state: State = { source, text, offset, document, findings, aliases: 0, quiet: Boolean(error) };
  const raw = document.contents ? convert(document.contents as Node, state, 0, false) : undefined;
  return { raw, broken: state.quiet };
}

interface State {
  readonly source: Source;
  readonly text: string;
  readonly offset: number;
  readonly document: Document.Parsed;
  readonly findings: Findings;
  aliases: number;
  quiet: boolean;
}

function convert(node: Node | null | undefined, state: State, depth: number, isAliased: boolean): Raw {
  const start = state.offset + (node?.range?.[0] ?? 0);
  if (depth > MOST_DEPTH) {
    report(
      state,
      start,
      "text/syntax",
      "This is nested too deeply",
      "Write it with fewer lists and maps inside each other",
    );
    state.quiet = true;
    return empty(start);
  }
  if (isAlias(node)) {
    state.aliases += 1;
    if (isAliased || state.aliases > MOST_ALIASES) {
      report(
        state,
        start,
        "text/bad-value",
        `The alias \`*${node.source}\` stands for too much`,
        "Write the value out instead of pointing to it",
      );
      state.quiet = true;
      return empty(start);
    }
    return convert(node.resolve(state.document), state, depth + 1, true);
  }
  if (isMap(node)) {
    const entries: RawEntry[] = [];
    for (const pair of node.items) {
      const keyNode = pair.key as Node | null,
        keyOffset = state.offset + (keyNode?.range?.[0] ?? node.range?.[0] ?? 0);
      const key = isScalar(keyNode) ? String(keyNode.value) : "";
      if (!isScalar(keyNode))
        report(state, keyOffset, "text/syntax", "A name is missing before `:`", "Write `name: value`");
      else if (key === RESERVED)
        report(state, keyOffset, "text/bad-value", `\`${key}\` can't be used as a name`, "Choose another name");
      else {
        const value = pair.value as Node | null;
        const before = entries.at(-1);
        if (
          value === null &&
          before?.value.kind === "text" &&
          before.value.exact &&
          /^-?\d+$/.test(before.value.text) &&
          /^\d+ ?[a-zA-Z]*$/.test(key)
        ) {
          entries[entries.length - 1] = {
            ...before,
            value: { ...before.value, text: state.source.text.slice(before.value.offset, keyOffset) + key },
          };
          continue;
        }
        entries.push({ key, keyOffset, value: value ? convert(value, state, depth + 1, isAliased) : empty(keyOffset) });
      }
    }
    return { kind: "map", entries, offset: start };
  }
  if (isSeq(node))
    return {
      kind: "list",
      items: node.items.map((item) => convert(item as Node, state, depth + 1, isAliased)),
      offset: start,
    };
  if (!isScalar(node)) return empty(start);
  const value = String(node.value ?? ""),
    isPlain = node.type === "PLAIN";
  const curly = isPlain ? curlyIn(value) : undefined;
  if (curly !== undefined) {
    report(
      state,
      start,
      "text/syntax",
      `The quotes round \`${curly}\` are curly ones of a word processor`,
      `Write \`"${curly}"\`, with straight quotes, or none`,
    );
    return {
      kind: "text",
      text: curly,
      offset: start + 1,
      exact: state.text.startsWith(curly, start - state.offset + 1),
      empty: false,
    };
  }
  const quote = isPlain ? 0 : 1;
  const exact = !node.type?.startsWith("BLOCK") && state.text.startsWith(value, start - state.offset + quote);
  return {
    kind: "text",
    text: value,
    offset: start + (exact ? quote : 0),
    exact,
    empty: isPlain && (value === "" || value === "~" || value === "null"),
  };
}

/** What a value says that stands wholly in curly quotes; `undefined` for any other. */
function curlyIn(value: string): string | undefined {
  const [, double, single] = CURLY.exec(value) ?? [];
  return double ?? single;
}

function empty(offset: number): Raw {
  return { kind: "text", text: "", offset, exact: false, empty: true };
}

function report(state: State, offset: number, rule: string, message: string, fix: string): void {
  if (!state.quiet) state.findings.error(rule, state.source.where(offset), { message, fix });
}

type Words = readonly [message: string, fix: string];
const FALLBACK: Words = [
  "This line can't be read as YAML",
  "Write `name: value`, with the same indent as the lines beside it, and put text that holds `:`, `#`, `{` or " +
    "quotes in double quotes",
];
const WORDS: Readonly<Record<string, Words>> = {
  BAD_ALIAS: [
    "This word begins with `*` or `&`, which YAML reads as a pointer to another value",
    "Put the text in double quotes",
  ],
  BAD_DIRECTIVE: ["A line that begins with `%` is no value", "Remove the line"],
  BAD_DQ_ESCAPE: [
    "`\\` in double quotes begins an escape that does not exist",
    "Write `\\\\` for a backslash, or use single quotes",
  ],
  BAD_INDENT: [
    "This line is indented differently from the lines it belongs to",
    "Give it the same number of spaces as the lines beside it",
  ],
  BAD_SCALAR_START: ["A text can't begin with this character", "Put the text in double quotes"],
  BLOCK_AS_IMPLICIT_KEY: ["There are two `:` in one line", "Put the text that holds a `:` in double quotes"],
  BLOCK_IN_FLOW: ["A list with `-` can't stand inside braces or brackets", "Write it as `[a, b]`"],
  MISSING_CHAR: [
    "A closing quote, brace, bracket or comma is missing",
    'Add it: each `{`, `[` and `"` needs its partner, and entries are parted by commas',
  ],
  MULTILINE_IMPLICIT_KEY: [
    "A name and its `:` must stand in one line",
    "Check the line above for a missing quote or `:`",
  ],
  MULTIPLE_ANCHORS: FALLBACK,
  MULTIPLE_DOCS: ["A second `---` begins another document", "Remove the line `---`"],
  TAB_AS_INDENT: ["A tab is used to indent", "Indent with spaces"],
  UNEXPECTED_TOKEN: [
    "There is a character here that belongs to nothing",
    "Put text that holds `:`, `#`, `{`, `}`, `[`, `]` or quotes in double quotes, and check that each brace " +
      "and quote has its partner",
  ],
};

function reportError(source: Source, text: string, offset: number, error: YAMLError, findings: Findings): void {
  const at = Math.min(error.pos[0], text.length),
    open = lastOpen(text, at);
  const unquoted = unquotedIn(text, at, open);
  if (unquoted) {
    findings.error("text/syntax", source.words(offset + unquoted.from, offset + unquoted.to), unquoted.remark);
    return;
  }
  if (
    open !== undefined &&
    (error.code === "MISSING_CHAR" || (error.code === "BAD_INDENT" && error.message.startsWith("Flow")))
  ) {
    const character = text[open]!,
      partner = character === "{" ? "}" : character === "[" ? "]" : character;
    findings.error("text/syntax", source.where(offset + open), {
      message: `This \`${character}\` is left open`,
      fix:
        "Close it with " +
        `\`${partner}\`${character === "{" || character === "[" ? ", and part its entries by commas" : ""}`,
    });
    return;
  }
  const deeper = error.code === "BLOCK_AS_IMPLICIT_KEY" ? deeperLine(text, at) : undefined;
  if (deeper !== undefined) {
    findings.error("text/syntax", source.where(offset + deeper), {
      message: "This line is indented more than the one above it, as if it belonged to its text",
      fix: "Give it the same number of spaces as the lines beside it",
    });
    return;
  }
  const [message, fix] = Object.hasOwn(WORDS, error.code) ? WORDS[error.code]! : FALLBACK;
  findings.error("text/syntax", source.where(offset + at), { message, fix });
}

/** A text in braces that YAML takes apart because it stands in no quotes, with what is said of it. */
interface Unquoted {
  readonly from: number;
  readonly to: number;
  readonly remark: Remark;
}

/**
 * In braces a `:` begins another field and ` #` a comment that takes the closing brace with it. What stands in the line
 * of an error is the text of a field that holds one of them, up to the next field or the end of the braces.
 */
function unquotedIn(text: string, at: number, open: number | undefined): Unquoted | undefined {
  if (open === undefined || !"{[".includes(text[open]!)) return undefined;
  const inOpen = lineAt(text, open);
  for (const { start, line } of [lineAt(text, Math.min(at, text.length - 1)), inOpen]) {
    const found = /(?<=[{,]\s*)([A-Za-z][\w-]*):\s+(?!["'[{])(?=([^{}"]*?(?:\s#|:\s))[^\r\n]*$)/dg;
    for (const match of line.matchAll(found)) {
      const from = match.index + match[0].length,
        rest = line.slice(from);
      // The text ends where the next field begins, or with the braces.
      const value = /^.*?(?=\s*,\s*[a-z][a-z-]*:\s|\s*[}\]]+\s*,?\s*$|$)/.exec(rest)![0];
      const sign = /\s#/.test(value) ? "#" : /:(?:\s|$)/.test(value) ? ":" : undefined;
      if (!sign) continue;
      return {
        from: start + from,
        to: start + from + value.length,
        remark: {
          message:
            sign === ":"
              ? `The \`:\` in the text of \`${match[1]}\` begins another field, as it stands in braces`
              : `The \`#\` in the text of \`${match[1]}\` begins a comment: the rest of the line is not read`,
          fix: `Put the whole text in double quotes: \`${match[1]}: "${value.replaceAll('"', "'")}"\``,
          actual: value,
        },
      };
    }
  }
  return undefined;
}

/** The line that holds an offset, with the offset at which it begins. */
function lineAt(text: string, at: number): { readonly start: number; readonly line: string } {
  const start = Math.max(text.lastIndexOf("\n", at - 1), text.lastIndexOf("\r", at - 1)) + 1;
  return { start, line: /^[^\r\n]*/.exec(text.slice(start))![0] };
}

/** Offset of the next line if that line is what has a `:` too many, since the line at an offset has only its own. */
function deeperLine(text: string, at: number): number | undefined {
  const start = Math.max(text.lastIndexOf("\n", at - 1), text.lastIndexOf("\r", at - 1)) + 1;
  const [line, , next] = /^([^\r\n]*)(\r\n|\n|\r)([ \t]*)[^\s#]/.exec(text.slice(start))?.slice(1) ?? [];
  if (line === undefined || next === undefined || (line.match(/:(?=\s|$)/g) ?? []).length > 1) return undefined;
  return /^ */.exec(line)![0].length < next.length ? text.indexOf(next, start + line.length) : undefined;
}

/** Offset of the last brace, bracket or quote before `end` that is not closed; comments are passed over. */
function lastOpen(text: string, end: number): number | undefined {
  const open: number[] = [];
  const parts = /(?<![^\s:,[{])(?:"(?:[^"\\]|\\[^])*"|'[^']*'|["'])|(?<![^\s])#[^\r\n]*|[{}[\]]/g;
  for (let found = parts.exec(text); found && found.index < end; found = parts.exec(text)) {
    const part = found[0];
    if (part === '"' || part === "'") return found.index;
    if (part === "{" || part === "[") open.push(found.index);
    else if (part === "}" || part === "]") open.pop();
  }
  return open.at(-1);
}
