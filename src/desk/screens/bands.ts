/** Bands and durations as controls: nobody has to know how they are written. */
import type { Range } from "../../schema/collection.ts";
import { html, type Html } from "../html.ts";
import { type Changes, composed } from "./controls.ts";

const UNITS = { weight: ["kg", "g", "lb"], age: ["days", "weeks", "months", "years"] } as const;

/** Whom something is for: the words and numbers of its two ends. `any`: what it is called if both are left open. */
export function bandField(kind: "weight" | "age", range: Range | undefined, any: string, changes: Changes): Html {
  const [, lower = "", unit = UNITS[kind][0]] = /^([\d.]+)\s*([a-z]+)$/.exec(range?.from?.text ?? "") ?? [],
    [, upper = "", upperUnit = unit] = /^([\d.]+)\s*([a-z]+)$/.exec(range?.to?.text ?? "") ?? [];
  const used = range?.from ? unit : upperUnit,
    plural = kind === "age" && !used.endsWith("s") ? `${used}s` : used;
  const kinds = { weight: "Weight", age: "Age" };
  return composed(
    kind,
    `${kinds[kind]}: ${any}, or`,
    changes,
    html`<select name="lower" aria-label="${kinds[kind]}, lower end">
        <option value="">no lower end</option>
        <option value="from" ${range?.from?.owned === true && html`selected`}>from</option>
        <option value="over" ${range?.from?.owned === false && html`selected`}>over</option>
      </select>
      <input name="low" inputmode="decimal" value="${lower}" aria-label="${kinds[kind]} of the lower end" />
      <select name="upper" aria-label="${kinds[kind]}, upper end">
        <option value="">no upper end</option>
        <option value="under" ${range?.to?.owned === false && html`selected`}>under</option>
        <option value="up to" ${range?.to?.owned === true && html`selected`}>up to</option>
      </select>
      <input name="high" inputmode="decimal" value="${upper}" aria-label="${kinds[kind]} of the upper end" />
      <select name="unit" aria-label="Unit of the ${kind}">
        ${UNITS[kind].map((each) => html`<option ${each === plural && html`selected`}>${each}</option>`)}
      </select>`,
  );
}

/** How long something takes. */
export function durationField(text: string | undefined, changes: Changes): Html {
  const [, figure = "", unit = "s"] = /^([\d.]+)\s*(s|min)$/.exec(text ?? "") ?? [];
  if (text && !figure)
    return html`<label class="field"
      ><span>Takes</span
      ><input value="${text}" data-edit="${JSON.stringify(changes.edit)}" data-none="${JSON.stringify(changes.none)}"
    /></label>`;
  return composed(
    "duration",
    "Takes",
    changes,
    html`<input name="figure" inputmode="decimal" value="${figure}" aria-label="How long it takes" />
      <select name="unit" aria-label="Unit of time">
        <option value="s" ${unit === "s" && html`selected`}>seconds</option>
        <option value="min" ${unit === "min" && html`selected`}>minutes</option>
      </select>`,
  );
}
