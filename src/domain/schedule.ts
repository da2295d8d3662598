/** Scheduling of tasks with precedence on a few workers: critical path, bounds, a greedy schedule and an exact one. */

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
export interface PathTask {
  readonly earliestStart: number;
  readonly earliestEnd: number;
  readonly latestStart: number;
  readonly latestEnd: number;
  readonly slack: number;
}

/** Times that differ by less than this are equal: durations may be fractions of a second. */
const TINY = 1e-9;

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
  for (const [first, second] of edges) if (!before[second]!.includes(first)) before[second]!.push(first), after[first]!.push(second);
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
 * Critical path method (Kelley and Walker 1959, from memory): with any number of workers, when can each task start and end,
 * and how much later may it without delaying the end. Empty for no tasks; throws a RangeError when the edges go round in a circle.
 */
export function criticalPath(tasks: readonly Task[], edges: readonly Edge[]): PathTask[] {
  const { before, after, order } = sortByPrecedence(tasks.length, edges);
  const end: number[] = [];
  for (const task of order) end[task] = Math.max(0, ...before[task]!.map((other) => end[other]!)) + tasks[task]!.seconds;
  const finish = Math.max(0, ...end);
  const latest: number[] = [];
  for (const task of [...order].reverse()) latest[task] = Math.min(finish, ...after[task]!.map((other) => latest[other]! - tasks[other]!.seconds));
  return tasks.map(({ seconds }, task) => {
    const slack = latest[task]! - end[task]!;
    return { earliestStart: end[task]! - seconds, earliestEnd: end[task]!, latestStart: latest[task]! - seconds, latestEnd: latest[task]!, slack: slack < TINY ? 0 : slack };
  });
}

/**
 * No schedule is shorter than this: the longest chain; the work over the workers (rounded up when every duration is whole);
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
 * List scheduling (Graham 1969): a free worker takes the first task of the list that is ready; nobody is left idle while a task is.
 * Not the best: it can become longer when every task gets quicker or a worker is added. `list` defaults to the given order.
 */
export function scheduleGreedy(tasks: readonly Task[], edges: readonly Edge[], workers: number, list: readonly number[] = tasks.map((_, task) => task)): Schedule {
  if (tasks.some(({ needs }) => needs?.some((worker) => worker >= workers)) || workers < 1) throw new RangeError("A task needs a worker who is not there");
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

/**
 * The shortest schedule, by branch and bound over the order in which tasks start (idle time is allowed, unlike in the greedy one).
 * Proved for up to about 20 tasks; when `budget` search steps are not enough, or there are more than 30 tasks, the best schedule
 * found comes back with `proven: false`.
 */
export function scheduleExact(tasks: readonly Task[], edges: readonly Edge[], workers: number, budget = 500_000): Schedule {
  const search = new Search(tasks, edges, workers, budget);
  return search.run();
}

class Search {
  readonly #tasks: readonly Task[];
  readonly #workers: number;
  readonly #neighbours: Neighbours;
  readonly #tail: readonly number[];
  readonly #bound: number;
  readonly #interchangeable: readonly boolean[];
  readonly #seen = new Set<string>();
  #left: number;
  #best: Schedule;

  constructor(tasks: readonly Task[], edges: readonly Edge[], workers: number, budget: number) {
    this.#tasks = tasks;
    this.#workers = workers;
    this.#left = budget;
    this.#neighbours = sortByPrecedence(tasks.length, edges);
    const path = criticalPath(tasks, edges);
    const finish = Math.max(0, ...path.map(({ earliestEnd }) => earliestEnd));
    this.#tail = path.map(({ latestStart }) => finish - latestStart);
    this.#bound = lowerBound(tasks, edges, workers);
    this.#interchangeable = Array.from({ length: workers }, (_, worker) => !tasks.some(({ needs }) => needs?.includes(worker)));
    this.#best = scheduleGreedy(tasks, edges, workers);
    // Longest tail first is the better first guess, but ties keep the given order.
    const byTail = tasks.map((_, task) => task).sort((a, b) => this.#tail[b]! - this.#tail[a]! || a - b);
    const other = scheduleGreedy(tasks, edges, workers, byTail);
    if (other.makespan < this.#best.makespan - TINY) this.#best = other;
  }

  run(): Schedule {
    if (this.#best.proven || this.#tasks.length > 30) return this.#best;
    const count = this.#tasks.length;
    const left = this.#neighbours.before.map((list) => list.length);
    this.#extend(0, Array.from({ length: this.#workers }, () => 0), Array.from({ length: count }, () => -1), Array.from({ length: count }, () => []), left, 0, 0);
    return { ...this.#best, proven: this.#left > 0 || this.#best.makespan <= this.#bound + TINY };
  }

  /** Adds one more task, never one that starts earlier than the last: every schedule is a list of its tasks by start. */
  #extend(done: number, free: readonly number[], starts: readonly number[], who: readonly (readonly number[])[], left: readonly number[], last: number, makespan: number): void {
    const tasks = this.#tasks;
    if (this.#left <= 0 || this.#best.makespan <= this.#bound + TINY) return;
    this.#left--;
    if (done === 2 ** tasks.length - 1) {
      if (makespan < this.#best.makespan - TINY) this.#best = { makespan, starts, who, proven: false };
      return;
    }
    if (this.#isHopeless(free, starts, last, makespan) || this.#wasSeen(done, free, starts, last)) return;
    const choices = tasks.flatMap((task, index) => {
      if (starts[index]! >= 0 || left[index] !== 0) return [];
      const ready = this.#readyAt(index, starts);
      return this.#crewsFor(task, free).map((crew) => ({ index, crew, start: Math.max(ready, last, ...crew.map((worker) => free[worker]!)) }));
    });
    // What could start only when another could already have ended may wait: that other task would otherwise be moved back into the gap.
    const firstEnd = Math.min(...choices.map(({ index, start }) => start + tasks[index]!.seconds));
    choices.sort((a, b) => a.start - b.start || this.#tail[b.index]! - this.#tail[a.index]! || a.index - b.index);
    for (const { index, crew, start } of choices) {
      const end = start + tasks[index]!.seconds;
      if (start + this.#tail[index]! >= this.#best.makespan - TINY || (start >= firstEnd - TINY && end > firstEnd + TINY)) continue;
      const nextLeft = [...left];
      for (const other of this.#neighbours.after[index]!) nextLeft[other]!--;
      this.#extend(done + 2 ** index, free.map((time, worker) => (crew.includes(worker) ? end : time)), starts.with(index, start), who.with(index, crew), nextLeft, start, Math.max(makespan, end));
    }
  }

  #readyAt(index: number, starts: readonly number[]): number {
    return Math.max(0, ...this.#neighbours.before[index]!.map((other) => starts[other]! + this.#tasks[other]!.seconds));
  }

  /** Who could do a task; of workers whom no task needs by name and who are free at the same time, only the first. */
  #crewsFor(task: Task, free: readonly number[]): readonly (readonly number[])[] {
    if (task.needs) return [task.needs];
    return free.flatMap((time, worker) => {
      const same = this.#interchangeable[worker] && free.some((other, earlier) => earlier < worker && this.#interchangeable[earlier] && other === time);
      return same ? [] : [[worker]];
    });
  }

  #isHopeless(free: readonly number[], starts: readonly number[], last: number, makespan: number): boolean {
    const limit = this.#best.makespan - TINY;
    if (makespan >= limit) return true;
    const earliest: number[] = [];
    let work = 0;
    const base = free.reduce((total, time) => total + Math.max(time, last), 0);
    /** For each worker: seconds of tasks that need them, when the first of these can start, and the least that must follow the last. */
    const after = free.map(() => Infinity);
    const first = free.map(() => Infinity);
    const owed = free.map(() => 0);
    for (const index of this.#neighbours.order) {
      const { seconds, needs } = this.#tasks[index]!;
      if (starts[index]! >= 0) {
        earliest[index] = starts[index]!;
        continue;
      }
      const people = needs ? Math.max(...needs.map((worker) => Math.max(free[worker]!, last))) : Math.max(last, Math.min(...free));
      earliest[index] = Math.max(people, ...this.#neighbours.before[index]!.map((other) => earliest[other]! + this.#tasks[other]!.seconds));
      if (earliest[index]! + this.#tail[index]! >= limit) return true;
      work += seconds * (needs?.length ?? 1);
      for (const worker of needs ?? []) {
        owed[worker]! += seconds;
        after[worker] = Math.min(after[worker]!, this.#tail[index]! - seconds);
        first[worker] = Math.min(first[worker]!, earliest[index]!);
      }
    }
    const isLate = owed.some((seconds, worker) => seconds > 0 && first[worker]! + seconds + after[worker]! >= limit);
    return isLate || (base + work) / this.#workers >= limit;
  }

  /** Whether the same tasks were left before with the same clocks; what was tried from there need not be tried again. */
  #wasSeen(done: number, free: readonly number[], starts: readonly number[], last: number): boolean {
    const clocks = free.map((time) => Math.max(time, last));
    const fixed = clocks.filter((_, worker) => !this.#interchangeable[worker]);
    const alike = clocks.filter((_, worker) => this.#interchangeable[worker]).sort((a, b) => a - b);
    const open = starts.map((start, index) => {
      const pending = start >= 0 && this.#neighbours.after[index]!.some((other) => starts[other]! < 0);
      return pending ? Math.max(start + this.#tasks[index]!.seconds, last) : "";
    });
    const key = `${done}|${last}|${fixed}|${alike}|${open}`;
    if (this.#seen.has(key)) return true;
    this.#seen.add(key);
    return false;
  }
}
