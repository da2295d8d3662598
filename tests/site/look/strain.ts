/** What is wrong with a page in a hand and under strain; each of these runs in the page. */

/**
 * Links and controls smaller than asked. A link counts as within a sentence when words stand beside it (2.5.5,
 * exception "inline").
 */
export function smallTargets(least: number): string[] {
  const words = (element: Element) => (element.textContent ?? "").replace(/\s+/g, " ").trim();
  return [
    ...document.querySelectorAll<HTMLElement>("a[href],button,select,summary,textarea,input,label:has(input)"),
  ].flatMap((target) => {
    if (
      !target.checkVisibility({ visibilityProperty: true }) ||
      target.matches("label input,.skip,.find-go") ||
      target.closest(".hide")
    )
      return [];
    const { width, height } = target.getBoundingClientRect();
    if (width === 0 || height === 0) return [];
    const block = target.closest("p,li,td,th,dd,dt,figcaption,caption,h1,h2,h3,h4,div")!,
      { display } = getComputedStyle(target);
    const isInSentence =
      (display === "inline" && words(block).length > words(target).length + 2) ||
      [...target.parentElement!.childNodes].some(
        (node) => node.nodeType === Node.TEXT_NODE && (node.textContent ?? "").trim().length > 2,
      );
    if (isInSentence && display.startsWith("inline")) return [];
    return width >= least - 0.5 && height >= least - 0.5
      ? []
      : [
          `${Math.round(width)} x ${Math.round(height)} ` +
            `px: ${target.tagName.toLowerCase()}.${target.className} “${words(target).slice(0, 30)}”`,
        ];
  });
}

/** What makes a page wider than the screen. Parts that scroll by themselves (a matrix) may be wider. */
export function sidewaysParts(): string[] {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const wide = [...document.querySelectorAll("main *")].filter(
    (part) => part.getBoundingClientRect().right > width + 1 && !part.closest(".scroll-x"),
  );
  return [
    `${document.documentElement.scrollWidth} px wide: ${wide
      .slice(0, 3)
      .map((part) => `${part.tagName.toLowerCase()}.${String(part.className)}`)
      .join(", ")}`,
  ];
}

/** Marks whose filling can't be told from the ground: filled pins, the tag of safety-critical steps, holds. */
export function lostMarks(): string[] {
  return [...document.querySelectorAll<HTMLElement>("main .x,.rail .pin.own,main .crit,main .hold")].flatMap((mark) => {
    if (!mark.checkVisibility({ visibilityProperty: true })) return [];
    const style = getComputedStyle(mark),
      ground = getComputedStyle(document.body).backgroundColor;
    const isFilled = style.backgroundColor !== ground && style.backgroundColor !== "rgba(0, 0, 0, 0)";
    const isOutlined =
      mark.matches(".crit,.hold") && parseFloat(style.borderTopWidth) > 0 && style.borderTopStyle !== "none";
    return isFilled || isOutlined
      ? []
      : [`${mark.tagName.toLowerCase()}.${mark.className} “${(mark.textContent ?? "").trim().slice(0, 30)}”`];
  });
}

/**
 * Words that go on in the next line without a hyphen where they broke: a column too narrow for a word that could have
 * been broken well, or letters that stand under one another. Addresses and codes are no words.
 */
export function tornWords(): string[] {
  const found: string[] = [],
    range = document.createRange();
  // The heads of a table whose cells say their column themselves have no size on the screen.
  const isForVoicesOnly = (element: Element | null): boolean =>
    element !== null && (getComputedStyle(element).clipPath !== "none" || isForVoicesOnly(element.parentElement));
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent ?? "",
      owner = walker.currentNode.parentElement!;
    if (
      !/\p{L}{3}/u.test(text) ||
      !owner.checkVisibility({ visibilityProperty: true }) ||
      owner.closest("svg,code,pre,option,.hide,.code,.find-go:not(:focus)") ||
      isForVoicesOnly(owner)
    )
      continue;
    range.selectNodeContents(walker.currentNode);
    if (range.getClientRects().length < 2) continue;
    // The sign of a soft hyphen belongs to the letter behind it: that letter's own box is its last.
    const topOf = (at: number) => {
      range.setStart(walker.currentNode, at);
      range.setEnd(walker.currentNode, at + 1);
      return [...range.getClientRects()].at(-1)?.top ?? 0;
    };
    for (const { 0: word, index } of text.matchAll(/[\p{L}\p{M}]{3,}/gu))
      if (Math.abs(topOf(index + word.length - 1) - topOf(index)) > 4)
        found.push(`${owner.tagName.toLowerCase()}.${owner.className} “${word}” in “${text.trim().slice(0, 40)}”`);
  }
  return found;
}
