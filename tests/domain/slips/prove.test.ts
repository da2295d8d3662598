/**
 * The omission proof against a second, naive implementation that runs everything from its start and compares what is
 * where: slip by slip, on the demo, on the tests' collections and on generated ones.
 */
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { forceOn } from "../../../src/domain/force/force.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { proveSlips } from "../../../src/domain/slips/prove.ts";
import type { Check, Platform, Procedure } from "../../../src/schema/collection.ts";
import { type Carrier, compareProofs } from "./naive-proof.ts";
import {
  bandOf,
  makeConfiguration,
  makeFastening,
  makeItem,
  makePlace,
  makePlatform,
  makeProcedure,
  makeStep,
  move,
  WHERE,
} from "../parts/make.ts";
import { COLLECTIONS } from "../../fixtures/collections.ts";
import { readCollection } from "../../read-collection.ts";

/** Whether every changeover of the demo is run naively. */
const isEvery = process.env["RERIG_EVERY"] === "1";
const inForce = async (folder: string) =>
  forceOn(await readCollection(join(import.meta.dirname, "../../..", folder)), "2026-11-28").collection;

describe("the omission proof", () => {
  it.each(COLLECTIONS)(
    "is the same as the naive one, slip by slip, and its smallest set of lines as small as any: %s",
    async (folder) => {
      const { platforms, service } = await inForce(folder);
      let slips = 0;
      for (const platform of platforms) {
        const proof = proveSlips(buildModel(platform), service);
        expect(proof.complete).toBe(true);
        // Of the demo’s options two, which leave few of its pairs of arrangements; all of them before a release.
        const few =
          folder === "procedures" && !isEvery ? { ...platform, options: platform.options.slice(0, 2) } : platform;
        const compared = compareProofs(few, service, few === platform ? proof : proveSlips(buildModel(few), service));
        slips += compared.slips;
        if (folder === "procedures") {
          expect(proof.changeovers).toBeGreaterThanOrEqual(36 * 35);
          // Of more than twenty lines none is searched for: the capsule has 21, and as few are chosen all the same.
          expect(compared.covers.map(({ enough, isLeast, lines }) => [enough, isLeast || lines > 20])).toEqual(
            compared.covers.map(({ least }) => [least, true]),
          );
          // What nobody notices at a safety-critical step has its reason beside it.
          const silent = proof.rows.filter(({ outcomes, slip }) => outcomes.silent > 0 && slip.step.critical);
          expect(silent.flatMap(({ slip: { step } }) => (step.unnoticed ? [] : [step.where]))).toEqual([]);
        }
      }
      expect(slips).toBeGreaterThan(5);
    },
    900_000,
  );

  it("is the same as the naive one on 200 generated collections, in which every outcome is met", () => {
    const outcomes = new Map<string, number>(),
      sizes = new Set<number>();
    fc.assert(
      fc.property(rigs, (platform) => {
        const proof = proveSlips(buildModel(platform), service);
        const { covers } = compareProofs(platform, service, proof);
        for (const { least } of covers) sizes.add(least);
        for (const { worst } of proof.rows) {
          const { outcome, onCard } = worst.noticed,
            told = onCard ? "seen on the card" : outcome;
          outcomes.set(told, (outcomes.get(told) ?? 0) + 1);
        }
      }),
      { numRuns: 200 },
    );
    expect([...outcomes.keys()].sort()).toEqual([
      "counted",
      "made good",
      "seen",
      "seen on the card",
      "silent",
      "stopped",
    ]);
    expect([0, 1, 2].every((size) => sizes.has(size))).toBe(true);
  }, 120_000);
});

const service: Carrier = {
  band: bandOf(),
  crew: ["lead", "second"].map((id) => ({ id, name: id, where: WHERE, at: {} })),
};
const turn = (fastening: string, to: string) => ({ kind: "turn" as const, fastening, to, where: WHERE, at: {} });

/**
 * Rigs of a base and up to three fixtures, of one to three pieces each, some on the base; each is put on and taken off
 * by a procedure of its own, whose acts are cut into steps at random, with lines and cards at random.
 */
const rigs: fc.Arbitrary<Platform> = fc
  .record({
    fixtures: fc.array(
      fc.record({
        count: fc.integer({ min: 1, max: 3 }),
        onBase: fc.boolean(),
        held: fc.boolean(),
        emptyOpen: fc.boolean(),
        aside: fc.boolean(),
        asked: fc.nat(9),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    cuts: fc.array(fc.boolean(), { minLength: 40, maxLength: 40 }),
    lines: fc.array(fc.nat(14), { minLength: 40, maxLength: 40 }),
    card: fc.array(fc.nat(14), { maxLength: 6 }),
    alone: fc.boolean(),
  })
  .map(({ fixtures, cuts, lines, card, alone }) => {
    let drawn = 0;
    const ids = ["base", ...fixtures.flatMap((_, at) => [`item-${at}`, `spot-${at}`, `grip-${at}`])];
    const lineFor = (number: number): Check[] =>
      number < ids.length
        ? [
            {
              challenge: `Line ${number}`,
              answer: "as it is",
              by: ["second"],
              about: [ids[number]!],
              where: WHERE,
              at: {},
            },
          ]
        : [];
    const procedureOf = (id: string, operations: Procedure["steps"][number]["operations"]) => {
      const steps: { operations: (typeof operations)[number][] }[] = [];
      for (const operation of operations) {
        if (steps.length === 0 || cuts[drawn++ % 40]) steps.push({ operations: [] });
        steps.at(-1)!.operations.push(operation);
      }
      return makeProcedure(
        id,
        [...steps, { operations: [] }].map((step, at) =>
          makeStep({ ...step, by: [at % 2 ? "lead" : "second"], checks: lineFor(lines[drawn++ % 40]!) }),
        ),
      );
    };
    const procedures = fixtures.flatMap(({ count, held, emptyOpen, aside }, at) => {
      const [item, spot, grip] = [`item-${at}`, `spot-${at}`, `grip-${at}`];
      const open = held && !emptyOpen ? [turn(grip, "out")] : [],
        shut = held && !emptyOpen ? [turn(grip, "in")] : [];
      const through = (from: string, to: string) =>
        aside ? [move(item, from, "aside", count), move(item, "aside", to, count)] : [move(item, from, to, count)];
      return [
        procedureOf(`fit-${at}`, [...open, ...through("store", spot), ...(held ? [turn(grip, "in")] : [])]),
        procedureOf(`take-${at}`, [...(held ? [turn(grip, "out")] : []), ...through(spot, "store"), ...shut]),
      ];
    });
    const entries = (which: readonly number[]) => [
      { place: "deck", item: "base", count: 1, where: WHERE },
      ...which.map((at) => ({ place: `spot-${at}`, item: `item-${at}`, count: fixtures[at]!.count, where: WHERE })),
    ];
    const all = fixtures.map((_, at) => at);
    return makePlatform({
      places: [
        makePlace("deck"),
        makePlace("store", { kind: "store" }),
        ...fixtures.map(({ onBase }, at) => makePlace(`spot-${at}`, onBase ? { on: "base" } : {})),
      ],
      items: [
        makeItem("base", {
          carries: true,
          home: "deck",
          places: all.filter((at) => fixtures[at]!.onBase).map((at) => `spot-${at}`),
        }),
        ...fixtures.map(({ count }, at) => makeItem(`item-${at}`, { count })),
      ],
      fastenings: fixtures.flatMap(({ held, emptyOpen }, at) =>
        held ? [makeFastening(`grip-${at}`, [`spot-${at}`], emptyOpen ? { whenEmpty: "out" } : {})] : [],
      ),
      procedures: [
        ...procedures,
        ...(alone && fixtures[0]!.held ? [procedureOf("look-0", [turn("grip-0", "out"), turn("grip-0", "in")])] : []),
      ],
      configurations: [
        makeConfiguration("bare", { fitted: entries([]), checks: card.flatMap(lineFor) }),
        makeConfiguration("first", { fitted: entries([0]), checks: card.slice(1).flatMap(lineFor) }),
        makeConfiguration("whole", { fitted: entries(all), checks: card.flatMap(lineFor) }),
      ].slice(0, fixtures.length > 1 ? 3 : 2),
    });
  });
