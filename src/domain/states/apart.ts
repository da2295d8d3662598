/**
 * Which procedures can have to do with each other at all: what is independent is looked at one after the other, and not
 * in every combination, of which there are as many as products of states, where one by one they are sums.
 */
import { type Act, keyOf, type Model, type Program, type State } from "./model.ts";
import { isSettled } from "./run.ts";
import { remember } from "../words/remember.ts";

/** Programs in groups of which no one can tell what another has done. */
export interface Division {
  /** The group of each program, by its index; groups count from 0, in the order of their first programs. */
  readonly groupOf: readonly number[];
  /** The group that can change a position of a state; -1 where nothing can. */
  readonly groupAt: readonly number[];
}

/**
 * Divides programs by what they ask and change. Positions of a state are slots, then fastenings.
 *
 * A run asks and changes nothing but what `concernsOf` lists, as long as the state is settled (`isSettled`; every run
 * ends settled). A position that no program changes is the same on every way, so that it ties nobody. Two programs that
 * share another position are of one group; so are those that are tied by way of a third. So a run of one group neither
 * changes whether and how one of another runs, nor is changed by it: what is reached in both is reached in each, and
 * the other way round.
 */
export function partPrograms(
  model: Model,
  programs: readonly Program[],
  starts: readonly State[] = model.states,
): Division {
  const pieces = model.items.map(({ slots }) =>
    starts.reduce(
      (most, state) =>
        Math.max(
          most,
          slots.reduce((sum, slot) => sum + state[slot]!, 0),
        ),
      0,
    ),
  );
  const concerns = programs.map((program) => concernsOf(model, program, pieces));
  const size = model.slots.length + model.fastenings.length;
  const leads = Array.from({ length: programs.length + size }, (_, at) => at);
  const find = (at: number): number => {
    while (leads[at] !== at) at = leads[at] = leads[leads[at]!]!;
    return at;
  };
  const isChanged = new Uint8Array(size);
  for (const { changed } of concerns) for (const at of changed) isChanged[at] = 1;
  concerns.forEach(({ asked, changed }, program) => {
    for (const at of [...asked, ...changed]) if (isChanged[at]) leads[find(programs.length + at)] = find(program);
  });
  const numbers = new Map<number, number>();
  const groupOf = programs.map((_, at) => {
    const lead = find(at),
      known = numbers.get(lead) ?? numbers.size;
    numbers.set(lead, known);
    return known;
  });
  return {
    groupOf,
    groupAt: Array.from({ length: size }, (_, at) => (isChanged[at] ? numbers.get(find(programs.length + at))! : -1)),
  };
}

/** The division of a model's programs from all its arrangements: worked out once for a list of programs. */
export const divisionOf = /* @__PURE__ */ remember((model: Model, programs: readonly Program[]) =>
  partPrograms(model, programs),
);

/** Programs of one group, with the starts that differ for them. */
export interface Independent {
  readonly programs: readonly Program[];
  readonly starts: readonly State[];
}

/** Programs by group, each with one start of those that differ only in what is of other groups. */
export function independentOf(model: Model, programs: readonly Program[], starts = model.states): Independent[] {
  if (!starts.every((state) => isSettled(model, state))) return [{ programs, starts }];
  const division = starts === model.states ? divisionOf(model, programs) : partPrograms(model, programs, starts);
  const groups: Program[][] = [];
  programs.forEach((program, at) => (groups[division.groupOf[at]!] ??= []).push(program));
  return groups.map((each, group) => ({ programs: each, starts: startsApart(division, new Set([group]), starts) }));
}

/** The first of the states that are alike but for what only other groups change. */
function startsApart({ groupAt }: Division, groups: ReadonlySet<number>, starts: readonly State[]): State[] {
  const found = new Map<string, State>();
  for (const state of starts) {
    const key = keyOf(state.filter((_, at) => groupAt[at]! < 0 || groups.has(groupAt[at]!)));
    if (!found.has(key)) found.set(key, state);
  }
  return [...found.values()];
}

/** The positions of a state that a run of a program, or its assumed effect, can ask and change. */
interface Concerns {
  readonly asked: ReadonlySet<number>;
  readonly changed: ReadonlySet<number>;
}

/** `pieces`: how many of each item there are. */
function concernsOf(model: Model, { acts }: Program, pieces: readonly number[]): Concerns {
  const asked = new Set<number>(),
    changed = new Set<number>();
  /** Where a place is at the time: where the items stand that it is on, directly or by way of others. */
  const askWhere = (place: number) => {
    for (const item of bearersOf(model, place)) for (const slot of model.items[item]!.slots) asked.add(slot);
  };
  const askContents = (place: number) => {
    for (const slot of model.places[place]!.slots) asked.add(slot);
  };
  /** Whether a fastening counts, and whether it is as it must be left. */
  const concern = (fastening: number) => {
    const { holds, always, wanted } = model.fastenings[fastening]!;
    asked.add(model.slots.length + fastening);
    // Left alone it stays as it is; but what comes or goes with an item comes to rest, and so does an assumed effect.
    changed.add(model.slots.length + fastening);
    for (const place of holds) {
      if (!always) askWhere(place);
      askContents(place);
    }
    for (const { fitted } of wanted) for (const [slot] of fitted) asked.add(slot);
  };
  const concernMove = (act: Extract<Act, { kind: "move" }>) => {
    for (const slot of [act.fromSlot, act.toSlot]) (asked.add(slot), changed.add(slot));
    for (const place of [act.from, act.to]) for (const fastening of model.places[place]!.fastenings) concern(fastening);
    // Nothing is put onto itself.
    askWhere(act.to);
    if (!model.items[act.item]!.carries) for (const place of model.items[act.item]!.places) askContents(place);
    if (canFill(model, act.to, pieces)) askContents(act.to);
    if (model.items[act.item]!.places.length > 0)
      for (const fastening of model.coming)
        if (model.fastenings[fastening]!.holds.some((place) => bearersOf(model, place).has(act.item)))
          concern(fastening);
  };
  for (const act of acts) {
    if (act.kind === "turn") concern(act.fastening);
    else concernMove(act);
  }
  return { asked, changed };
}

/** Items that a place can be on, directly or by way of others. */
function bearersOf(model: Model, place: number, found = new Set<number>()): ReadonlySet<number> {
  const { on } = model.places[place]!;
  if (on < 0 || found.has(on)) return found;
  found.add(on);
  for (const slot of model.items[on]!.slots) bearersOf(model, model.slots[slot]!.place, found);
  return found;
}

/** Whether all that could ever be brought there is more than a place has room for: else room is never asked for. */
function canFill(model: Model, place: number, pieces: readonly number[]): boolean {
  const { room, slots } = model.places[place]!;
  return slots.reduce((sum, slot) => sum + pieces[model.slots[slot]!.item]!, 0) > room;
}
