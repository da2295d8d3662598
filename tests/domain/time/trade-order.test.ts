/**
 * The order of ten changeovers of the demo, written down by hand as a crew would do them (common practice, no source):
 * take away, options first; build from the platform up; then options. Five were written before the code. The fourth,
 * the fifth, the sixth, the eighth and the tenth name procedures that have been split since (the bag and the sheet
 * have pages of their own): these five were judged again by hand, with the earlier list in sight, and stand. The bag
 * is taken away with the rest before anything is built, and put back before what is hung over it.
 */
import { join } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import {
  arrangementNamed,
  type Changeover,
  graphFor,
  planChangeover,
  secondsOf,
} from "../../../src/domain/states/changeover.ts";
import { readAge, readWeight } from "../../../src/domain/bands/entry.ts";
import { holdsPatient } from "../../../src/domain/bands/bands.ts";
import type { Arrangement } from "../../../src/domain/parts/arrangements.ts";
import { buildModel, modelOf } from "../../../src/domain/states/model.ts";
import { compareByTrade } from "../../../src/domain/parts/phase.ts";
import { endWithReading } from "../../../src/domain/parts/reading.ts";
import { planFor } from "../../../src/domain/time/plans.ts";
import { chooseAmongTies } from "../../../src/domain/time/tied-ways.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import type { Collection, Platform, Procedure } from "../../../src/schema/collection.ts";
import { MASS_PER_KG } from "../../../src/schema/units.ts";
import {
  makeConfiguration,
  makeItem,
  makeOption,
  makePlace,
  makePlatform,
  makeProcedure,
  makeStep,
  move,
  WHERE,
} from "../parts/make.ts";
import { readCollection } from "../../read-collection.ts";
import { BY_HAND as BY_HAND_FIRST } from "./orders-by-hand.ts";

const BY_HAND: readonly (readonly [from: string, to: string, kg: bigint, order: string])[] = [
  ["newborn-capsule", "child-cradle", 20n, "undress-capsule unseat-capsule lift-off-capsule-base fit-child-cradle"],
  ["child-cradle", "newborn-capsule", 2n, "remove-child-cradle lock-capsule-base seat-capsule dress-capsule"],
  [
    "child-cradle",
    "newborn-capsule+second-ventilator",
    2n,
    "remove-child-cradle lock-capsule-base seat-capsule dress-capsule fit-second-ventilator",
  ],
  [
    "newborn-capsule",
    "child-cradle+gas-shelf+second-ventilator",
    20n,
    "undress-capsule unseat-capsule lift-off-capsule-base response-bag-out fit-child-cradle fit-gas-shelf " +
      "fit-second-ventilator",
  ],
  [
    "newborn-capsule+gas-shelf",
    "deck-harness+pump-rack",
    60n,
    "remove-gas-shelf undress-capsule unseat-capsule lift-off-capsule-base fit-deck-harness response-bag-in " +
      "fit-pump-rack",
  ],
  [
    "child-cradle+gas-shelf",
    "newborn-capsule+cooling-unit",
    3n,
    "remove-gas-shelf remove-child-cradle lock-capsule-base seat-capsule fit-cooling-unit",
  ],
  [
    "deck-harness+pump-rack+second-ventilator",
    "child-cradle",
    20n,
    "remove-pump-rack remove-second-ventilator remove-deck-harness fit-child-cradle",
  ],
  ["newborn-capsule+cooling-unit", "newborn-capsule+gas-shelf", 3n, "remove-cooling-unit dress-capsule fit-gas-shelf"],
  [
    "newborn-capsule+roll-supports",
    "child-cradle+pump-rack",
    20n,
    "stow-roll-supports undress-capsule unseat-capsule lift-off-capsule-base fit-child-cradle fit-pump-rack",
  ],
  [
    "child-cradle+second-ventilator",
    "deck-harness+gas-shelf",
    60n,
    "remove-second-ventilator remove-child-cradle response-bag-out fit-deck-harness fit-gas-shelf",
  ],
];

/**
 * Where the crew gains by another order, that is taken before the order of the trade: what, and seconds gained. Judged
 * by hand (common practice, no source). The fourth and the seventh: as good. The ventilator and the bag are at two ends
 * of the trolley, a person at each, and of two options on one trolley none is under the other. The fifth: a crew would
 * rather not. The rack stands at the head end, where one of the two who lift the capsule stands afterwards, and thirty
 * seconds are not worth reaching round it. Nothing is put onto what is taken away, no part is in the way of another in
 * the model, and least elapsed comes before the order of the trade, so it is planned; a service to whom it matters says
 * so with `after`, or with a place that the rack takes up.
 */
const QUICKER: Readonly<Record<number, readonly [order: string, gained: number]>> = {
  3: [
    "undress-capsule unseat-capsule lift-off-capsule-base fit-child-cradle fit-second-ventilator response-bag-out " +
      "fit-gas-shelf",
    30,
  ],
  4: [
    "remove-gas-shelf fit-pump-rack response-bag-in undress-capsule unseat-capsule lift-off-capsule-base " +
      "fit-deck-harness",
    30,
  ],
  6: ["remove-second-ventilator remove-pump-rack remove-deck-harness fit-child-cradle", 10],
};

describe("ten changeovers of the demo", () => {
  let collection: Collection;
  beforeAll(async () => {
    collection = await readCollection(join(import.meta.dirname, "../../../procedures"));
  });
  it.each(BY_HAND.map((each, at) => ({ each, at, title: each.slice(0, 2).join(" to ") })))("$title", ({ each, at }) => {
    const [from, to, kg, order] = each;
    const platform = collection.platforms[0]!,
      patient = { weight: kg * MASS_PER_KG },
      crew = collection.service.crew.map(({ id }) => id),
      model = modelOf(platform);
    const [a, b] = [arrangementNamed(model, from)!, arrangementNamed(model, to)!];
    const said = (plan: Changeover | undefined) => plan?.procedures.map(({ id }) => id).join(" ");
    const elapsed = (plan: Changeover | undefined) => planTimeline(plan!.steps, crew, platform, 0).elapsed;
    const graph = graphFor(model, patient);
    const unread = planChangeover(model, graph, a, b, chooseAmongTies(graph))!,
      confirming = platform.procedures.find(({ id }) => id === "confirm-band")!,
      first = confirming.steps
        .filter(({ band }) => holdsPatient(band, patient))
        .map((step) => ({ procedure: confirming, step })),
      steps = endWithReading([...first, ...unread.steps], b, collection.service.crew),
      byTrade = { ...unread, steps, seconds: secondsOf(steps) };
    const planned = planFor(model, collection.service, a, b, patient);
    const [quicker, gained] = QUICKER[at] ?? [order, 0];
    expect(said(byTrade)).toBe(order);
    expect(said(planned)).toBe(`confirm-band ${quicker}`);
    expect([planned!.seconds, elapsed(byTrade) - elapsed(planned)]).toEqual([byTrade.seconds, gained]);
  });
});

/**
 * Where the planner departs from the ten of `orders-by-hand.ts`: its order, the seconds that the crew gains by it, and
 * how it was judged afterwards (common practice, no source). All four are of the same work; least elapsed comes before
 * the order of the trade.
 */
const DEPARTURES: Readonly<Record<string, readonly [order: string, gained: number]>> = {
  // A crew would rather not, for five seconds: the ventilator hangs at the foot end while the base is brought. It is
  // gone before the capsule is lifted in, and nothing that it stands on is moved: so it is planned.
  "child-cradle+second-ventilator to newborn-capsule+roll-supports": [
    "confirm-band remove-child-cradle lock-capsule-base remove-second-ventilator seat-capsule dress-capsule " +
      "place-roll-supports",
    5,
  ],
  // As good: the bag goes in under the deck, at the side, while the lead is still at the head flap.
  "newborn-capsule+cooling-unit to child-cradle": [
    "confirm-band remove-cooling-unit unseat-capsule response-bag-in lift-off-capsule-base fit-child-cradle",
    15,
  ],
  // As the first.
  "child-cradle+gas-shelf+second-ventilator to newborn-capsule+cooling-unit": [
    "confirm-band remove-gas-shelf remove-child-cradle lock-capsule-base remove-second-ventilator seat-capsule " +
      "fit-cooling-unit",
    5,
  ],
  // Better than by hand: the ventilator tests itself for 90 seconds while bag and cooling unit change places.
  "newborn-capsule to newborn-capsule+cooling-unit+second-ventilator": [
    "confirm-band undress-capsule fit-second-ventilator response-bag-out fit-cooling-unit",
    40,
  ],
};

describe("ten more changeovers of the demo, written down before the planner was asked", () => {
  it.each(BY_HAND_FIRST.map((each) => ({ ...each, title: `${each.from} to ${each.to}` })))("$title", async (each) => {
    const { service, platforms } = await readCollection(join(import.meta.dirname, "../../../procedures"));
    const model = modelOf(platforms[0]!);
    const weight = readWeight(each.weight),
      age = each.age === undefined ? undefined : readAge(each.age);
    if (weight.kind !== "value" || (age && age.kind !== "value")) throw new Error(`Not a patient: ${each.title}`);
    const patient = { weight: weight.value.mass, ...(age ? { age: age.value.age } : {}) };
    const [from, to] = [each.from, each.to].map((name) => arrangementNamed(model, name)!) as [Arrangement, Arrangement];
    const planned = planFor(model, service, from, to, patient)!;
    const stepsOf = (id: string) => planned.steps.filter(({ procedure }) => procedure.id === id);
    const reading = planned.steps.filter(({ procedure }) => !each.order.includes(procedure.id));
    const byHand = [...each.order.flatMap(stepsOf), ...reading];
    const elapsed = (steps: Changeover["steps"]) =>
      planTimeline(
        steps,
        service.crew.map(({ id }) => id),
        platforms[0]!,
      ).elapsed;
    const [order, gained] = DEPARTURES[each.title] ?? [each.order.join(" "), 0];
    expect(planned.procedures.map(({ id }) => id).join(" ")).toBe(order);
    expect(byHand).toHaveLength(planned.steps.length);
    expect(elapsed(byHand) - elapsed(planned.steps)).toBe(gained);
  });
});

/** Every way from a start to a target that runs no procedure twice, with exactly these seconds. */
function* waysOf(
  platform: Platform,
  start: ReadonlyMap<string, string>,
  target: ReadonlyMap<string, string>,
  seconds: number,
  done: readonly Procedure[] = [],
): Generator<readonly Procedure[]> {
  if (seconds === 0 && [...target].every(([item, place]) => start.get(item) === place)) yield done;
  for (const procedure of platform.procedures) {
    const takes = procedure.steps.reduce((sum, { takesSeconds }) => sum + takesSeconds, 0);
    if (done.includes(procedure) || takes > seconds) continue;
    const end = after(platform, procedure, start);
    if (end) yield* waysOf(platform, end, target, seconds - takes, [...done, procedure]);
  }
}

/** Seconds of the reading of the card that the tool adds where no step reads it. */
const READING = 20;

/** Pieces put into a place that stands, there and then, on something that a later procedure moves: a second way. */
function putsOnTaken(platform: Platform, procedures: readonly Procedure[], start: ReadonlyMap<string, string>): number {
  const at = new Map(start);
  const moves = procedures.flatMap((procedure, turn) =>
    procedure.steps.flatMap((step) =>
      step.operations.flatMap((operation) => (operation.kind === "move" ? [{ turn, ...operation }] : [])),
    ),
  );
  const isOn = (place: string): string[] => {
    const on = platform.places.find(({ id }) => id === place)?.on;
    return on === undefined ? [] : [on, ...isOn(at.get(on)!)];
  };
  const put = new Map<string, number>();
  let count = 0;
  for (const { turn, item, to } of moves) {
    for (const [piece, when] of [...put])
      if (when < turn && piece !== item && isOn(at.get(piece)!).includes(item)) (count++, put.delete(piece));
    at.set(item, to);
    put.delete(item);
    if (platform.places.find(({ id }) => id === to)?.kind !== "store") put.set(item, turn);
  }
  return count;
}

describe("the order of a changeover, against every order of its procedures", () => {
  it("is of least seconds, puts nothing on what is taken away, is least elapsed, is of the trade, then by name", () => {
    let several = 0,
      otherSets = 0;
    fc.assert(
      fc.property(trolleys, ({ platform, crew }) => {
        const model = buildModel(platform);
        const [from, to] = model.arrangements as [Arrangement, Arrangement];
        const plan = planFor(model, { crew }, from, to, {})!;
        const [start, target] = [from, to].map(
          ({ contents }) => new Map(contents.map(({ item, place }) => [item, place])),
        ) as [Map<string, string>, Map<string, string>];
        const roles = crew.map(({ id }) => id);
        const byTrade = compareByTrade(platform);
        for (const { id, home } of platform.items)
          for (const each of [start, target]) if (!each.has(id)) each.set(id, home);
        const possible = [...waysOf(platform, start, target, plan.seconds - READING)];
        if (possible.length > 1) several++;
        if (
          new Set(
            possible.map((way) =>
              way
                .map(({ id }) => id)
                .toSorted()
                .join(),
            ),
          ).size > 1
        )
          otherSets++;
        const best = possible
          .map((order) => ({
            order,
            put: putsOnTaken(platform, order, start),
            elapsed: planTimeline(
              order.flatMap((procedure) => procedure.steps.map((step) => ({ procedure, step }))),
              roles,
              platform,
            ).elapsed,
          }))
          .sort(
            (a, b) =>
              a.put - b.put ||
              a.elapsed - b.elapsed ||
              a.order.length - b.order.length ||
              a.order.map((each, at) => byTrade(each, b.order[at]!)).find((each) => each !== 0) ||
              0,
          )[0]!;
        expect(plan.procedures.map(({ id }) => id)).toEqual(best.order.map(({ id }) => id));
        const shorter = [...Array.from({ length: (plan.seconds - READING) / 10 }, (_, at) => at * 10)].filter(
          (seconds) => !waysOf(platform, start, target, seconds).next().done,
        );
        expect(shorter).toEqual([]);
      }),
      { numRuns: 150 },
    );
    expect([several > 30, otherSets > 5]).toEqual([true, true]);
  });
});

it("puts nothing onto what a later procedure moves away under it, though file names would have it so", () => {
  const platform = makePlatform({
    places: [
      makePlace("deck"),
      makePlace("rail"),
      makePlace("store", { kind: "store" }),
      makePlace("tray-top", { on: "tray" }),
    ],
    items: [makeItem("tray", { carries: true, places: ["tray-top"] }), makeItem("lamp")],
    procedures: [
      makeProcedure("a-lamp", [makeStep({ operations: [move("lamp", "store", "tray-top")] })]),
      makeProcedure("b-tray", [makeStep({ operations: [move("tray", "deck", "rail")] })]),
    ],
    configurations: [
      makeConfiguration("now", { fitted: [{ place: "deck", item: "tray", count: 1, where: WHERE }] }),
      makeConfiguration("then", {
        fitted: [
          { place: "rail", item: "tray", count: 1, where: WHERE },
          { place: "tray-top", item: "lamp", count: 1, where: WHERE },
        ],
      }),
    ],
  });
  const model = buildModel(platform);
  const plan = planFor(model, { crew: [{ id: "lead" }] }, model.arrangements[0]!, model.arrangements[1]!, {});
  expect(plan?.procedures.map(({ id }) => id)).toEqual(["b-tray", "a-lamp"]);
});

/** Where everything is after a procedure; `undefined` if an item is elsewhere or is lifted with something on it. */
function after(platform: Platform, { steps }: Procedure, start: ReadonlyMap<string, string>) {
  const at = new Map(start);
  for (const { operations } of steps)
    for (const operation of operations) {
      if (operation.kind !== "move") continue;
      const { carries, places } = platform.items.find(({ id }) => id === operation.item)!;
      if (at.get(operation.item) !== operation.from) return undefined;
      if (!carries && [...at.values()].some((place) => places.includes(place))) return undefined;
      at.set(operation.item, operation.to);
    }
  return at;
}

/**
 * A tray that carries, a lamp that can stand on it or on the deck, and two more: each put on or taken off alone, by two
 * people or whoever is free, the last one also by another procedure; now and then all wait.
 */
const trolleys = fc
  .record({
    fitted: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
    wanted: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
    seconds: fc.array(fc.constantFrom(10, 20, 30), { minLength: 20, maxLength: 20 }),
    who: fc.array(fc.constantFrom("lead", "second", "lead", "second", ""), { minLength: 20, maxLength: 20 }),
    names: fc.shuffledSubarray(["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"], { minLength: 10 }),
    holds: fc.array(fc.nat(9), { minLength: 10, maxLength: 10 }),
    options: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
  })
  .map(({ fitted, wanted, seconds, who, names, holds, options }) => {
    const homes = ["deck", "rail", "tray-top", "deck-two"];
    const items = homes.map((_, at) => makeItem(`item-${at}`, at === 0 ? { carries: true, places: ["tray-top"] } : {}));
    const by = (number: number) => (who[number] ? [who[number]] : []);
    const procedures = [...homes, homes[3]!].flatMap((place, at) =>
      (["on", "off"] as const).map((way, side) => {
        const id = `${names[at * 2 + side]!}-${way}-${at}`;
        const number = at * 4 + side * 2;
        const [from, to] = way === "on" ? ["store", place] : [place, "store"];
        return makeProcedure(id, [
          makeStep({
            procedure: id,
            by: by(number),
            hold: holds[at * 2 + side] === 0,
            takesSeconds: seconds[number]!,
            operations: [move(`item-${Math.min(at, 3)}`, from!, to!)],
          }),
          makeStep({ procedure: id, number: 2, by: by(number + 1), takesSeconds: seconds[number + 1]! }),
        ]);
      }),
    );
    const entries = (which: readonly boolean[]) =>
      homes.flatMap((place, at) => (which[at]! ? [{ place, item: `item-${at}`, count: 1, where: WHERE }] : []));
    const needsTray = (which: readonly boolean[]) => which.map((each, at) => (at === 0 ? each || which[2]! : each));
    return {
      crew: [{ id: "lead" }, { id: "second" }],
      platform: makePlatform({
        places: [
          makePlace("deck"),
          makePlace("rail"),
          makePlace("deck-two"),
          makePlace("store", { kind: "store" }),
          makePlace("tray-top", { on: "item-0" }),
        ],
        items,
        procedures,
        configurations: [
          makeConfiguration("now", { fitted: entries(needsTray(fitted)) }),
          makeConfiguration("then", { fitted: entries(needsTray(wanted)) }),
        ],
        options: homes.flatMap((place, at) =>
          options[at]!
            ? [makeOption(`with-${at}`, { fitted: [{ place, item: `item-${at}`, count: 1, where: WHERE }] })]
            : [],
        ),
      }),
    };
  });
