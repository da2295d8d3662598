/** Elements that scripts put into a page. */
import { breakLongWords } from "../words/long-words.ts";

/** A button that does something when it is pressed; `kind`: its class. */
export function button(text: string, kind: string, press: () => void): HTMLButtonElement {
  const made = element("button", { type: "button", class: kind }, text);
  made.addEventListener("click", press);
  return made;
}

/** An element of a drawing. */
export function draw(name: string, attributes: Readonly<Record<string, string | number>>): SVGElement {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}

/** Makes an element with attributes and children; text stays text, and breaks where a word is long. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Readonly<Record<string, string>>,
  ...children: (Node | string)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children.map((child) => (typeof child === "string" ? breakLongWords(child) : child)));
  return made;
}
