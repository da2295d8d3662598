/** Bands and quantities as controls: nobody has to know how they are written. */
import type { Range } from "../../../schema/collection.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import { type Changes, composed, line, type Offered, option } from "./controls.ts";

/** Units as the format writes them: those of mass are said as they are written (SI Brochure, 9th edition, 5.2). */
const UNITS = { weight: ["kg", "g", "lb"], age: ["days", "weeks", "months", "years"] } as const;

const sayUnit = (unit: (typeof UNITS)["weight" | "age"][number]): string =>
  unit === "kg" || unit === "g" || unit === "lb" ? unit : heard("deskForms")[unit];

/** What a control is called, where it is not called by its kind, and what is said of it. */
interface Called {
  readonly label?: string | undefined;
  readonly hint?: string | undefined;
}

/**
 * Whom something is for: the words and numbers of its two ends. `any`: what it is called if both are left open. A line
 * of text where the ends are in two units.
 */
export function bandField(
  kind: "weight" | "age",
  range: Range | undefined,
  any: string,
  changes: Changes | string,
  { label, hint }: Called = {},
): Html {
  const [, lower = "", unit = UNITS[kind][0]] = /^([\d.]+)\s*([a-z]+)$/.exec(range?.from?.text ?? "") ?? [],
    [, upper = "", upperUnit = unit] = /^([\d.]+)\s*([a-z]+)$/.exec(range?.to?.text ?? "") ?? [];
  const used = range?.from ? unit : upperUnit,
    plural = kind === "age" && !used.endsWith("s") ? `${used}s` : used;
  const say = heard("deskForms"),
    called = label ?? say[kind];
  const isOneUnit = !range?.from || !range.to || `${unit}s`.replace(/ss$/, "s") === `${upperUnit}s`.replace(/ss$/, "s");
  if (range && (!isOneUnit || (range.from && !lower) || (range.to && !upper)))
    return line(called, range.text, changes, { hint });
  return composed(
    kind,
    say.bandOr({ called, any }),
    changes,
    html`<select name="lower" aria-label="${say.lowerEnd({ called })}">
        <option value="">${say.noLowerEnd}</option>
        <option value="from" ${range?.from?.owned === true && html`selected`}>${say.from}</option>
        <option value="over" ${range?.from?.owned === false && html`selected`}>${say.over}</option>
      </select>
      <input name="low" inputmode="decimal" value="${lower}" aria-label="${say.ofLowerEnd({ called })}" />
      <select name="upper" aria-label="${say.upperEnd({ called })}">
        <option value="">${say.noUpperEnd}</option>
        <option value="under" ${range?.to?.owned === false && html`selected`}>${say.under}</option>
        <option value="up to" ${range?.to?.owned === true && html`selected`}>${say.upTo}</option>
      </select>
      <input name="high" inputmode="decimal" value="${upper}" aria-label="${say.ofUpperEnd({ called })}" />
      <select name="unit" aria-label="${say.unitOf({ called })}">
        ${UNITS[kind].map((each) => option({ value: each, name: sayUnit(each) }, each === plural))}
      </select>`,
    hint,
  );
}

/** How long something takes. */
export function durationField(text: string | undefined, changes: Changes): Html {
  const say = heard("deskForms");
  const units = [
    { value: "s", name: say.seconds },
    { value: "min", name: say.minutes },
  ];
  return quantityField(text ?? "", changes, units, { label: say.takes });
}

/** A figure with its unit; a line of text for what is neither empty nor one such figure. */
export function quantityField(
  text: string,
  changes: Changes | string,
  units: readonly Offered[],
  { label = "", hint }: Called,
): Html {
  const [, figure = "", unit = units[0]!.value] = /^(-?[\d.]+)\s*(\S+)$/.exec(text) ?? [];
  if (text && !units.some(({ value }) => figure && value === unit)) return line(label, text, changes, { hint });
  return composed(
    "quantity",
    label,
    changes,
    html`<input name="figure" inputmode="decimal" value="${figure}" aria-label="${label}" />
      <select name="unit" aria-label="${heard("deskForms").unitOf({ called: label })}">
        ${units.map((each) => option(each, each.value === unit))}
      </select>`,
    hint,
  );
}
