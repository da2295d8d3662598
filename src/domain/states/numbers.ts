/** A model and programs as the numbers that a run rests on (`run.ts`), and what is known of them by these. */
import { recent } from "../words/recent.ts";
import { remember } from "../words/remember.ts";
import type { Act, Model, Program, State } from "./model.ts";

/** Equal for models in which the same programs run alike, whatever things are called and wherever it is written. */
const numbersOf: (model: Model) => string = /* @__PURE__ */ remember(
  ({ places, items, fastenings, coming, slots, states }: Model) =>
    JSON.stringify([
      places.map(({ on, off, room, slots, fastenings }) => [on, off, String(room), slots, fastenings]),
      items.map(({ carries, slots, places }) => [carries, slots, places]),
      fastenings.map(({ secure, empty, holds, always, named, wanted }) => [
        secure,
        empty,
        holds,
        always,
        [...named].map(([contents, states]) => [contents, [...states]]),
        wanted,
      ]),
      coming,
      slots,
      states.map((state) => [...state]),
    ]),
);

/** Sets of programs that are known again at most; a platform of the demo asks for some ten of them. */
const MOST_SETS = 100;
const names = /* @__PURE__ */ recent<number>(MOST_SETS);
let last = 0;

/** A number for a model with programs: equal ones run alike, state by state and program by program. */
export function nameOfNumbers(model: Model, programs: readonly Program[]): number {
  const acts = programs.map(({ whole, acts }) => [whole, acts.map(numbersOfAct)]);
  return names(`${numbersOf(model)} ${JSON.stringify(acts)}`, () => (last += 1));
}

const numbersOfAct = (act: Act) =>
  act.kind === "turn"
    ? [act.fastening, act.state]
    : [act.item, act.count, act.from, act.to, act.fromSlot, act.toSlot, 0];

/** Where programs end that are begun in a state (`keyOf`), by their place in the list; nothing where one runs not. */
export type Ends = Map<string, Map<number, State | undefined>>;

/** Graphs of which ends are kept at most: an edit asks for those of one platform, one for each group of patients. */
const MOST_GRAPHS = 60;
const kept = /* @__PURE__ */ recent<Ends>(MOST_GRAPHS);

/** The ends that are known so far of these programs, of which some are strict (`elsewhere.ts`): to be added to. */
export function endsKnown(model: Model, programs: readonly Program[], strict: ReadonlySet<Program>): Ends {
  const which = programs.flatMap((program, at) => (strict.has(program) ? [at] : []));
  return kept(`${nameOfNumbers(model, programs)}: ${which.join(" ")}`, () => new Map());
}
