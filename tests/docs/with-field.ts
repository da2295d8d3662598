/** The files that the author's guide shows, and one of their fields set to something else. */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { isMap, isSeq, parse, parseDocument } from "yaml";
import { EACH, ENTRY } from "../../src/schema/format-fields.ts";
import type { FormatField } from "../../src/schema/format-fields.ts";

/** The collection that the guide shows files of. */
export const example = resolve(import.meta.dirname, "../../src/docs/example");

/** The file of each kind that the guide shows. */
export const SHOWN: Readonly<Record<string, string>> = {
  service: "service.yaml",
  platform: "trolley/platform.yaml",
  equipment: "trolley/equipment.yaml",
  configuration: "trolley/configurations/newborn-capsule.mdx",
  option: "trolley/options/gas-shelf.mdx",
  procedure: "trolley/seat-capsule.mdx",
  photo: "trolley/photos/capsule-pins.yaml",
  reading: "trolley/reading/why-four-pins.mdx",
  amendment: "trolley/amendments/new-pins.mdx",
  folders: "folders.yaml",
  incidents: "incidents.yaml",
  review: "reviews/seat-capsule.yaml",
};

/** What stands in a file of it. */
export function textOf(file: string): string {
  return readFileSync(join(example, file), "utf8");
}

/** The YAML of a file, or of its head, with one field set; what it stands in comes from its own example. */
export function withField(text: string, fields: readonly FormatField[], { path }: FormatField, value: string): string {
  const head = /^---\n([\s\S]*?)\n---\n/.exec(text);
  const doc = parseDocument(head ? head[1]! : text),
    at: (string | number)[] = [];
  path.forEach((part, index) => {
    const next = path[index + 1];
    const has = (node: unknown) => isMap(node) && next !== undefined && node.has(next);
    const here = at.length ? doc.getIn(at, true) : doc.contents;
    if (part === ENTRY && isMap(here))
      at.push(String((here.items.find((pair) => has(pair.value)) ?? here.items[0]!).key));
    else if (part === EACH && isSeq(here)) at.push(Math.max(0, here.items.findIndex(has)));
    else {
      at.push(part);
      const container = fields.find((field) => field.path.join() === path.slice(0, index + 1).join());
      if (next !== undefined && !doc.hasIn(at)) doc.setIn(at, doc.createNode(parse(container!.good)));
    }
  });
  const given: unknown = value === "" ? null : parse(value),
    old = doc.getIn(at);
  // An entry of a map is added to those that others refer to.
  if (isMap(old) && given !== null && typeof given === "object" && !Array.isArray(given))
    for (const [key, each] of Object.entries(given)) doc.setIn([...at, key], doc.createNode(each));
  else doc.setIn(at, doc.createNode(given));
  return head ? `---\n${doc.toString()}---\n${text.slice(head[0].length)}` : doc.toString();
}
