/** Curly quotes as word processors make them, where only straight ones are quotes: named, and read as meant. */
import type { Findings } from "../findings/finding.ts";
import type { Source } from "./source.ts";

const MAYBE = /[=:]\s*[“”„‟‘’‚]/;
/** A directive with braces, in a line of its own or in running text. */
const BRACES = /:[A-Za-z][\w-]*(?:\[[^\]\r\n]*\])?\{([^}\r\n]*)\}/g;
/** An attribute in curly quotes, or with one curly and one straight quote. */
const VALUE =
  /([\w-]+)=(?:[“”„‟]([^“”„‟"\r\n]*)[“”„‟"]|"([^“”„‟"\r\n]*)[“”„‟](?=\s+[\w#.-]+|\s*$)|[‘’‚]([^‘’‚'"\r\n]*)[‘’‚'])/g;

/**
 * Reports attributes in curly quotes and gives a text of the same length with straight ones, so that the directive is
 * read all the same. Each attribute once.
 */
export function repairCurlyQuotes(source: Source, bodyOffset: number, findings: Findings): string {
  const { text } = source;
  if (!MAYBE.test(text)) return text;
  return (
    text.slice(0, bodyOffset) +
    text.slice(bodyOffset).replace(BRACES, (braces, inside: string, braceAt: number) => {
      const start = bodyOffset + braceAt + braces.length - 1 - inside.length;
      const straight = inside.replace(VALUE, (given, key: string, ...parts: (string | number)[]) => {
        const value = String(parts.slice(0, 3).find((part) => part !== undefined));
        const at = start + Number(parts[3]) + key.length + 1;
        findings.error("text/syntax", source.words(at, at + given.length - key.length - 1), {
          message: `The quotes round \`${value}\` are curly ones of a word processor`,
          fix: `Write \`${key}="${value}"\`, with straight quotes`,
          actual: given.slice(key.length + 1),
          expected: [`"${value}"`],
        });
        return `${key}="${value}"`;
      });
      return braces.slice(0, braces.length - 1 - inside.length) + straight + "}";
    })
  );
}
