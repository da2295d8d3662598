/** Builds platforms for tests straight from objects, without files, and generators of random ones. */
import fc from "fast-check";
import type {
  Band,
  Configuration,
  End,
  Fastening,
  Item,
  Move,
  Operation,
  Option,
  Place,
  Platform,
  Procedure,
  Range,
  Step,
  Turn,
  Where,
} from "../../src/schema/collection.ts";
import { MASS_PER_KG } from "../../src/schema/units.ts";

export const nowhere: Where = { file: "test", line: 1, column: 1 };
const located = { where: nowhere, at: {} };
export const anyone: Band = { weight: { text: "any weight" }, age: { text: "any age" } };

/** An end of a range in whole grams. */
export function grams(count: number, owned: boolean): End {
  return { value: (BigInt(count) * MASS_PER_KG) / 1000n, owned, text: `${count} g` };
}

/** A range in whole grams; a missing end is open. */
export function range(from: End | undefined, to: End | undefined): Range {
  return {
    ...(from ? { from } : {}),
    ...(to ? { to } : {}),
    text: `${from ? (from.owned ? "[" : "]") + from.text : "]"};${to ? to.text + (to.owned ? "]" : "[") : "["}`,
  };
}

export const place = (id: string, more: Partial<Place> = {}): Place => ({
  ...located,
  id,
  name: id,
  kind: "mount",
  ...more,
});
export const item = (id: string, home: string, more: Partial<Item> = {}): Item => ({
  ...located,
  id,
  name: id,
  count: 1,
  home,
  carries: false,
  places: [],
  ...more,
});
export const fastening = (id: string, holds: string[], more: Partial<Fastening> = {}): Fastening => ({
  ...located,
  id,
  name: id,
  states: ["in", "out"],
  secure: "in",
  holds,
  ...more,
});
export const move = (what: string, from: string, to: string, count = 1): Move => ({
  kind: "move",
  item: what,
  count,
  from,
  to,
  where: nowhere,
  at: {},
});
export const turn = (what: string, to: string): Turn => ({ kind: "turn", fastening: what, to, where: nowhere, at: {} });

/** A step of the operations given. */
export function step(operations: Operation[], more: Partial<Step> = {}): Step {
  return {
    ...located,
    kind: "step",
    number: 1,
    procedure: "",
    by: ["lead"],
    critical: false,
    hold: false,
    photos: [],
    takesSeconds: 1,
    takesGiven: true,
    band: anyone,
    after: [],
    guards: [],
    alerts: [],
    alertsAfter: [],
    instruction: { kind: "paragraph", children: [], where: nowhere },
    detail: [],
    operations,
    checks: [],
    ...more,
  };
}

/** A procedure with one step an operation. */
export function procedure(id: string, operations: (Operation | Step)[], more: Partial<Procedure> = {}): Procedure {
  const steps = operations.map((each, at) =>
    each.kind === "step" ? { ...each, procedure: id, number: at + 1 } : step([each], { procedure: id, number: at + 1 }),
  );
  return {
    ...located,
    id,
    platform: "test",
    file: `test/${id}.mdx`,
    title: id,
    code: id,
    revision: 1,
    status: "approved",
    changes: [],
    band: anyone,
    purpose: [],
    sections: [],
    steps,
    ...more,
  };
}

/** A configuration: place -> items with counts. */
export function configuration(
  id: string,
  fitted: Record<string, Record<string, number>>,
  more: Partial<Configuration> = {},
): Configuration {
  const entries = Object.entries(fitted).flatMap(([where, inside]) =>
    Object.entries(inside).map(([what, count]) => ({ place: where, item: what, count, where: nowhere })),
  );
  return {
    ...located,
    id,
    platform: "test",
    file: `test/configurations/${id}.mdx`,
    title: id,
    code: id,
    revision: 1,
    status: "approved",
    changes: [],
    band: anyone,
    authority: [],
    standing: false,
    fitted: entries,
    fastenings: [],
    options: [],
    checks: [],
    body: [],
    ...more,
  };
}

/** An option like `configuration`. */
export function option(id: string, fitted: Record<string, Record<string, number>>, more: Partial<Option> = {}): Option {
  const { fitted: entries, ...rest } = configuration(id, fitted);
  return { ...rest, file: `test/options/${id}.mdx`, fitted: entries, empty: [], notWith: [], ...more };
}

/** A platform of these records. */
export function platform(records: {
  places: Place[];
  items: Item[];
  fastenings?: Fastening[];
  configurations: Configuration[];
  options?: Option[];
  procedures: Procedure[];
}): Platform {
  const { places, items, fastenings = [], configurations, options = [], procedures } = records;
  return {
    ...located,
    id: "test",
    name: "Test",
    own: { massKg: 0, xMm: 0 },
    limits: {},
    places,
    items,
    fastenings,
    configurations,
    options,
    procedures,
    photos: [],
    readings: [],
  };
}

/**
 * Random small platforms: a base with places that a box with a place of its own can stand in, pins, two fastenings, a
 * brake that holds nothing, and procedures of random operations.
 */
export function somePlatform(): fc.Arbitrary<Platform> {
  const places = ["deck", "rail", "tray", "shelf", "seat", "slot", "pocket", "aside"];
  const one = fc.constantFrom(...places);
  const aMove = fc
    .record({ what: fc.constantFrom("base", "box", "pin"), from: one, to: one, count: fc.integer({ min: 1, max: 3 }) })
    .map(({ what, from, to, count }) => move(what, from, to, what === "pin" ? count : 1));
  const aTurn = fc
    .record({ what: fc.constantFrom("lever", "latch", "brake"), to: fc.constantFrom("in", "out") })
    .map(({ what, to }) => turn(what, to));
  const operations = fc.array(fc.oneof({ weight: 3, arbitrary: aMove }, { weight: 2, arbitrary: aTurn }), {
    minLength: 1,
    maxLength: 6,
  });
  return fc
    .record({
      room: fc.integer({ min: 1, max: 3 }),
      carries: fc.boolean(),
      brake: fc.boolean(),
      empty: fc.constantFrom(undefined, "in", "out"),
      order: fc.nat(6),
      procedures: fc.array(operations, { minLength: 1, maxLength: 6 }),
    })
    .map(({ room, carries, brake, empty, order, procedures }) =>
      platform({
        places: turned(
          [
            place("deck", { room }),
            place("rail"),
            place("tray", { kind: "stowage" }),
            place("shelf", { kind: "store" }),
            place("seat", { on: "base", room: 2 }),
            place("slot", { on: "base" }),
            place("pocket", { on: "box" }),
          ],
          order,
        ),
        items: [
          item("base", "shelf", { places: ["seat", "slot"], carries }),
          item("box", "shelf", { places: ["pocket"], carries }),
          item("pin", "tray", { count: 3 }),
        ],
        fastenings: [
          fastening("lever", ["deck"], empty ? { whenEmpty: empty } : {}),
          fastening("latch", ["seat", "slot"], { states: ["in", "out"], ...(empty ? { whenEmpty: empty } : {}) }),
          fastening("brake", [], { kind: "brake" }),
        ],
        configurations: [
          configuration("bare", {}),
          configuration(
            "built",
            { deck: { base: 1 }, seat: { box: 1 }, slot: { pin: 2 } },
            { fastenings: brake ? [{ fastening: "brake", state: "out", where: nowhere }] : [] },
          ),
        ],
        procedures: procedures.map((each, at) => procedure(`p${at}`, each)),
      }),
    );
}

/** The list begun at another place, so that nothing rests on which place comes first. */
function turned<T>(list: readonly T[], by: number): T[] {
  return [...list.slice(by), ...list.slice(0, by)];
}
