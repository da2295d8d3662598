/** Which links of authors are followed: other sites over http(s), mail and telephone, and pages of this site. */

const SCHEMES: readonly string[] = ["http", "https", "mailto", "tel"];

/**
 * The scheme that a browser sees in an address, in small letters; `undefined` for a page of this site. Blanks and
 * control characters inside do not hide it (WHATWG URL Standard, 4.4: they are removed).
 */
export function schemeOf(address: string): string | undefined {
  return /^([a-z][a-z0-9+.-]*):/i.exec(address.replace(/[\u0000-\u0020]/g, ""))?.[1]?.toLowerCase();
}

/** Whether authors may link to a scheme: nothing that runs code, or opens files. */
export function isAllowedScheme(scheme: string): boolean {
  return SCHEMES.includes(scheme);
}

/** Whether a link leads out of the site, by a scheme that authors may use. */
export function isOutside(address: string): boolean {
  const scheme = schemeOf(address);
  return scheme !== undefined && isAllowedScheme(scheme);
}
