/** One step as a form: who, how grave, how long, for whom, its words, what it moves, turns and checks. */
import { parseRange } from "../../../schema/quantities.ts";
import type { Finding } from "../../../findings/finding.ts";
import type { Collection, Crew, Incident, Platform, Procedure, Range, Service } from "../../../schema/collection.ts";
import { sayList } from "../../../schema/wording.ts";
import { html, type Html } from "../../html.ts";
import type { PartOutline, StepOutline } from "../../edits/outline.ts";
import type { Words } from "../../../words/hear.ts";
import { wordsFor } from "../../../words/words.ts";
import { bandField, durationField } from "./bands.ts";
import { act, area, type Changes, type Offered, choice, composed, line, oneOf, tick } from "./controls.ts";
import { findingsList, sayCounts } from "../findings.ts";
import { renameForm } from "./rename-form.ts";
import { isPair } from "../../../domain/words/crew.ts";
import { stepPhotos } from "./step-photos.ts";

/** What a step's lists offer. */
export interface StepContext {
  readonly platform: Platform;
  readonly procedure: Procedure;
  readonly service: Service;
  readonly files: Collection;
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

const sayOf = ({ service }: Pick<StepContext, "service">): Words["deskSteps"] => wordsFor(service).deskSteps;

/** The step, closed until it is wanted; what is wrong with it is always in sight. */
export function stepForm(context: StepContext, step: StepOutline, number: number, findings: readonly Finding[]): Html {
  const { attributes } = step,
    given = (name: string) => (typeof attributes[name] === "string" ? attributes[name] : "");
  const isCritical = holds(attributes["critical"]),
    isHold = holds(attributes["hold"]);
  const change = (name: string) => attribute(number, name),
    say = sayOf(context),
    grave = [sayWho(context, given("by")), isCritical && say.isCritical, isHold && say.isHold].filter(Boolean);
  // Steps of included procedures count on the page, and not in the file.
  const pageStep = context.procedure.steps.find(
    ({ where }) => where.file === context.procedure.file && where.line === step.line,
  )?.number;
  return html`<li class="step${isCritical && " critical"}${isHold && " hold"}" id="step-${number}">
    <details name="step">
      <summary data-page-step="${pageStep ?? number}">
        <span class="number">${number}</span>
        <span class="do">${step.paragraphs[0] ?? say.noInstruction}</span>
        <span class="who">${grave.join(" · ")}</span>
        ${findings.length > 0 && html`<span class="tally">${sayCounts(findings)}</span>`}
      </summary>
      <div class="fields">
        ${oneOf(say.who, `by-${number}`, given("by"), crewOf(context, given("by")), change("by"))}
        <fieldset class="ticks">
          <legend>${say.howGrave}</legend>
          ${tick(say.critical, isCritical, change("critical"))} ${tick(say.hold, isHold, change("hold"))}
        </fieldset>
        ${area(say.done, step.text, { edit: { kind: "set-text", step: number }, as: "text" }, say.howWritten)}
        ${durationField(given("takes"), change("takes"))}
        ${bandField("weight", rangeOf(given("weight"), "weight"), say.asProcedure, change("weight"))}
        ${bandField("age", rangeOf(given("age"), "age"), say.asProcedure, change("age"))}
        ${stepPhotos(context, number, given("photo"), change("photo"))}
        ${step.parts.map((part, at) => partForm(context, number, part, at + 1, step.parts.length))}
        ${additions(context, number)} ${more(context, step, number)}
        <p class="acts">${actions(context, step, number)}</p>
        ${insertForm(context, number, say.after)}
      </div>
    </details>
    ${findingsList(findings)}
  </li>`;
}

/** What can be done with a step as a whole. */
function actions(context: StepContext, { paragraphs }: StepOutline, step: number): readonly (Html | false)[] {
  const isLast = step === context.steps.length,
    say = sayOf(context),
    of = (what: string) => ({ name: say.ofStep({ what, step }) });
  const up = { kind: "move-step", step, place: { before: step - 1 } },
    down = { kind: "move-step", step, place: { after: step + 1 } };
  const splits = paragraphs
    .slice(1)
    .map((text, at) => act(say.split({ text: text.slice(0, 24) }), [{ kind: "split-step", step, paragraph: at + 2 }]));
  return [
    step > 1 && act(say.moveUp, [up], of(say.moveUp)),
    !isLast && act(say.moveDown, [down], of(say.moveDown)),
    !isLast && act(say.join, [{ kind: "join-step", step }], of(say.join)),
    ...splits,
    act(say.remove, [{ kind: "delete-step", step }], { ask: say.askRemove({ step }), ...of(say.remove) }),
  ];
}

const holds = (value: string | true | undefined) => value === true || value === "true" || value === "";

function rangeOf(text: string, kind: "weight" | "age"): Range | undefined {
  const read = text ? parseRange(text, kind) : undefined;
  return read?.ok ? read.value : undefined;
}

/** For all of the crew, as a file says it. */
const everybody = ({ service: { crew } }: PartContext) => (isPair(crew) ? "both" : "all");

/**
 * Who may do something: each role, those that do it together, and nobody in particular. Roles that `given` names in an
 * order of its own are offered as it names them.
 */
function crewOf(context: PartContext, given = ""): readonly Offered[] {
  const { crew } = context.service,
    say = sayOf(context),
    all = everybody(context);
  const asked = given.split(/\s+/u);
  return [
    ...named(crew),
    ...together(crew, asked).map((roles) => {
      const ids = roles.map(({ id }) => id),
        isGiven = asked.length === ids.length && ids.every((id) => asked.includes(id));
      return { value: isGiven ? given : ids.join(" "), name: sayList(roles.map(({ name }) => name)) };
    }),
    ...(crew.length > 1 ? [{ value: all, name: all === "both" ? say.both : say.all }] : []),
    { value: "", name: say.nobody },
  ];
}

/** Who does a new step, until somebody says who: the crew, as far as there is more than one. */
const presetOf = (context: PartContext) =>
  context.service.crew.length === 1 ? context.service.crew[0]!.id : everybody(context);

/** Of a crew of so many every group is offered; of a larger one, which has very many, each two and those asked for. */
const EVERY_GROUP = 4;

/** Two or more of a crew, but not all of it, in its order; the smaller groups first. `asked`: ids. */
function together(crew: readonly Crew[], asked: readonly string[]): (readonly Crew[])[] {
  if (crew.length > EVERY_GROUP) {
    const pairs = crew.flatMap((one, at) => crew.slice(at + 1).map((other) => [one, other])),
      group = crew.filter(({ id }) => asked.includes(id));
    return group.length > 2 && group.length < crew.length ? [...pairs, group] : pairs;
  }
  const groups = crew.reduce<(readonly Crew[])[]>(
    (before, role) => [...before, ...before.map((group) => [...group, role])],
    [[]],
  );
  return groups.filter(({ length }) => length > 1 && length < crew.length).toSorted((a, b) => a.length - b.length);
}

const sayWho = (context: StepContext, by: string) => crewOf(context, by).find(({ value }) => value === by)?.name ?? by;

const named = (all: readonly { readonly id: string; readonly name: string }[]): Offered[] =>
  all.map(({ id, name }) => ({ value: id, name }));

const placesOf = ({ platform, service }: PartContext): Offered[] => [
  ...named(platform.places),
  { value: "aside", name: sayOf({ service }).aside },
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

/** What a part is called. */
export function partName(name: string, { service }: Pick<PartContext, "service">): string {
  const say = sayOf({ service }),
    names: Readonly<Record<string, string>> = {
      move: say.move,
      turn: say.turn,
      check: say.check,
      card: say.card,
      warning: say.warning,
      caution: say.caution,
      note: say.note,
      include: say.include,
    };
  return names[name] ?? name;
}

/** A part of a step, or where none is named of the body; `at` counts from 1. `more`: what is said beside its fields. */
export function partForm(
  context: PartContext,
  step: number | undefined,
  part: PartOutline,
  at: number,
  count: number,
  more?: Html,
): Html {
  const name = partName(part.name, context),
    say = sayOf(context),
    move = (label: string, to: number, called: string) =>
      act(label, [{ kind: "move-part", step, part: at, to }], { name: called });
  return html`<fieldset class="part ${part.name}">
    <legend>${name}</legend>
    ${partFields(context, part, (attributeName) => attribute(step, attributeName, at), {
      kind: "set-part-text",
      step,
      part: at,
    })}
    ${more}
    <span class="acts"
      >${at > 1 && move(say.up, at - 1, say.partUp({ name }))}
      ${at < count && move(say.down, at + 1, say.partDown({ name }))}
      ${act(say.remove, [{ kind: "delete-part", step, part: at }], { name: say.partRemove({ name }) })}</span
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
  const say = sayOf(context),
    words: Changes | string = typeof setText === "string" ? setText : { edit: setText, as: "text" };
  if (name === "move")
    return html`${choice(say.what, given("item"), named(context.platform.items), must("item"))}
    ${line(say.howMany, given("count") || "1", must("count"), { type: "number" })}
    ${choice(say.from, given("from"), placesOf(context), must("from"))}
    ${choice(say.to, given("to"), placesOf(context), must("to"))}`;
  if (name === "turn" && typeof changes("to") === "string") return choice(say.turned, "", turnsOf(context), "turn");
  if (name === "turn")
    return html`${choice(say.fastening, given("fastening"), named(context.platform.fastenings), must("fastening"))}
    ${choice(say.intoState, given("to"), statesOf(context, given("fastening")), must("to"))}`;
  if (name === "check")
    return html`${line(say.asked, text, words)} ${line(say.answer, given("answer"), must("answer"))}
    ${choice(say.answers, given("by"), crewOf(context, given("by")), changes("by"))}`;
  if (name === "card") return undefined;
  return area(say.inWords, text, words);
}

/** What a line of a card is about, and which line it takes the place of. */
export function cardLineFields(
  { attributes }: PartOutline,
  at: number,
  offered: readonly Offered[],
  context: PartContext,
): Html {
  const say = sayOf(context);
  const given = (name: string) => (typeof attributes[name] === "string" ? attributes[name] : "");
  const about = given("about").split(/\s+/).filter(Boolean);
  const nameOf = (id: string) => offered.find(({ value }) => value === id)?.name ?? say.unknown({ id });
  return html`${composed(
    "words",
    say.about,
    attribute(undefined, "about", at),
    html`${about.map(
        (id) => html`<label class="tick"><input type="checkbox" value="${id}" checked />${nameOf(id)}</label>`,
      )}
      <select aria-label="${say.aboutMore}">
        <option value="">${say.choose}</option>
        ${offered
          .filter(({ value }) => !about.includes(value))
          .map(({ value, name }) => html`<option value="${value}">${name}</option>`)}
      </select>`,
  )}
  ${line(say.replaces, given("replaces"), attribute(undefined, "replaces", at), {
    hint: say.replacesHint,
  })}`;
}

/** One of each part that can be added. */
export function additions(
  context: PartContext,
  step: number | undefined,
  names: readonly string[] = ["move", "turn", "check", "warning", "caution", "note"],
  called = sayOf(context).addPart,
): Html {
  const say = sayOf(context);
  return html`<details class="add" id="add-${step ?? "line"}">
    <summary>${called}</summary>
    ${names.map(
      (name) =>
        html`<form data-add="${JSON.stringify({ kind: "insert-part", step, new: { name } })}" class="part ${name}">
          <fieldset>
            <legend>${partName(name, context)}</legend>
            ${partFields(context, { name, attributes: {}, text: "" }, (each) => each, "text")}
            <button type="submit">${say.add({ name: partName(name, context) })}</button>
          </fieldset>
        </form>`,
    )}
    ${step !== undefined && act(say.addCard, [{ kind: "insert-part", step, new: { name: "card" } }])}
  </details>`;
}

/** What few steps need. */
function more(context: StepContext, step: StepOutline, number: number): Html {
  const given = (name: string) => (typeof step.attributes[name] === "string" ? step.attributes[name] : "");
  const say = sayOf(context),
    others = context.steps.flatMap(({ attributes: { id }, paragraphs }, at) =>
      typeof id === "string" && at + 1 !== number
        ? [{ value: id, name: `${at + 1}: ${(paragraphs[0] ?? "").slice(0, 40)}` }]
        : [],
    );
  const guards = context.incidents.map(({ id, summary }) => ({ value: id, name: summary }));
  return html`<details class="more" id="more-${number}">
    <summary>${say.more}</summary>
    ${
      given("id")
        ? renameForm({
            files: context.files,
            what: "step",
            platform: context.platform.id,
            procedure: context.procedure.id,
            id: given("id"),
          })
        : line(say.stepName, "", attribute(number, "id"), {
            hint: say.stepNameHint,
          })
    }
    ${words(say, say.onlyAfter, given("after"), others, attribute(number, "after"))}
    ${words(say, say.guards, given("guards"), guards, attribute(number, "guards"))}
  </details>`;
}

/** Any of some names. */
function words(
  say: Words["deskSteps"],
  legend: string,
  text: string,
  choices: readonly Offered[],
  changes: Changes,
): Html | false {
  const chosen = text.split(/\s+/).filter(Boolean);
  const all = [
    ...choices,
    ...chosen
      .filter((each) => !choices.some(({ value }) => value === each))
      .map((value) => ({ value, name: say.unknown({ id: value }) })),
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
  const say = sayOf(context),
    edit = { kind: "insert-step", ...(after === undefined ? {} : { place: { after } }), new: {} };
  return html`<details class="insert" id="insert-${after ?? "end"}">
    <summary>${label}</summary>
    <form data-add="${JSON.stringify(edit)}">
      ${area(say.done, "", "text", say.doneHint)} ${choice(say.who, presetOf(context), crewOf(context), "by")}
      <button type="submit">${say.putIn}</button>
    </form>
  </details>`;
}
