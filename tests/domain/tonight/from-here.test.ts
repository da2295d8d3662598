/**
 * From a half-built state to any arrangement: the way is done again, act by act, by a second implementation (a plain
 * account of which piece is where, written from the format's words), from what really stands there.
 */
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { isDeepStrictEqual } from "node:util";
import { forceOn } from "../../../src/domain/force/force.ts";
import type { Arrangement } from "../../../src/domain/parts/arrangements.ts";
import type { Changeover } from "../../../src/domain/states/changeover.ts";
import { type Model, modelOf, stepsFor } from "../../../src/domain/states/model.ts";
import { BACK, type PlannedStep, readsCard } from "../../../src/domain/parts/reading.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import {
  begunAfter,
  findBegun,
  type BegunStep,
  readBegun,
  writeBegun,
} from "../../../src/domain/tonight/begun-text.ts";
import { begunAt, leastFromHere, plansFromHere } from "../../../src/domain/tonight/from-here.ts";
import { holdsPatient, type Patient } from "../../../src/domain/bands/bands.ts";
import { counted, naiveAct, naiveStart } from "../states/naive-run.ts";
import type { Operation, Platform, Procedure } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");
const TODAY = "2026-11-28";
const read = async (folder: string) => forceOn(await readCollection(join(root, folder)), TODAY).collection;

/** A platform that is handled piece by piece, by the naive account of `naive-run.ts`. */
class Account {
  readonly #platform: Platform;
  readonly #pieces: Map<string, string>;
  readonly #states: Map<string, string>;

  constructor(platform: Platform, { contents, configuration }: Arrangement) {
    const named = new Map(configuration.fastenings.map(({ fastening, state }) => [fastening, state]));
    const { pieces, fastenings } = naiveStart(platform, contents, named);
    [this.#platform, this.#pieces, this.#states] = [platform, new Map(pieces), new Map(fastenings)];
  }

  do(act: Operation, what: string): void {
    expect(naiveAct(this.#platform, this.#pieces, this.#states, act, false), `${what}: ${JSON.stringify(act)}`).toBe(
      undefined,
    );
  }

  /** What stands where, pieces of a kind alike, and how the fastenings stand that an arrangement speaks of. */
  said(fastenings: Iterable<string>): unknown {
    const named = new Set(fastenings);
    return {
      pieces: [...this.#pieces].map(([piece, place]) => `${piece.split("#")[0]!} ${place}`).sort(),
      states: this.#platform.fastenings
        .filter((each) => named.has(each.id) && counted(this.#platform, this.#pieces, each))
        .map(({ id }) => [id, this.#states.get(id)]),
    };
  }
}

/** The procedure by which the demo confirms who is carried, as its `platform.yaml` says; no fixture has one. */
const CONFIRMS = "confirm-band";
const confirms = ({ procedure }: PlannedStep) => procedure.id === CONFIRMS;

/** Seconds of steps without the reading of a card and what is asked about the patient: both are in every changeover. */
const work = (steps: readonly PlannedStep[]) =>
  steps.reduce((sum, each) => sum + (readsCard(each.step) || confirms(each) ? 0 : each.step.takesSeconds), 0);

type Stop = ReturnType<typeof stops> extends Generator<infer Each> ? Each : never;

/** Whether a procedure has the same steps for a patient as in the plan that was stopped. */
const isSame = (model: Model, procedure: Procedure, { changeover }: Stop, patient: Patient) =>
  holdsPatient(procedure.band, patient) &&
  isDeepStrictEqual(
    stepsFor(model.procedures, procedure, patient)
      .filter((step) => !readsCard(step))
      .map(({ number }) => number),
    changeover.steps
      .filter((each) => each.procedure === procedure && !readsCard(each.step))
      .map(({ step }) => step.number),
  );

const bare = (arrangements: readonly Arrangement[]) => arrangements.filter(({ options }) => options.length === 0);

/** Every stop of every changeover between these arrangements, with what is done at it. */
function* stops(platform: Platform, service: Parameters<typeof plansBetween>[1], ends: readonly Arrangement[]) {
  const model = modelOf(platform),
    roles = service.crew.map(({ id }) => id);
  for (const from of ends)
    for (const toward of ends) {
      if (from === toward) continue;
      for (const { cells, changeover } of plansBetween(model, service, from, toward)) {
        if (!changeover) continue;
        const { steps } = planTimeline(changeover.steps, roles, platform, 0);
        const order = steps.toSorted((a, b) => a.start - b.start || a.index - b.index);
        for (let at = 0; at <= order.length; at += 1) {
          const done = new Set(order.slice(0, at).map(({ index }) => index));
          yield { from, toward, changeover, cells, done, order, at };
        }
      }
    }
}

/** Does what is done, then the way, and looks at what stands. */
function check(platform: Platform, { from, order, at, toward }: Stop, to: Arrangement, way: Changeover): void {
  const what = `${from.name} to ${toward.name}, stopped at ${at}, to ${to.name}`;
  const account = new Account(platform, from);
  for (const { step } of order.slice(0, at)) for (const act of step.operations) account.do(act, what);
  for (const { step } of way.steps) for (const act of step.operations) account.do(act, what);
  // The same pieces, each where it belongs: nothing is lost and nothing is made.
  expect(account.said(to.fastenings.keys()), what).toEqual(new Account(platform, to).said(to.fastenings.keys()));
  expect(readsCard(way.steps.at(-1)!.step), what).toBe(true);
  expect(
    way.steps.filter(({ step }) => readsCard(step)),
    what,
  ).toHaveLength(1);
}

const collections = ["procedures", "tests/fixtures/collections/theatre", "tests/fixtures/collections/workshop"];
describe.each(collections)("from every step of every changeover of %s", (folder) => {
  it("leads to exactly the arrangement, everything counted, never longer than to finish and start over", async () => {
    const { platforms, service } = await read(folder);
    let asked = 0,
      compared = 0,
      back = 0;
    for (const platform of platforms) {
      const model = modelOf(platform),
        ends = bare(model.arrangements);
      for (const stop of stops(platform, service, ends)) {
        const begun = begunAt(stop.from, stop.changeover.steps, stop.done);
        for (const to of model.arrangements) {
          // Arrangements with options from every fifth stop: the ways differ by what comes after.
          // `RERIG_EVERY=1` asks for every arrangement from every stop: 6,120 ways in the demo, half a minute.
          const isSampled = to.options.length === 0 || (stop.at % 5 === 2 && to.options.length === 1);
          if (!isSampled && !process.env["RERIG_EVERY"]) continue;
          for (const { cells, changeover } of plansFromHere(model, service, begun, to)) {
            const what = `${stop.from.name} to ${stop.toward.name} at ${stop.at}, then ${to.name}`;
            asked += 1;
            const over = plansBetween(model, service, stop.toward, to, cells[0]!.patient)[0]?.changeover;
            if (!changeover) {
              expect(over === undefined || to === stop.toward, what).toBe(true);
              continue;
            }
            check(platform, stop, to, changeover);
            // The next patient is another one, whose questions come first, all of them again.
            const first = changeover.steps.findIndex((each) => !confirms(each));
            expect(changeover.steps.slice(first).some(confirms), what).toBe(false);
            expect(first > 0, what).toBe(platform.confirms !== undefined);
            back += changeover.steps.some(({ procedure }) => procedure.id.startsWith(BACK)) ? 1 : 0;
            // To finish all of it and start over is a way wherever what is not yet begun is the new patient's, too.
            const left = stop.changeover.steps.filter((_, at) => !stop.done.has(at)),
              inHand = new Set(begun.steps.map(({ procedure }) => procedure));
            const isPossible = left.every(
              ({ procedure, step }) =>
                readsCard(step) ||
                procedure.id === CONFIRMS ||
                inHand.has(procedure) ||
                isSame(model, procedure, stop, cells[0]!.patient),
            );
            if (!isPossible) continue;
            compared += 1;
            if (to === stop.toward) expect(work(changeover.steps), what).toBeLessThanOrEqual(work(left) + 1e-6);
            if (over) expect(work(changeover.steps), what).toBeLessThanOrEqual(work(left) + work(over.steps) + 1e-6);
          }
        }
      }
    }
    expect(asked).toBeGreaterThan(20);
    expect(compared).toBeGreaterThan(20);
    console.log(folder, asked, "asked", compared, "compared", back, "with steps walked back");
  }, 300_000);
});

describe("the crew stands down", () => {
  it("by the way of a next patient, without what confirms one", async () => {
    const { platforms, service } = await read("procedures");
    const platform = platforms[0]!,
      model = modelOf(platform),
      [standing] = bare(model.arrangements).filter(({ configuration }) => configuration.standing);
    let compared = 0;
    for (const stop of stops(platform, service, bare(model.arrangements))) {
      if (stop.at % 6 !== 4) continue;
      const begun = begunAt(stop.from, stop.changeover.steps, stop.done),
        patient = plansBetween(model, service, stop.from, standing!)[0]?.cells[0]?.patient ?? {};
      const down = leastFromHere(model, service, begun, standing!, "nobody");
      for (const { steps } of down ? [down] : []) expect(steps.some(confirms)).toBe(false);
      const [some] = plansFromHere(model, service, begun, standing!, patient),
        [none] = plansFromHere(model, service, begun, standing!, "nobody");
      expect(none!.changeover!.steps.map(({ step }) => step)).toEqual(
        some!.changeover!.steps.filter((each) => !confirms(each)).map(({ step }) => step),
      );
      compared += 1;
    }
    expect(compared).toBeGreaterThan(15);
  });
});

describe("what was begun, in an address", () => {
  it("comes back as it was, from every stop of the demo, after a second change too", async () => {
    const { platforms, service } = await read("procedures");
    const platform = platforms[0]!,
      model = modelOf(platform),
      ends = bare(model.arrangements);
    const entries = (steps: readonly PlannedStep[], done: ReadonlySet<number>) =>
      steps
        .map(({ procedure, step }, at) => ({
          procedure: procedure.id,
          step: step.number,
          isDone: done.has(at),
          planned: step,
        }))
        .filter(({ planned }) => !readsCard(planned))
        .map(({ planned: _, ...entry }): BegunStep => entry);
    let twice = 0;
    for (const { from, changeover, done } of stops(platform, service, ends)) {
      const begun = begunAt(from, changeover.steps, done),
        first = begunAfter([], entries(changeover.steps, done));
      const again = first.length > 0 ? findBegun(model, from, readBegun(writeBegun(first))!)! : begun;
      expect(again.steps.map(({ step }) => step)).toEqual(begun.steps.map(({ step }) => step));
      expect([...again.done]).toEqual([...begun.done].sort((a, b) => a - b));
      if (done.size % 8 !== 3) continue;
      // Stopped again in the middle of the way from there: the state is the one that doing it act by act leads to.
      const to = ends.find((each) => each !== from)!,
        way = plansFromHere(model, service, begun, to)[0]?.changeover;
      if (!way) continue;
      for (let many = 1; many < way.steps.length; many += 5) {
        const second = begunAfter(first, entries(way.steps, new Set(Array.from({ length: many }, (_, at) => at))));
        const account = new Account(platform, from),
          state = findBegun(model, from, second)!;
        for (const at of [...begun.done].sort((a, b) => a - b))
          for (const act of begun.steps[at]!.step.operations) account.do(act, "first");
        for (const { step } of way.steps.slice(0, many)) for (const act of step.operations) account.do(act, "second");
        const after = new Account(platform, from);
        for (const at of [...state.done].sort((a, b) => a - b))
          for (const act of state.steps[at]!.step.operations) after.do(act, writeBegun(second));
        const fastenings = platform.fastenings.map(({ id }) => id);
        expect(after.said(fastenings), writeBegun(second)).toEqual(account.said(fastenings));
        twice += 1;
      }
    }
    expect(twice).toBeGreaterThan(50);
  });
  it("is refused where it makes no sense", async () => {
    for (const word of ["x", "x:", "x:0", "x:3-1", "x:1-99999", "x:1;;", "x:a", ":1"])
      expect(readBegun(word), word).toBeUndefined();
    const { platforms } = await read("procedures");
    const model = modelOf(platforms[0]!);
    expect(findBegun(model, model.arrangements[0]!, readBegun("nothing-such:1-2")!)).toBeUndefined();
    const id = [...model.procedures.keys()][0]!;
    expect(findBegun(model, model.arrangements[0]!, readBegun(`${id}:9999`)!)).toBeUndefined();
  });
});
