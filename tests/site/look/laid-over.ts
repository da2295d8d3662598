/** What stands over what on a page as a browser lays it out: words over words, pictures over words, words cut off. */

/**
 * Runs in the page. Every piece of text that can be seen is taken as the boxes of its lines; says which of them lie
 * over one another, which lie under a picture, which reach beyond the screen and which are cut by a box that hides what
 * is too long. Empty if nothing does. Text inside drawings (SVG) and parts that scroll by themselves are left out.
 */
export function laidOver(): string[] {
  const SLACK = 3;
  const found = new Set<string>();
  interface Box {
    readonly text: string;
    readonly owner: Element;
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  }
  const say = ({ text, owner }: Box) =>
    `${owner.tagName.toLowerCase()}${owner.className ? `.${String(owner.className).split(" ")[0]}` : ""} “${text}”`;
  // The band in words on the rail stands whole or, where there is no room, in a second line that nobody sees.
  const isHidden = (element: Element) =>
    !element.checkVisibility({ visibilityProperty: true, opacityProperty: true }) ||
    element.closest(".hide,.skip,.rail .seg span,svg,dialog,option") !== null ||
    ancestorsOf(element).some((around) => wayOf(around).isApart);
  const ways = new Map<Element, { readonly isApart: boolean; readonly cuts: boolean }>();
  const wayOf = (element: Element) => {
    const known = ways.get(element);
    if (known) return known;
    const { position, clip, clipPath, overflowX, overflowY } = getComputedStyle(element);
    const way = {
      // What follows the screen lies over the page on purpose; what only a reading voice meets has no size.
      isApart:
        position === "fixed" ||
        position === "sticky" ||
        clip !== "auto" ||
        clipPath !== "none" ||
        /auto|scroll/.test(overflowX),
      cuts: overflowX !== "visible" || overflowY !== "visible",
    };
    ways.set(element, way);
    return way;
  };
  const ancestorsOf = (element: Element): Element[] => {
    const all: Element[] = [];
    for (let each: Element | null = element; each && each !== document.body; each = each.parentElement) all.push(each);
    return all;
  };
  const boxes: Box[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = (walker.currentNode.textContent ?? "").trim(),
      owner = walker.currentNode.parentElement!;
    if (text === "" || isHidden(owner)) continue;
    const range = document.createRange();
    range.selectNodeContents(walker.currentNode);
    for (const { left, right, top, bottom, width, height } of range.getClientRects()) {
      if (width < 2 || height < 2) continue;
      // Lines may be set closer than their letters' boxes are high: the middle of a line is where its letters are.
      const trim = height * 0.22;
      const box = {
        text: text.slice(0, 40),
        owner,
        left,
        right,
        top: top + window.scrollY + trim,
        bottom: bottom + window.scrollY - trim,
      };
      boxes.push(box);
      if (right > document.documentElement.clientWidth + SLACK || left < -SLACK)
        found.add(`reaches beyond the screen: ${say(box)}`);
      for (const around of ancestorsOf(owner)) {
        if (!wayOf(around).cuts) continue;
        const edge = around.getBoundingClientRect();
        if (
          right > edge.right + SLACK ||
          left < edge.left - SLACK ||
          top + trim > edge.bottom + SLACK ||
          bottom - trim > edge.bottom + SLACK
        )
          found.add(`is cut off: ${say(box)}`);
        break;
      }
    }
  }
  const meet = (a: Omit<Box, "text" | "owner">, b: Omit<Box, "text" | "owner">) =>
    Math.min(a.right, b.right) - Math.max(a.left, b.left) > SLACK &&
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > SLACK;
  boxes.sort((a, b) => a.top - b.top);
  boxes.forEach((box, at) => {
    for (const other of boxes.slice(at + 1)) {
      if (other.top >= box.bottom) break;
      if (meet(box, other)) found.add(`lie over one another: ${say(box)} and ${say(other)}`);
    }
  });
  for (const picture of document.querySelectorAll("img,svg.drawing,.plate,.peg")) {
    if (isHidden(picture.parentElement!)) continue;
    const { left, right, top, bottom } = picture.getBoundingClientRect();
    const area = { left, right, top: top + window.scrollY, bottom: bottom + window.scrollY };
    for (const box of boxes)
      if (meet(area, box) && !picture.contains(box.owner))
        found.add(
          `lies over or under ${picture.tagName.toLowerCase()}.${picture.getAttribute("class") ?? ""}: ${say(box)}`,
        );
  }
  return [...found];
}
