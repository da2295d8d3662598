/** Leaves out of an open page what is made just like its neighbours, before it is asked what takes long. */
import type { Page } from "puppeteer-core";

/**
 * Takes entries out of an open page that are made like the two before them and are not the last: items and rows of a
 * list, parts of a form, choices. Alike are two that have the same elements with the same classes, states and names of
 * attributes, filled and empty in the same places: what a rule of markup, names or colours finds in one it finds in the
 * other, whatever the words are. The first two and the last stay, as a style sheet may tell these apart. What a rule
 * compares across entries is looked at before, and given back: ids that stand on the page more than once.
 */
export async function leaveOutAlike(page: Page): Promise<readonly string[]> {
  return page.evaluate(leaveOut);
}

/** Runs in the page. */
function leaveOut(): string[] {
  const ENTRIES = "li,tr,option,details,fieldset,section,article,div,form,p,label,dt,dd,g";
  /** Attributes that say by their value how an element looks and what it is. */
  const BY_VALUE =
    /^(?:type|role|dir|lang|tabindex|scope|colspan|rowspan|autocomplete)$|^aria-(?!label|describedby|labelledby|controls|owns)/;
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
      return BY_VALUE.test(name) ? `${name}=${value}` : value.trim() === "" ? `${name}=` : name;
    });
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
  /** What other elements name by an id: it stays. */
  const named = new Map<string, Element[]>();
  for (const element of document.querySelectorAll("[for],[aria-labelledby],[aria-describedby],[aria-controls],[list]"))
    for (const name of ["for", "aria-labelledby", "aria-describedby", "aria-controls", "list"])
      for (const id of element.getAttribute(name)?.split(/\s+/) ?? [])
        named.set(id, [...(named.get(id) ?? []), element]);
  const isNamedFromElsewhere = (entry: Element) =>
    [entry, ...entry.querySelectorAll("[id]")].some(({ id }) => named.get(id)?.some((each) => !entry.contains(each)));
  shapeOf(document.body);
  const visit = (parent: Element) => {
    const met = new Map<number, Element[]>();
    for (const child of [...parent.children]) {
      if (!child.matches(ENTRIES)) continue;
      const alike = met.get(shapeOf(child)) ?? [];
      met.set(shapeOf(child), [...alike, child]);
    }
    for (const alike of met.values())
      for (const entry of alike.slice(2, -1)) if (!isNamedFromElsewhere(entry)) entry.remove();
    for (const child of parent.children) visit(child);
  };
  visit(document.body);
  return twice;
}
