/**
 * Attributes of directives with their places: taken from the parser's own tokens, which say where each begins; its
 * syntax tree says only what they are, and keeps the last of two.
 */
import type { Nodes } from "mdast";
import type { CompileContext, Extension, Handle, Token } from "mdast-util-from-markdown";
import { parseEntities } from "parse-entities";
import type { RawEntry, RawMap } from "./raw.ts";

/** What stands after a directive's name. */
interface Opening {
  /** Offset of the first character between `[` and `]`; absent without a label. */
  label?: number;
  /** Offset of `{`; absent without attributes. */
  braces?: number;
  /** Attributes as written, in order, one that is given twice twice. */
  readonly entries: RawEntry[];
}

declare module "mdast-util-directive" {
  interface ContainerDirectiveData {
    opening?: Opening;
  }
  interface LeafDirectiveData {
    opening?: Opening;
  }
  interface TextDirectiveData {
    opening?: Opening;
  }
}

/**
 * Attributes of a directive; a map without entries for one that has none.
 * `offset` is that of its brace, else of its name.
 */
export function attributesOf(node: Nodes): RawMap {
  const opening = openingOf(node);
  return {
    kind: "map",
    entries: opening?.entries ?? [],
    offset: opening?.braces ?? node.position?.start.offset ?? 0,
  };
}

/** Offset of the first character of a directive's label; nothing without one. */
export function labelOffset(node: Nodes): number | undefined {
  return openingOf(node)?.label;
}

type DirectiveNode = Extract<Nodes, { type: "containerDirective" | "leafDirective" | "textDirective" }>;

function isDirective(node: { readonly type: string } | undefined): node is DirectiveNode {
  return node?.type === "containerDirective" || node?.type === "leafDirective" || node?.type === "textDirective";
}

function openingOf(node: Nodes): Opening | undefined {
  return isDirective(node) ? node.data?.opening : undefined;
}

/** The opening of the directive that is being built: while its attributes are read, a buffer stands on top of it. */
function opening({ stack }: CompileContext): Opening | undefined {
  const top = stack.at(-1),
    node = top?.type === "fragment" ? stack.at(-2) : top;
  if (!isDirective(node)) return undefined;
  node.data ??= {};
  return (node.data.opening ??= { entries: [] });
}

const enterLabel: Handle = function (token) {
  const it = opening(this);
  if (it) it.label = token.start.offset + 1;
};

const enterAttributes: Handle = function (token) {
  const it = opening(this);
  if (it) it.braces = token.start.offset;
  // Line ends between attributes are no text.
  this.buffer();
};

const exitAttributes: Handle = function () {
  this.resume();
  const node = this.stack.at(-1);
  if (!isDirective(node)) return;
  node.attributes = Object.fromEntries(
    (node.data?.opening?.entries ?? []).map(({ key, value }) => [key, value.kind === "text" ? value.text : ""]),
  );
};

function add(context: CompileContext, key: string, keyOffset: number, token: Token): void {
  const written = context.sliceSerialize(token),
    text = parseEntities(written, { attribute: true });
  opening(context)?.entries.push({
    key,
    keyOffset,
    value: { kind: "text", text, offset: token.start.offset, exact: text === written, empty: false },
  });
}

/** `#id` and `.class`: the value begins after its mark. */
const shortcut = (key: string): Handle =>
  function (token) {
    add(this, key, token.start.offset - 1, token);
  };

/** A name; the parser takes a tab for part of it, where here it parts two names. */
const exitName: Handle = function (token) {
  for (const { 0: key, index } of this.sliceSerialize(token).matchAll(/[^\t]+/g)) {
    const keyOffset = token.start.offset + index;
    opening(this)?.entries.push({
      key,
      keyOffset,
      value: { kind: "text", text: "", offset: keyOffset, exact: false, empty: false, bare: true },
    });
  }
};

const exitValue: Handle = function (token) {
  const named = opening(this)?.entries.pop();
  if (named) add(this, named.key, named.keyOffset, token);
};

/** An empty value in quotes has no token of its own. */
const exitLiteral: Handle = function (token) {
  const entries = opening(this)?.entries,
    named = entries?.at(-1);
  if (entries && named?.value.kind === "text" && named.value.bare)
    entries[entries.length - 1] = {
      ...named,
      value: { kind: "text", text: "", offset: token.start.offset + 1, exact: true, empty: false },
    };
};

const FORMS = ["Container", "Leaf", "Text"] as const;

/**
 * An extension of mdast-util-from-markdown, to be used after that of mdast-util-directive (version 3), whose handlers
 * of attributes it takes the place of.
 */
export function directivePlaces(): Extension {
  const handlers = (names: Readonly<Record<string, Handle>>) =>
    Object.fromEntries(
      FORMS.flatMap((form) =>
        Object.entries(names).map(([name, handle]) => [`directive${form}${name}`, handle] as const),
      ),
    );
  return {
    enter: {
      ...handlers({ Attributes: enterAttributes }),
      directiveLeafLabel: enterLabel,
      directiveTextLabel: enterLabel,
    },
    exit: handlers({
      Attributes: exitAttributes,
      AttributeName: exitName,
      AttributeValue: exitValue,
      AttributeValueLiteral: exitLiteral,
      AttributeIdValue: shortcut("id"),
      AttributeClassValue: shortcut("class"),
      AttributeId: ignore,
      AttributeClass: ignore,
    }),
  };
}

function ignore(): void {
  /* Told by its value. */
}
