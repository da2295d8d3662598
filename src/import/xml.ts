/** XML of an office document as a plain tree: names without their prefix, text with its spaces. */
import { XMLParser, XMLValidator } from "fast-xml-parser";
import { CannotRun } from "../findings/cannot-run.ts";

/** An element; its attributes' names are without prefix too. */
export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Element | string)[];
}

const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: "",
  removeNSPrefix: true,
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  // Read below: the parser's own bound on how many there are would refuse a long text full of `&amp;`.
  processEntities: false,
  maxNestedTags: 2_000,
});

type Node = Record<string, unknown>;
const ATTRIBUTES = ":@",
  TEXT = "#text";

/**
 * The root of a part. Throws `CannotRun` if it is no well-formed XML, or holds a document type, which no office
 * document does (ECMA-376 Part 2, 6.2.5) and by which a small file can grow without bound.
 */
export function parsePart(bytes: Buffer, part: string): Element {
  const refuse = (): never => {
    throw new CannotRun(
      `The document's part \`${part}\` is damaged. Open the document in your word processor and save it again as ` +
        ".docx. Nothing was written.",
    );
  };
  const text = decode(bytes);
  if (/<!(?:DOCTYPE|ENTITY)/i.test(text) || XMLValidator.validate(text) !== true) return refuse();
  let nodes: Node[];
  try {
    nodes = parser.parse(text) as Node[];
  } catch {
    return refuse();
  }
  const root = nodes.map(asElement).find((node) => typeof node !== "string" && !node.name.startsWith("?"));
  return typeof root === "object" ? root : refuse();
}

/** UTF-8 or UTF-16, as its first bytes say (ECMA-376 Part 2, 6.2.5). */
function decode(bytes: Buffer): string {
  const mark = bytes.length > 1 ? bytes.readUInt16BE(0) : 0;
  return new TextDecoder(mark === 0xfffe ? "utf-16le" : mark === 0xfeff ? "utf-16be" : "utf-8").decode(bytes);
}

function asElement(node: Node): Element | string {
  if (TEXT in node) return readEntities(String(node[TEXT]));
  const name = Object.keys(node).find((key) => key !== ATTRIBUTES) ?? "";
  const attributes = Object.entries((node[ATTRIBUTES] ?? {}) as Record<string, string>);
  return {
    name,
    attributes: Object.fromEntries(attributes.map(([key, value]) => [key, readEntities(String(value))])),
    children: ((node[name] ?? []) as Node[]).map(asElement),
  };
}

const NAMED: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

/** The five entities and the character references of XML 1.0 (4.1, 4.6). */
function readEntities(text: string): string {
  return text.replace(/&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|(amp|lt|gt|quot|apos));/gi, (whole, hex, decimal, name) => {
    if (name) return NAMED[(name as string).toLowerCase()] ?? (whole as string);
    const code = hex ? parseInt(hex as string, 16) : Number(decimal);
    return code <= 0x10_ffff ? String.fromCodePoint(code) : "\ufffd";
  });
}

/** The elements directly in another. */
export function elementsIn(element: Element | undefined): readonly Element[] {
  return (element?.children ?? []).filter((child): child is Element => typeof child !== "string");
}

/** The first element of a name directly in another, then the next name in that, and so on. */
export function childOf(element: Element | undefined, ...names: readonly string[]): Element | undefined {
  return names.reduce<Element | undefined>(
    (found, name) => elementsIn(found).find((child) => child.name === name),
    element,
  );
}

/** Every element of a name anywhere in another, in the order of the text. */
export function allIn(element: Element, name: string): Element[] {
  return elementsIn(element).flatMap((child) => [...(child.name === name ? [child] : []), ...allIn(child, name)]);
}
