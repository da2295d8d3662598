/**
 * Controls of the desk's forms. Each says itself what it changes: `data-edit` holds the change without its value,
 * `data-none` the change when it is left empty; the browser adds what was entered and sends it.
 */
import { inEnglish } from "../in-english.ts";
import type { FileEdit } from "../../edits/edit.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";

/** A change as a control holds it, its value still to come. */
export type Template = Omit<FileEdit, "value" | "text"> | Readonly<Record<string, unknown>>;

/** A choice: what is written, and what it is called. */
export interface Offered {
  readonly value: string;
  readonly name: string;
  /** It is called by what a rule asks, which is English whatever the collection speaks. */
  readonly isRule?: boolean;
}

/** What a control changes. */
export interface Changes {
  readonly edit: Template;
  /** The change when it is left empty; without it, it can't be empty. */
  readonly none?: Template;
  /** The field of the change that takes what was entered: `value` if left out. */
  readonly as?: string;
}

/** Attributes of a control that changes something when it is left. */
function changing({ edit, none, as }: Changes): Html {
  return html` data-edit="${JSON.stringify(edit)}"
  ${none && html`data-none="${JSON.stringify(none)}" `}${as && html`data-as="${as}" `}`;
}

/** A labelled list of what exists. A value that is none of them stands as it is, and says so. */
export function choice(
  label: string,
  value: string,
  choices: readonly Offered[],
  changes: Changes | string,
  hint?: string,
): Html {
  const say = heard("deskForms"),
    isKnown = choices.some((choice) => choice.value === value),
    unknown = value ? say.unknown({ id: value }) : say.choose;
  return html`<label class="field"
    ><span>${label}</span>
    <select ${typeof changes === "string" ? html`name="${changes}"` : changing(changes)}>
      ${!isKnown && html`<option value="${value}" selected>${unknown}</option>`}
      ${choices.map((choice) => option(choice, choice.value === value))}</select
    >${hint && html`<small>${hint}</small>`}</label
  >`;
}

export function option({ value, name, isRule }: Offered, isChosen: boolean): Html {
  return html`<option value="${value}" ${isRule && inEnglish()} ${isChosen && html`selected`}>${name}</option>`;
}

/** How a line of text looks and what it offers; `list`: the id of a list of suggestions. */
interface LineManner {
  readonly type?: string;
  /** A number: devices show the keys for one. */
  readonly figure?: boolean;
  readonly hint?: string | undefined;
  readonly unfit?: boolean;
  readonly list?: string;
}

/** A labelled line of text. */
export function line(
  label: string,
  value: string,
  changes: Changes | string,
  { type = "text", figure, hint, unfit, list }: LineManner = {},
): Html {
  return html`<label class="field${unfit ? " unfit" : ""}"
    ><span>${label}</span>
    <input
      type="${type}"
      value="${value}"
      autocomplete="off"
      ${figure && html`inputmode="decimal"`}
      ${list && html`list="${list}"`}
      ${type === "number" && html`min="1" max="9999"`}
      ${typeof changes === "string" ? html`name="${changes}"` : changing(changes)}
    />${hint && html`<small>${hint}</small>`}</label
  >`;
}

/** A labelled text of several lines. */
export function area(label: string, value: string, changes: Changes | string, hint?: string): Html {
  const lines = value.split("\n").reduce((all, each) => all + Math.max(1, Math.ceil(each.length / 60)), 0);
  return html`<label class="field wide"
    ><span>${label}</span>${hint && html`<small>${hint}</small>`}
    <textarea rows="${Math.max(2, lines)}" ${typeof changes === "string" ? html`name="${changes}"` : changing(changes)}>
${value}</textarea>
  </label>`;
}

/** Something that is so, or not. */
export function tick(label: string, isSo: boolean, changes: Changes): Html {
  return html`<label class="tick"
    ><input type="checkbox" ${isSo && html`checked`} ${changing(changes)} />${label}</label
  >`;
}

/** One of a few, all in sight. `name` keeps those of one question together; as `changes` it is what a form sends. */
export function oneOf(
  legend: string,
  name: string,
  value: string,
  choices: readonly Offered[],
  changes: Changes | string,
): Html {
  const all = choices.some((choice) => choice.value === value) ? choices : [...choices, { value, name: value }];
  return html`<fieldset class="one-of">
    <legend>${legend}</legend>
    ${all.map(
      (choice) =>
        html`<label
          ><input
            type="radio"
            name="${name}"
            value="${choice.value}"
            ${choice.value === value && html`checked`}
            ${typeof changes !== "string" && changing(changes)}
          /><span>${choice.name}</span></label
        >`,
    )}
  </fieldset>`;
}

/** A button that changes something as it is pressed. `ask`: what is asked before; `then`: the screen to go to. */
export function act(
  label: string,
  edits: readonly Template[],
  { ask, name, then }: { ask?: string; name?: string; then?: string } = {},
): Html {
  return html`<button
    type="button"
    data-edits="${JSON.stringify(edits)}"
    ${ask && html`data-ask="${ask}"`}
    ${then !== undefined && html`data-then="${then}"`}
    ${name && html`aria-label="${name}"`}
  >
    ${label}
  </button>`;
}

/** The ends of a band, a duration, or a list of names: several controls that make one text (`browser/compose.ts`). */
export function composed(how: string, legend: string, changes: Changes | string, content: Html, hint?: string): Html {
  return html`<fieldset
    class="composed"
    data-compose="${how}"
    ${typeof changes === "string" ? html`data-name="${changes}"` : changing(changes)}
  >
    <legend>${legend}</legend>
    ${content}${hint && html`<small>${hint}</small>`}
  </fieldset>`;
}
