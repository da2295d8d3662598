/** What stopped the MDX parser, in our words, and the text mended so that the rest of the file can be read. */
import { VFileMessage } from "vfile-message";
import { PLACED_COMPONENTS } from "../schema/placed-components.ts";
import { heard } from "../words/heard.ts";
import type { Remark } from "../findings/finding.ts";

/** Why parsing stopped. `mended` is as long as the text. */
interface Failure {
  readonly rule: string;
  readonly offset: number;
  readonly remark: Remark;
  readonly mended: string;
}

/** Explains a failure of the parser on `text` (a file's text, perhaps mended before). */
export function explainFailure(text: string, bodyOffset: number, error: unknown): Failure {
  const offset = offsetOfFailure(text, bodyOffset, error);
  return { ...say(text, offset), offset, mended: mend(text, offset) };
}

/** Explains a failure of the parser on a background page, where code and HTML are allowed. */
export function explainPageFailure(
  text: string,
  bodyOffset: number,
  error: unknown,
): { readonly offset: number; readonly remark: Remark } {
  const offset = offsetOfFailure(text, bodyOffset, error);
  return { offset, remark: sayOfPage(text, offset) };
}

function offsetOfFailure(text: string, bodyOffset: number, error: unknown): number {
  const message = error instanceof VFileMessage ? error : undefined;
  const place = message?.place;
  const stop = place ? (("start" in place ? place.start.offset : place.offset) ?? bodyOffset) : bodyOffset;
  const kind = `${message?.source ?? ""}/${message?.ruleId ?? ""}`;
  return findCause(text, bodyOffset, stop, kind, message?.reason ?? "");
}

/** Offset of the character that the author has to change. */
function findCause(text: string, bodyOffset: number, stop: number, kind: string, reason: string): number {
  if (kind.startsWith("mdast-util-mdx-jsx/")) {
    const open = /\((\d+):(\d+)-\d+:\d+\)/.exec(reason);
    if (open && !/^Unexpected closing slash/.test(reason)) return offsetOf(text, Number(open[1]), Number(open[2]));
    return Math.max(bodyOffset, text.lastIndexOf("<", stop));
  }
  if (kind.startsWith("micromark-extension-mdx-jsx/"))
    return Math.max(bodyOffset, text.lastIndexOf("<", Math.max(0, stop - (text[stop] === "<" ? 1 : 0))));
  if (kind.startsWith("micromark-extension-mdxjs-esm/")) return startOfParagraphCode(text, bodyOffset, stop);
  if (/unexpected-(?:eof|lazy)/.test(kind) || kind.endsWith("/acorn") || kind.includes("mdx-expression")) {
    let depth = 0;
    for (
      let at = Math.min(stop, text.length) - (text[stop] === "{" && kind.endsWith("/acorn") ? 0 : 1);
      at >= bodyOffset;
      at -= 1
    ) {
      if (text[at] === "}") depth += 1;
      else if (text[at] === "{" && depth-- === 0) return at;
    }
    const any = text.indexOf("{", bodyOffset);
    return any >= 0 ? any : Math.min(stop, text.length);
  }
  return Math.min(stop, text.length);
}

function startOfParagraphCode(text: string, bodyOffset: number, stop: number): number {
  const lines = /^(?:import|export)\b/gm;
  let last = bodyOffset;
  lines.lastIndex = bodyOffset;
  for (let found = lines.exec(text); found && found.index <= stop; found = lines.exec(text)) last = found.index;
  return last;
}

function offsetOf(text: string, line: number, column: number): number {
  const ends = /\r\n?|\n/g;
  for (let number = 1; number < line && ends.exec(text); number += 1);
  return (line > 1 ? ends.lastIndex : 0) + column - 1;
}

function say(text: string, offset: number): { rule: string; remark: Remark } {
  const lineStart = Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
  const before = text.slice(lineStart, offset),
    rest = text.slice(offset, offset + 60).split(/[\r\n]/)[0]!;
  if (/^(?:import|export)\b/.test(rest)) {
    const word = rest.slice(0, 6);
    return {
      rule: "text/not-data",
      remark: {
        message: `A line that begins with \`${word}\` is code, which is not allowed here`,
        fix: `Remove it; if it is a sentence, do not begin the line with \`${word}\``,
      },
    };
  }
  if (rest.startsWith("{")) {
    const directive = /(:{1,}[A-Za-z][\w-]*)(?:\[[^\]]*\])?$/.exec(before);
    const trailing = directive && /^[ \t>]*:{2,}[A-Za-z]/.test(before) ? wordsAfter(text, offset) : undefined;
    if (directive && trailing)
      return {
        rule: "text/syntax",
        remark: {
          message: `Unexpected \`${trailing}\` after \`${directive[1]}{…}\``,
          fix: "Let the directive stand alone in its line",
        },
      };
    // Within quotes it does no harm.
    if (directive && /[\u00a0\u2007\u202f]/.test(rest.replace(/"[^"]*"/g, "")))
      return {
        rule: "text/syntax",
        remark: {
          message: heard("slipFindings").noBreak({ name: directive[1]! }),
          fix: heard("slipFindings").typeSpaces,
        },
      };
    if (directive)
      return {
        rule: "text/syntax",
        remark: {
          message: `The braces after \`${directive[1]}\` can't be read as attributes`,
          fix:
            "Write `name=value` parted by spaces, put values with spaces in double quotes, and close each quote " +
            "and brace in the same line",
        },
      };
    const open = /^[ \t>]*(:{1,}[A-Za-z][\w-]*)\[([^\]]*)$/.exec(before);
    if (open)
      return {
        rule: "text/syntax",
        remark: {
          message: heard("slipFindings").bracketOpen({ name: open[1]! }),
          fix: heard("slipFindings").closeBracket({ what: `${open[1]}[${open[2]!.trimEnd()}]` }),
        },
      };
    return {
      rule: "text/syntax",
      remark: {
        message: "Unexpected `{`: it begins code, which is not allowed here",
        fix: "Remove the brace, or write `\\{`",
      },
    };
  }
  const closing = /^<\/([A-Za-z][\w.-]*)/.exec(rest);
  if (closing)
    return {
      rule: "text/not-data",
      remark: { message: `\`</${closing[1]}>\` closes nothing; raw HTML is not allowed here`, fix: "Remove it" },
    };
  const tag = /^<([A-Za-z][\w.-]*)/.exec(rest);
  if (tag && /^<https?$/i.test(tag[0]))
    return {
      rule: "text/syntax",
      remark: {
        message: `Unexpected \`<${tag[1]}\`: an address in angle brackets can't be read`,
        fix: "Write `[text](address)`",
      },
    };
  if (tag)
    return {
      rule: "text/not-data",
      remark: {
        message: `Raw HTML such as \`<${tag[1]}>\` is not allowed here`,
        fix: "Write it in Markdown, or remove it",
      },
    };
  if (rest.startsWith("<!"))
    return {
      rule: "text/not-data",
      remark: { message: "HTML comments are not allowed here", fix: "Remove the comment" },
    };
  if (rest.startsWith("<"))
    return {
      rule: "text/syntax",
      remark: {
        message: `Unexpected \`${rest
          .split(" ")
          .slice(0, rest.startsWith("< ") ? 2 : 1)
          .join(" ")}\`: \`<\` begins code`,
        fix: "Write it in words, such as `under 5 kg`, or write `\\<`",
      },
    };
  return {
    rule: "text/syntax",
    remark: {
      message: "This text can't be read as Markdown",
      fix: "Look for a stray `{`, `<`, `import` or `export` in this line, and write it in words",
    },
  };
}

/** What is wrong at an offset of a background page, where well-formed code and HTML are allowed. */
function sayOfPage(text: string, offset: number): Remark {
  const rest = text.slice(offset, offset + 60).split(/[\r\n]/)[0]!;
  const word = /^(?:import|export)\b/.exec(rest)?.[0];
  if (word)
    return {
      message: `A line that begins with \`${word}\` is code, and this one can't be read`,
      fix: `Remove it; if it is a sentence, do not begin the line with \`${word}\``,
    };
  if (rest.startsWith("{"))
    return {
      message: "Unexpected `{`: it begins code, and what follows can't be read as such",
      fix: "Write `\\{` if a brace is meant, or close it with `}`",
    };
  const closing = /^<\/([A-Za-z][\w.-]*)/.exec(rest);
  if (closing)
    return {
      message: `\`</${closing[1]}>\` closes nothing here`,
      fix:
        `Remove it, or write \`<${closing[1]}>\` before it, both in the same paragraph or both in lines of ` +
        "their own",
    };
  const tag = /^<([A-Za-z][\w.-]*)/.exec(rest);
  if (tag && /^<https?$/i.test(tag[0]))
    return {
      message: `Unexpected \`<${tag[1]}\`: an address in angle brackets can't be read`,
      fix: "Write `[text](address)`",
    };
  if (tag && PLACED_COMPONENTS.has(tag[1]!))
    return {
      message: `\`<${tag[1]}\` is not written to its end`,
      fix: `Write \`<${tag[1]} name="value" />\`, with each value in quotes and \`/>\` at the end`,
    };
  if (tag)
    return {
      message: `\`<${tag[1]}>\` is not closed where it should be`,
      fix:
        `Close it with \`</${tag[1]}>\`; round several paragraphs, give \`<${tag[1]}>\` and \`</${tag[1]}>\` ` +
        "lines of their own",
    };
  if (rest.startsWith("<!"))
    return { message: "An HTML comment can't stand in this page", fix: "Remove it, or write it as `{/* … */}`" };
  if (rest.startsWith("<"))
    return {
      message: `Unexpected \`${rest
        .split(" ")
        .slice(0, rest.startsWith("< ") ? 2 : 1)
        .join(" ")}\`: \`<\` begins a tag`,
      fix: "Write it in words, such as `under 5 kg`, or write `\\<`",
    };
  return {
    message: "This text can't be read as Markdown",
    fix: "Look for a stray `{`, `<`, `import` or `export` in this line, and write it in words",
  };
}

/**
 * The text without what stopped the parser, in the same length: braces and angle brackets become spaces, `import` and
 * `export` lose their first letter.
 */
function mend(text: string, offset: number): string {
  if (text[offset] === "{") {
    const line = lineAt(text, offset);
    const before = line.text.slice(0, offset - line.start);
    if (/^[ \t>]*:{2,}[A-Za-z][\w-]*(?:\[[^\]]*\])?$/.test(before)) {
      const trailing = wordsAfter(text, offset);
      const straight = trailing ? line.text.slice(0, line.text.lastIndexOf("}") + 1) : line.text.replace(/["']/g, " ");
      if (straight !== line.text && straight.includes("}"))
        return (
          text.slice(0, line.start) + straight.padEnd(line.text.length) + text.slice(line.start + line.text.length)
        );
    }
  }
  const end =
    text[offset] === "<" ? /^<(?:\/?[A-Za-z][\w.-]*|!--)?/.exec(text.slice(offset, offset + 80))![0].length : 1;
  const blanked = text.slice(0, offset) + "\u00b7".repeat(Math.max(1, end)) + text.slice(offset + Math.max(1, end));
  return blanked === text ? text.slice(0, offset).padEnd(text.length, " ") : blanked;
}

function lineAt(text: string, offset: number): { start: number; text: string } {
  const start = Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
  return { start, text: /^[^\r\n]*/.exec(text.slice(start))![0] };
}

/** Words that stand after the braces of a directive in the same line; nothing if the braces are not closed. */
function wordsAfter(text: string, offset: number): string | undefined {
  const rest = /^\{[^\r\n]*\}[ \t]*([^\r\n}]+)/.exec(text.slice(offset, offset + 2000));
  return rest?.[1]?.trim().split(/\s+/)[0] || undefined;
}
