/** The orders of steps that the questions build on agree with trying every order there is. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { buildModel, programOf } from "../../../src/domain/states/model.ts";
import { findOrders, startsOf } from "../../../src/domain/study/questions/orders.ts";
import { runs } from "../../../src/domain/states/run.ts";
import type { Operation, Step } from "../../../src/schema/collection.ts";
import {
  anyone,
  configuration,
  fastening,
  item,
  move,
  nowhere,
  place,
  platform,
  procedure,
  step,
  turn,
} from "../../arbitraries/platform.ts";

/** Steps that build a seat up from bare and can stand in several orders, with steps that touch nothing between them. */
const acts: readonly Operation[] = [
  turn("lever", "out"),
  move("seat", "store", "deck"),
  turn("lever", "in"),
  move("pin", "tray", "aside"),
  move("pin", "aside", "tray"),
];

const steps = fc
  .tuple(
    fc.shuffledSubarray([0, 1, 2, 3, 4, -1, -2], { minLength: 3, maxLength: 6 }),
    fc.array(fc.record({ hold: fc.boolean(), after: fc.option(fc.nat(5), { nil: undefined }) }), {
      minLength: 6,
      maxLength: 6,
    }),
  )
  .map(([picked, more]) =>
    picked
      .sort((a, b) => (a < 0 ? 2.5 : a) - (b < 0 ? 2.5 : b))
      .map((act, at): Step => {
        const { hold, after } = more[at]!;
        return step(act < 0 ? [] : [acts[act]!], {
          id: `s${at}`,
          hold: hold && at % 3 === 2,
          after: after !== undefined && after < at ? [{ id: `s${after}`, where: nowhere }] : [],
        });
      }),
  );

function built(list: readonly Step[]) {
  return platform({
    places: [place("deck", { room: 1 }), place("tray", { kind: "stowage" }), place("store", { kind: "store" })],
    items: [item("seat", "store"), item("pin", "tray")],
    fastenings: [fastening("lever", ["deck"], { whenEmpty: "in" })],
    configurations: [configuration("bare", {}, { standing: true }), configuration("seat", { deck: { seat: 1 } })],
    procedures: [procedure("fit", [...list])],
  });
}

const ordersOf = (count: number): number[][] =>
  count === 0
    ? [[]]
    : ordersOf(count - 1).flatMap((order) =>
        Array.from({ length: count }, (_, at) => [...order.slice(0, at), count - 1, ...order.slice(at)]),
      );

it("finds what trying every order of up to six steps finds", () => {
  let asked = 0;
  fc.assert(
    fc.property(steps, (list) => {
      const model = buildModel(built(list));
      for (const [program, starts] of startsOf(model, anyone)) {
        const orders = findOrders(model, program, starts);
        if (!orders) continue;
        asked++;
        const all = program.steps,
          count = all.length;
        const isAllowed = (order: readonly number[]) =>
          order.every((at, position) => {
            const earlier = order.slice(0, position);
            const named = all[at]!.after.every(({ id }) => earlier.includes(all.findIndex((other) => other.id === id)));
            const held = all.every(
              (other, index) => index >= at || !(other.hold || all[at]!.hold) || earlier.includes(index),
            );
            return named && held;
          });
        const good = ordersOf(count).filter(
          (order) =>
            isAllowed(order) &&
            starts.some((start) =>
              runs(
                model,
                start,
                programOf(
                  model,
                  program.procedure,
                  order.map((at) => all[at]!),
                ),
              ),
            ),
        );
        for (let a = 0; a < count; a++)
          for (let b = 0; b < count; b++) {
            if (a !== b)
              expect(orders.isForced(a, b), `${a} before ${b}`).toBe(
                good.every((order) => order.indexOf(a) < order.indexOf(b)),
              );
            const follows = good.some((order) => order[a] === b && order.slice(0, a).every((each) => each < a));
            expect(orders.canFollow(a, b), `${b} after the first ${a}`).toBe(follows);
          }
      }
    }),
    { numRuns: 600, seed: 20260901 },
  );
  expect(asked).toBeGreaterThan(50);
});
