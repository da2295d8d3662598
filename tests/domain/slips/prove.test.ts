/**
 * The omission proof against a second, naive implementation that runs everything from its start and compares what is
 * where: slip by slip, on the demo, on the tests' collections and on generated ones. What counts as noticed is the
 * project's own definition; that the two agree says that it is computed right.
 */
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { buildModel, type Model, programOf, type Program, stepsFor } from "../../../src/domain/states/model.ts";
import { strictPrograms } from "../../../src/domain/states/elsewhere.ts";
import { variantsOf } from "../../../src/domain/states/prove-parts.ts";
import { readsCard } from "../../../src/domain/parts/reading.ts";
import { waysBetween } from "../../../src/domain/time/plans.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import { proveSlips, type SlipProof } from "../../../src/domain/slips/prove.ts";
import { subjectsOf } from "../../../src/domain/cards/subjects.ts";
import { Findings } from "../../../src/findings/finding.ts";
import type { Check, Platform, Procedure, Service } from "../../../src/schema/collection.ts";
import { naiveSlips, type NaiveFate } from "./naive-slips.ts";
import { heldContents, type Named, naiveRun, naiveStart } from "../states/naive-run.ts";
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

type Carrier = Pick<Service, "band" | "crew"> & Partial<Pick<Service, "otherNames">>;

interface Worst {
  readonly fate: NaiveFate;
  readonly context: string;
  readonly later: number;
  readonly told: readonly unknown[];
}

/** The naive proof, put together as the other one is: outcomes counted, and where it survives longest. */
function naiveProof(platform: Platform, service: Carrier, pick: (pair: number) => boolean = () => true) {
  const model = buildModel(platform);
  const looks = (check: Check) => subjectsOf(check, platform, service.otherNames).map(({ id }) => id);
  const rows = new Map<string, { outcomes: Record<string, number>; worst: Worst }>();
  const cards = new Map<string, { slips: number; seen: number; seeing: Set<Check> }>();
  const used = new Set<string>();
  const strictOf = strictnessOf(model);
  const note = (
    fate: NaiveFate,
    context: string,
    steps: readonly (readonly [string, number])[],
    tell: (fate: NaiveFate) => readonly unknown[],
  ) => {
    const later = fate.outcome === "silent" ? Infinity : fate.outcome === "made good" ? -1 : fate.noticed! - fate.own;
    const row = rows.get(fate.slip) ?? { outcomes: {}, worst: { fate, context, later: -2, told: [] } };
    row.outcomes[fate.outcome] = (row.outcomes[fate.outcome] ?? 0) + 1;
    if (later > row.worst.later)
      row.worst = {
        fate,
        context,
        later,
        told: [fate.outcome, ...(steps[fate.noticed ?? -1] ?? []), fate.check?.challenge, ...tell(fate)],
      };
    rows.set(fate.slip, row);
  };
  let pair = 0;
  for (const from of model.arrangements)
    for (const to of model.arrangements) {
      if (from === to || !pick(pair++)) continue;
      for (const { cells, changeover } of waysBetween(model, service, from, to)) {
        if (!changeover) continue;
        const runs = changeover.procedures.map((procedure) => ({
          procedure,
          steps: stepsFor(model.procedures, procedure, cells[0]!.patient).filter((step) => !readsCard(step)),
        }));
        for (const { procedure } of runs) used.add(procedure.id);
        const steps = runs.flatMap((run) => run.steps.map((step) => [run.procedure.id, step.number] as const));
        const timeline = planTimeline(
          changeover.steps,
          service.crew.map(({ id }) => id),
          platform,
          0,
        );
        const seconds = ({ outcome, own, noticed = 0 }: NaiveFate) => {
          if (outcome === "silent" || outcome === "made good") return [0];
          const at = timeline.steps[Math.min(noticed, steps.length)]!;
          const isBefore = outcome === "stopped" || outcome === "counted";
          return [Math.max(0, (isBefore ? at.start : at.end) - timeline.steps[own]!.end)];
        };
        const card = cards.get(to.configuration.id) ?? { slips: 0, seen: 0, seeing: new Set<Check>() };
        cards.set(to.configuration.id, card);
        for (const fate of naiveSlips(platform, { from, to, runs, parts: changeover.parts }, strictOf, looks)) {
          note(fate, `${from.name} ${to.name}`, steps, seconds);
          if (!fate.card) continue;
          card.slips++;
          if (fate.card.length > 0) card.seen++;
          for (const line of fate.card) card.seeing.add(line);
        }
      }
    }
  for (const procedure of platform.procedures) {
    if (procedure.status !== "approved" || used.has(procedure.id)) continue;
    const variants = variantsOf(model, service.band, procedure);
    for (const [from, variant] of variants.flatMap((each) => model.arrangements.map((from) => [from, each] as const))) {
      const whole = { ...procedure, steps: variant.steps };
      const steps = whole.steps.filter((step) => !readsCard(step));
      const run = { procedure: whole, steps };
      const start = naiveStart(platform, from.contents, new Map([...from.fastenings]));
      const end = naiveRun(platform, start, whole, namedBy(platform));
      if (Array.isArray(end) || steps.every(({ operations }) => operations.length === 0)) continue;
      for (const fate of naiveSlips(platform, { from, runs: [run], parts: [] }, strictOf, looks))
        note(
          fate,
          `${from.name} ${from.name}`,
          steps.map((step) => [procedure.id, step.number] as const),
          () => [],
        );
    }
  }
  return { rows, cards };
}

/** The states that arrangements name, with what the fastening then holds. */
function namedBy(platform: Platform): Named[] {
  return buildModel(platform).arrangements.flatMap(({ contents, configuration }) =>
    configuration.fastenings.flatMap(({ fastening, state }) => {
      const record = platform.fastenings.find(({ id }) => id === fastening);
      const { pieces } = naiveStart(platform, contents);
      return record ? [{ fastening, state, contents: heldContents(pieces, record) }] : [];
    }),
  );
}

/** Procedures of which every turn counts where they run; asked of the program, which other tests hold to account. */
function strictnessOf(model: Model): ReadonlySet<string> {
  const programs = model.platform.procedures
    .filter(({ status }) => status === "approved")
    .map((procedure): Program => programOf(model, procedure, procedure.steps))
    .filter(({ whole, acts }) => whole && acts.length > 0);
  return new Set([...strictPrograms(model, programs)].map(({ procedure }) => procedure.id));
}

function compareProofs(platform: Platform, service: Carrier, proof: SlipProof) {
  const naive = naiveProof(platform, service);
  const keyed = new Map(
    proof.rows.map((row) => [
      `${row.slip.procedure.id} ${row.slip.step.number} ${row.slip.operation} ${row.slip.kind}`,
      row,
    ]),
  );
  expect([...keyed.keys()].sort()).toEqual([...naive.rows.keys()].sort());
  for (const [slip, { outcomes, worst }] of naive.rows) {
    const row = keyed.get(slip)!;
    const own = Object.fromEntries(Object.entries(row.outcomes).filter(([, count]) => count > 0));
    expect([slip, own]).toEqual([slip, outcomes]);
    const { context, noticed } = row.worst;
    const isAlone = context.from === context.to;
    expect([
      slip,
      `${context.from} ${context.to}`,
      [
        noticed.outcome,
        ...(noticed.at ? [noticed.at.procedure.id, noticed.at.step.number] : []),
        noticed.check?.challenge,
        ...(isAlone ? [] : [noticed.afterSeconds]),
      ],
    ]).toEqual([slip, worst.context, worst.told]);
  }
  for (const card of proof.cards) {
    const { slips, seen, seeing } = naive.cards.get(card.configuration)!;
    expect([card.slips, card.seen, card.lines.filter((line) => !card.idle.includes(line))]).toEqual([
      slips,
      seen,
      card.lines.filter((line) => seeing.has(line)),
    ]);
  }
}

describe("the omission proof", () => {
  it.each([
    "procedures",
    "tests/fixtures/collections/sled",
    "tests/fixtures/collections/dolly",
    "tests/fixtures/collections/theatre",
  ])(
    "is the same as the naive one, slip by slip: %s",
    async (folder) => {
      const { platforms, service } = await loadCollection(
        join(import.meta.dirname, "../../..", folder),
        new Findings(),
      );
      for (const whole of platforms) {
        // All arrangements of the demo with one option at most: the naive proof takes its time.
        const platform = folder === "procedures" ? { ...whole, options: whole.options.slice(0, 2) } : whole;
        const proof = proveSlips(buildModel(platform), service);
        expect(proof.complete).toBe(true);
        expect(proof.rows.length).toBeGreaterThan(5);
        compareProofs(platform, service, proof);
      }
    },
    120_000,
  );

  it("is the same as the naive one on 200 generated collections, in which every outcome is met", () => {
    const outcomes = new Map<string, number>();
    fc.assert(
      fc.property(rigs, (platform) => {
        const proof = proveSlips(buildModel(platform), service);
        compareProofs(platform, service, proof);
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
