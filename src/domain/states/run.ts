/**
 * Runs a procedure in a state: every move and turn in the order written, under the conditions that keep parts and
 * patients safe.
 */
import type { Act, Model, Program, State } from "./model.ts";
import { contentsKey, NONE } from "./model.ts";

/** Why a run stops, as the rule that reports it. */
export type Hindrance =
  | "parts/not-there"
  | "parts/not-enough"
  | "fastening/held"
  | "parts/stands-on"
  | "parts/place-in-use"
  | "fastening/no-change"
  | "parts/left-loose"
  | "fastening/left-open";

/** One thing that stops a run: at an act, or at the end because of an act. */
export interface Stop {
  readonly rule: Hindrance;
  readonly act: Act;
  /** Index of the fastening concerned; -1 if none is. */
  readonly fastening: number;
  /** A turn of a fastening that does not count, because its place is not on the platform. */
  readonly vain?: true;
}

/** How a program ran from a state: to its end, or as far as it went. */
export interface Run {
  /** The state at the end; of a run that stopped, the state in which it did. */
  readonly state: State;
  /** Empty: it ran. At the end there can be several. */
  readonly stops: readonly Stop[];
  /** Acts done before it stopped. */
  readonly done: number;
  /**
   * Conditions of the act at fault that were met, of the five that a move has, asked in this order: there, enough, not
   * held, nothing on it, room. At the end, minus the number of stops.
   */
  readonly met: number;
}

/** How a run is made. */
interface RunOptions {
  /** Told the state after each act. */
  readonly watch?: (act: Act, state: State) => void;
  /** Stops at a turn of a fastening that does not count, because its place is not on the platform (`vain`). */
  readonly noVainTurns?: boolean;
}

/**
 * Runs a program; the given state is not changed. A fastening that does not count is at rest until it is turned, and
 * settles when the procedure ends.
 */
export function run(model: Model, start: State, program: Program, { watch, noVainTurns }: RunOptions = {}): Run {
  const state = start.slice();
  rouse(model, state);
  const touched = new Map<number, Act>();
  for (let at = 0; at < program.acts.length; at++) {
    const act = program.acts[at]!;
    const hindrance: Hindered | undefined =
      noVainTurns && act.kind === "turn" && !counts(model, state, act.fastening)
        ? { rule: "fastening/no-change", fastening: act.fastening, met: 0, vain: true }
        : act.kind === "turn"
          ? hinderedTurn(model, state, act)
          : hinderedMove(model, state, act);
    if (hindrance)
      return {
        state,
        stops: [
          { rule: hindrance.rule, act, fastening: hindrance.fastening, ...(hindrance.vain ? { vain: true } : {}) },
        ],
        done: at,
        met: hindrance.met,
      };
    perform(model, state, act, touched);
    watch?.(act, state);
  }
  const stops = endStops(model, state, program, touched);
  settle(model, state);
  return { state, stops, done: program.acts.length, met: -stops.length };
}

/** Whether the program runs from the state: `run` without an account of why not. */
export function runs(model: Model, start: State, program: Program, options: RunOptions = {}): State | undefined {
  const first = program.acts[0];
  if (!program.whole || (first && isHinderedAtOnce(model, start, first, options))) return undefined;
  const { state, stops } = run(model, start, program, options);
  return stops.length ? undefined : state;
}

/** Whether a run stops at its first act: most that stop do, and need no copy of the state to be told. */
function isHinderedAtOnce(model: Model, start: State, act: Act, { noVainTurns = false }: RunOptions): boolean {
  if (act.kind === "move") return hinderedMove(model, start, act) !== undefined;
  if (noVainTurns && !counts(model, start, act.fastening)) return true;
  const now = start[model.slots.length + act.fastening]!;
  return (now === NONE ? restOf(model, start, act.fastening) : now) === act.state;
}

/** Positive if `a` got further than `b`: later act, or at the same act more conditions met. */
export function isFurther(a: Run, b: Run): number {
  return a.done - b.done || a.met - b.met;
}

/**
 * What the program is meant to do, assumed: as much of each move as there is, each turn, and every touched fastening at
 * rest.
 */
export function assume(model: Model, start: State, program: Program): State {
  const state = start.slice();
  rouse(model, state);
  const touched = new Map<number, Act>();
  for (const act of program.acts) {
    const count = act.kind === "move" ? Math.min(act.count, state[act.fromSlot]!) : 0;
    if (act.kind === "turn") perform(model, state, act, touched);
    else if (count > 0 && !isStandingOn(model, state, act.item, act.to))
      perform(model, state, { ...act, count }, touched);
  }
  for (const fastening of touched.keys()) {
    const at = model.slots.length + fastening;
    if (!restsWell(model, state, fastening)) state[at] = restOf(model, state, fastening);
  }
  settle(model, state);
  return state;
}

interface Hindered {
  readonly rule: Hindrance;
  readonly fastening: number;
  readonly met: number;
  readonly vain?: true;
}

function hinderedTurn(model: Model, state: State, act: Extract<Act, { kind: "turn" }>): Hindered | undefined {
  return state[model.slots.length + act.fastening] === act.state
    ? { rule: "fastening/no-change", fastening: act.fastening, met: 0 }
    : undefined;
}

function hinderedMove(model: Model, state: State, act: Extract<Act, { kind: "move" }>): Hindered | undefined {
  const there = state[act.fromSlot]! > 0;
  const enough = state[act.fromSlot]! >= act.count;
  const holder = holderOf(model, state, act.from, act.to);
  const nothingOn = freeToMove(model, state, act);
  const room = act.from === act.to || piecesIn(model, state, act.to) + act.count <= model.places[act.to]!.room;
  if (there && enough && holder < 0 && nothingOn && room) return undefined;
  const met = Number(there) + Number(enough) + Number(holder < 0) + Number(nothingOn) + Number(room);
  const rule = !there
    ? "parts/not-there"
    : !enough
      ? "parts/not-enough"
      : holder >= 0
        ? "fastening/held"
        : !nothingOn
          ? "parts/stands-on"
          : "parts/place-in-use";
  return { rule, met, fastening: holder };
}

/** The secure fastening that holds one of the two places; -1 if none does. */
function holderOf(model: Model, state: State, from: number, to: number): number {
  for (const place of [from, to])
    for (const fastening of model.places[place]!.fastenings)
      if (
        state[model.slots.length + fastening] === model.fastenings[fastening]!.secure &&
        counts(model, state, fastening)
      )
        return fastening;
  return -1;
}

function freeToMove(model: Model, state: State, act: Extract<Act, { kind: "move" }>): boolean {
  const item = model.items[act.item]!;
  if (isStandingOn(model, state, act.item, act.to)) return false;
  return item.carries || item.places.every((place) => piecesIn(model, state, place) === 0);
}

/** Whether the place is on the item, or on something that stands on it. */
export function isStandingOn(model: Model, state: State, item: number, place: number): boolean {
  let at = place;
  for (let steps = 0; steps <= model.places.length; steps++) {
    const on = model.places[at]!.on;
    if (on < 0) return false;
    if (on === item) return true;
    at = placeOf(model, state, on);
    if (at < 0) return false;
  }
  return true;
}

/** Pieces of any item in a place. */
export function piecesIn(model: Model, state: State, place: number): number {
  let pieces = 0;
  for (const slot of model.places[place]!.slots) pieces += state[slot]!;
  return pieces;
}

/** The place where an item of one piece stands; -1 if nowhere. */
function placeOf(model: Model, state: State, item: number): number {
  for (const slot of model.items[item]!.slots) if (state[slot]! > 0) return model.slots[slot]!.place;
  return -1;
}

/**
 * Whether a place is on the platform: its own, or on an item that stands there. What `placesOnPlatform` says of an
 * arrangement, over the numbers of a state: this is asked in every state that is searched.
 */
export function isOn(model: Model, state: State, place: number): boolean {
  let at = place;
  for (let steps = 0; steps <= model.places.length; steps++) {
    const { on, off } = model.places[at]!;
    if (off) return false;
    if (on < 0) return true;
    at = placeOf(model, state, on);
    if (at < 0) return false;
  }
  return false;
}

/** A fastening counts only while one of its places is on the platform; a state that holds nothing always does. */
function counts(model: Model, state: State, fastening: number): boolean {
  const { always, holds } = model.fastenings[fastening]!;
  return always || holds.some((place) => isOn(model, state, place));
}

function perform(model: Model, state: State, act: Act, touched: Map<number, Act>): void {
  if (act.kind === "turn") {
    state[model.slots.length + act.fastening] = act.state;
    touched.set(act.fastening, act);
    return;
  }
  const travels = model.items[act.item]!.places.length > 0;
  const before = travels ? model.coming.map((at) => counts(model, state, at)) : [];
  state[act.fromSlot]! -= act.count;
  state[act.toSlot]! += act.count;
  before.forEach((counted, index) => {
    const at = model.coming[index]!;
    if (!counted && counts(model, state, at)) state[model.slots.length + at] = restOf(model, state, at);
  });
  // A fastening that was turned is blamed on its last turn; one that was not, on what filled or emptied its place.
  for (const place of [act.from, act.to])
    for (const fastening of model.places[place]!.fastenings)
      if (touched.get(fastening)?.kind !== "turn") touched.set(fastening, act);
}

function isFilled(model: Model, state: State, fastening: number): boolean {
  return model.fastenings[fastening]!.holds.some((place) => piecesIn(model, state, place) > 0);
}

function restOf(model: Model, state: State, fastening: number): number {
  const { secure, empty } = model.fastenings[fastening]!;
  return isFilled(model, state, fastening) ? secure : empty;
}

/**
 * Whether a fastening is as it must be left: at rest, or as an arrangement with those contents names it. What holds
 * nothing may be as an arrangement names it while all that this arrangement fits is in its place.
 */
function restsWell(model: Model, state: State, fastening: number): boolean {
  const now = state[model.slots.length + fastening]!;
  if (now === restOf(model, state, fastening)) return true;
  const record = model.fastenings[fastening]!;
  if (record.wanted.some((each) => each.state === now && each.fitted.every(([slot, count]) => state[slot] === count)))
    return true;
  return record.named.size > 0 && (record.named.get(contentsKey(model, state, record))?.has(now) ?? false);
}

function endStops(model: Model, state: State, program: Program, touched: ReadonlyMap<number, Act>): Stop[] {
  const stops: Stop[] = [];
  const aside = model.places.length - 1;
  for (const slot of model.places[aside]!.slots) {
    if (!state[slot]) continue;
    const act = program.acts.findLast((each) => each.kind === "move" && each.toSlot === slot);
    if (act) stops.push({ rule: "parts/left-loose", act, fastening: -1 });
  }
  for (const [fastening, act] of touched)
    if (counts(model, state, fastening) && !restsWell(model, state, fastening))
      stops.push({ rule: "fastening/left-open", act, fastening });
  return stops;
}

/** Gives fastenings that do not count the state in which they are left: at rest. */
function rouse(model: Model, state: State): void {
  for (const at of model.coming)
    if (state[model.slots.length + at] === NONE) state[model.slots.length + at] = restOf(model, state, at);
}

/** Whether exactly the fastenings that count have a state, as after every run. */
export function isSettled(model: Model, state: State): boolean {
  return model.coming.every((at) => counts(model, state, at) === (state[model.slots.length + at] !== NONE));
}

/** Fastenings whose place has left the platform have no state until it comes back. Changes the state given. */
export function settle(model: Model, state: State): void {
  for (const at of model.coming) if (!counts(model, state, at)) state[model.slots.length + at] = NONE;
}
