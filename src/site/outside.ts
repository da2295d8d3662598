/** Which links of authors are followed: other sites over http(s), mail and telephone, and pages of this site. */

/** Whether a link leads out of the site. */
export function isOutside(address: string): boolean {
  return /^(https?|mailto|tel):/i.test(address);
}
