/** Where the twin of a picture for dark screens is, by the address of the picture: pages and browsers ask alike. */

/** Ends the name of a picture that has a twin for the night. */
export const WITH_NIGHT = "n";

/** The address of the twin for dark screens; `undefined` where there is none. */
export function nightOf(address: string): string | undefined {
  return /-[0-9a-f]{10}n-\d+\.webp$/.test(address) ? address.replace(/\.webp$/, "-night.webp") : undefined;
}
