/**
 * A platform as numbers: which pieces can be where, so that a state is one short array and a procedure a list of
 * operations.
 */
import type { Operation, Platform, Procedure, Step } from "../../schema/collection.ts";
import { ASIDE } from "../../schema/units.ts";
import { type Arrangement, fittedIn, layoutOf, restState, validArrangements } from "../parts/arrangements.ts";
import { holdsPatient, type Patient } from "../bands/bands.ts";
import { lookup } from "../parts/lookup.ts";
import { readsCard } from "../parts/reading.ts";
import { remember } from "../words/remember.ts";

/** Counts of pieces per slot, then the state of each fastening (`NONE` while its place is not on the platform). */
export type State = Uint16Array;

/** The state of a fastening that does not count, because its place is not on the platform. */
export const NONE = 0xffff;

/** An item that can be in a place. */
interface Slot {
  readonly item: number;
  readonly place: number;
}

interface ModelPlace {
  readonly id: string;
  /** Index of the item that it is on; -1 for a place of the platform or a store. */
  readonly on: number;
  /** Stays behind, or `aside`: never on the platform. */
  readonly off: boolean;
  readonly room: number;
  readonly slots: number[];
  readonly fastenings: number[];
}

interface ModelItem {
  readonly id: string;
  readonly count: number;
  readonly carries: boolean;
  readonly slots: number[];
  readonly places: number[];
}

interface ModelFastening {
  readonly id: string;
  readonly states: readonly string[];
  readonly secure: number;
  readonly empty: number;
  readonly holds: readonly number[];
  /** Whether it counts in every state: it holds nothing, or one of its places is the platform's own. */
  readonly always: boolean;
  /** Contents of what it holds -> the state that an arrangement with those contents names. */
  readonly named: Map<string, Set<number>>;
  /** Of a state that holds nothing: what an arrangement names, and the pieces that it fits. */
  readonly wanted: { readonly state: number; readonly fitted: readonly (readonly [slot: number, count: number])[] }[];
}

/** A platform's places, items, fastenings and arrangements as indexes. Places end with `aside`. */
export interface Model {
  readonly platform: Platform;
  readonly places: readonly ModelPlace[];
  readonly items: readonly ModelItem[];
  readonly fastenings: readonly ModelFastening[];
  /** Fastenings that come with an item and go with it: only these can be without a state. */
  readonly coming: readonly number[];
  readonly slots: readonly Slot[];
  readonly slotOf: ReadonlyMap<string, number>;
  readonly arrangements: readonly Arrangement[];
  /** State of each valid arrangement, in the order of `arrangements`. */
  readonly states: readonly State[];
  readonly procedures: ReadonlyMap<string, Procedure>;
}

/** One move or turn as indexes. */
export type Act =
  | {
      readonly kind: "move";
      readonly item: number;
      readonly count: number;
      readonly from: number;
      readonly to: number;
      readonly fromSlot: number;
      readonly toSlot: number;
      readonly step: number;
      readonly source: Operation;
    }
  | {
      readonly kind: "turn";
      readonly fastening: number;
      readonly state: number;
      readonly step: number;
      readonly source: Operation;
    };

/** A procedure for one patient: the steps that apply and what they do. */
export interface Program {
  readonly procedure: Procedure;
  readonly steps: readonly Step[];
  readonly acts: readonly Act[];
  /** What its steps add up to without the reading of the card, which a changeover has once, at its end. */
  readonly seconds: number;
  /** False if an operation names something unknown: it can't be run. */
  readonly whole: boolean;
}

/** The model of a platform, built once for each platform record. */
export const modelOf: (platform: Platform) => Model = /* @__PURE__ */ remember((platform: Platform) =>
  buildModel(platform),
);

/**
 * Builds the model of a platform. Operations and fitted entries with unknown ids are left out; the reader has reported
 * them.
 */
export function buildModel(platform: Platform): Model {
  const layout = layoutOf(platform);
  const arrangements = validArrangements(platform);
  const placeIds = [...platform.places.map(({ id }) => id), ASIDE];
  const placeIndex = new Map(placeIds.map((id, at) => [id, at]));
  const itemIndex = new Map(platform.items.map(({ id }, at) => [id, at]));
  const slots: Slot[] = [];
  const slotOf = new Map<string, number>();
  const addSlot = (itemId: string, placeId: string) => {
    const item = itemIndex.get(itemId);
    const place = placeIndex.get(placeId);
    const key = `${itemId} ${placeId}`;
    if (item === undefined || place === undefined || slotOf.has(key)) return;
    slotOf.set(key, slots.length);
    slots.push({ item, place });
  };
  for (const item of platform.items) addSlot(item.id, item.home);
  for (const { contents } of arrangements) for (const { item, place } of contents) addSlot(item, place);
  for (const procedure of platform.procedures)
    for (const step of procedure.steps)
      for (const operation of step.operations)
        if (operation.kind === "move") {
          addSlot(operation.item, operation.from);
          addSlot(operation.item, operation.to);
        }
  const places = placeIds.map((id, at): ModelPlace => {
    const place = layout.places.get(id);
    return {
      id,
      on: place?.on === undefined ? -1 : (itemIndex.get(place.on) ?? -1),
      off: id === ASIDE || place?.kind === "store" || (place?.on !== undefined && !itemIndex.has(place.on)),
      room: place?.room ?? Infinity,
      slots: slots.flatMap((slot, index) => (slot.place === at ? [index] : [])),
      fastenings: platform.fastenings.flatMap((fastening, index) => (fastening.holds.includes(id) ? [index] : [])),
    };
  });
  const items = platform.items.map((item, at): ModelItem => ({
    id: item.id,
    count: item.count,
    carries: item.carries,
    slots: slots.flatMap((slot, index) => (slot.item === at ? [index] : [])),
    places: places.flatMap((place, index) => (place.on === at ? [index] : [])),
  }));
  const fastenings = platform.fastenings.map((fastening): ModelFastening => {
    const holds = fastening.holds.flatMap((id) => placeIndex.get(id) ?? []);
    return {
      id: fastening.id,
      states: fastening.states,
      secure: fastening.states.indexOf(fastening.secure),
      empty: fastening.states.indexOf(restState(fastening, false)),
      holds,
      always: fastening.holds.length === 0 || holds.some((place) => !places[place]!.off && places[place]!.on < 0),
      named: new Map(),
      wanted: [],
    };
  });
  const base = {
    platform,
    coming: fastenings.flatMap(({ always }, at) => (always ? [] : [at])),
    places,
    items,
    fastenings,
    slots,
    slotOf,
    arrangements,
    procedures: lookup(platform).procedures,
  };
  const states = arrangements.map((arrangement) => encode(base, arrangement));
  arrangements.forEach((arrangement, at) => {
    for (const { fastening: id, state } of arrangement.configuration.fastenings) {
      const fastening = fastenings.find((each) => each.id === id);
      if (!fastening || !fastening.states.includes(state)) continue;
      const index = fastening.states.indexOf(state);
      if (fastening.holds.length === 0) {
        const { configuration, options } = arrangement;
        const fitted = fittedIn(configuration, options).flatMap(({ item, place }) => {
          const slot = slotOf.get(`${item} ${place}`);
          return slot === undefined ? [] : [[slot, states[at]![slot]!] as const];
        });
        fastening.wanted.push({ state: index, fitted });
        continue;
      }
      const key = contentsKey({ places }, states[at]!, fastening);
      fastening.named.set(key, (fastening.named.get(key) ?? new Set()).add(index));
    }
  });
  return { ...base, states };
}

function encode(model: Pick<Model, "slots" | "slotOf" | "fastenings">, arrangement: Arrangement): State {
  const state = new Uint16Array(model.slots.length + model.fastenings.length);
  for (const { item, place, count } of arrangement.contents) {
    const slot = model.slotOf.get(`${item} ${place}`);
    if (slot !== undefined) state[slot]! += count;
  }
  model.fastenings.forEach((fastening, at) => {
    const index = fastening.states.findIndex((each) => each === arrangement.fastenings.get(fastening.id));
    state[model.slots.length + at] = index < 0 ? NONE : index;
  });
  return state;
}

/** What stands in the places that a fastening holds, as a key. */
export function contentsKey(
  model: Pick<Model, "places">,
  state: State,
  fastening: Pick<ModelFastening, "holds">,
): string {
  return fastening.holds.map((place) => model.places[place]!.slots.map((slot) => state[slot]).join(",")).join(";");
}

/** Steps of a procedure that apply to a patient, included ones only where their own procedure applies too. */
export function stepsFor(procedures: ReadonlyMap<string, Procedure>, procedure: Procedure, patient: Patient): Step[] {
  return procedure.steps.filter((step) => {
    const own = step.procedure === procedure.id ? undefined : procedures.get(step.procedure);
    return holdsPatient(step.band, patient) && (!own || holdsPatient(own.band, patient));
  });
}

/** A procedure as a program for a patient; `undefined` if the procedure isn't for that patient. */
export function programFor(model: Model, procedure: Procedure, patient: Patient): Program | undefined {
  if (!holdsPatient(procedure.band, patient)) return undefined;
  return programOf(model, procedure, stepsFor(model.procedures, procedure, patient));
}

/** A procedure as a program of just these steps. */
export function programOf(model: Model, procedure: Procedure, steps: readonly Step[]): Program {
  const acts: Act[] = [];
  let whole = true;
  steps.forEach((step, at) => {
    for (const operation of step.operations) {
      const act = actOf(model, operation, at);
      if (act) acts.push(act);
      else whole = false;
    }
  });
  const seconds = steps.reduce((sum, step) => sum + (readsCard(step) ? 0 : step.takesSeconds), 0);
  return { procedure, steps, acts, whole, seconds };
}

function actOf(model: Model, source: Operation, step: number): Act | undefined {
  if (source.kind === "turn") {
    const fastening = model.fastenings.findIndex(({ id }) => id === source.fastening);
    const state = model.fastenings[fastening]?.states.indexOf(source.to) ?? -1;
    return state < 0 ? undefined : { kind: "turn", fastening, state, step, source };
  }
  const fromSlot = model.slotOf.get(`${source.item} ${source.from}`);
  const toSlot = model.slotOf.get(`${source.item} ${source.to}`);
  if (fromSlot === undefined || toSlot === undefined) return undefined;
  const { item, place: from } = model.slots[fromSlot]!;
  return {
    kind: "move",
    item,
    count: source.count,
    from,
    to: model.slots[toSlot]!.place,
    fromSlot,
    toSlot,
    step,
    source,
  };
}

/** A state as a string, equal for equal states. */
export function keyOf(state: State): string {
  return String.fromCharCode.apply(undefined, state as unknown as number[]);
}
