/** Where the site begins, seen from any of its pages. */

/** Absolute address of the site's root; of the home page without the name of its file (`index.html`). */
export function homeAddress(): string {
  return new URL(document.documentElement.dataset["home"] || "./", location.href).href.replace(/[^/]*$/, "");
}

/** A key of the site's own in the device's storage: several sites may stand under one host. */
export function siteKey(name: string): string {
  return name + new URL(homeAddress()).pathname;
}
