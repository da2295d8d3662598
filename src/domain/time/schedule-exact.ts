/** The shortest schedule of tasks with precedence on a few workers, by branch and bound. */
import {
  criticalPath,
  type Edge,
  lowerBound,
  type Neighbours,
  type Schedule,
  scheduleGreedy,
  sortByPrecedence,
  type Task,
  TINY,
} from "./schedule.ts";

/**
 * The shortest schedule, by branch and bound over the order in which tasks start (idle time is allowed, unlike in the
 * greedy one).
 * Proved for up to about 20 tasks; when `budget` search steps are not enough, or there are more than 30 tasks, the best
 * schedule
 * found comes back with `proven: false`.
 */
export function scheduleExact(
  tasks: readonly Task[],
  edges: readonly Edge[],
  workers: number,
  budget = 500_000,
): Schedule {
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
    this.#interchangeable = Array.from(
      { length: workers },
      (_, worker) => !tasks.some(({ needs }) => needs?.includes(worker)),
    );
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
    this.#extend(
      0,
      Array.from({ length: this.#workers }, () => 0),
      Array.from({ length: count }, () => -1),
      Array.from({ length: count }, () => []),
      left,
      0,
      0,
    );
    return { ...this.#best, proven: this.#left > 0 || this.#best.makespan <= this.#bound + TINY };
  }

  /**
   * Adds one more task, never one that starts earlier than the last: every schedule is a list of its tasks by start.
   */
  #extend(
    done: number,
    free: readonly number[],
    starts: readonly number[],
    who: readonly (readonly number[])[],
    left: readonly number[],
    last: number,
    makespan: number,
  ): void {
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
      return this.#crewsFor(task, free).map((crew) => ({
        index,
        crew,
        start: Math.max(ready, last, ...crew.map((worker) => free[worker]!)),
      }));
    });
    // What could start only when another could already have ended may wait: that other task would otherwise be moved
    // back into the gap.
    const firstEnd = Math.min(...choices.map(({ index, start }) => start + tasks[index]!.seconds));
    choices.sort((a, b) => a.start - b.start || this.#tail[b.index]! - this.#tail[a.index]! || a.index - b.index);
    for (const { index, crew, start } of choices) {
      const end = start + tasks[index]!.seconds;
      if (
        start + this.#tail[index]! >= this.#best.makespan - TINY ||
        (start >= firstEnd - TINY && end > firstEnd + TINY)
      )
        continue;
      const nextLeft = [...left];
      for (const other of this.#neighbours.after[index]!) nextLeft[other]!--;
      this.#extend(
        done + 2 ** index,
        free.map((time, worker) => (crew.includes(worker) ? end : time)),
        starts.with(index, start),
        who.with(index, crew),
        nextLeft,
        start,
        Math.max(makespan, end),
      );
    }
  }

  #readyAt(index: number, starts: readonly number[]): number {
    return Math.max(0, ...this.#neighbours.before[index]!.map((other) => starts[other]! + this.#tasks[other]!.seconds));
  }

  /** Who could do a task; of workers whom no task needs by name and who are free at the same time, only the first. */
  #crewsFor(task: Task, free: readonly number[]): readonly (readonly number[])[] {
    if (task.needs) return [task.needs];
    return free.flatMap((time, worker) => {
      const same =
        this.#interchangeable[worker] &&
        free.some((other, earlier) => earlier < worker && this.#interchangeable[earlier] && other === time);
      return same ? [] : [[worker]];
    });
  }

  #isHopeless(free: readonly number[], starts: readonly number[], last: number, makespan: number): boolean {
    const limit = this.#best.makespan - TINY;
    if (makespan >= limit) return true;
    const earliest: number[] = [];
    let work = 0;
    const base = free.reduce((total, time) => total + Math.max(time, last), 0);
    /**
     * For each worker: seconds of tasks that need them, when the first of these can start, and the least that must
     * follow the last.
     */
    const after = free.map(() => Infinity);
    const first = free.map(() => Infinity);
    const owed = free.map(() => 0);
    for (const index of this.#neighbours.order) {
      const { seconds, needs } = this.#tasks[index]!;
      if (starts[index]! >= 0) {
        earliest[index] = starts[index]!;
        continue;
      }
      const people = needs
        ? Math.max(...needs.map((worker) => Math.max(free[worker]!, last)))
        : Math.max(last, Math.min(...free));
      earliest[index] = Math.max(
        people,
        ...this.#neighbours.before[index]!.map((other) => earliest[other]! + this.#tasks[other]!.seconds),
      );
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

  /**
   * Whether the same tasks were left before with the same clocks; what was tried from there need not be tried again.
   */
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
