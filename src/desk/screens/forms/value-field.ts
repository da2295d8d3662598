/** One single value as a control, by what the format says of its kind: nobody has to know how it is written. */
import { isDate, parseRange } from "../../../schema/quantities.ts";
import type { Sort } from "../../../schema/described.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import { bandField, quantityField } from "./bands.ts";
import { area, type Changes, choice, composed, line, type Offered, option } from "./controls.ts";

/** A field that holds one value. */
interface ValueField {
  readonly label: string;
  readonly sort: Sort;
  /** What the file says; empty where it says nothing. */
  readonly value: string;
  /** What the control changes, or the name under which a form that is sent as a whole holds it. */
  readonly changes: Changes | string;
  /** What is said of it. */
  readonly hint?: string | undefined;
  /** What holds where it is left out; absent where it must be there. */
  readonly without?: string | undefined;
  /** What can be named here; a line of text where that is nothing. */
  readonly offered: readonly Offered[];
}

/** Longer texts have more than one line. */
const LONGEST_LINE = 48;
const UNIT_NAMES = { s: "seconds", min: "minutes", h: "hours", l: "litres" } as const;
const hasName = (unit: string): unit is keyof typeof UNIT_NAMES => Object.hasOwn(UNIT_NAMES, unit);

/** The control of a field; what the file says is never lost in it, whatever it is. */
export function valueField(field: ValueField): Html {
  const { label, sort, value, changes, hint, without, offered } = field,
    { entered } = sort,
    say = heard("deskForms");
  const blank =
    without === undefined ? [] : [{ value: "", name: without === "" ? say.leftOut : say.leftOutSo({ without }) }];
  const pick = (choices: readonly Offered[]) => choice(label, value, [...blank, ...choices], changes, hint);
  if (entered === "flag")
    return pick([
      { value: "true", name: say.yes },
      { value: "false", name: say.no },
    ]);
  if (entered === "pieces") return piecesField(field);
  if (entered === "date" && (value === "" || isDate(value))) return line(label, value, changes, { type: "date", hint });
  if (entered === "weight" || entered === "age") {
    const read = value === "" ? undefined : parseRange(value, entered);
    if (!read || read.ok) return bandField(entered, read?.value, without ?? say.any, changes, { label, hint });
  }
  if (typeof entered === "object" && "units" in entered)
    return quantityField(
      value,
      changes,
      entered.units.map((unit) => ({ value: unit, name: hasName(unit) ? say[UNIT_NAMES[unit]] : unit })),
      { label, hint },
    );
  if (typeof entered === "object" && "words" in entered && (value === "" || entered.words.includes(value)))
    return pick(entered.words.map((word) => ({ value: word, name: word })));
  if (entered === "figure") return line(label, value, changes, { hint, figure: true });
  if (offered.length > 0) return pick(offered);
  return value.length > LONGEST_LINE || /\n/.test(value)
    ? area(label, value, changes, hint)
    : line(label, value, changes, { hint });
}

/** An item, with how many of it: `4 capsule-pin`. */
function piecesField({ label, value, changes, offered, hint }: ValueField): Html {
  const [, count = "1", item = value] = /^(\d+)\s+(.+)$/.exec(value) ?? [];
  const say = heard("deskForms"),
    isKnown = item === "" || offered.some((each) => each.value === item);
  return composed(
    "pieces",
    label,
    changes,
    html`<input name="count" inputmode="numeric" value="${count}" aria-label="${say.howMany}" />
      <select name="item" aria-label="${say.ofWhat}">
        ${item === "" && html`<option value="" selected>${say.choose}</option>`}
        ${!isKnown && html`<option value="${item}" selected>${say.unknown({ id: item })}</option>`}
        ${offered.map((each) => option(each, each.value === item))}
      </select>`,
    hint,
  );
}
