/** Small helps for the practice page: its parts by name, and elements whose content is always text. */

/** The part of the page with that name. */
export function part<T extends HTMLElement = HTMLElement>(name: string): T {
  const found = document.querySelector<T>(`[data-practice=${name}]`);
  if (!found) throw new Error(`the page has no part ${name}`);
  return found;
}

/** Shows or hides a part. */
export function show(name: string, shown: boolean): void {
  part(name).hidden = !shown;
}

/** An element with a text in it. The text is never read as markup. */
export function textElement<K extends keyof HTMLElementTagNameMap>(name: K, text: string): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  made.textContent = text;
  return made;
}

/** Address of the site's root, relative to the page. */
export function homeOf(): string {
  return document.documentElement.dataset["home"] ?? "";
}
