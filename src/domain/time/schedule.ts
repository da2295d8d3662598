/**
 * Scheduling of tasks with precedence on a few workers: critical path, lower bound and a greedy schedule.
 * `schedule-exact.ts` has the shortest.
 */

/** A task. `needs` lists the workers (from 0) who all take part; left out: any one worker. */
export interface Task {
  readonly seconds: number;
  readonly needs?: readonly number[];
}

/** `[before, after]`: the second may not start before the first has ended. Indices into the tasks. */
export type Edge = readonly [before: number, after: number];

/** Start of each task and the workers who do it, in the order of the tasks. `proven`: no schedule is shorter. */
export interface Schedule {
  readonly makespan: number;
  readonly starts: readonly number[];
  readonly who: readonly (readonly number[])[];
  readonly proven: boolean;
}

/** Earliest and latest start and end, and the slack between them (0: critical). */
interface PathTask {
  readonly earliestStart: number;
  readonly earliestEnd: number;
  readonly latestStart: number;
  readonly latestEnd: number;
  readonly slack: number;
}

/** Times that differ by less than this are equal: durations may be fractions of a second. */
export const TINY = 1e-9;

/** The tasks that stand directly before and after each task. */
export interface Neighbours {
  readonly before: readonly (readonly number[])[];
  readonly after: readonly (readonly number[])[];
  /** All tasks, each after those it must follow; lowest index first. */
  readonly order: readonly number[];
}

/** Sorts the tasks by precedence. Throws a RangeError when the edges go round in a circle. */
export function sortByPrecedence(count: number, edges: readonly Edge[]): Neighbours {
  const before: number[][] = Array.from({ length: count }, () => []);
  const after: number[][] = Array.from({ length: count }, () => []);
  for (const [first, second] of edges)
    if (!before[second]!.includes(first)) (before[second]!.push(first), after[first]!.push(second));
  const left = before.map((list) => list.length);
  const order: number[] = [];
  const ready = left.flatMap((n, task) => (n === 0 ? [task] : []));
  while (ready.length > 0) {
    const task = ready.splice(ready.indexOf(Math.min(...ready)), 1)[0]!;
    order.push(task);
    for (const next of after[task]!) if (--left[next]! === 0) ready.push(next);
  }
  if (order.length < count) throw new RangeError("The order of the tasks goes round in a circle");
  return { before, after, order };
}

/**
 * Critical path method (Kelley and Walker 1959, from memory): with any number of workers, when can each task start and
 * end,
 * and how much later may it without delaying the end. Empty for no tasks; throws a RangeError when the edges go round
 * in a circle.
 */
export function criticalPath(tasks: readonly Task[], edges: readonly Edge[]): PathTask[] {
  const { before, after, order } = sortByPrecedence(tasks.length, edges);
  const end: number[] = [];
  for (const task of order)
    end[task] = Math.max(0, ...before[task]!.map((other) => end[other]!)) + tasks[task]!.seconds;
  const finish = Math.max(0, ...end);
  const latest: number[] = [];
  for (const task of [...order].reverse())
    latest[task] = Math.min(finish, ...after[task]!.map((other) => latest[other]! - tasks[other]!.seconds));
  return tasks.map(({ seconds }, task) => {
    const slack = latest[task]! - end[task]!;
    return {
      earliestStart: end[task]! - seconds,
      earliestEnd: end[task]!,
      latestStart: latest[task]! - seconds,
      latestEnd: latest[task]!,
      slack: slack < TINY ? 0 : slack,
    };
  });
}

/**
 * No schedule is shorter than this: the longest chain; the work over the workers (rounded up when every duration is
 * whole);
 * and, for each worker, the tasks that need that worker with the least that must come before and after them.
 */
export function lowerBound(tasks: readonly Task[], edges: readonly Edge[], workers: number): number {
  if (tasks.length === 0) return 0;
  const path = criticalPath(tasks, edges);
  const finish = Math.max(...path.map(({ earliestEnd }) => earliestEnd));
  const work = tasks.reduce((total, { seconds, needs }) => total + seconds * (needs?.length ?? 1), 0) / workers;
  const whole = tasks.every(({ seconds }) => Number.isInteger(seconds));
  const lanes = Array.from({ length: workers }, (_, worker) => {
    const own = tasks.flatMap(({ needs }, task) => (needs?.includes(worker) ? [task] : []));
    if (own.length === 0) return 0;
    const head = Math.min(...own.map((task) => path[task]!.earliestStart));
    const tail = Math.min(...own.map((task) => finish - path[task]!.latestEnd));
    return head + tail + own.reduce((total, task) => total + tasks[task]!.seconds, 0);
  });
  return Math.max(finish, whole ? Math.ceil(work - TINY) : work, ...lanes);
}

/**
 * List scheduling (Graham 1969): a free worker takes the first task of the list that is ready; nobody is left idle
 * while a task is.
 * Not the best: it can become longer when every task gets quicker or a worker is added. `list` defaults to the given
 * order.
 */
export function scheduleGreedy(
  tasks: readonly Task[],
  edges: readonly Edge[],
  workers: number,
  list: readonly number[] = tasks.map((_, task) => task),
): Schedule {
  if (tasks.some(({ needs }) => needs?.some((worker) => worker >= workers)) || workers < 1)
    throw new RangeError("A task needs a worker who is not there");
  const { before } = sortByPrecedence(tasks.length, edges);
  const free: number[] = Array.from({ length: workers }, () => 0);
  const starts: number[] = [];
  const ends: number[] = [];
  const who: (readonly number[])[] = [];
  const waiting = new Set(list);
  let now = 0;
  while (waiting.size > 0) {
    let found = true;
    while (found) {
      found = false;
      for (const task of waiting) {
        if (!before[task]!.every((other) => ends[other] !== undefined && ends[other] <= now + TINY)) continue;
        const crew = tasks[task]!.needs ?? [free.findIndex((time) => time <= now + TINY)];
        if (!crew.every((worker) => worker >= 0 && free[worker]! <= now + TINY)) continue;
        starts[task] = now;
        ends[task] = now + tasks[task]!.seconds;
        who[task] = crew;
        for (const worker of crew) free[worker] = ends[task]!;
        waiting.delete(task);
        found = true;
        break;
      }
    }
    if (waiting.size > 0) now = Math.min(...ends.filter((end) => end > now + TINY));
  }
  const makespan = Math.max(0, ...ends);
  return { makespan, starts, who, proven: makespan <= lowerBound(tasks, edges, workers) + TINY };
}
