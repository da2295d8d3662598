/** Leaves out of an open page what is made just like its neighbours, before it is asked what takes long. */
import type { Page } from "puppeteer-core";
import { isEveryPageAsked } from "./representatives.ts";

/**
 * Takes entries out of an open page that are made like the two before them and are not the last: items and rows of a
 * list, parts of a form, choices. Alike are two that have the same elements with the same classes, states and names of
 * attributes, filled and empty in the same places: what a rule of markup, names or colours finds in one it finds in the
 * other, whatever the words are. The first two and the last stay, as a style sheet may tell these apart. What a rule
 * compares across entries is looked at before, and given back: ids that stand on the page more than once. Where every
 * page is asked for (RERIG_EVERY), nothing is taken out.
 */
export async function leaveOutAlike(page: Page): Promise<readonly string[]> {
  return page.evaluate(leaveOut, isEveryPageAsked);
}

/** Runs in the page. */
function leaveOut(keepsAll: boolean): string[] {
  const ENTRIES = "li,tr,option,details,fieldset,section,article,div,form,p,label,dt,dd,g";
  /** Attributes that say by their value how an element looks and what it is. */
  const BY_VALUE =
    /^(?:type|role|dir|lang|tabindex|scope|colspan|rowspan|autocomplete)$|^aria-(?!label|describedby|labelledby|controls|owns)/;
  const NAMING = ["for", "aria-labelledby", "aria-describedby", "aria-controls", "list", "href"];
  /** The ids that an attribute names. */
  const idsIn = (name: string, value: string) =>
    value.split(/\s+/).flatMap((part) => {
      if (name !== "href") return part === "" ? [] : [part];
      return /^#./.test(part) ? [decodeURIComponent(part.slice(1))] : [];
    });
  const shapes = new WeakMap<Element, number>(),
    numbers = new Map<string, number>();
  const shapeOf = (element: Element): number => {
    const known = shapes.get(element);
    if (known !== undefined) return known;
    const attributes = [...element.attributes].map(({ name, value }) => {
      if (name === "class")
        return value
          .split(/\s+/)
          .map((each) => `.${each.replaceAll(/\d+/g, "0")}`)
          .sort()
          .join("");
      if (name === "style") return /#|rgb|color/.test(value) ? value : value.replaceAll(/[\d.]+/g, "0");
      // Whether it leads anywhere is seen at the entry alone.
      const named = NAMING.includes(name) ? idsIn(name, value) : [];
      if (named.length > 0) return `${name}→${named.map((id) => document.getElementById(id)?.tagName).join()}`;
      return BY_VALUE.test(name) ? `${name}=${value}` : value.trim() === "" ? `${name}=` : name;
    });
    const { labels } = element as HTMLInputElement;
    if (labels instanceof NodeList) attributes.push(`${labels.length} labels`);
    const inside = [...element.childNodes].flatMap((node) => {
      if (node instanceof Element) return [String(shapeOf(node))];
      return node.nodeType === Node.TEXT_NODE && node.nodeValue!.trim() !== "" ? ["words"] : [];
    });
    const text = `${element.tagName} ${attributes.sort().join(" ")}: ${inside.join(" ")}`;
    if (!numbers.has(text)) numbers.set(text, numbers.size);
    shapes.set(element, numbers.get(text)!);
    return numbers.get(text)!;
  };
  const times = Map.groupBy(document.querySelectorAll("[id]"), ({ id }) => id);
  const twice = [...times].filter(([, all]) => all.length > 1).map(([id, all]) => `${all.length} times the id ${id}`);
  if (keepsAll) return twice;
  /** Elements that name others by an id, by that id: what they name stays as long as they do. */
  const namingNow = () => {
    const naming = new Map<string, Element[]>();
    for (const element of document.querySelectorAll(NAMING.map((name) => `[${name}]`).join()))
      for (const name of NAMING)
        for (const id of idsIn(name, element.getAttribute(name) ?? ""))
          naming.set(id, [...(naming.get(id) ?? []), element]);
    return naming;
  };
  const visit = (parent: Element, naming: ReadonlyMap<string, readonly Element[]>) => {
    const isNamedFromElsewhere = (entry: Element) =>
      [entry, ...entry.querySelectorAll("[id]")].some(({ id }) =>
        naming.get(id)?.some((each) => each.isConnected && !entry.contains(each)),
      );
    const entries = [...parent.children].filter((child) => child.matches(ENTRIES));
    for (const alike of Map.groupBy(entries, shapeOf).values())
      for (const entry of alike.slice(2, -1)) if (!isNamedFromElsewhere(entry)) entry.remove();
    for (const child of parent.children) visit(child, naming);
  };
  shapeOf(document.body);
  // A list of contents, then what it led to.
  for (let time = 0; time < 2; time += 1) visit(document.body, namingNow());
  return twice;
}
