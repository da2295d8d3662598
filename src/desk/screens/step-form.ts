/** One step as a form: who, how grave, how long, for whom, its words, what it moves, turns and checks. */
import { parseRange } from "../../schema/quantities.ts";
import type { Finding } from "../../findings/finding.ts";
import type { Incident, Platform, Procedure, Range, Service } from "../../schema/collection.ts";
import { html, type Html } from "../html.ts";
import type { PartOutline, StepOutline } from "../edits/outline.ts";
import { bandField, durationField } from "./bands.ts";
import { act, area, type Changes, type Offered, choice, composed, line, oneOf, tick } from "./controls.ts";
import { findingsList, sayCounts } from "./findings.ts";
import { stepPhotos } from "./step-photos.ts";

/** What a step's lists offer. */
export interface StepContext {
  readonly platform: Platform;
  readonly procedure: Procedure;
  readonly service: Service;
  readonly incidents: readonly Incident[];
  readonly steps: readonly StepOutline[];
}

/** What the lists of a part offer. */
export type PartContext = Pick<StepContext, "platform" | "service">;

/** The change of one attribute of a step, or of a part of it or of a body. */
const attribute = (step: number | undefined, name: string, part?: number): Required<Omit<Changes, "as">> => {
  const inside = { ...(step === undefined ? {} : { step }), ...(part === undefined ? {} : { part }), name };
  return { edit: { kind: "set-attribute", ...inside }, none: { kind: "remove-attribute", ...inside } };
};

/** The step, closed until it is wanted; what is wrong with it is always in sight. */
export function stepForm(context: StepContext, step: StepOutline, number: number, findings: readonly Finding[]): Html {
  const { attributes } = step,
    given = (name: string) => (typeof attributes[name] === "string" ? attributes[name] : "");
  const isCritical = holds(attributes["critical"]),
    isHold = holds(attributes["hold"]);
  const change = (name: string) => attribute(number, name);
  // Steps of included procedures count on the page, and not in the file.
  const pageStep = context.procedure.steps.find(
    ({ where }) => where.file === context.procedure.file && where.line === step.line,
  )?.number;
  return html`<li class="step${isCritical && " critical"}${isHold && " hold"}" id="step-${number}">
    <details name="step">
      <summary data-page-step="${pageStep ?? number}">
        <span class="number">${number}</span>
        <span class="do">${step.paragraphs[0] ?? "No instruction yet"}</span>
        <span class="who"
          >${sayWho(context, given("by"))}${isCritical && " · SAFETY-CRITICAL"}${isHold && " · HOLD"}</span
        >
        ${findings.length > 0 && html`<span class="tally">${sayCounts(findings)}</span>`}
      </summary>
      <div class="fields">
        ${oneOf("Who", `by-${number}`, given("by"), crewOf(context), change("by"))}
        <fieldset class="ticks">
          <legend>How grave</legend>
          ${tick("Safety-critical", isCritical, change("critical"))}
          ${tick("Hold: nobody goes on until it is done", isHold, change("hold"))}
        </fieldset>
        ${area("What is done", step.text, { edit: { kind: "set-text", step: number }, as: "text" }, HOW_WRITTEN)}
        ${durationField(given("takes"), change("takes"))}
        ${bandField("weight", rangeOf(given("weight"), "weight"), "as the procedure", change("weight"))}
        ${bandField("age", rangeOf(given("age"), "age"), "as the procedure", change("age"))}
        ${stepPhotos(context, number, given("photo"), change("photo"))}
        ${step.parts.map((part, at) => partForm(context, number, part, at + 1, step.parts.length))}
        ${additions(context, number)} ${more(context, step, number)}
        <p class="acts">${actions(context, step, number)}</p>
        ${insertForm(context, number, "A new step after this one")}
      </div>
    </details>
    ${findingsList(findings)}
  </li>`;
}

/** What can be done with a step as a whole. */
function actions({ steps }: StepContext, { paragraphs }: StepOutline, step: number): readonly (Html | false)[] {
  const isLast = step === steps.length,
    of = (what: string) => ({ name: `${what}: step ${step}` });
  const up = { kind: "move-step", step, place: { before: step - 1 } },
    down = { kind: "move-step", step, place: { after: step + 1 } };
  const splits = paragraphs
    .slice(1)
    .map((text, at) => act(`Split before “${text.slice(0, 24)}…”`, [{ kind: "split-step", step, paragraph: at + 2 }]));
  return [
    step > 1 && act("Move up", [up], of("Move up")),
    !isLast && act("Move down", [down], of("Move down")),
    !isLast && act("Join with the next", [{ kind: "join-step", step }], of("Join with the next")),
    ...splits,
    act("Delete", [{ kind: "delete-step", step }], { ask: `Delete step ${step}?`, ...of("Delete") }),
  ];
}

const HOW_WRITTEN =
  "First what to do; a paragraph that begins “Why:” is the reason; the rest is detail. A blank line between them.";

const holds = (value: string | true | undefined) => value === true || value === "true" || value === "";

function rangeOf(text: string, kind: "weight" | "age"): Range | undefined {
  const read = text ? parseRange(text, kind) : undefined;
  return read?.ok ? read.value : undefined;
}

function crewOf({ service: { crew } }: PartContext): readonly Offered[] {
  const all = crew.length === 2 ? "both" : "all";
  return [
    ...crew.map(({ id, name }) => ({ value: id, name })),
    ...(crew.length > 1 ? [{ value: all, name: all === "both" ? "Both" : "All" }] : []),
    { value: "", name: "Nobody named" },
  ];
}

const sayWho = (context: StepContext, by: string) => crewOf(context).find(({ value }) => value === by)?.name ?? by;

const named = (all: readonly { readonly id: string; readonly name: string }[]): Offered[] =>
  all.map(({ id, name }) => ({ value: id, name }));

const placesOf = ({ platform }: PartContext): Offered[] => [
  ...named(platform.places),
  { value: "aside", name: "Aside: put down within reach" },
];

function statesOf({ platform }: PartContext, fastening: string): Offered[] {
  const states = platform.fastenings.find(({ id }) => id === fastening)?.states ?? [];
  return states.map((state) => ({ value: state, name: state }));
}

/** Every state into which something can be turned: fastening and state, parted by a space. */
const turnsOf = ({ platform: { fastenings } }: PartContext): Offered[] =>
  fastenings.flatMap(({ id, name, states }) =>
    states.map((state) => ({ value: `${id} ${state}`, name: `${name}: ${state}` })),
  );

const PART_NAMES: Readonly<Record<string, string>> = {
  move: "Move",
  turn: "Turn",
  check: "Check",
  card: "The card is read here",
  warning: "WARNING: injury to people",
  caution: "CAUTION: damage to equipment",
  note: "Note",
};

/** A part of a step, or where none is named of the body; `at` counts from 1. `more`: what is said beside its fields. */
export function partForm(
  context: PartContext,
  step: number | undefined,
  part: PartOutline,
  at: number,
  count: number,
  more?: Html,
): Html {
  const name = PART_NAMES[part.name] ?? part.name;
  return html`<fieldset class="part ${part.name}">
    <legend>${name}</legend>
    ${partFields(context, part, (attributeName) => attribute(step, attributeName, at), {
      kind: "set-part-text",
      step,
      part: at,
    })}
    ${more}
    <span class="acts"
      >${at > 1 && act("Up", [{ kind: "move-part", step, part: at, to: at - 1 }], { name: `${name}: up` })}
      ${at < count && act("Down", [{ kind: "move-part", step, part: at, to: at + 1 }], { name: `${name}: down` })}
      ${act("Delete", [{ kind: "delete-part", step, part: at }], { name: `Delete: ${name}` })}</span
    >
  </fieldset>`;
}

/** The fields of a part: each changes it, or, of one that is still to be added, has a name. */
function partFields(
  context: PartContext,
  { name, attributes, text }: Pick<PartOutline, "name" | "attributes" | "text">,
  changes: (attributeName: string) => Required<Omit<Changes, "as">> | string,
  setText: Readonly<Record<string, unknown>> | string,
): Html | undefined {
  const given = (each: string) => (typeof attributes[each] === "string" ? attributes[each] : "");
  const must = (each: string): Changes | string => {
    const change = changes(each);
    return typeof change === "string" ? change : { edit: change.edit };
  };
  const words: Changes | string = typeof setText === "string" ? setText : { edit: setText, as: "text" };
  if (name === "move")
    return html`${choice("What", given("item"), named(context.platform.items), must("item"))}
    ${line("How many", given("count") || "1", must("count"), { type: "number" })}
    ${choice("From", given("from"), placesOf(context), must("from"))}
    ${choice("To", given("to"), placesOf(context), must("to"))}`;
  if (name === "turn" && typeof changes("to") === "string")
    return choice("What is turned, and into which state", "", turnsOf(context), "turn");
  if (name === "turn")
    return html`${choice("Fastening", given("fastening"), named(context.platform.fastenings), must("fastening"))}
    ${choice("Into the state", given("to"), statesOf(context, given("fastening")), must("to"))}`;
  if (name === "check")
    return html`${line("What is asked", text, words)} ${line("The answer", given("answer"), must("answer"))}
    ${choice("Who answers", given("by"), crewOf(context), changes("by"))}`;
  if (name === "card") return undefined;
  return area("In words", text, words);
}

/** What a line of a card is about, and which line it takes the place of. */
export function cardLineFields({ attributes }: PartOutline, at: number, offered: readonly Offered[]): Html {
  const given = (name: string) => (typeof attributes[name] === "string" ? attributes[name] : "");
  const about = given("about").split(/\s+/).filter(Boolean);
  const nameOf = (id: string) => offered.find(({ value }) => value === id)?.name ?? `${id} (does not exist)`;
  return html`${composed(
    "words",
    "What it is about: what has its name, or",
    attribute(undefined, "about", at),
    html`${about.map(
        (id) => html`<label class="tick"><input type="checkbox" value="${id}" checked />${nameOf(id)}</label>`,
      )}
      <select aria-label="Something else that it is about">
        <option value="">Choose …</option>
        ${offered
          .filter(({ value }) => !about.includes(value))
          .map(({ value, name }) => html`<option value="${value}">${name}</option>`)}
      </select>`,
  )}
  ${line("In the place of the line", given("replaces"), attribute(undefined, "replaces", at), {
    hint: "In an option: what the configuration’s line asks, whose place this one takes.",
  })}`;
}

/** One of each part that can be added. */
export function additions(
  context: PartContext,
  step: number | undefined,
  names: readonly string[] = ["move", "turn", "check", "warning", "caution", "note"],
  called = "Add a move, turn, check or warning",
): Html {
  return html`<details class="add" id="add-${step ?? "line"}">
    <summary>${called}</summary>
    ${names.map(
      (name) =>
        html`<form data-add="${JSON.stringify({ kind: "insert-part", step, new: { name } })}" class="part ${name}">
          <fieldset>
            <legend>${PART_NAMES[name]}</legend>
            ${partFields(context, { name, attributes: {}, text: "" }, (each) => each, "text")}
            <button type="submit">Add: ${PART_NAMES[name]}</button>
          </fieldset>
        </form>`,
    )}
    ${step !== undefined && act("Add: the card is read here", [{ kind: "insert-part", step, new: { name: "card" } }])}
  </details>`;
}

/** What few steps need. */
function more(context: StepContext, step: StepOutline, number: number): Html {
  const given = (name: string) => (typeof step.attributes[name] === "string" ? step.attributes[name] : "");
  const others = context.steps.flatMap(({ attributes: { id }, paragraphs }, at) =>
    typeof id === "string" && at + 1 !== number
      ? [{ value: id, name: `${at + 1}: ${(paragraphs[0] ?? "").slice(0, 40)}` }]
      : [],
  );
  const guards = context.incidents.map(({ id, summary }) => ({ value: id, name: summary }));
  return html`<details class="more" id="more-${number}">
    <summary>Name, order, what it guards against</summary>
    ${line("Name of the step", given("id"), attribute(number, "id"), {
      hint: "Small letters, digits and hyphens; other steps and changes name it so",
    })}
    ${words("Only after", given("after"), others, attribute(number, "after"))}
    ${words("Guards against", given("guards"), guards, attribute(number, "guards"))}
  </details>`;
}

/** Any of some names. */
function words(legend: string, text: string, choices: readonly Offered[], changes: Changes): Html | false {
  const chosen = text.split(/\s+/).filter(Boolean);
  const all = [
    ...choices,
    ...chosen
      .filter((each) => !choices.some(({ value }) => value === each))
      .map((value) => ({ value, name: `${value} (does not exist)` })),
  ];
  return (
    all.length > 0 &&
    composed(
      "words",
      legend,
      changes,
      html`${all.map(
        ({ value, name }) =>
          html`<label class="tick"
            ><input type="checkbox" value="${value}" ${chosen.includes(value) && html`checked`} />${name}</label
          >`,
      )}`,
    )
  );
}

/** A step that is still to be written: after another one, or at the end. */
export function insertForm(context: StepContext, after: number | undefined, label: string): Html {
  const edit = { kind: "insert-step", ...(after === undefined ? {} : { place: { after } }), new: {} };
  return html`<details class="insert" id="insert-${after ?? "end"}">
    <summary>${label}</summary>
    <form data-add="${JSON.stringify(edit)}">
      ${area("What is done", "", "text", "One action, as an order: “Press the lever down with a flat hand.”")}
      ${choice("Who", "both", crewOf(context), "by")}
      <button type="submit">Put it in</button>
    </form>
  </details>`;
}
