/** Plain text as Markdown that is read back as just that text. */

/** Signs that are Markdown, a component or a directive's part wherever they stand (CommonMark 0.31.2, 2.4; MDX). */
const ANYWHERE = /[\\`*_{}[\]<>|~&]/g;
/** What only begins something at the beginning of a line: headings, lists, rules, directives. */
const AT_BEGINNING = /^(?:[#+\-=:]|\d{1,9}(?=[.)]))/;

/** One line of text; spaces at its ends are gone. */
export function escapeLine(text: string): string {
  const line = text.trim().replace(ANYWHERE, "\\$&");
  // MDX takes a paragraph that begins with these words for code.
  if (/^(?:import|export)\b/.test(line)) return `&#${line.charCodeAt(0)};${line.slice(1)}`;
  return line
    .replace(AT_BEGINNING, (begin) => (/^\d/.test(begin) ? begin : `\\${begin}`))
    .replace(/^(\d{1,9})([.)])/, "$1\\$2");
}
