/** Uses a page as a reader might who presses whatever there is; these functions run in the page. */

/**
 * Fills every field and presses every button once, also those that come up meanwhile, and goes on for as long as that
 * brings up texts that were not there, at most `most` times; links lead nowhere, nothing is printed or saved. Answers
 * with each text that was read or read out on the way, once.
 */
export async function pressEverything(most: number): Promise<string[]> {
  const texts = new Set<string>();
  const READ_OUT = ["alt", "title", "aria-label", "aria-description", "aria-valuetext", "placeholder"];
  const gather = () => {
    const nodes = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (nodes.nextNode()) {
      const { parentElement, data } = nodes.currentNode as Text;
      if (!parentElement?.closest("script, style, code, noscript, [lang=en]"))
        texts.add(data.replace(/\s+/g, " ").trim());
    }
    for (const name of READ_OUT)
      for (const element of document.querySelectorAll(`[${name}]`)) texts.add(element.getAttribute(name)!.trim());
  };
  const rest = () => new Promise((done) => setTimeout(done, 15));
  window.print = () => undefined;
  URL.createObjectURL = () => "#";
  document.addEventListener("click", (event) => (event.target as Element).closest("a") && event.preventDefault(), true);
  document.addEventListener("submit", (event) => event.preventDefault());
  const fill = (field: HTMLInputElement | HTMLTextAreaElement, value: string) => {
    field.value = value;
    for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
  };
  gather();
  for (const select of document.querySelectorAll("select")) {
    select.selectedIndex = select.options.length - 1;
    select.dispatchEvent(new Event("change", { bubbles: true }));
  }
  for (const field of document.querySelectorAll<HTMLInputElement>("input, textarea")) {
    if (field.type === "radio" || field.type === "checkbox") field.click();
    else if (field.type === "date") fill(field, "2025-12-01");
    else if (field.type === "search" || field.matches("[name=q]")) fill(field, "seat");
    else if (field.id === "age") fill(field, "2");
    else if (field.type !== "file") fill(field, "7.2");
  }
  await rest();
  gather();
  const pressed = new Map<string, number>();
  const keyOf = (button: HTMLElement) => `${button.className} ${button.textContent} ${button.getAttribute("value")}`;
  // A button whose second press shows what its first one did not (there and back) is given both.
  const FRUITLESS = 4;
  for (let press = 0, fruitless = 0; press < most; press++) {
    const next = [...document.querySelectorAll<HTMLElement>("button, summary, [role=button], dialog label")]
      .filter((button) => button.checkVisibility() && !(button as HTMLButtonElement).disabled)
      // What was pressed least comes first: a round of questions and a walk of steps go on by the same button.
      .sort((one, other) => (pressed.get(keyOf(one)) ?? 0) - (pressed.get(keyOf(other)) ?? 0))[0];
    if (!next || (fruitless >= FRUITLESS && pressed.has(keyOf(next)))) break;
    const before = texts.size;
    pressed.set(keyOf(next), (pressed.get(keyOf(next)) ?? 0) + 1);
    next.click();
    await rest();
    gather();
    fruitless = texts.size > before ? 0 : fruitless + 1;
  }
  return [...texts].filter(Boolean);
}

/** A number with its unit, a code or a day of which what comes first stands behind. */
export interface Turned {
  readonly text: string;
  readonly isTurned: boolean;
}

/**
 * Every number with its unit and every check code that is seen, and whether the glyph that is written first stands on
 * the right of the last one. Found over the borders of elements too: what is read is the line.
 */
export function measuresSeen(): Turned[] {
  const seen: Turned[] = [];
  const blocks = new Map<Element, Text[]>();
  const nodes = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (nodes.nextNode()) {
    const node = nodes.currentNode as Text,
      parent = node.parentElement!;
    if (parent.closest("script, style, noscript, .hide") || !parent.checkVisibility()) continue;
    let block: Element = parent;
    while (getComputedStyle(block).display === "inline" && block.parentElement) block = block.parentElement;
    blocks.set(block, [...(blocks.get(block) ?? []), node]);
  }
  for (const texts of blocks.values()) {
    const whole = texts.map(({ data }) => data).join("");
    const at = (index: number) => {
      let from = 0;
      for (const node of texts) {
        if (index < from + node.length) {
          const range = document.createRange();
          range.setStart(node, index - from);
          range.setEnd(node, index - from + 1);
          return range.getBoundingClientRect();
        }
        from += node.length;
      }
      return new DOMRect();
    };
    for (const { 0: found, index } of whole.matchAll(
      /[−-]?\d[\d.,–]*[ \u00a0](?:kg|mm|min|lb|oz|kN|[gsh%])(?![\p{L}\p{N}])|\b[\dA-Z]{4}-[\dA-Z]{2}\b(?!-)|\d{1,2} \p{Script=Arabic}+ \d{4}/gu,
    )) {
      const first = at(index),
        last = at(index + found.length - 1);
      // Over the end of a line there is no order to see.
      if (first.width === 0 || last.width === 0 || Math.abs(first.bottom - last.bottom) > 6) continue;
      // A day with its month in Arabic letters is read from the right, its figures with it.
      const isTurned = /\p{Script=Arabic}/u.test(found) ? first.left < last.left : first.left > last.left;
      seen.push({ text: whole.slice(Math.max(0, index - 15), index + 40), isTurned });
    }
  }
  return seen;
}
