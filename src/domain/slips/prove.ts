/**
 * The omission proof: what happens when one act of an approved procedure is left out, done to one piece too few, or
 * turned half, in every changeover that uses it.
 */
import type { Band, Check, Crew, Platform, Step } from "../../schema/collection.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { type Changeover, stateOf } from "../states/changeover.ts";
import { strictPrograms } from "../states/elsewhere.ts";
import { type Act, keyOf, type Model, modelOf, type Program, programFor, type State } from "../states/model.ts";
import { type PlannedStep, readsCard } from "../parts/reading.ts";
import { variantsOf } from "../states/prove-parts.ts";
import { runs } from "../states/run.ts";
import { waysBetween } from "../time/plans.ts";
import { planTimeline } from "../time/timeline.ts";
import { kept } from "../words/keep.ts";
import { remember } from "../words/remember.ts";
import { isProse } from "../parts/prose.ts";
import { standingChecks } from "../cards/subjects.ts";
import { type Cover, coverOf } from "./cover.ts";
import { lookerOf, type OtherNames, sees } from "./lines.ts";
import { type Slip, type SlippedProgram, slipsOf, type Trace, traceOf } from "./slip.ts";
import { usableProcedures } from "../parts/lookup.ts";

/**
 * What becomes of a slip: a later act can't be done; a later line is about what is then otherwise; a count at the end
 * comes out otherwise; nobody notices, but a later act makes it good; nobody notices.
 */
export type Outcome = "stopped" | "seen" | "counted" | "made good" | "silent";

/** What first tells of a slip. */
interface Noticed {
  readonly outcome: Outcome;
  /** The step of the changeover that is stopped, or whose line sees it; absent for the count, the card and silence. */
  readonly at?: PlannedStep;
  /** The line that sees it. */
  readonly check?: Check;
  /** Whether that line stands on the card, which is read after the count. */
  readonly onCard?: true;
  /** Roles who are stopped, or who answer the line; empty where nobody is named. */
  readonly by: readonly string[];
  /** Seconds from the end of the step that was not done as written; 0 if nobody notices. */
  readonly afterSeconds: number;
}

/** A way in which a procedure is run. */
interface SlipContext {
  /** Names of the arrangements; the same one twice for a procedure that is run alone. */
  readonly from: string;
  readonly to: string;
}

/** A slip, and what becomes of it wherever it can be made. */
export interface SlipRow {
  readonly slip: Slip;
  /** In how many changeovers, or arrangements for a procedure that is in none, it ends how. */
  readonly outcomes: Readonly<Record<Outcome, number>>;
  /** Where it survives longest: silent before all else, then what is noticed after the most steps. */
  readonly worst: { readonly context: SlipContext; readonly noticed: Noticed };
}

/** What the lines of a configuration's card see. */
interface CardProof {
  readonly configuration: string;
  /** The lines of the card, those of its options after its own. */
  readonly lines: readonly Check[];
  /** Slips that are still there when it is read, counted in each changeover; and those of them that it sees. */
  readonly slips: number;
  readonly seen: number;
  /** How many of them each line sees. */
  readonly sees: readonly number[];
  /** Lines that see none of them. */
  readonly idle: readonly Check[];
  /** The fewest lines that see all that the card sees, by their index in `lines`. */
  readonly cover: Cover;
}

/** What one slip in each act leads to, over the changeovers looked at. */
export interface SlipProof {
  /** In the order of the procedures and their acts. */
  readonly rows: readonly SlipRow[];
  readonly cards: readonly CardProof[];
  /** Changeovers looked at; and whether these are all. */
  readonly changeovers: number;
  readonly complete: boolean;
}

/** What the proof needs to know of the service. */
export interface SlipCarrier {
  readonly band: Band;
  readonly crew: readonly Pick<Crew, "id">[];
  readonly otherNames?: OtherNames | undefined;
}

/** Pairs of arrangements looked at; with more, only those with at most one option. */
const MOST_PAIRS = 2_000;

/** The omission proof of a platform, once for each model and service, and kept for the next run. */
export const proveSlips: (model: Model, service: SlipCarrier) => SlipProof = remember(
  ({ platform }: Model, { band, crew, otherNames }: SlipCarrier) =>
    proveKept(platform, { band, crew: crew.map(({ id }) => ({ id })), otherNames: otherNames ?? {} }),
);

const proveKept = kept("slips", isProse, (platform: Platform, service: SlipCarrier) =>
  new SlipProver(modelOf(platform), service).prove(),
);

/** A changeover with what is run in it. */
interface Course extends SlipContext {
  readonly changeover: Changeover;
  readonly programs: readonly Program[];
  /** The state before each program, and the one after the last. */
  readonly states: readonly State[];
  readonly target: Arrangement | undefined;
}

/** What becomes of a slip, as far as it does not depend on what was done before its procedure. */
interface Fate {
  readonly outcome: Outcome;
  /** Programs after the slip's own, and the step there. */
  readonly program?: number;
  readonly step?: number;
  readonly check?: Check;
  readonly onCard?: true;
  /** Lines of the card that see it; `undefined` if it never comes to the card. */
  readonly card?: readonly Check[];
}

class SlipProver {
  readonly #model: Model;
  readonly #service: SlipCarrier;
  readonly #looked: ReturnType<typeof lookerOf>;
  /** Programs of which every turn counts, so that one that does not is noticed. */
  #strict: ReadonlySet<Program> = new Set();
  readonly #slips = new Map<Program, readonly SlippedProgram[]>();
  readonly #programs = new Map<string, Program>();
  readonly #fates = new Map<string, readonly Fate[]>();
  readonly #timelines = new Map<Changeover["steps"], ReturnType<typeof planTimeline>>();
  readonly #traces = new Map<readonly Act[], Map<string, Trace>>();
  readonly #strictTraces = new Map<readonly Act[], Map<string, Trace>>();

  constructor(model: Model, service: SlipCarrier) {
    this.#model = model;
    this.#service = service;
    this.#looked = lookerOf(model, service.otherNames ?? {});
  }

  prove(): SlipProof {
    const { courses, complete } = this.#courses();
    const used = new Set(courses.flatMap(({ programs }) => programs.map(({ procedure }) => procedure.id)));
    const alone = this.#alone(used);
    this.#strict = strictPrograms(this.#model, [...this.#programs.values()]);
    const rows = new Map<string, { slip: Slip; outcomes: Record<Outcome, number>; worst: Found }>();
    const seenBy = new Map<string, { readonly slips: (readonly Check[])[]; readonly lines: Set<Check> }>();
    for (const course of courses) {
      const { target } = course;
      const card = target && cardOf(seenBy, target);
      course.programs.forEach((program, at) => {
        const slips = this.#slipsOf(program);
        this.#fatesOf(course, at).forEach((fate, index) => {
          const { slip } = slips[index]!;
          note(rows, slip, {
            course,
            at,
            slipped: slips[index]!,
            fate,
            steps: stepsUntil(course, at, slips[index]!, fate),
          });
          if (card && fate.card) card.slips.push(fate.card);
        });
      });
    }
    for (const course of alone)
      this.#fatesOf(course, 0).forEach((fate, index) => {
        const slipped = this.#slipsOf(course.programs[0]!)[index]!;
        note(rows, slipped.slip, { course, at: 0, slipped, fate, steps: stepsUntil(course, 0, slipped, fate) });
      });
    const order = new Map(this.#model.platform.procedures.map(({ id }, at) => [id, at]));
    return {
      rows: [...rows.values()]
        .map(({ slip, outcomes, worst }) => ({
          slip,
          outcomes,
          worst: { context: { from: worst.course.from, to: worst.course.to }, noticed: this.#say(worst) },
        }))
        .sort(
          (a, b) => order.get(a.slip.procedure.id)! - order.get(b.slip.procedure.id)! || compareSlips(a.slip, b.slip),
        ),
      cards: this.#model.platform.configurations.flatMap(({ id }) => {
        const card = seenBy.get(id);
        return card ? [proveCard(id, [...card.lines], card.slips)] : [];
      }),
      changeovers: courses.length,
      complete,
    };
  }

  #courses(): { courses: Course[]; complete: boolean } {
    const { arrangements } = this.#model;
    const complete = arrangements.length * (arrangements.length - 1) <= MOST_PAIRS;
    const some = complete ? arrangements : arrangements.filter(({ options }) => options.length <= 1);
    const courses: Course[] = [];
    for (const from of some)
      for (const to of some) {
        if (from === to) continue;
        for (const { cells, changeover } of waysBetween(this.#model, this.#service, from, to))
          if (changeover) courses.push(this.#courseOf(from, to, changeover, cells[0]!.patient));
      }
    return { courses, complete };
  }

  #courseOf(
    from: Arrangement,
    to: Arrangement,
    changeover: Changeover,
    patient: Parameters<typeof programFor>[2],
  ): Course {
    const programs = changeover.procedures.map((procedure) => this.#keep(programFor(this.#model, procedure, patient)!));
    const states = [stateOf(this.#model, from)];
    for (const program of programs) states.push(this.#traceOf(program, states.at(-1)!).end);
    return { from: from.name, to: to.name, changeover, programs, states, target: to };
  }

  /** Procedures that no changeover uses, each in every arrangement in which it runs to its end and leaves all well. */
  #alone(used: ReadonlySet<string>): Course[] {
    const { arrangements, states } = this.#model;
    return usableProcedures(this.#model.platform)
      .filter(({ id }) => !used.has(id))
      .flatMap((procedure) => variantsOf(this.#model, this.#service.band, procedure))
      .filter((program) => program.whole && program.acts.length > 0)
      .flatMap((variant) =>
        arrangements.flatMap(({ name }, at): Course[] => {
          const program = this.#keep(variant),
            start = states[at]!,
            trace = this.#traceOf(program, start);
          if (!runs(this.#model, start, program)) return [];
          const { procedure } = program,
            steps = program.steps.map((step) => ({ procedure, step }));
          const changeover = {
            from: name,
            to: name,
            procedures: [procedure],
            steps,
            seconds: 0,
            parts: [],
            undone: [],
          };
          return [
            { from: name, to: name, changeover, programs: [program], states: [start, trace.end], target: undefined },
          ];
        }),
      );
  }

  /** Equal programs as one, so that what is known of one is known of all. */
  #keep(program: Program): Program {
    const key = `${program.procedure.id} ${program.steps.map(({ number }) => number).join(",")}`;
    const known = this.#programs.get(key) ?? program;
    this.#programs.set(key, known);
    return known;
  }

  #slipsOf(program: Program): readonly SlippedProgram[] {
    const known = this.#slips.get(program) ?? slipsOf(program);
    this.#slips.set(program, known);
    return known;
  }

  /** The run of a program, with its own acts or with others in their place; each worked out once. */
  #traceOf(program: Program, start: State, acts = program.acts, noVainTurns = false): Trace {
    const known = noVainTurns ? this.#strictTraces : this.#traces,
      traces = known.get(acts) ?? new Map<string, Trace>();
    known.set(acts, traces);
    const key = keyOf(start),
      trace = traces.get(key) ?? traceOf(this.#model, start, program, acts, noVainTurns);
    traces.set(key, trace);
    return trace;
  }

  /** What becomes of each slip of the program at an index of a course. */
  #fatesOf(course: Course, at: number): readonly Fate[] {
    const { programs, states, to, target, changeover } = course;
    const rest = programs
      .slice(at)
      .map(({ procedure, steps }) => `${procedure.id} ${steps.map(({ number }) => number)}`);
    // What is counted at the end depends on where the changeover began.
    const counted = changeover.parts.map((part) => `${part.item} ${part.to}`);
    const key = [keyOf(states[at]!), target ? to : "", counted.join(), ...rest].join("|");
    const known =
      this.#fates.get(key) ?? this.#slipsOf(programs[at]!).map((slipped) => this.#fateOf(course, at, slipped));
    this.#fates.set(key, known);
    return known;
  }

  #fateOf({ programs, states, changeover, target }: Course, at: number, slipped: SlippedProgram): Fate {
    let state = states[at]!,
      first: Fate | undefined;
    for (let now = at; now < programs.length; now++) {
      const program = programs[now]!,
        isOwn = now === at;
      const right = this.#traceOf(program, states[now]!),
        wrong = this.#traceOf(program, state, isOwn ? slipped.acts : program.acts, this.#strict.has(program));
      for (let step = isOwn ? slipped.step : 0; step < wrong.after.length && !first; step++) {
        if (isOwn && step === slipped.step && !slipped.asksOwn) continue;
        const record = program.steps[step]!;
        if (readsCard(record)) continue;
        const check = record.checks.find((each) => sees(this.#looked(each), right.after[step]!, wrong.after[step]!));
        if (check) first = { outcome: "seen", program: now - at, step, check };
      }
      if (wrong.stoppedAt !== undefined)
        return first ?? { outcome: "stopped", program: now - at, step: wrong.stoppedAt };
      state = wrong.end;
    }
    const right = states.at(-1)!;
    const isCounted = changeover.parts.some((part) => {
      const slot = this.#model.slotOf.get(`${part.item} ${part.to}`);
      return slot !== undefined && right[slot] !== state[slot];
    });
    const card = target && standingChecks(target).filter((line) => sees(this.#looked(line), right, state));
    const isRight = keyOf(right) === keyOf(state);
    const all = card && !isRight ? { card } : {};
    if (first) return { ...first, ...all };
    if (isCounted) return { outcome: "counted", ...all };
    if (card?.[0]) return { outcome: "seen", check: card[0], onCard: true, card };
    return { outcome: isRight ? "made good" : "silent", ...all };
  }

  /** Where the worst course notices, in its own steps and seconds. */
  #say({ course, at, slipped, fate }: Found): Noticed {
    const { outcome, check, onCard } = fate;
    const { steps } = course.changeover;
    const { crew } = this.#service;
    if (outcome === "silent" || outcome === "made good") return { outcome, by: [], afterSeconds: 0 };
    const known = this.#timelines.get(steps),
      timeline =
        known ??
        planTimeline(
          steps,
          crew.map(({ id }) => id),
          this.#model.platform,
          0,
        );
    this.#timelines.set(steps, timeline);
    const own = timeline.steps[indexOf(course, at, slipped.step)]!;
    const later = fate.step === undefined ? undefined : indexOf(course, at + fate.program!, fate.step);
    const timed = later === undefined ? timeline.steps.at(-1)! : timeline.steps[later]!;
    // An act that can't be done is noticed as the step begins, a line when it is asked, the count before the reading.
    const noticed = outcome === "stopped" || outcome === "counted" ? timed.start : timed.end;
    const planned = later === undefined ? undefined : steps[later]!;
    return {
      outcome,
      ...(planned ? { at: planned } : {}),
      ...(check ? { check } : {}),
      ...(onCard ? { onCard } : {}),
      by: check?.by.length ? check.by : planned ? planned.step.by : crew.map(({ id }) => id),
      afterSeconds: Math.max(0, noticed - own.end),
    };
  }
}

/** A slip in one course, with what becomes of it there. */
interface Found {
  readonly course: Course;
  readonly at: number;
  readonly slipped: SlippedProgram;
  readonly fate: Fate;
  /** How many steps later it is noticed; more than any for silence, less than any where it is made good. */
  readonly steps: number;
}

function note(
  rows: Map<string, { slip: Slip; outcomes: Record<Outcome, number>; worst: Found }>,
  slip: Slip,
  found: Found,
): void {
  const key = `${slip.procedure.id} ${slip.step.number} ${slip.operation} ${slip.kind}`;
  const row = rows.get(key) ?? {
    slip,
    outcomes: { stopped: 0, seen: 0, counted: 0, "made good": 0, silent: 0 },
    worst: found,
  };
  row.outcomes[found.fate.outcome]++;
  if (found.steps > row.worst.steps) row.worst = found;
  rows.set(key, row);
}

function stepsUntil(course: Course, at: number, { step }: SlippedProgram, fate: Fate): number {
  if (fate.outcome === "silent") return Infinity;
  if (fate.outcome === "made good") return -1;
  const own = indexOf(course, at, step),
    { length } = course.changeover.steps;
  if (fate.step !== undefined) return indexOf(course, at + fate.program!, fate.step) - own;
  return length - own + (fate.onCard ? 1 : 0);
}

/** The index in the changeover of a step of one of its programs. */
function indexOf({ programs }: Course, program: number, step: number): number {
  const before = (steps: readonly Step[]) => steps.filter((each) => !readsCard(each)).length;
  return (
    programs.slice(0, program).reduce((sum, { steps }) => sum + before(steps), 0) +
    before(programs[program]!.steps.slice(0, step))
  );
}

const KINDS = ["left out", "one too few", "half turned"] as const;

function compareSlips(a: Slip, b: Slip): number {
  return a.step.number - b.step.number || a.operation - b.operation || KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind);
}

function cardOf(
  cards: Map<string, { readonly slips: (readonly Check[])[]; readonly lines: Set<Check> }>,
  { configuration, options }: Arrangement,
) {
  const card = cards.get(configuration.id) ?? { slips: [], lines: new Set<Check>() };
  cards.set(configuration.id, card);
  for (const record of [configuration, ...options]) for (const check of record.checks) card.lines.add(check);
  return card;
}

function proveCard(configuration: string, lines: readonly Check[], slips: readonly (readonly Check[])[]): CardProof {
  const seen = slips.filter((by) => by.length > 0);
  const sees = new Map<Check, number>();
  for (const line of seen.flat()) sees.set(line, (sees.get(line) ?? 0) + 1);
  return {
    configuration,
    lines,
    slips: slips.length,
    seen: seen.length,
    sees: lines.map((line) => sees.get(line) ?? 0),
    idle: lines.filter((line) => !sees.has(line)),
    cover: coverOf(seen.map((by) => by.map((line) => lines.indexOf(line)))),
  };
}
