/** A field of a form with what the format says of it. */
import type { z } from "zod";
import { ZodOptional } from "zod";
import { sortOf, wordsOfField } from "../../../schema/described.ts";
import type { Raw } from "../../../read/raw.ts";
import type { FieldPath } from "../../edits/edit.ts";
import type { Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import type { Changes } from "./controls.ts";
import type { FoundIn } from "../found-in.ts";
import { type Around, offeredFor } from "./offered.ts";
import { valueField } from "./value-field.ts";

/** What a form is made from. */
export interface FormContext {
  readonly around: Around;
  readonly found: FoundIn;
  /** Of the file: entries have screens of their own behind it. */
  readonly address: string;
  /** The way from the screen to the desk's start. */
  readonly up: string;
  /** Fields that another screen is for. */
  readonly without?: readonly string[];
}

/** A value in the file with its shape. */
export interface FieldSpot {
  readonly type: z.ZodType;
  readonly raw: Raw | undefined;
  readonly path: FieldPath;
}

/** By which a field is found on the screen. */
export function fieldId(path: FieldPath): string {
  return `f-${path.map((key) => String(key).replace(/[^\w-]/g, "_")).join("-")}`;
}

/** Whether a field may be left out. */
export function isOptional(type: z.ZodType): boolean {
  return type instanceof ZodOptional;
}

/** Whether nothing is written behind a name. */
export function isEmpty(raw: Raw): boolean {
  return raw.kind === "text" && raw.text === "";
}

/** The texts of a list; one text stands for a list of one. */
export function writtenTexts(raw: Raw | undefined): readonly string[] {
  if (raw?.kind === "list") return raw.items.flatMap((each) => (each.kind === "text" ? [each.text] : []));
  return raw?.kind === "text" && !isEmpty(raw) ? [raw.text] : [];
}

/** What is said of a field. */
export function hintOf(type: z.ZodType): string {
  return wordsOfField(type)?.says.replaceAll("`", "") ?? "";
}

/** What holds where a field is left out; nothing where it must be there. */
function withoutOf(type: z.ZodType): string | undefined {
  const { without, needed } = wordsOfField(type) ?? {};
  if (!isOptional(type)) return undefined;
  return needed === undefined ? (without ?? "").replaceAll("`", "") : "";
}

/** One value with what is said of it. */
export function valueOf(
  { around }: FormContext,
  { type, raw }: FieldSpot,
  label: string,
  changes: Changes | string,
): Html {
  const sort = sortOf(type)!,
    words = wordsOfField(type),
    value = raw?.kind === "text" ? raw.text : "",
    without = withoutOf(type),
    say = heard("deskForms");
  const said = [
    words?.says,
    !sort.entered && !sort.names && sort.how && say.so({ how: sort.how }),
    words?.needed && say.needed({ when: words.needed }),
    without && say.leftOutSoSaid({ without }),
  ];
  return valueField({
    label: words && without === undefined ? say.mustBeThere({ label }) : label,
    sort,
    value,
    changes,
    hint: said.filter(Boolean).join(" ").replaceAll("`", ""),
    without,
    offered: sort.names ? offeredFor(sort.names, around, value) : [],
  });
}
