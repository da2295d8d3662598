/** An entry of a list, or one that has a name, that is still to be added. */
import { z } from "zod";
import { insideOf, sortOf, wordsOfField } from "../../../schema/described.ts";
import { capital } from "../../../domain/words/say.ts";
import type { FieldPath } from "../../edits/edit.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import { choice, line, type Offered, type Template } from "./controls.ts";
import { type FormContext, hintOf, fieldId, isOptional, valueOf } from "./described-field.ts";
import { offeredFor } from "./offered.ts";
import { valueField } from "./value-field.ts";

/** How an entry is put in. */
interface Put {
  readonly edit: Template;
  /** What a list says before it. */
  readonly first: readonly string[];
  /** The sort of its name, where it has one, and which names are still free to choose. */
  readonly key?: z.ZodType;
  readonly free?: readonly Offered[];
  readonly hasScreens?: boolean;
}

/** The form: its name, where it has one, and what must be there. */
export function putForm(
  context: FormContext,
  type: z.ZodType,
  path: FieldPath,
  { edit, first, key, free, hasScreens }: Put,
): Html {
  const inside = insideOf(type),
    { names, declares, how } = (key && sortOf(key)) ?? {},
    say = heard("deskForms");
  const isNamed = inside instanceof z.ZodObject && "name" in inside.shape;
  const keyField =
    key &&
    (free && free.length > 0
      ? valueField({
          label: say.which,
          sort: { ...sortOf(key)!, names: names ?? [] },
          value: "",
          changes: "key",
          offered: free,
        })
      : line(names ? say.which : declares ? say.shortName({ sort: declares }) : say.called, "", "key", {
          hint: how ? (isNamed ? say.fromName({ how }) : say.so({ how })) : "",
        }));
  const screens = `${context.address}/${path.map((each) => `${encodeURIComponent(each)}/`).join("")}`;
  return html`<details class="insert" id="${fieldId(path)}-new">
    <summary>${say.addOne}</summary>
    <form
      data-put="${JSON.stringify(edit)}"
      ${first.length > 0 && html`data-first="${JSON.stringify(first)}"`}
      ${hasScreens && html`data-then="${screens}"`}
    >
      ${keyField} ${newValue(context, type, key ? say.is : say.which)}
      <button type="submit">${say.addIt}</button>
    </form>
  </details>`;
}

/** The controls of a value that is still to be added: of several fields those that must be there. */
function newValue(context: FormContext, type: z.ZodType, called: string): Html | readonly Html[] {
  const inside = insideOf(type),
    of = (field: z.ZodType, label: string, name: string) =>
      valueOf(context, { type: field, raw: undefined, path: [] }, label, name);
  if (sortOf(type)) return of(type, called, "f:");
  if (inside instanceof z.ZodArray) return of(inside.element as z.ZodType, heard("deskForms").theFirst, "l:");
  if (!(inside instanceof z.ZodObject)) return [];
  return Object.entries(inside.shape as Record<string, z.ZodType>)
    .filter(([, field]) => !isOptional(field) || wordsOfField(field)?.needed !== undefined)
    .map(([name, field]) => {
      const label = capital(name.replaceAll("-", " ")),
        within = insideOf(field),
        element = within instanceof z.ZodArray ? (within.element as z.ZodType) : undefined;
      if (sortOf(field)) return of(field, label, `f:${name}`);
      const names = element && sortOf(element)?.names;
      if (names)
        return choice(
          label,
          "",
          [{ value: "", name: heard("deskForms").none }, ...offeredFor(names, context.around)],
          `l:${name}`,
          hintOf(field),
        );
      return line(label, "", `l:${name}`, { hint: heard("deskForms").comma({ hint: hintOf(field) }) });
    });
}
