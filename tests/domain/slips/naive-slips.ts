/**
 * A second, naive omission proof, kept apart from the program's: single pieces in places, every changeover run from its
 * start for every slip, what is right and what is wrong compared step by step.
 */
import type { Check, Operation, Platform, Procedure, Step } from "../../../src/schema/collection.ts";
import type { Arrangement } from "../../../src/domain/parts/arrangements.ts";
import type { Changeover } from "../../../src/domain/states/changeover.ts";
import { itemOf, naiveAct, naiveEnd, type NaiveState, naiveStart, naiveStates } from "../states/naive-run.ts";

/** A run of procedures between two arrangements, with the steps before the card is read; no target: no card. */
export interface NaiveCourse {
  readonly from: Arrangement;
  readonly to?: Arrangement;
  readonly runs: readonly { readonly procedure: Procedure; readonly steps: readonly Step[] }[];
  readonly parts: Changeover["parts"];
}

/** What becomes of a slip: in words that are compared, and the index of the step that notices. */
export interface NaiveFate {
  /** `procedure step operation kind`. */
  readonly slip: string;
  readonly outcome: string;
  /** Index of its step over all steps; of the one that notices: after all steps the count, then the card. */
  readonly own: number;
  readonly noticed?: number;
  readonly check?: Check;
  /** Lines of the card that see what is wrong at the end; absent if it never gets there, or nothing is wrong. */
  readonly card?: readonly Check[];
}

interface Snapshot {
  readonly run: number;
  readonly step: number;
  readonly state: NaiveState;
}

interface Told {
  /** After each step that looks at something, from the one that is done otherwise on. */
  readonly snapshots: readonly Snapshot[];
  /** Before each run. */
  readonly starts: readonly NaiveState[];
  readonly stopped?: { readonly run: number; readonly step: number };
  readonly end: NaiveState;
}

/** An act done otherwise: none, or another one, in place of the written one. */
interface Instead {
  readonly run: number;
  readonly step: number;
  readonly operation: number;
  readonly act?: Operation;
}

/** Every slip of a course and what becomes of it. `strict`: procedures in which a turn in vain stops. */
export function naiveSlips(
  platform: Platform,
  course: NaiveCourse,
  strict: ReadonlySet<string>,
  looks: (check: Check) => readonly string[],
): NaiveFate[] {
  const start = startOf(platform, course.from);
  const right = tell(platform, course, new Set(), start);
  const before = (run: number) => course.runs.slice(0, run).reduce((sum, { steps }) => sum + steps.length, 0);
  return course.runs.flatMap(({ procedure, steps }, run) =>
    steps.flatMap((step, at) =>
      step.operations.flatMap((operation, index) => {
        const where = { run, step: at, operation: index };
        const ways: [string, Instead][] = [["left out", where]];
        if (operation.kind === "move" && operation.count > 1)
          ways.push(["one too few", { ...where, act: { ...operation, count: operation.count - 1 } }]);
        if (operation.kind === "turn")
          ways.push(["half turned", { ...where, act: { ...operation, to: "neither one state nor the other" } }]);
        return ways.map(([kind, instead]): NaiveFate => {
          const slip = `${procedure.id} ${step.number} ${index} ${kind}`,
            own = before(run) + at;
          // What was done before the run of the slip is as it was without it.
          const wrong = tell(platform, course, strict, right.starts[run]!, instead),
            rightOnes = right.snapshots.filter((each) => each.run > run || (each.run === run && each.step >= at));
          const skipsOwn = kind === "left out" && step.operations.length === 1;
          let seen: { noticed: number; check: Check } | undefined;
          for (const [n, snapshot] of wrong.snapshots.entries()) {
            const position = before(snapshot.run) + snapshot.step;
            if (seen || (position === own && skipsOwn)) continue;
            const asked = course.runs[snapshot.run]!.steps[snapshot.step]!;
            const check = asked.checks.find((each) => differs(looks(each), rightOnes[n]!.state, snapshot.state));
            if (check) seen = { noticed: position, check };
          }
          if (wrong.stopped)
            return seen
              ? { slip, own, outcome: "seen", ...seen }
              : { slip, own, outcome: "stopped", noticed: before(wrong.stopped.run) + wrong.stopped.step };
          const isRight = right.end === wrong.end || shown(right.end) === shown(wrong.end);
          const card =
            course.to && !isRight
              ? cardOf(course.to).filter((line) => differs(looks(line), right.end, wrong.end))
              : undefined;
          const all = card ? { card } : {};
          if (seen) return { slip, own, outcome: "seen", ...seen, ...all };
          const total = before(course.runs.length) + 1;
          const counted =
            !isRight &&
            course.parts.some(({ item, to }) => piecesOf(right.end, item, to) !== piecesOf(wrong.end, item, to));
          if (counted) return { slip, own, outcome: "counted", noticed: total, ...all };
          if (card?.[0]) return { slip, own, outcome: "seen", noticed: total + 1, check: card[0], card };
          return { slip, own, outcome: isRight ? "made good" : "silent", ...all };
        });
      }),
    ),
  );
}

const startsOf = new WeakMap<Arrangement, NaiveState>();

/** An arrangement as it stands; one record for all courses from it. */
function startOf(platform: Platform, from: Arrangement): NaiveState {
  const start = startsOf.get(from) ?? naiveStart(platform, from.contents, new Map([...from.fastenings]));
  startsOf.set(from, start);
  return start;
}

/**
 * Runs a course from its start, or from the run with a slip, one act in another way if asked, to its end or to the act
 * that can't be done.
 */
function tell(
  platform: Platform,
  course: NaiveCourse,
  strict: ReadonlySet<string>,
  start: NaiveState,
  instead?: Instead,
): Told {
  let state = start;
  const snapshots: Snapshot[] = [],
    starts: NaiveState[] = [];
  for (const [run, { procedure, steps }] of course.runs.entries()) {
    if (run < (instead?.run ?? 0)) continue;
    starts.push(state);
    const otherwise = instead?.run === run ? instead : undefined;
    const ran = runOnce(platform, state, steps, strict.has(procedure.id), otherwise);
    for (const each of ran.snapshots) snapshots.push({ run, ...each });
    if (ran.stoppedAt !== undefined) return { snapshots, starts, stopped: { run, step: ran.stoppedAt }, end: ran.end };
    state = ran.end;
  }
  return { snapshots, starts, end: state };
}

/** What one procedure comes to. */
interface Ran {
  readonly snapshots: readonly Omit<Snapshot, "run">[];
  readonly stoppedAt?: number;
  readonly end: NaiveState;
}

/** What is known of a platform: the same steps are run from the same state in many changeovers. */
interface Known {
  readonly runs: Map<string, Ran>;
  readonly states: Map<string, NaiveState>;
  readonly numbers: Map<Step | NaiveState, number>;
}

const known = new WeakMap<Platform, Known>();

/** Runs steps, or says what they came to when they were run from the very state before. */
function runOnce(
  platform: Platform,
  start: NaiveState,
  steps: readonly Step[],
  isStrict: boolean,
  instead?: Instead,
): Ran {
  const { runs, states, numbers } = known.get(platform) ?? { runs: new Map(), states: new Map(), numbers: new Map() };
  known.set(platform, { runs, states, numbers });
  const numberOf = (each: Step | NaiveState) =>
    numbers.get(each) ?? (numbers.set(each, numbers.size), numbers.size - 1);
  // One record for each state, every piece by itself: of it everything is said once.
  const same = (state: NaiveState) => {
    const text = `${[...state.pieces].flat().join()};${[...state.fastenings].flat().join()}`;
    return states.get(text) ?? (states.set(text, state), state);
  };
  const otherwise = instead ? JSON.stringify([instead.step, instead.operation, instead.act]) : "";
  const key = `${numberOf(start)} ${steps.map(numberOf).join()} ${isStrict} ${otherwise}`;
  const before = runs.get(key);
  if (before) return before;
  const ran = runSteps(platform, start, steps, isStrict, same, instead);
  runs.set(key, ran);
  return ran;
}

function runSteps(
  platform: Platform,
  start: NaiveState,
  steps: readonly Step[],
  isStrict: boolean,
  same: (state: NaiveState) => NaiveState,
  instead?: Instead,
): Ran {
  const snapshots: Omit<Snapshot, "run">[] = [],
    pieces = new Map(start.pieces),
    states = naiveStates(platform, start);
  const now = () => same(naiveEnd(platform, new Map(pieces), new Map(states)));
  let started = false;
  for (const [step, { operations, checks }] of steps.entries()) {
    for (const [index, operation] of operations.entries()) {
      const isIt = instead?.step === step && instead.operation === index;
      if (isIt && !instead.act) continue;
      const stop = naiveAct(platform, pieces, states, isIt ? instead.act! : operation, isStrict);
      if (stop) return { snapshots, stoppedAt: step, end: now() };
      started = true;
    }
    // Before the slip all is as it was without it.
    const isBefore = instead !== undefined && step < instead.step;
    if (checks.length > 0 && !isBefore) snapshots.push({ step, state: started ? now() : start });
  }
  return { snapshots, end: now() };
}

const piecesOf = ({ pieces }: NaiveState, item: string, place: string) =>
  [...pieces].filter(([piece, where]) => where === place && itemOf(piece) === item).length;

/** Whether something that is looked at is otherwise: where an item's pieces are, what a place holds, a state. */
const differs = (things: readonly string[], right: NaiveState, wrong: NaiveState): boolean =>
  right !== wrong && things.some((id) => about(right, id) !== about(wrong, id));

const told = new WeakMap<NaiveState, Map<string, string>>();

/** What there is to see of an item, a place or a fastening, in words; said once for each state. */
function about(state: NaiveState, id: string): string {
  const known = told.get(state) ?? new Map<string, string>();
  told.set(state, known);
  const words =
    known.get(id) ??
    JSON.stringify([
      [...state.pieces]
        .filter(([piece]) => itemOf(piece) === id)
        .map(([, place]) => place)
        .sort(),
      [...state.pieces]
        .filter(([, place]) => place === id)
        .map(([piece]) => itemOf(piece))
        .sort(),
      state.fastenings.get(id) ?? "",
    ]);
  known.set(id, words);
  return words;
}

const shownBefore = new WeakMap<NaiveState, string>();

/** A state in words, pieces of a kind alike; said once for each. */
function shown(state: NaiveState): string {
  const words =
    shownBefore.get(state) ??
    JSON.stringify([
      [...state.pieces].map(([piece, place]) => `${itemOf(piece)} ${place}`).sort(),
      [...state.fastenings].map(([id, now]) => `${id} ${now}`).sort(),
    ]);
  shownBefore.set(state, words);
  return words;
}

/**
 * Lines of the card: an option's line stands in place of one with the same challenge or that it names; of two options
 * that ask the same, the later one's.
 */
function cardOf({ configuration, options }: Arrangement): Check[] {
  const said = (text: string | undefined) => text?.trim().toLowerCase();
  const names = (line: Check) => [said(line.challenge), said(line.replaces)];
  let read: { check: Check; of: number }[] = [configuration, ...options].flatMap(({ checks }, of) =>
    checks.map((check) => ({ check, of })),
  );
  options.forEach((option, at) => {
    for (const line of option.checks)
      read = read.filter(
        ({ check, of }) =>
          of === at + 1 ||
          !names(line).includes(said(check.challenge)) ||
          (of > at + 1 && names(check).includes(said(line.challenge))),
      );
  });
  return read.map(({ check }) => check);
}
