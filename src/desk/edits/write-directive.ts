/** Steps and their parts as they are written in a file. */
import { attributeText } from "./attributes.ts";
import type { AttributeValues, NewPart, NewStep } from "./edit.ts";

/** Parts that hold text between two lines of colons. */
const ALERTS: ReadonlySet<string> = new Set(["warning", "caution", "note"]);

export const isAlert = ({ name }: { readonly name: string }): boolean => ALERTS.has(name);

/** A part, without a line end behind it. */
export function directiveText({ name, attributes = {}, text }: NewPart): string {
  if (isAlert({ name })) return `:::${name}\n${(text ?? "").trim()}\n:::`;
  const label = text === undefined ? "" : `[${escapeLabel(text)}]`;
  return `::${name}${label}${writeAttributes(attributes)}`;
}

/** A label on one line, in which brackets are text. */
export function escapeLabel(text: string): string {
  return text
    .trim()
    .replace(/\s*[\r\n]+\s*/g, " ")
    .replace(/[[\]]/g, "\\$&");
}

/** A step, without a line end behind it: warnings and cautions, its text, the other parts. */
export function writeStep({ attributes = {}, text, parts = [] }: NewStep): string {
  const colons = parts.some(isAlert) ? "::::" : ":::",
    before = parts.filter(({ name }) => name === "warning" || name === "caution");
  const after = parts.filter((part) => !before.includes(part)),
    blocks = [...before.map(directiveText), text.trim(), after.map(directiveText).join("\n")];
  return [`${colons}step${writeAttributes(attributes)}`, blocks.filter(Boolean).join("\n\n"), colons].join("\n");
}

function writeAttributes(attributes: AttributeValues): string {
  const all = Object.entries(attributes).map(([name, value]) => attributeText(name, value));
  return all.length ? `{${all.join(" ")}}` : "";
}
