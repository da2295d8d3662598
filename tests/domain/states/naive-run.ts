/**
 * A second, naive simulation of procedures, kept apart from the program's: sets of single pieces in places, written
 * from the design's sentences.
 */
import type { Fastening, Operation, Place, Platform, Procedure } from "../../../src/schema/collection.ts";

export interface NaiveState {
  /** Piece ("pin#2") -> place id. */
  readonly pieces: ReadonlyMap<string, string>;
  /** Fastening id -> state, of those that count. */
  readonly fastenings: ReadonlyMap<string, string>;
}

/** Items by piece: a piece is split once. */
const split = new Map<string, string>();

/** The item of a piece ("pin#2"). */
export function itemOf(piece: string): string {
  let item = split.get(piece);
  if (item === undefined) split.set(piece, (item = piece.split("#")[0]!));
  return item;
}

/** What a platform lists, by its id; places also by the item that they are on. */
interface Lists {
  readonly places: ReadonlyMap<string, Place>;
  readonly on: ReadonlyMap<string, readonly string[]>;
}

const listed = new WeakMap<Platform, Lists>();

function listsOf(platform: Platform): Lists {
  const known = listed.get(platform);
  if (known) return known;
  const lists = {
    places: new Map(platform.places.map((place) => [place.id, place])),
    on: new Map(
      [...Map.groupBy(platform.places, ({ on }) => on ?? "")].map(([item, own]) => [item, own.map(({ id }) => id)]),
    ),
  };
  listed.set(platform, lists);
  return lists;
}

const placesOn = (platform: Platform, item: string) => listsOf(platform).on.get(item) ?? [];

/** The state in which nothing is fitted but what is listed. */
export function naiveStart(
  platform: Platform,
  fitted: readonly { item: string; place: string; count: number }[],
  named: ReadonlyMap<string, string> = new Map(),
): NaiveState {
  const pieces = new Map<string, string>();
  for (const item of platform.items) {
    const places = fitted
      .filter((each) => each.item === item.id)
      .flatMap(({ place, count }) => Array.from({ length: count }, () => place));
    for (let at = 0; at < item.count; at++) pieces.set(`${item.id}#${at}`, places[at] ?? item.home);
  }
  const fastenings = new Map<string, string>();
  for (const fastening of platform.fastenings)
    if (counted(platform, pieces, fastening))
      fastenings.set(fastening.id, named.get(fastening.id) ?? rest(pieces, fastening));
  return { pieces, fastenings };
}

function onPlatform(platform: Platform, pieces: ReadonlyMap<string, string>, place: string, depth = 0): boolean {
  if (place === "aside" || depth > 20) return false;
  const record = listsOf(platform).places.get(place)!;
  if (!record.on) return record.kind !== "store";
  // A place on an item of which no piece is left is nowhere.
  const under = pieces.get(`${record.on}#0`);
  return under !== undefined && onPlatform(platform, pieces, under, depth + 1);
}

/** Whether a fastening has a state at all: it holds nothing, or a place of its own is on the platform. */
export const counted = (platform: Platform, pieces: ReadonlyMap<string, string>, fastening: Fastening) =>
  fastening.holds.length === 0 || fastening.holds.some((place) => onPlatform(platform, pieces, place));
const isFilled = (pieces: ReadonlyMap<string, string>, fastening: Fastening) =>
  [...pieces.values()].some((place) => fastening.holds.includes(place));
const rest = (pieces: ReadonlyMap<string, string>, fastening: Fastening) =>
  isFilled(pieces, fastening) ? fastening.secure : (fastening.whenEmpty ?? fastening.secure);

/** Places on the item, and on what stands in them. */
function above(platform: Platform, pieces: ReadonlyMap<string, string>, item: string, depth = 0): string[] {
  if (depth > 20) return [];
  const own = placesOn(platform, item);
  if (own.length === 0) return [];
  const standing = [...pieces].filter(([, place]) => own.includes(place)).map(([piece]) => itemOf(piece));
  return [...own, ...standing.flatMap((each) => above(platform, pieces, each, depth + 1))];
}

/** A state of a fastening that an arrangement names, with what stands in the places that it holds. */
export interface Named {
  readonly fastening: string;
  readonly state: string;
  readonly contents: string;
  /** Pieces that the naming arrangement fits, where the fastening holds nothing. */
  readonly fitted?: readonly { readonly item: string; readonly place: string; readonly count: number }[];
}

/** Whether a state named by an arrangement is right where these pieces are. */
function isNamed(pieces: ReadonlyMap<string, string>, each: Fastening, { contents, fitted = [] }: Named): boolean {
  if (each.holds.length > 0) return contents === heldContents(pieces, each);
  const there = (item: string, place: string) =>
    [...pieces].filter(([piece, where]) => itemOf(piece) === item && where === place).length;
  return fitted.every(({ item, place, count }) => there(item, place) === count);
}

/** What stands in the places that a fastening holds: items by place, pieces of a kind alike. */
export function heldContents(pieces: ReadonlyMap<string, string>, fastening: Fastening): string {
  return [...pieces]
    .filter(([, place]) => fastening.holds.includes(place))
    .map(([piece, place]) => `${itemOf(piece)} in ${place}`)
    .sort()
    .join(", ");
}

/** Does one act to the pieces and states given, or changes nothing and says which rule stops it. */
export function naiveAct(
  platform: Platform,
  pieces: Map<string, string>,
  states: Map<string, string>,
  operation: Operation,
  strict: boolean,
): string | undefined {
  if (operation.kind === "turn") {
    const fastening = platform.fastenings.find(({ id }) => id === operation.fastening)!;
    if (strict && !counted(platform, pieces, fastening)) return "vain turn";
    if (states.get(operation.fastening) === operation.to) return "fastening/no-change";
    states.set(operation.fastening, operation.to);
    return undefined;
  }
  const { item, from, to, count } = operation;
  const there = [...pieces]
    .filter(([piece, place]) => itemOf(piece) === item && place === from)
    .map(([piece]) => piece);
  if (there.length === 0) return "parts/not-there";
  if (there.length < count) return "parts/not-enough";
  const holding = platform.fastenings
    .filter(({ holds }) => holds.includes(from) || holds.includes(to))
    .filter((each) => counted(platform, pieces, each));
  if (holding.some(({ id, secure }) => states.get(id) === secure)) return "fastening/held";
  const record = platform.items.find(({ id }) => id === item)!;
  const own = placesOn(platform, item);
  if (above(platform, pieces, item).includes(to)) return "parts/stands-on";
  if (!record.carries && [...pieces.values()].some((place) => own.includes(place))) return "parts/stands-on";
  const room = listsOf(platform).places.get(to)?.room ?? Infinity;
  if (from !== to && [...pieces.values()].filter((place) => place === to).length + count > room)
    return "parts/place-in-use";
  const before = platform.fastenings.filter((each) => counted(platform, pieces, each));
  for (const piece of there.slice(0, count)) pieces.set(piece, to);
  for (const each of platform.fastenings)
    if (!before.includes(each) && counted(platform, pieces, each)) states.set(each.id, rest(pieces, each));
  return undefined;
}

/** The states of all fastenings as a procedure meets them: what is not on the platform is at rest. */
export function naiveStates(platform: Platform, { pieces, fastenings }: NaiveState): Map<string, string> {
  return new Map(platform.fastenings.map((each) => [each.id, fastenings.get(each.id) ?? rest(pieces, each)]));
}

/** What is left when a procedure has ended: no state of a fastening whose place is not on the platform. */
export function naiveEnd(
  platform: Platform,
  pieces: ReadonlyMap<string, string>,
  states: ReadonlyMap<string, string>,
): NaiveState {
  const counting = platform.fastenings.filter((each) => counted(platform, pieces, each)).map(({ id }) => id);
  return { pieces, fastenings: new Map([...states].filter(([id]) => counting.includes(id))) };
}

/**
 * The end state, or the rules of what stops it. `named`: states that arrangements name. `strict`: a turn of a fastening
 * that does not count stops.
 */
export function naiveRun(
  platform: Platform,
  start: NaiveState,
  procedure: Pick<Procedure, "steps">,
  named: readonly Named[] = [],
  strict = false,
): NaiveState | string[] {
  const pieces = new Map(start.pieces);
  const states = naiveStates(platform, start);
  const turned = new Set<string>();
  for (const operation of procedure.steps.flatMap(({ operations }) => operations)) {
    const stop = naiveAct(platform, pieces, states, operation, strict);
    if (stop) return [stop];
    if (operation.kind === "turn") turned.add(operation.fastening);
    else
      for (const each of platform.fastenings)
        if (each.holds.includes(operation.from) || each.holds.includes(operation.to)) turned.add(each.id);
  }
  const restsWell = (each: Fastening) =>
    states.get(each.id) === rest(pieces, each) ||
    named.some(
      (name) => name.fastening === each.id && name.state === states.get(each.id) && isNamed(pieces, each, name),
    );
  const stops: string[] = [];
  for (const place of new Set([...pieces].filter(([, where]) => where === "aside").map(([piece]) => itemOf(piece))))
    if (place) stops.push("parts/left-loose");
  for (const each of platform.fastenings)
    if (turned.has(each.id) && counted(platform, pieces, each) && !restsWell(each)) stops.push("fastening/left-open");
  if (stops.length) return stops;
  return naiveEnd(platform, pieces, states);
}
