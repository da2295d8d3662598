/** Text that is put into HTML as a string. */

/** The text as it stands in HTML, in an element or an attribute in double quotes. */
export function escapeHtml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}
