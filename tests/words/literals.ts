/**
 * The text that a file of the program says by itself and not by the table: text between tags, what is read out of
 * attributes, and strings that read as words. What a program reads is none of it: addresses, classes, keys, selectors,
 * errors of a programmer, names of fields and commands in `<code>`, and other words by which the search finds a page.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import astro from "eslint-plugin-astro";
import tseslint from "typescript-eslint";

interface Node {
  readonly type: string;
  readonly range: readonly [number, number];
  readonly [field: string]: unknown;
}
interface Parser {
  parseForESLint(text: string, options: object): { readonly ast: Node };
}

const OPTIONS = { range: true, loc: true, sourceType: "module", ecmaVersion: "latest", parser: tseslint.parser };
const ofPages = astro.configs.recommended.find(({ languageOptions }) => languageOptions?.parser)!.languageOptions!
  .parser as unknown as Parser;
const ofScripts = tseslint.parser as unknown as Parser;

/** Fields of a syntax tree that lead elsewhere than down. */
const ASIDE = new Set(["parent", "tokens", "comments", "loc", "range"]);
const UNSAID = /^(?:Import|ExportAll|TSTypeAnnotation|TSInterface|TSTypeAlias|TSLiteralType|ThrowStatement)/;
/** Errors that are no programmer's: what they say is read by who made the change. */
const SAID_ERRORS = /^Refusal$/;
/** Elements and calls of which nothing is said to a reader. */
const UNSAID_ELEMENTS = new Set(["style", "script", "code"]);
const UNSAID_CALLS = /^(?:needed|Error|RegExp)$|(?:querySelector(?:All)?|closest|matches|getElementById|setAttribute)$/;
/** Attributes that are said; text in any other counts only if it has blanks or a capital. */
const SPOKEN = /^(?:alt|title|aria-label|aria-description|placeholder|content|description|label|caption|lead|heading)$/;
const UNSAID_ATTRIBUTES = new RegExp(
  "^(?:class|class:list|id|href|src|srcset|sizes|d|viewBox|type|role|for|name|kind|rel|style|data-.*|media|method|" +
    "action|points|transform|scope|slot|section|autocomplete|inputmode|pattern|lang|dir|words|value|key|charset|" +
    "aria-(?:hidden|current|live|controls|describedby|labelledby|expanded|haspopup|pressed))$",
);
/** Fields of a record that a program reads. */
const UNSAID_FIELDS = new Set(["kind", "form", "words", "sizes", "class", "id", "href", "d"]);
/** Words that are a file's, an option's or the system's. */
const OTHERS = /^(?:any weight|any age|-h, --help|SIG[A-Z]+|E[A-Z]{4,}|(?:GET|HEAD|POST)(?:, [A-Z]+)*)$/;
const UNITS = /\b(?:kg|g|lb|mm|cm|m|kN|N|s|min|h|x|r)\b/g;

/** Whether a text reads as words and not as one word of a program, a selector or markup. */
function reads(text: string): boolean {
  const said = text.trim();
  // A semicolon between words is a sentence's; of a declaration it follows a colon.
  const sentence = said.replaceAll(" → ", "").replace(/(?<=^[^:;]*); (?=[a-z])/gi, ", ");
  if (!/[a-z]{2}/i.test(said) || /[{}<>=;\\]/.test(sentence)) return false;
  if (/^[\w:.#/@?=&*+~[\]()|^$-]+$/.test(said)) return /^(?:[A-Z][a-z]+[.:?!]?|[A-Z]{3,})$/.test(said);
  // A selector begins with no word of a sentence.
  if (/^[A-Z][a-z]*,? [a-z]/.test(said)) return true;
  return !(/^[.#]?[a-z-]+(?:\[[^\]]*\])?[ >,.#:[\]="'()a-z0-9*-]*$/i.test(said) && /[[\]>#]|^\.|\.[a-z]/.test(said));
}

const isString = (node: Node) =>
  (node.type === "Literal" && typeof node["value"] === "string") || node.type === "TemplateLiteral";

/** The texts of a string, a template, or strings put together. */
function textsOf(node: Node): string[] {
  if (node.type === "Literal") return [node["value"] as string];
  if (node.type === "TemplateLiteral")
    return (node["quasis"] as { value: { cooked: string } }[]).map(({ value }) => value.cooked);
  return [];
}

/**
 * The texts of markup: what stands between its tags, and in attributes that are said; `\0` is what is put in. A piece
 * without a tag is attributes, or text.
 */
function textsOfMarkup(markup: string): string[] {
  const ATTRIBUTE = /(?:^|\s)([\w-]+)="([^"]*)"/g,
    attributes = [...markup.matchAll(ATTRIBUTE)].filter(([, name, value]) => SPOKEN.test(name!) && !/=/.test(value!));
  const texts = markup.includes("<") ? markup.split(/<[^>]*>/) : [markup.replace(ATTRIBUTE, "")].filter(reads);
  return [...attributes.map(([, , value]) => value!), ...texts].map((said) => said.replaceAll("\u0000", "…"));
}

function nameOf(node: unknown): string {
  const { type, name, namespace, property } = node as Record<string, unknown> & { type?: string };
  if (type === "JSXNamespacedName") return `${nameOf(namespace)}:${nameOf(name)}`;
  if (type === "MemberExpression") return nameOf(property);
  return typeof name === "string" ? name : "";
}

function childrenOf(node: Node): Node[] {
  return Object.entries(node).flatMap(([field, value]) =>
    ASIDE.has(field)
      ? []
      : (Array.isArray(value) ? value : [value]).filter((each): each is Node => typeof each?.type === "string"),
  );
}

/** The texts in a file that do not come from the table, as they stand there. */
export function literalsIn(file: string, text = readFileSync(file, "utf8")): string[] {
  const found: string[] = [];
  const add = (said: string) => {
    const words = said.replace(/\s+/g, " ").trim();
    if (/[a-z]{2}/i.test(words.replace(UNITS, "")) && !OTHERS.test(words)) found.push(words);
  };
  const visit = (node: Node, parent?: Node): void => {
    const thrown = node.type === "ThrowStatement" && (node["argument"] as Node);
    if (UNSAID.test(node.type) && !(thrown && SAID_ERRORS.test(nameOf(thrown["callee"] ?? thrown)))) return;
    if (node.type === "TaggedTemplateExpression" && nameOf(node["tag"]) === "html") {
      for (const said of textsOfMarkup(textsOf(node["quasi"] as Node).join("\u0000"))) add(said);
      for (const child of childrenOf(node["quasi"] as Node)) visit(child, node);
      return;
    }
    if (node.type === "JSXText") return add(node["value"] as string);
    if (node.type === "JSXElement") {
      const opening = node["openingElement"] as Node;
      if (UNSAID_ELEMENTS.has(nameOf(opening["name"]))) return;
    }
    if (node.type === "JSXAttribute") {
      const name = nameOf(node["name"]),
        value = node["value"] as Node | null;
      if (!value || UNSAID_ATTRIBUTES.test(name)) return;
      if (isString(value)) {
        const said = value["value"] as string;
        if (SPOKEN.test(name) || (reads(said) && /[A-Z ]/.test(said))) add(said);
        return;
      }
    }
    if (node.type === "CallExpression" || node.type === "NewExpression")
      if (UNSAID_CALLS.test(nameOf(node["callee"]))) return;
    if (node.type === "Property" && UNSAID_FIELDS.has(nameOf(node["key"]))) return;
    if (isString(node)) {
      const texts = textsOf(node),
        isKey = (parent?.type === "Property" && parent["key"] === node) || parent?.type === "BinaryExpression";
      const compared = isKey && !(parent.type === "BinaryExpression" && parent["operator"] === "+");
      const words = texts.join(" ").replace(/[/#?&=.-]+[\w-]*/g, " ");
      if (!compared && parent?.type !== "SwitchCase" && parent?.type !== "MemberExpression")
        if (texts.length === 1 ? reads(texts[0]!) : reads(texts.join("x")) && / [a-z]|[a-z] |[A-Z][a-z]/.test(words))
          add(texts.join("…"));
    }
    for (const child of childrenOf(node)) visit(child, node);
  };
  visit((file.endsWith(".astro") ? ofPages : ofScripts).parseForESLint(text, OPTIONS).ast);
  return found;
}

/** The texts in all files of a folder that do not come from the table, each with its file. */
export function literalsUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => /\.(?:ts|astro)$/.test(name))
    .sort()
    .flatMap((name) => literalsIn(join(folder, name)).map((said) => `${name}: ${said}`));
}
