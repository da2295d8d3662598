/**
 * The omission proof once more, naively: everything is run from its start, and what is where is compared, slip by slip.
 * What counts as noticed is the project's own definition; that the two agree says that it is computed right.
 */
import assert from "node:assert/strict";
import { buildModel, type Model, programOf, type Program, stepsFor } from "../../../src/domain/states/model.ts";
import { strictPrograms } from "../../../src/domain/states/elsewhere.ts";
import { variantsOf } from "../../../src/domain/states/prove-parts.ts";
import { readsCard } from "../../../src/domain/parts/reading.ts";
import { waysBetween } from "../../../src/domain/time/plans.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import type { SlipProof } from "../../../src/domain/slips/prove.ts";
import { subjectsOf } from "../../../src/domain/cards/subjects.ts";
import type { Check, Platform, Service } from "../../../src/schema/collection.ts";
import { naiveSlips, type NaiveFate } from "./naive-slips.ts";
import { heldContents, type Named, naiveRun, naiveStart } from "../states/naive-run.ts";

/** Whom a service carries, with whom, and what it calls things. */
export type Carrier = Pick<Service, "band" | "crew"> & Partial<Pick<Service, "otherNames">>;

interface Worst {
  readonly fate: NaiveFate;
  readonly context: string;
  readonly later: number;
  readonly told: readonly unknown[];
}

/** The naive proof, put together as the other one is: outcomes counted, and where it survives longest. */
function naiveProof(platform: Platform, service: Carrier) {
  const model = buildModel(platform);
  const looked = new Map<Check, readonly string[]>();
  const looks = (check: Check) => {
    const things = looked.get(check) ?? subjectsOf(check, platform, service.otherNames).map(({ id }) => id);
    looked.set(check, things);
    return things;
  };
  const rows = new Map<string, { outcomes: Record<string, number>; worst: Worst }>();
  const cards = new Map<string, { slips: number; seen: number; sees: Map<Check, number>; seenBy: Check[][] }>();
  const used = new Set<string>();
  // The same lines see slips of many changeovers: one list for each set of them.
  const known = new Map<string, Check[]>(),
    numbers = new Map<Check, number>();
  const once = (lines: readonly Check[]) => {
    for (const line of lines) numbers.set(line, numbers.get(line) ?? numbers.size);
    const key = lines.map((line) => numbers.get(line)).join();
    return known.get(key) ?? (known.set(key, [...lines]), known.get(key)!);
  };
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
  for (const from of model.arrangements)
    for (const to of model.arrangements) {
      if (from === to) continue;
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
        const card = cards.get(to.configuration.id) ?? {
          slips: 0,
          seen: 0,
          sees: new Map<Check, number>(),
          seenBy: [],
        };
        cards.set(to.configuration.id, card);
        for (const fate of naiveSlips(platform, { from, to, runs, parts: changeover.parts }, strictOf, looks)) {
          note(fate, `${from.name} ${to.name}`, steps, seconds);
          if (!fate.card) continue;
          card.slips++;
          if (fate.card.length > 0) card.seen++;
          card.seenBy.push(once(fate.card));
          for (const line of fate.card) card.sees.set(line, (card.sees.get(line) ?? 0) + 1);
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

interface Compared {
  readonly slips: number;
  /** Of each card: lines that see something, how many of them the proof says are enough, and how many are. */
  readonly covers: readonly { lines: number; isLeast: boolean; enough: number; least: number }[];
}

/** Compares a proof with the naive one, slip by slip; throws where they differ. */
export function compareProofs(platform: Platform, service: Carrier, proof: SlipProof): Compared {
  const covers: Compared["covers"][number][] = [];
  const naive = naiveProof(platform, service);
  const keyed = new Map(
    proof.rows.map((row) => [
      `${row.slip.procedure.id} ${row.slip.step.number} ${row.slip.operation} ${row.slip.kind}`,
      row,
    ]),
  );
  assert.deepEqual([...keyed.keys()].sort(), [...naive.rows.keys()].sort());
  for (const [slip, { outcomes, worst }] of naive.rows) {
    const row = keyed.get(slip)!;
    const own = Object.fromEntries(Object.entries(row.outcomes).filter(([, count]) => count > 0));
    assert.deepEqual([slip, own], [slip, outcomes]);
    const { context, noticed } = row.worst;
    const isAlone = context.from === context.to;
    assert.deepEqual(
      [
        slip,
        `${context.from} ${context.to}`,
        [
          noticed.outcome,
          ...(noticed.at ? [noticed.at.procedure.id, noticed.at.step.number] : []),
          noticed.check?.challenge,
          ...(isAlone ? [] : [noticed.afterSeconds]),
        ],
      ],
      [slip, worst.context, worst.told],
    );
  }
  for (const card of proof.cards) {
    const { slips, seen, sees, seenBy } = naive.cards.get(card.configuration)!;
    assert.deepEqual(
      [card.slips, card.seen, card.sees, card.idle],
      [slips, seen, card.lines.map((line) => sees.get(line) ?? 0), card.lines.filter((line) => !sees.has(line))],
    );
    // The smallest set of lines: enough, and no set with a line less is.
    const enough = card.cover.lines.map((at) => card.lines[at]!),
      left = seenBy.filter((by) => by.length > 0 && !by.some((line) => enough.includes(line)));
    assert.deepEqual(left, []);
    const least = leastCover(seenBy);
    assert.deepEqual([card.cover.isLeast ? enough.length : least, card.cover.atLeast <= least], [least, true]);
    covers.push({ lines: new Set(seenBy.flat()).size, isLeast: card.cover.isLeast, enough: enough.length, least });
  }
  return { slips: naive.rows.size, covers };
}

/**
 * How many lines are enough to see all that any of them sees: of a slip that is not seen yet each line that sees it is
 * tried, with one line, with two, and so on.
 */
function leastCover(seenBy: readonly (readonly Check[])[]): number {
  const sets = [...new Set(seenBy.filter((by) => by.length > 0))];
  // Whoever sees the one that fewer lines see sees the other too.
  const least = sets.filter(
    (set, at) =>
      !sets.some(
        (other, n) => n !== at && other.every((line) => set.includes(line)) && (other.length < set.length || n < at),
      ),
  );
  const some = (size: number, left: readonly (readonly Check[])[]): boolean =>
    left.length === 0 ||
    (size > 0 &&
      left[0]!.some((line) =>
        some(
          size - 1,
          left.filter((set) => !set.includes(line)),
        ),
      ));
  for (let size = 0; ; size++) if (some(size, least)) return size;
}
