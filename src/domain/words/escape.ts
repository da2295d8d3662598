/** Text that is put into HTML or XML as a string. */

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&apos;",
};

/**
 * The text as it stands in HTML or XML, in an element or a quoted attribute: `<b>` -> `&lt;b&gt;`. The five entities
 * are those that both know (XML 1.0, 4.6; HTML, 13.5).
 */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);
}
