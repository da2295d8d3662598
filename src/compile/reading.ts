/**
 * A background page to its record. It is full MDX: code is allowed in it, but not what would stop a build or the site's
 * policy.
 */
import type { Declaration, Expression, Pattern, Program } from "estree";
import type { Nodes } from "mdast";
import type { ContainerDirective, LeafDirective } from "mdast-util-directive";
import type {
  MdxFlowExpression,
  MdxJsxFlowElement,
  MdxJsxTextElement,
  MdxTextExpression,
  MdxjsEsm,
} from "mdast-util-mdx";
import type { Reading } from "../schema/collection.ts";
import { readingHead } from "../schema/files.ts";
import type { PageFile } from "../read/markdown.ts";
import { listNames, nearestName } from "../read/nearest.ts";
import { readFields } from "../read/read-fields.ts";
import { literalOf } from "./text/components.ts";
import { bandOf } from "./controlled.ts";
import { openDirective, reportBrokenDirective } from "./text/directive.ts";
import { endOf, startOf } from "./document.ts";
import type { Compiled, Context, Doc } from "./document.ts";
import { isClosed } from "./text/mend-fences.ts";
import type { PlacedComponent } from "./text/placed.ts";
import { compileTextDirective, reportOpenCode } from "./text/prose.ts";

/** What a page's code may use without having declared it. */
const GIVEN = ["props", "frontmatter", "Fragment", "undefined"];

interface Page extends Doc {
  /** What the page imports or exports. */
  readonly declared: ReadonlySet<string>;
}

/** The record of a page; its components, links and names are judged if its text could be parsed. */
export function compileReading(page: PageFile, id: string, context: Context): Compiled<Reading> {
  const { source, head, brokenHead, tree } = page,
    { findings, platform } = context;
  const where = { file: source.file, line: 1, column: 1 };
  const { fields, at } = readFields(
    readingHead,
    head,
    { source, findings, quiet: brokenHead },
    { what: "the front matter", where },
  );
  const placed: PlacedComponent[] = [];
  if (tree)
    look(tree, {
      ...context,
      source,
      declared: namesDeclared(tree),
      definitions: new Map(),
      reader: { source, findings, quiet: false },
      owner: { id, band: bandOf(undefined, undefined) },
      placed,
    });
  const value: Reading = {
    id,
    platform,
    file: source.file,
    title: fields.title ?? id,
    ...(fields.summary !== undefined ? { summary: fields.summary } : {}),
    ...(fields.order !== undefined ? { order: fields.order } : {}),
    mentions: mentionsIn(source.text),
    where,
    at,
  };
  return { value, placed };
}

/** Words of quoted attribute values and names of image files: what a background page may show. */
function mentionsIn(text: string): string[] {
  const values = [...text.matchAll(/=\s*\{?\s*["'\x60]([^"'\x60]+)["'\x60]/g)].flatMap(([, value = ""]) =>
    value.split(/\s+/),
  );
  const images = [...text.matchAll(/([\w-]+)\.(?:jpe?g|png|webp)\b/gi)].map(([, name = ""]) => name);
  return [...new Set([...values, ...images])].filter(Boolean);
}

function look(node: Nodes, page: Page): void {
  switch (node.type) {
    case "mdxJsxFlowElement":
    case "mdxJsxTextElement":
      lookAtElement(node, page);
      break;
    case "mdxFlowExpression":
    case "mdxTextExpression":
      lookAtExpression(node, page);
      break;
    case "mdxjsEsm":
      for (const { type, source } of (node.data?.estree as Program | undefined)?.body.map((part) => ({
        type: part.type,
        source: "source" in part ? part.source : undefined,
      })) ?? [])
        if (typeof source?.value === "string")
          lookAtImport(source.value, type === "ImportDeclaration" ? "import" : "export", node, page);
      break;
    case "containerDirective":
    case "leafDirective":
      lookAtDirective(node, page);
      break;
    case "textDirective":
      compileTextDirective(node, page);
      return;
    case "paragraph":
      if (page.source.text.startsWith("::", startOf(node)) && reportBrokenDirective(node, page)) return;
      break;
    case "code":
      reportOpenCode(node, page);
      break;
    case "link":
    case "definition":
      if (/^(?:javascript|data|vbscript):/i.test(node.url.replace(/[\u0000-\u0020]/g, "")))
        report(
          page,
          "text/not-data",
          node,
          `A link with \`${node.url.split(":")[0]!.trim()}:\` is not allowed`,
          "Link to an address that begins `https://`",
        );
      break;
    case "image":
    case "imageReference":
      report(
        page,
        "text/syntax",
        node,
        "A picture can't stand in the text like this",
        'Put the image into the folder photos with a sidecar, and write `<Photo id="…" />` in a line of its own',
      );
      break;
  }
  if ("children" in node) for (const child of node.children) look(child as Nodes, page);
}

function report({ source, findings }: Page, rule: string, at: Nodes | number, message: string, fix: string): void {
  findings.error(rule, source.where(typeof at === "number" ? at : startOf(at)), { message, fix });
}

/** Of the directives that are blocks or lines, a background page may hold warnings, cautions and notes. */
function lookAtDirective(node: ContainerDirective | LeafDirective, page: Page): void {
  if (!openDirective(node, "page", page)) return;
  if (node.type === "containerDirective" && !isClosed(node, page))
    report(page, "text/syntax", node, `\`:::${node.name}\` is left open`, "Add a line `:::` after its last line");
  else if (node.children.length === 0)
    report(
      page,
      "text/missing-field",
      node,
      `The text of this \`${node.name}\` is missing`,
      node.type === "leafDirective" ? `Write \`::${node.name}[…]\`` : "Write it between the two lines of colons",
    );
}

function lookAtElement(element: MdxJsxFlowElement | MdxJsxTextElement, page: Page): void {
  const node = element as unknown as Nodes,
    name = element.name ?? "",
    root = name.split(".")[0]!;
  if (/^(?:script|style|iframe|object|embed|base|meta|link)$/i.test(name)) {
    report(
      page,
      "text/not-data",
      node,
      `\`<${name}>\` is not allowed: the site runs and shows nothing that did not come with it`,
      "Remove it",
    );
    return;
  }
  const ours = page.components.has(name) && !page.declared.has(root);
  if (/^[A-Z]/.test(name) && !ours && !page.declared.has(root) && !GIVEN.includes(root)) {
    const near = nearestName(name, page.components);
    report(
      page,
      "text/unknown-id",
      node,
      `There is no component \`<${name}>\`${near ? `, expected \`<${near} />\`` : ""}`,
      near ? `Write \`<${near} … />\`` : `Use ${listNames(page.components)}, or remove it`,
    );
    return;
  }
  const attributes = new Map<string, { value?: string | number | boolean; where: PlacedComponent["where"] }>();
  let isOpen = false;
  for (const attribute of element.attributes) {
    if (attribute.type !== "mdxJsxAttribute") {
      isOpen = true;
      continue;
    }
    const at = attribute.position?.start.offset ?? startOf(node),
      where = page.source.where(at),
      value = literalOf(attribute.value);
    if (
      !ours &&
      /^(?:style|on[a-z]+|is:|set:|define:|client:|server:)/i.test(attribute.name) &&
      attribute.name !== "one"
    )
      report(
        page,
        "text/not-data",
        at,
        `\`${attribute.name}\` is not allowed: the site's pages hold no style and no code of their own`,
        "Remove it",
      );
    else if (attributes.has(attribute.name))
      report(page, "text/syntax", at, `\`${attribute.name}\` is given twice`, "Keep one of the two");
    else attributes.set(attribute.name, { ...(value !== undefined ? { value } : {}), where });
  }
  if (ours && !isOpen)
    page.placed.push({
      name,
      platform: page.platform,
      attributes,
      where: page.source.where(startOf(node)),
    });
}

/** A brace round a single name is mostly a brace that was meant as text. */
function lookAtExpression(expression: MdxFlowExpression | MdxTextExpression, page: Page): void {
  const node = expression as unknown as Nodes,
    statement = (expression.data?.estree as Program | undefined)?.body[0];
  const root = statement?.type === "ExpressionStatement" ? rootOf(statement.expression) : undefined;
  if (root === undefined || page.declared.has(root) || GIVEN.includes(root) || root in globalThis) return;
  const written = page.source.text.slice(startOf(node), endOf(node));
  report(
    page,
    "text/unknown-id",
    node,
    `\`${written.slice(0, 40)}\` stands for nothing: this page has no \`${root}\``,
    `Write \`\\${written.slice(0, 40)}\` if the braces are meant as text, or name it first: \`export ` +
      `const ${root} = …\``,
  );
}

function rootOf(expression: Expression): string | undefined {
  if (expression.type === "Identifier") return expression.name;
  return expression.type === "MemberExpression" && expression.object.type !== "Super"
    ? rootOf(expression.object)
    : undefined;
}

function lookAtImport(from: string, word: "import" | "export", at: Nodes, page: Page): void {
  const start = page.source.text.indexOf(from, startOf(at)),
    place = start < 0 ? at : start;
  if (/\.(?:jpe?g|png|webp|gif|avif|svg|css)(?:\?.*)?$/i.test(from))
    report(
      page,
      "text/not-data",
      place,
      `\`${from}\` can't be taken into a page by \`${word}\``,
      'Remove the line; show a photo with `<Photo id="…" />`',
    );
  else if (!page.finds(from, page.source.file))
    report(
      page,
      "text/bad-value",
      place,
      `There is no \`${from}\` that this page could \`${word}\``,
      `Remove the line; if it is a sentence, do not begin it with \`${word}\``,
    );
}

function namesDeclared(tree: Nodes): Set<string> {
  const names = new Set<string>();
  for (const node of "children" in tree ? tree.children : [])
    if (node.type === "mdxjsEsm")
      for (const part of ((node as MdxjsEsm).data?.estree as Program | undefined)?.body ?? []) {
        if (part.type === "ImportDeclaration") for (const { local } of part.specifiers) names.add(local.name);
        else if (part.type === "ExportNamedDeclaration" && part.declaration)
          for (const name of namesIn(part.declaration)) names.add(name);
      }
  return names;
}

function namesIn(declaration: Declaration): string[] {
  if (declaration.type !== "VariableDeclaration") return declaration.id ? [declaration.id.name] : [];
  return declaration.declarations.flatMap(({ id }) => namesOf(id));
}

function namesOf(pattern: Pattern | null): string[] {
  switch (pattern?.type) {
    case "Identifier":
      return [pattern.name];
    case "ObjectPattern":
      return pattern.properties.flatMap((property) =>
        namesOf(property.type === "Property" ? (property.value as Pattern) : property.argument),
      );
    case "ArrayPattern":
      return pattern.elements.flatMap((element) => namesOf(element));
    case "AssignmentPattern":
      return namesOf(pattern.left);
    case "RestElement":
      return namesOf(pattern.argument);
    default:
      return [];
  }
}
