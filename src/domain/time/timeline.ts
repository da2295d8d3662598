/**
 * The timeline of a run of steps: who does what when, what sets the total, who waits for whom, and how far from the
 * best it can be.
 */
import type { Crew, Procedure } from "../../schema/collection.ts";
import { criticalPath, type Edge, lowerBound, type Task, TINY } from "./schedule.ts";
import { scheduleExact } from "./schedule-exact.ts";
import type { PlannedStep } from "../parts/reading.ts";
import { recent } from "../words/recent.ts";
import { remember } from "../words/remember.ts";
import { type Shared, tieSteps } from "./sharing.ts";

/** A step with its seconds from the start. `index` counts from 0 in the run. */
export interface TimedStep extends PlannedStep {
  readonly index: number;
  /** Role ids of all who do it: the named ones, everybody for a hold, or the one whom the timeline gave it to. */
  readonly by: readonly string[];
  /** Whether nobody was named and the timeline chose. */
  readonly given: boolean;
  readonly start: number;
  readonly end: number;
  /** Seconds by which it may be late without delaying the end. */
  readonly slack: number;
  /** No slack: a second lost here is lost for good. */
  readonly critical: boolean;
}

/** A stretch in which somebody with something left to do has to wait. */
export interface Wait {
  readonly person: string;
  readonly start: number;
  readonly end: number;
  /** Index of the step that the person waits to do. */
  readonly next: number;
  /** The steps whose end is waited for, and the others who do them. */
  readonly forSteps: readonly number[];
  readonly forPersons: readonly string[];
}

/** Who does which step when; every time is in whole seconds from the start. */
export interface Timeline {
  readonly steps: readonly TimedStep[];
  /** From the first start to the last end, in seconds. */
  readonly elapsed: number;
  /** What one person alone would take: the sum of all durations. */
  readonly alone: number;
  /** No crew of this size is quicker with these steps, in whatever order each person does theirs. */
  readonly bound: number;
  /** `elapsed` is at most this much above the best possible: 0.05 for 5 %. 0 when it is the best. */
  readonly gap: number;
  /** No schedule is shorter, also if persons did their steps in another order than the written one. */
  readonly proved: boolean;
  /** No schedule is shorter as long as everybody keeps the written order. */
  readonly provedAsWritten: boolean;
  readonly waits: readonly Wait[];
  /** One chain of steps from start to end without slack, as indices. */
  readonly criticalPath: readonly number[];
}

/** Steps in starting order, then as written: the order in which a crew reads the score and is led through it. */
export function inStartingOrder({ steps }: Pick<Timeline, "steps">): TimedStep[] {
  return steps.toSorted((a, b) => a.start - b.start || a.index - b.index);
}

/**
 * Search steps for whom to give the steps that name nobody; and for the best order in any stretch between two holds.
 */
const BUDGET = 20_000;

/**
 * Starts every step as early as possible. A step waits for those it is tied to (`tieSteps`), and everybody does their
 * own steps in the
 * written order: a crew reads down a lane, and a step read out of turn is how one is left out. With everybody named,
 * this schedule is
 * the only one and the shortest for that order. A step that names nobody goes to one person, whoever makes the whole
 * shortest (searched
 * exhaustively within a budget; then the person free first, in the order of the crew). A hold occupies the whole crew.
 * A role that is not in `crew` counts as a person of its own. No steps: elapsed 0.
 * `budget`: search steps for either search; 0 is quickest, and leaves `bound` to what can be said without a search.
 */
export function planTimeline(
  run: readonly PlannedStep[],
  crew: readonly string[],
  platform: Shared,
  budget = BUDGET,
): Timeline {
  const { people, tasks } = tasksOf(run, crew);
  const edges = tieSteps(run, platform);
  const { who, complete } = giveSteps(tasks, edges, people.length, budget);
  const asDone = tasks.map(({ seconds }, index) => ({ seconds, needs: who[index]! }));
  const lanes = followLanes(asDone, people.length);
  const path = criticalPath(asDone, [...edges, ...lanes]);
  const steps = run.map((entry, index): TimedStep => {
    const { earliestStart: start, earliestEnd: end, slack } = path[index]!;
    return {
      ...entry,
      index,
      by: who[index]!.map((person) => people[person]!),
      given: tasks[index]!.needs === undefined,
      start,
      end,
      slack,
      critical: slack === 0,
    };
  });
  const elapsed = Math.max(0, ...steps.map(({ end }) => end)),
    tied = listBefore(edges, steps.length),
    chained = listBefore([...edges, ...lanes], steps.length);
  const bound = Math.min(elapsed, boundBetweenHolds(run, tasks, edges, people.length, elapsed, budget));
  return {
    steps,
    elapsed,
    bound,
    alone: tasks.reduce((total, { seconds }) => total + seconds, 0),
    gap: bound > 0 ? (elapsed - bound) / bound : 0,
    proved: elapsed <= bound + TINY,
    provedAsWritten: complete || elapsed <= bound + TINY,
    waits: people.flatMap((person) => findWaits(person, steps, tied)),
    criticalPath: traceCriticalPath(steps, chained),
  };
}

/**
 * The timeline of a procedure by itself, all its steps as they are written; worked out once for the page, its rails and
 * its rows.
 */
export const timelineOfProcedure: (procedure: Procedure, crew: readonly Crew[], platform: Shared) => Timeline =
  /* @__PURE__ */ remember((procedure: Procedure, crew: readonly Crew[], platform: Shared) =>
    planTimeline(
      procedure.steps.map((step) => ({ procedure, step })),
      crew.map(({ id }) => id),
      platform,
    ),
  );

/** The crew with the roles that are not in it, and the steps as tasks of theirs. No steps and no crew: one person. */
export function tasksOf(
  run: readonly PlannedStep[],
  crew: readonly string[],
): { people: readonly string[]; tasks: Task[] } {
  const people = [...new Set([...crew, ...run.flatMap(({ step }) => step.by)])];
  if (people.length === 0) people.push("anyone");
  const all = people.map((_, person) => person);
  const tasks = run.map(({ step }): Task => {
    if (step.hold) return { seconds: step.takesSeconds, needs: all };
    return {
      seconds: step.takesSeconds,
      ...(step.by.length > 0 ? { needs: [...new Set(step.by)].map((role) => people.indexOf(role)) } : {}),
    };
  });
  return { people, tasks };
}

/** Each person's steps, one after the other. */
function followLanes(tasks: readonly Task[], workers: number): Edge[] {
  return Array.from({ length: workers }, (_, worker) =>
    tasks.flatMap(({ needs }, task) => (needs?.includes(worker) ? [task] : [])),
  ).flatMap((lane) => lane.slice(1).map((task, position): Edge => [lane[position]!, task]));
}

/** For each of so many steps, those that it waits for, in the order of the edges. */
function listBefore(edges: readonly Edge[], count: number): readonly (readonly number[])[] {
  const before: number[][] = Array.from({ length: count }, () => []);
  for (const [first, second] of edges) before[second]!.push(first);
  return before;
}

/**
 * Gives each step that needs nobody in particular to one person, so that the written order ends soonest: depth first,
 * in written order.
 */
function giveSteps(
  tasks: readonly Task[],
  edges: readonly Edge[],
  workers: number,
  budget: number,
): { who: readonly (readonly number[])[]; makespan: number; complete: boolean } {
  const path = criticalPath(tasks, edges);
  const finish = Math.max(0, ...path.map(({ earliestEnd }) => earliestEnd));
  const before = listBefore(edges, tasks.length);
  let best = Infinity;
  let bestWho: readonly (readonly number[])[] = [];
  let left = budget;
  const who: (readonly number[])[] = [];
  const ends: number[] = [];
  const extend = (index: number, free: readonly number[], makespan: number): void => {
    if (index === tasks.length) {
      if (makespan < best - TINY) ((best = makespan), (bestWho = [...who]));
      return;
    }
    if (best < Infinity && left-- <= 0) return;
    const { seconds, needs } = tasks[index]!;
    const ready = Math.max(0, ...before[index]!.map((other) => ends[other]!));
    const crews = needs
      ? [needs]
      : free
          .map((_, worker) => [worker])
          .sort(
            ([a], [b]) => Math.max(free[a!]!, ready) - Math.max(free[b!]!, ready) || free[a!]! - free[b!]! || a! - b!,
          );
    for (const crew of crews) {
      const start = Math.max(ready, ...crew.map((worker) => free[worker]!));
      if (start + finish - path[index]!.latestStart >= best - TINY) continue;
      who[index] = crew;
      ends[index] = start + seconds;
      extend(
        index + 1,
        free.map((time, worker) => (crew.includes(worker) ? start + seconds : time)),
        Math.max(makespan, start + seconds),
      );
    }
  };
  extend(
    0,
    Array.from({ length: workers }, () => 0),
    0,
  );
  return { who: bestWho, makespan: best, complete: left >= 0 };
}

/**
 * Sum of the bounds of the stretches between holds, which cannot overlap; a short stretch is solved exactly when its
 * bound alone leaves a doubt.
 */
function boundBetweenHolds(
  run: readonly PlannedStep[],
  tasks: readonly Task[],
  edges: readonly Edge[],
  workers: number,
  elapsed: number,
  budget: number,
): number {
  const stretches: number[][] = [[]];
  let holds = 0;
  for (const [index, { step }] of run.entries()) {
    if (step.hold) ((holds += step.takesSeconds), stretches.push([]));
    else stretches.at(-1)!.push(index);
  }
  const parts = stretches.map((stretch) => ({
    tasks: stretch.map((index) => tasks[index]!),
    edges: edges.flatMap(([a, b]): Edge[] =>
      stretch.includes(a) && stretch.includes(b) ? [[stretch.indexOf(a), stretch.indexOf(b)]] : [],
    ),
  }));
  const rough = parts.map((part) => lowerBound(part.tasks, part.edges, workers));
  const total = (bounds: readonly number[]) => bounds.reduce((sum, bound) => sum + bound, holds);
  if (total(rough) >= elapsed - TINY) return total(rough);
  return total(
    parts.map((part, index) => {
      const { makespan, proven } = scheduled(JSON.stringify([part.tasks, part.edges, workers, budget]), () =>
        scheduleExact(part.tasks, part.edges, workers, budget),
      );
      return proven ? makespan : rough[index]!;
    }),
  );
}

/** Stretches between holds whose shortest schedule is kept at most. */
const scheduled = /* @__PURE__ */ recent<ReturnType<typeof scheduleExact>>(2000);

function findWaits(person: string, steps: readonly TimedStep[], tied: readonly (readonly number[])[]): Wait[] {
  const waits: Wait[] = [];
  let free = 0;
  for (const step of steps) {
    if (!step.by.includes(person)) continue;
    if (step.start > free + TINY) {
      const others = step.by.flatMap((role) =>
        steps.findLastIndex((other) => other.index < step.index && other.by.includes(role)),
      );
      const forSteps = [...new Set([...others, ...tied[step.index]!])]
        .filter((index) => index >= 0 && Math.abs(steps[index]!.end - step.start) < TINY)
        .sort((a, b) => a - b);
      const forPersons = [...new Set(forSteps.flatMap((index) => steps[index]!.by))].filter((role) => role !== person);
      waits.push({ person, start: free, end: step.start, next: step.index, forSteps, forPersons });
    }
    free = Math.max(free, step.end);
  }
  return waits;
}

function traceCriticalPath(steps: readonly TimedStep[], chained: readonly (readonly number[])[]): number[] {
  const elapsed = Math.max(0, ...steps.map(({ end }) => end));
  const chain: number[] = [];
  let at = steps.findLast(({ end }) => Math.abs(end - elapsed) < TINY);
  while (at) {
    chain.unshift(at.index);
    const { index, start } = at;
    at =
      start < TINY
        ? undefined
        : steps.find((other) => Math.abs(other.end - start) < TINY && chained[index]!.includes(other.index));
  }
  return chain;
}
