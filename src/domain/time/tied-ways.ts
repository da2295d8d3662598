/** Which of several changeovers of the same seconds a crew does: clean, quick, and in the order of the trade. */
import type { Step } from "../../schema/collection.ts";
import type { StateGraph } from "../states/explore.ts";
import type { Act, State } from "../states/model.ts";
import { compareByTrade, phaseOf } from "../parts/phase.ts";
import { readsCard } from "../parts/reading.ts";
import { run, isStandingOn } from "../states/run.ts";
import { type ChooseWay, onwardOf, type WayPoint } from "../states/search.ts";
import { remember } from "../words/remember.ts";
import { tieSteps } from "./sharing.ts";
import { tasksOf } from "./timeline.ts";

/**
 * Half-done ways that are kept at one point of the search, of those of which none is better in everything: beyond it
 * those that look best so far go on, and the way is still of least seconds, perhaps not of least elapsed time.
 */
const MOST_KEPT = 300;

/** Sets of procedures of the same seconds that are looked at for one changeover: those found first. */
const MOST_SETS = 64;

/**
 * Chooses among ways of least seconds. What confirms comes first; nothing is put onto what is later taken away, as far
 * as another way avoids it; then the least elapsed time for this crew (role ids; without a crew no time is compared);
 * then the fewest procedures; then the order of the trade (`compareByTrade`).
 *
 * It goes through the ways from their start, all at once, and forgets a half-done way as soon as another one that did
 * the same procedures is as good in everything that can matter later: its place in the order of the trade, when each
 * person is free, when each step that is left could begin, and what stands where it may be in the way. So 336 ways of
 * the demo are told apart without planning each.
 */
export function chooseAmongTies(graph: StateGraph, crew?: readonly string[]): ChooseWay {
  return (start, end) => {
    const onward = onwardOf(end);
    const points = [...onward.keys()].sort((a, b) => a.time - b.time || a.hops - b.hops);
    if (points.every((point) => onward.get(point)!.length === 1)) return follow(start, end, onward);
    const ranks = rankPrograms(
      graph,
      new Set([...onward.values()].flatMap((each) => each.map(({ program }) => program))),
    );
    const ways = setsOf(points, start, end, onward).flatMap((set) => {
      const search = new TiedSearch(graph, set, ranks, crew);
      return search.best(points, start, end, onward) ?? [];
    });
    return ways.sort(compareWays)[0]!.programs;
  };
}

type Onward = ReturnType<typeof onwardOf>;

/** How often each program is run, as `program:times` in the order of the programs. */
type SetKey = string;

function follow(start: WayPoint, end: WayPoint, onward: Onward): number[] {
  const programs: number[] = [];
  for (let at = start; at !== end;) {
    const { program, to } = onward.get(at)![0]!;
    programs.push(program);
    at = to;
  }
  return programs;
}

/** The sets of programs that ways are made of, each sorted; at most `MOST_SETS`. */
function setsOf(points: readonly WayPoint[], start: WayPoint, end: WayPoint, onward: Onward): number[][] {
  const found = new Map<WayPoint, Map<SetKey, number[]>>([[start, new Map([["", []]])]]);
  for (const point of points)
    for (const { program, to } of onward.get(point)!) {
      const there = found.get(to) ?? new Map<SetKey, number[]>();
      found.set(to, there);
      for (const set of found.get(point)?.values() ?? []) {
        const more = [...set, program].sort((a, b) => a - b);
        if (there.size < MOST_SETS) there.set(more.join(" "), more);
      }
    }
  return [...found.get(end)!.values()];
}

/** A way that is done up to a point. Times are in whole milliseconds. */
interface HalfDone {
  readonly programs: readonly number[];
  readonly ranks: readonly number[];
  /** Programs that confirm after others, and pieces that were put onto what was later taken away. */
  readonly misplaced: number;
  /** Slots that were filled by a program that is done: what stands there may be in the way of a later one. */
  readonly put: readonly number[];
  readonly free: readonly number[];
  /** For each step of the set, when the steps that it waits for are done; 0 for a step that is done. */
  readonly ready: readonly number[];
  readonly elapsed: number;
}

/** A whole way, as it is compared. */
type Whole = Pick<HalfDone, "programs" | "ranks" | "misplaced" | "elapsed">;

function compareWays(a: Whole, b: Whole): number {
  return (
    a.misplaced - b.misplaced ||
    a.elapsed - b.elapsed ||
    a.programs.length - b.programs.length ||
    compareRanks(a.ranks, b.ranks)
  );
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  const differs = a.findIndex((rank, at) => rank !== b[at]);
  return differs < 0 ? 0 : a[differs]! - b[differs]!;
}

/** Whether the first is as good as the second in all that can matter later. */
function isAsGood(a: HalfDone, b: HalfDone): boolean {
  return (
    a.misplaced <= b.misplaced &&
    a.elapsed <= b.elapsed &&
    a.free.every((time, at) => time <= b.free[at]!) &&
    a.ready.every((time, at) => time <= b.ready[at]!) &&
    a.put.every((slot) => b.put.includes(slot)) &&
    compareRanks(a.ranks, b.ranks) <= 0
  );
}

/** The search among the orders of one set of programs. */
class TiedSearch {
  readonly #graph: StateGraph;
  readonly #set: readonly number[];
  readonly #ranks: Ranks;
  /** For each run of a program, where its steps begin in `#tasks`. */
  readonly #begins: readonly number[];
  readonly #tasks: readonly { readonly ms: number; readonly needs: readonly number[] | undefined }[];
  /** Steps that wait for a step, or that it waits for, whichever comes first. */
  readonly #tied: readonly (readonly number[])[];
  readonly #people: number;

  constructor(graph: StateGraph, set: readonly number[], ranks: Ranks, crew: readonly string[] | undefined) {
    this.#graph = graph;
    this.#set = set;
    this.#ranks = ranks;
    const begins: number[] = [];
    const steps = set.flatMap((program, at) => {
      const { procedure } = graph.programs[program]!;
      begins.push(at === 0 ? 0 : begins[at - 1]! + stepsBefore(graph, set[at - 1]!).length);
      return stepsBefore(graph, program).map((step) => ({ procedure, step }));
    });
    this.#begins = begins;
    const { people, tasks } = tasksOf(crew ? steps : [], crew ?? []);
    this.#people = people.length;
    this.#tasks = tasks.map(({ seconds, needs }) => ({ ms: Math.round(seconds * 1000), needs }));
    const tied: number[][] = tasks.map(() => []);
    if (crew)
      for (const [a, b] of tieSteps(steps, graph.model.platform)) {
        tied[a]!.push(b);
        tied[b]!.push(a);
      }
    this.#tied = tied;
  }

  /** The best way of exactly these programs; `undefined` if there is none. */
  best(points: readonly WayPoint[], start: WayPoint, end: WayPoint, onward: Onward): Whole | undefined {
    const nothing: HalfDone = {
      programs: [],
      ranks: [],
      misplaced: 0,
      put: [],
      free: Array.from({ length: this.#people }, () => 0),
      ready: this.#tasks.map(() => 0),
      elapsed: 0,
    };
    const kept = new Map<WayPoint, Map<SetKey, HalfDone[]>>([[start, new Map([["", [nothing]]])]]);
    for (const point of points)
      for (const half of [...(kept.get(point)?.values() ?? [])].flat())
        for (const { program, to } of onward.get(point)!) {
          const times = half.programs.filter((each) => each === program).length;
          const first = this.#set.indexOf(program);
          // Not in the set, or in it no more often than it was run.
          if (first < 0 || this.#set[first + times] !== program) continue;
          const there = kept.get(to) ?? new Map<SetKey, HalfDone[]>();
          kept.set(to, there);
          const programs = [...half.programs, program],
            key = [...programs].sort((a, b) => a - b).join(" "),
            others = there.get(key) ?? [];
          const begun = this.#begin(half, point, program);
          for (const next of this.#doSteps({ ...begun, programs }, this.#begins[first + times]!, program))
            keepBest(others, next);
          there.set(key, others);
        }
    const ends = [...(kept.get(end)?.values() ?? [])].flat();
    return ends.sort(compareWays)[0];
  }

  /** The half-done way with what the program puts where, and its place in the order of the trade. */
  #begin(half: HalfDone, point: WayPoint, at: number): HalfDone {
    const { model } = this.#graph;
    const { rank, confirms } = this.#ranks.get(at)!;
    const late = confirms && half.programs.some((other) => !this.#ranks.get(other)!.confirms) ? 1 : 0;
    const own = new Set<number>();
    let put = half.put,
      taken = 0;
    for (const { act, state } of traceOf(this.#graph, point.node, at)) {
      const left = put.filter(
        (slot) => state[slot]! > 0 && !isStandingOn(model, state, act.item, model.slots[slot]!.place),
      );
      taken += put.filter((slot) => state[slot]! > 0).length - left.length;
      put = left;
      for (const slot of own) if (state[slot] === 0) own.delete(slot);
      if (!model.places[act.to]!.off) own.add(act.toSlot);
    }
    return {
      ...half,
      ranks: [...half.ranks, rank],
      misplaced: half.misplaced + late + taken,
      put: [...new Set([...put, ...own])].sort((a, b) => a - b),
    };
  }

  /** The half-done way with all steps of a program done; several where steps name nobody. */
  #doSteps(half: HalfDone, begins: number, program: number): HalfDone[] {
    if (this.#tasks.length === 0) return [half];
    let all = [copyOf(half)];
    const { length } = stepsBefore(this.#graph, program);
    for (let at = begins; at < begins + length; at++) {
      const { needs } = this.#tasks[at]!;
      // Where it is written who does each step there is one way to do them, and it is no other's yet.
      if (needs && all.length === 1) {
        this.#doStep(all[0]!, at, needs);
        continue;
      }
      const done: Doing[] = [];
      for (const each of all)
        for (const who of needs ? [needs] : each.free.map((_, person) => [person])) {
          const next = copyOf(each);
          this.#doStep(next, at, who);
          keepBest(done, next);
        }
      all = done;
    }
    return all;
  }

  /** Changes the half-done way given. */
  #doStep(half: Doing, at: number, who: readonly number[]): void {
    const { ready, free } = half;
    let end = ready[at]!;
    for (const person of who) end = Math.max(end, free[person]!);
    end += this.#tasks[at]!.ms;
    for (const other of this.#tied[at]!) if (ready[other]! >= 0) ready[other] = Math.max(ready[other]!, end);
    ready[at] = DONE;
    for (const person of who) free[person] = end;
    half.elapsed = Math.max(half.elapsed, end);
  }
}

/** A half-done way while its steps are done. */
type Doing = Omit<HalfDone, "free" | "ready" | "elapsed"> & { free: number[]; ready: number[]; elapsed: number };

function copyOf(half: HalfDone): Doing {
  return { ...half, free: [...half.free], ready: [...half.ready] };
}

/** The steps of a program that are done before the reading of the card, which every way ends with. */
function stepsBefore({ programs }: StateGraph, program: number): Step[] {
  return programs[program]!.steps.filter((step) => !readsCard(step));
}

/** In place of a time, for a step that is done. */
const DONE = -1;

/** Adds a half-done way to others that did the same, unless one of them is as good; those that it beats go. */
function keepBest<H extends HalfDone>(others: H[], next: H): void {
  if (others.some((other) => isAsGood(other, next))) return;
  const left = [...others.filter((other) => !isAsGood(next, other)), next];
  if (left.length > MOST_KEPT) left.sort(compareWays).length = MOST_KEPT;
  others.splice(0, others.length, ...left);
}

/** A move that a program makes, with a copy of the state after it. */
interface Traced {
  readonly act: Extract<Act, { kind: "move" }>;
  readonly state: State;
}

/** Each move of a program that runs in a state of the graph; worked out once. */
function traceOf(graph: StateGraph, node: number, at: number): readonly Traced[] {
  const known = tracesOf(graph),
    key = `${node} ${at}`;
  const moves: Traced[] = [];
  if (!known.has(key)) {
    run(graph.model, graph.states[node]!, graph.programs[at]!, {
      watch: (act, state) => {
        if (act.kind === "move") moves.push({ act, state: state.slice() });
      },
    });
    known.set(key, moves);
  }
  return known.get(key)!;
}

const tracesOf = remember((_: StateGraph) => new Map<string, readonly Traced[]>());

/** Programs by their index, with their rank among them in the order of the trade, and whether they confirm. */
type Ranks = ReadonlyMap<number, { readonly rank: number; readonly confirms: boolean }>;

function rankPrograms({ model, programs }: StateGraph, which: Iterable<number>): Ranks {
  const compare = compareByTrade(model.platform);
  const sorted = [...which].sort((a, b) => compare(programs[a]!.procedure, programs[b]!.procedure) || a - b);
  return new Map(
    sorted.map((program, rank) => [
      program,
      { rank, confirms: phaseOf(model.platform, programs[program]!.procedure) === "confirm" },
    ]),
  );
}
