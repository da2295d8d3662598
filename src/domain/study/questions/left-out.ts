/** What would go wrong: a step is left out, and the rest is run to see where it stops or what stays behind. */
import type { Step } from "../../../schema/collection.ts";
import { netMoves } from "../../states/changeover.ts";
import { type Model, type Program, programOf, type State } from "../../states/model.ts";
import { run, runs, type Stop } from "../../states/run.ts";
import { sayInstruction } from "../../words/say.ts";
import { fromProcedure, type Ground, isUnmistakable, sayVariant } from "./ground.ts";
import { nearness } from "./near.ts";
import { makeQuestion, type MadeQuestion, readAlike } from "./question.ts";
import { heard } from "../../../words/heard.ts";

/** What comes of a step left out: sentences that are all true. */
type Outcome = readonly string[];

/**
 * What goes wrong when this step is left out and all else is done as written. Asked only where the outcome is the same
 * from every state in which the procedure runs. Wrong: outcomes of leaving out other steps of the same procedure, or of
 * one near it that works on the same places, that are not outcomes of this.
 */
export function askLeftOut(ground: Ground): MadeQuestion[] {
  const { model, platform } = ground;
  const cases = [...ground.starts].flatMap(([program, starts]) =>
    program.steps.flatMap((step, at) => {
      if (step.operations.length === 0 || !isUnmistakable(program.steps, step)) return [];
      const outcome = outcomeFrom(ground, program, starts, at);
      return outcome ? [{ program, step, outcome }] : [];
    }),
  );
  return cases.flatMap(({ program, step, outcome }) => {
    const { procedure } = program;
    const near = cases.filter((other) => other.program === program && other.step !== step);
    const far = cases.filter(
      (other) =>
        other.program.procedure !== procedure &&
        nearness(ground, procedure, other.program.procedure.id) > 0 &&
        meets(model, program, other.program),
    );
    const truths = new Set(outcome.map(readAlike)),
      stops = heard("questionsLeftOut").stopsAt({ step: "\n" }).split("\n")[0]!;
    // Where another procedure stops is a step that is not in this one: seen to be wrong at a glance.
    const said = (other: (typeof cases)[number]) => other.outcome.slice(0, 1);
    const wrong = [...near.flatMap(said), ...far.flatMap(said).filter((text) => !text.startsWith(stops))].filter(
      (text) => !truths.has(readAlike(text)),
    );
    return (
      makeQuestion({
        kind: "left-out",
        platform: platform.id,
        source: fromProcedure(procedure, step),
        asks: {
          procedure: procedure.id,
          steps: program.steps.map(({ number }) => number).join(" "),
          step: String(step.number),
        },
        prompt: heard("questionsLeftOut").thisIsLeftOut({
          procedure: procedure.title,
          ground: sayVariant(ground, program),
          step: sayInstruction(step),
        }),
        key: [{ text: outcome[0]!, means: outcome[0]! }],
        wrong: wrong.map((text) => ({ text, means: text })),
        proof: heard("questionsLeftOut").thatComes({ number: step.number }),
      }) ?? []
    );
  });
}

/** Whether two programs work on any of the same places or fastenings; others' outcomes would be no trap. */
function meets(model: Model, a: Program, b: Program): boolean {
  const things = new Set(placesOf(model, a));
  return placesOf(model, b).some((thing) => things.has(thing));
}

function placesOf(model: Model, { acts }: Program): string[] {
  return acts.flatMap((act) =>
    act.kind === "turn"
      ? [`f${act.fastening}`]
      : [act.from, act.to].filter((place) => !model.places[place]!.off).map((place) => `p${place}`),
  );
}

/** The outcome if it is the same from every start; `undefined` if it differs, or if there is none to see. */
function outcomeFrom(
  { model, platform }: Ground,
  program: Program,
  starts: readonly State[],
  left: number,
): Outcome | undefined {
  const rest = programOf(
    model,
    program.procedure,
    program.steps.filter((_, at) => at !== left),
  );
  const names = namesOf(platform);
  // A valve or a switch that holds nothing, left as some arrangement wants it: whether that is wrong is open.
  const isWantedSomewhere = ({ rule, fastening }: Stop, state: State) =>
    rule === "fastening/left-open" &&
    platform.fastenings[fastening]!.holds.length === 0 &&
    platform.configurations.some(({ fastenings }) =>
      fastenings.some(
        (each) =>
          each.fastening === platform.fastenings[fastening]!.id &&
          each.state === model.fastenings[fastening]!.states[state[model.slots.length + fastening]!],
      ),
    );
  const outcomes = starts.map((start) => {
    const attempt = run(model, start, rest);
    if (attempt.stops.some((stop) => isWantedSomewhere(stop, attempt.state))) return [];
    const stops = attempt.stops.map((stop) => sayStop(model, names, rest.steps, stop, attempt.state));
    const whole = attempt.done === rest.acts.length && runs(model, start, program);
    return [...new Set(whole ? [...stops, ...sayLeft(model, names, whole, attempt.state)] : stops)];
  });
  const [first] = outcomes;
  const same = first && outcomes.every((each) => each.join("\n") === first.join("\n"));
  return same && first.length > 0 ? first : undefined;
}

interface Names {
  readonly item: (index: number) => string;
  readonly place: (index: number) => string;
  readonly fastening: (index: number) => string;
}

function namesOf({ items, places, fastenings }: Ground["platform"]): Names {
  return {
    item: (at) => items[at]!.name,
    place: (at) => places[at]?.name ?? heard("questionsLeftOut").putDownWithinReach,
    fastening: (at) => fastenings[at]!.name,
  };
}

function sayStop(
  model: Model,
  names: Names,
  steps: readonly Step[],
  { rule, act, fastening }: Stop,
  state: State,
): string {
  const stateOf = (at: number) =>
    model.fastenings[at]!.states[state[model.slots.length + at]!] ?? heard("questionsLeftOut").notThere;
  const stops = heard("questionsLeftOut").stopsAt({ step: sayInstruction(steps[act.step]!) });
  if (rule === "fastening/left-open")
    return heard("questionsLeftOut").nothingStopsYou({
      fastening: names.fastening(fastening),
      stateOf: stateOf(fastening),
    });
  if (act.kind === "turn")
    return heard("questionsLeftOut").already({
      stops,
      fastening: names.fastening(act.fastening),
      stateOf: stateOf(act.fastening),
    });
  const item = names.item(act.item);
  const means: Readonly<Record<string, string>> = {
    "parts/not-there": heard("questionsLeftOut").noneInThisPlace({ item, from: names.place(act.from) }),
    "parts/not-enough": heard("questionsLeftOut").tooFew({ item, from: names.place(act.from) }),
    "fastening/held":
      fastening >= 0
        ? heard("questionsLeftOut").itIsStillHeldFastening({
            fastening: names.fastening(fastening),
            stateOf: stateOf(fastening),
          })
        : heard("questionsLeftOut").itIsStillHeld,
    "parts/stands-on": heard("questionsLeftOut").somethingIsStill({ item }),
    "parts/place-in-use": heard("questionsLeftOut").noRoom({ to: names.place(act.to) }),
  };
  return rule === "parts/left-loose"
    ? heard("questionsLeftOut").nothingStopsYouAndThisIsLeft({ item })
    : `${stops} ${means[rule] ?? ""}`.trim();
}

/** What is elsewhere, or otherwise, than it should be when nothing stopped anybody. */
function sayLeft(model: Model, names: Names, should: State, is: State): string[] {
  const indexOf = (id: string) => model.places.findIndex((place) => place.id === id);
  const pieces = netMoves(model, is, should).map(({ item, count, from }) =>
    heard("questionsLeftOut").nothingStopsYouAndSomething({
      count,
      findIndex: names.item(model.items.findIndex(({ id }) => id === item)),
      from: names.place(indexOf(from)),
    }),
  );
  const turned = model.fastenings.flatMap((fastening, at) => {
    const [now, then] = [is[model.slots.length + at]!, should[model.slots.length + at]!];
    return now === then || !fastening.states[now]
      ? []
      : [
          heard("questionsLeftOut").nothingStopsYouAndAtTheEnd({
            at: names.fastening(at),
            states: fastening.states[now],
          }),
        ];
  });
  return [...pieces, ...turned];
}
