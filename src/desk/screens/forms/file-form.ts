/** The fields of a YAML file, or of a head, as a form: which there are, and what is said of each, says the format. */
import { z } from "zod";
import { insideOf, sortOf } from "../../../schema/described.ts";
import { capital } from "../../../domain/words/say.ts";
import type { Raw, RawEntry } from "../../../read/raw.ts";
import type { FieldPath } from "../../edits/edit.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import { act, type Template } from "./controls.ts";
import {
  type FormContext,
  hintOf,
  fieldId,
  isEmpty,
  isOptional,
  type FieldSpot,
  writtenTexts,
  valueOf,
} from "./described-field.ts";
import { findingsList, sayCounts } from "../findings.ts";
import { inEnglish } from "../in-english.ts";
import { type Around, offeredFor } from "./offered.ts";
import { putForm } from "./put-form.ts";
import { renamedSort, renameForm } from "./rename-form.ts";

/** The fields of a shape. `whole`: what is done when the last field that is there is left empty. */
export function fieldsForm(
  context: FormContext,
  { type, raw, path }: FieldSpot,
  whole?: Template,
): readonly (Html | undefined)[] {
  const { shape } = insideOf(type) as z.ZodObject,
    entries = raw?.kind === "map" ? raw.entries : [],
    inner = { ...context, around: { ...context.around, ...statesAmong(entries) } };
  return Object.entries(shape as Record<string, z.ZodType>)
    .filter(([name]) => path.length > 0 || !context.without?.includes(name))
    .map(([name, field]) => {
      const own = entries.find(({ key }) => key === name)?.value,
        emptied = whole && entries.length === 1 && own ? whole : { kind: "remove-field", path: [...path, name] };
      return fieldForm(
        inner,
        { type: field, raw: own, path: [...path, name] },
        capital(name.replaceAll("-", " ")),
        emptied,
      );
    });
}

/** The states that a fastening's other fields can name. */
function statesAmong(entries: readonly RawEntry[]): Pick<Around, "states"> {
  const states = entries.find(({ key }) => key === "states")?.value;
  return states ? { states: writtenTexts(states) } : {};
}

function fieldForm(context: FormContext, spot: FieldSpot, label: string, none: Template): Html {
  const { type, raw, path } = spot,
    inside = insideOf(type),
    sort = sortOf(type);
  const found = findingsList(context.found.at(path));
  if (sort && raw?.kind !== "map" && raw?.kind !== "list") {
    // What is not there can't be taken away.
    const changes = { edit: { kind: "set-field", path }, ...(isOptional(type) && raw ? { none } : {}) };
    return html`<div class="held-field" id="${fieldId(path)}">${valueOf(context, spot, label, changes)}${found}</div>`;
  }
  return html`<details class="wide group" id="${fieldId(path)}" ${isShort(raw) && html`open`}>
    <summary>${label}${countIn(raw, inside)} ${tally(context, path)}</summary>
    <p class="small">${hintOf(type)}</p>
    ${found}
    ${
      inside instanceof z.ZodArray
        ? list(context, { ...spot, type: inside }, none, isOptional(type))
        : inside instanceof z.ZodRecord
          ? entriesForm(context, { ...spot, type: inside }, none, isOptional(type))
          : raw !== undefined && raw.kind !== "map" && !isEmpty(raw)
            ? html`<p class="trouble">${heard("deskForms").otherwise}</p>`
            : html`<div class="fields">${fieldsForm(context, spot, isOptional(type) ? none : undefined)}</div>`
    }
  </details>`;
}

/** What is short is open from the start. */
const isShort = (raw: Raw | undefined) =>
  raw !== undefined &&
  !isEmpty(raw) &&
  (raw.kind === "text" || (raw.kind === "list" ? raw.items : raw.entries).length <= 6);

/** How many entries there are, where they are counted. */
function countIn(raw: Raw | undefined, inside: z.ZodType): string | false {
  const count = raw?.kind === "list" ? raw.items.length : raw?.kind === "map" ? raw.entries.length : 0;
  return count > 0 && !(inside instanceof z.ZodObject) && `: ${count}`;
}

function tally({ found }: FormContext, path: FieldPath): Html | false {
  const within = found.within(path);
  return within.length > 0 && html`<span class="tally">${sayCounts(within)}</span>`;
}

/** A list: of single values, or of entries that have fields. */
function list(context: FormContext, { type, raw, path }: FieldSpot, none: Template, canGo: boolean): Html {
  const element = (type as z.ZodArray).element as z.ZodType,
    isSingle = sortOf(element) !== undefined;
  if (raw?.kind === "map") return html`<p class="trouble">${heard("deskForms").otherwise}</p>`;
  // One value stands for a list of one.
  const items: readonly Raw[] = raw?.kind === "list" ? raw.items : raw && !isEmpty(raw) ? [raw] : [],
    isOneText = raw?.kind === "text" && items.length === 1;
  const remove = (at: number): Template =>
    items.length === 1
      ? canGo
        ? none
        : { kind: "set-field", path, value: [] }
      : { kind: "remove-field", path: [...path, at] };
  const rows = items.map((item, at) => {
    const place = isOneText ? path : [...path, at],
      said = isSingle ? "" : sayEntry(item, element, context.around);
    const acts = entryActs({ path, at, count: items.length, called: `${at + 1} ${said}` }, remove(at));
    if (isSingle)
      return html`<li id="${fieldId([...path, at])}">
        ${valueOf(context, { type: element, raw: item, path: place }, `${at + 1}`, {
          edit: { kind: "set-field", path: place },
        })}
        ${acts} ${findingsList(isOneText ? [] : context.found.at(place))}
      </li>`;
    return html`<li class="wide">
      <details id="${fieldId(place)}">
        <summary>${at + 1}. ${said} ${tally(context, place)}</summary>
        ${findingsList(context.found.at(place))}
        <div class="fields">${fieldsForm(context, { type: element, raw: item, path: place })}</div>
        ${acts}
      </details>
    </li>`;
  });
  const put = isOneText
    ? { edit: { kind: "set-field", path }, first: writtenTexts(raw) }
    : { edit: { kind: "insert-entry", path }, first: [] };
  return html`<ol class="${isSingle ? "values" : "entries"}">
      ${rows}
    </ol>
    ${putForm(context, element, path, put)}`;
}

/** What can be done with an entry as a whole; `at` counts from 0, `count` is how many there are. */
function entryActs(
  {
    path,
    at,
    count,
    called,
  }: { readonly path: FieldPath; readonly at: number; readonly count: number; readonly called: string },
  remove: Template,
  asking: { readonly ask?: string } = {},
): Html {
  const say = heard("deskForms"),
    move = (label: string, to: number) =>
      act(label, [{ kind: "move-entry", path, from: at, to }], { name: say.actOn({ act: label, called }) });
  return html`<span class="acts"
    >${at > 0 && move(say.up, at - 1)} ${at < count - 1 && move(say.down, at + 1)}
    ${act(say.remove, [remove], { name: say.actOn({ act: say.remove, called }), ...asking })}</span
  >`;
}

/** What an entry of a list is known by: its first words. */
function sayEntry(raw: Raw, type: z.ZodType, around: Around): string {
  if (raw.kind !== "map") return "";
  const { shape } = insideOf(type) as z.ZodObject;
  return raw.entries
    .slice(0, 4)
    .map(({ key, value }) => {
      const field = (shape as Record<string, z.ZodType>)[key],
        names = field && sortOf(field)?.names;
      return writtenTexts(value)
        .map((text) => (names && offeredFor(names, around, text).find(({ value }) => value === text)?.name) || text)
        .join(", ");
    })
    .filter(Boolean)
    .join(" · ");
}

/** Entries by name: those that have fields are on screens of their own. */
export function entriesForm(
  context: FormContext,
  { type, raw, path }: FieldSpot,
  none: Template,
  canGo: boolean,
): Html {
  const record = type as z.ZodRecord,
    value = record.valueType as z.ZodType,
    key = record.keyType as unknown as z.ZodType,
    hasScreens = insideOf(value) instanceof z.ZodObject;
  if (raw && raw.kind !== "map" && !isEmpty(raw)) return html`<p class="trouble">${heard("deskForms").otherwise}</p>`;
  const entries = raw?.kind === "map" ? raw.entries : [],
    offered = offeredFor(sortOf(key)?.names ?? [], context.around),
    what = renamedSort(sortOf(key)?.declares);
  const rows = entries.map((entry, at) => {
    const place = [...path, entry.key],
      known = offered.find((each) => each.value === entry.key),
      called = known?.name ?? nameIn(entry.value) ?? entry.key;
    const remove = entries.length === 1 && canGo ? none : { kind: "remove-field", path: place };
    const asking = hasScreens ? { ask: heard("deskForms").askRemove({ called }) } : {};
    // What a rule asks is English and long: its buttons go by its number.
    const spoken = known?.isRule ? String(at + 1) : called,
      acts = entryActs({ path, at, count: entries.length, called: spoken }, remove, asking);
    const screen = `${context.address}/${place.map((each) => encodeURIComponent(each)).join("/")}`;
    if (hasScreens)
      return html`<li id="${fieldId(place)}">
        <a href="${context.up}${screen}">${called}</a>
        <span class="code">${entry.key}</span> ${tally(context, place)} ${acts}
      </li>`;
    return html`<li class="wide" id="${fieldId(place)}">
      <fieldset class="${insideOf(value) instanceof z.ZodArray ? "several" : "part"}">
        <legend ${known?.isRule && inEnglish()}>${called}</legend>
        ${entryValue(context, entry, value, place)} ${acts}
      </fieldset>
      ${what && renameForm({ files: context.around.files, what, id: entry.key })}
      ${findingsList(context.found.at(place))}
    </li>`;
  });
  const taken = new Set(entries.map((entry) => entry.key)),
    free = offered.filter((each) => !taken.has(each.value));
  const put = { edit: { kind: "set-field", path, isNew: true }, first: [], key, free, hasScreens };
  return html`<ol class="${hasScreens ? "shelf" : "entries"}">
      ${rows}
    </ol>
    ${putForm(context, value, path, put)}`;
}

/** What stands behind a name: one value or a list of them. */
function entryValue(context: FormContext, entry: RawEntry, type: z.ZodType, path: FieldPath): Html {
  const inside = insideOf(type);
  if (inside instanceof z.ZodArray)
    return list(context, { type: inside, raw: entry.value, path }, { kind: "remove-field", path }, true);
  const states = context.around.platforms
      .flatMap(({ fastenings }) => fastenings)
      .find(({ id }) => id === entry.key)?.states,
    around = states ? { ...context.around, states } : context.around;
  return valueOf({ ...context, around }, { type, raw: entry.value, path }, heard("deskForms").is, {
    edit: { kind: "set-field", path },
  });
}

/** The name that an entry gives itself, or what it is about; nothing where it says neither. */
export function nameIn(raw: Raw | undefined): string | undefined {
  const named =
    raw?.kind === "map" ? raw.entries.find(({ key }) => ["name", "summary"].includes(key))?.value : undefined;
  return named?.kind === "text" && named.text !== "" ? named.text : undefined;
}
