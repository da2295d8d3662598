/** The author's guide: the whole format, made from the shapes that files are read by and the table of directives. */
import examples from "./guide.json" with { type: "json" };
import { DIRECTIVES } from "../compile/text/directives.ts";
import { EACH, ENTRY, fieldsOf } from "../schema/format-fields.ts";
import type { FormatField, FormatPath } from "../schema/format-fields.ts";
import { FILE_KINDS } from "../schema/file-kinds.ts";

/** What the check says to a mistake. */
interface Says {
  readonly message: string;
  readonly fix: string;
}

/** A field with its examples as they are written, and what the check says to the bad one. */
export interface GuideField extends FormatField {
  /** Anchor on its page, and its name among the examples. */
  readonly id: string;
  readonly finding: Says | undefined;
}

/** One page of the guide about one kind of file. */
interface GuidePart {
  readonly id: string;
  readonly title: string;
  readonly path: string;
  readonly says: string;
  readonly fields: readonly GuideField[];
  /** A file of this kind, as it is written. */
  readonly example: { readonly path: string; readonly text: string } | undefined;
}

/** A directive with its attributes. */
interface GuideDirective {
  readonly name: string;
  readonly says: string;
  readonly stands: readonly string[];
  readonly good: string;
  readonly bad: string;
  readonly finding: Says | undefined;
  readonly attributes: readonly GuideField[];
}

const said: Readonly<Record<string, Says>> = examples.says;
const files: Readonly<Record<string, { readonly path: string; readonly text: string }>> = examples.files;

/** Every kind of file, in the order in which a new collection is written. */
export function guideParts(): GuidePart[] {
  return FILE_KINDS.map(({ shape, ...kind }) => ({
    ...kind,
    fields: fieldsOf(shape).map((each) => withFinding(kind.id, each, writeField)),
    example: files[kind.id],
  }));
}

const STANDS: Readonly<Record<string, string>> = {
  procedure: "between the steps of a procedure",
  step: "inside a step",
  card: "in a configuration or an option",
  page: "in a background page",
  block: "in a list or a quotation",
  line: "in a sentence",
};

/** Every directive, in the order of their table. */
export function guideDirectives(): GuideDirective[] {
  return [...DIRECTIVES].map(([name, { guide, stands, attributes }]) => ({
    name,
    ...guide,
    stands: stands.map((spot) => STANDS[spot]!),
    finding: said[name],
    attributes: fieldsOf(attributes).map((each) => withFinding(name, each, writeAttribute)),
  }));
}

function withFinding(part: string, each: FormatField, write: (name: string, value: string) => string): GuideField {
  const id = anchorOfField(part, each.path);
  return { ...each, id, good: write(each.name, each.good), bad: write(each.name, each.bad), finding: said[id] };
}

/** By which name a field of a kind of file, or an attribute of a directive, is found among the findings. */
export function anchorOfField(part: string, path: FormatPath): string {
  return [part, ...path.filter((each) => each !== ENTRY && each !== EACH)].join("-");
}

function writeField(name: string, value: string): string {
  return value === "" ? `${name}:` : `${name}: ${value}`;
}

/** An attribute as it stands in a directive's braces. */
export function writeAttribute(name: string, value: string): string {
  if (value === "true") return name;
  if (name === "id" && /^\S+$/.test(value)) return `#${value}`;
  return /^[\w./:+-]+$/.test(value) ? `${name}=${value}` : `${name}="${value}"`;
}
