/**
 * Drills: a scenario drawn from a seed, and its key, which the owners of each answer compute. The same seed gives the
 * same drill on page, paper and command, as long as the same texts are in force.
 */
import type { Band, Crew, Item, Platform } from "../../schema/collection.ts";
import { AGE_UNITS, MASS_PER_KG } from "../../schema/units.ts";
import { holds, kgOf, sayMassExactly } from "../bands/bands.ts";
import { rowsFor } from "../bands/choose.ts";
import { type FirstQuestion, firstQuestionsFor } from "../bands/doubts.ts";
import { usualWeights } from "../bands/growth.ts";
import { type Draw, drawsFrom, shuffle } from "../numbers/chance.ts";
import { type Arrangement, isFor, optionsMissing, validArrangements } from "../parts/arrangements.ts";
import { inUse, standingArrangement } from "../parts/lookup.ts";
import { readsCard } from "../parts/reading.ts";
import { type Changeover, arrangementNamed } from "../states/changeover.ts";
import { type Model, modelOf } from "../states/model.ts";
import { planFor } from "../time/plans.ts";
import { sayMeasure } from "../words/measures.ts";
import { inStartingOrder, planTimeline, type TimedStep, type Timeline } from "../time/timeline.ts";
import { type Begun, begunAt, leastFromHere } from "../tonight/from-here.ts";
import { stillPossible, without } from "../tonight/out-of-service.ts";

/** Whom the service carries, who does the steps, and what it asks first. */
export interface DrillService {
  readonly band: Band;
  readonly crew: readonly Pick<Crew, "id">[];
  readonly questions: readonly FirstQuestion[];
}

/** A patient of a drill: an age and a weight that go together. Units of `End`, and words. */
interface DrillPatient {
  readonly weight: bigint;
  readonly age: bigint;
  readonly said: { readonly weight: string; readonly age: string };
}

/** A scenario with its key. */
export interface Drill {
  readonly seed: number;
  /** What stands, with nothing of it out of service. */
  readonly from: Arrangement;
  readonly patient: DrillPatient;
  /** What the referring hospital asks for beside what the patient needs; empty for most. */
  readonly asked: readonly string[];
  /** One piece of this item is missing; `undefined`: everything is there. */
  readonly missing: Item | undefined;
  readonly signal: boolean;
  readonly key: DrillKey;
}

/** A way that the crew goes: what it leads to, its steps and their times. */
export interface DrillLeg {
  readonly to: Arrangement;
  readonly changeover: Changeover;
  readonly timeline: Timeline;
}

/** What changes on the way, told to the crew only then; and the way from the half-built state. */
export interface DrillChange extends DrillLeg {
  /** After so many steps, in starting order. */
  readonly after: number;
  /** What was begun by then. */
  readonly begun: Begun;
  /** The next patient; `undefined`: the crew is stood down. */
  readonly patient: DrillPatient | undefined;
}

/** The answer. */
export type DrillKey =
  /** What is missing leaves nothing for this patient. */
  | { readonly kind: "nobody"; readonly questions: readonly FirstQuestion[] }
  | (DrillLeg & {
      readonly kind: "changeover";
      readonly questions: readonly FirstQuestion[];
      /** What was asked for and can't be had with what is missing; empty if all can. */
      readonly refused: readonly string[];
      /** Absent for most: the call stays as it was. */
      readonly change?: DrillChange;
    });

/** Ages that drills have, in the words of a telephone. From ten years on no table says what is usual. */
const AGES: readonly (readonly [age: bigint, said: string, beyond?: readonly [fromKg: number, toKg: number]])[] = [
  ...[1, 4, 12].map((days) => [BigInt(days) * AGE_UNITS.days, days === 1 ? "1 day" : `${days} days`] as const),
  ...[6, 8, 11, 14, 20].map((months) => [BigInt(months) * AGE_UNITS.months, `${months} months`] as const),
  ...[2, 3, 5, 7, 9].map((years) => [BigInt(years) * AGE_UNITS.years, `${years} years`] as const),
  // No published line: weights that nobody would ask back (common practice, no source).
  ...(
    [
      [12, 32, 60],
      [15, 42, 80],
      [34, 50, 115],
      [61, 50, 120],
    ] as const
  ).map(([years, fromKg, toKg]) => [BigInt(years) * AGE_UNITS.years, `${years} years`, [fromKg, toKg]] as const),
];
/** Above these kilograms a scale shows tenths only, and then whole ones. */
const [HUNDREDTHS_TO, TENTHS_TO] = [5, 40];
/** A way of fewer steps is done before anybody can call. */
const LEAST_STEPS = 3;
/** Draws of a patient before another configuration is tried. */
const TRIES = 40;

/** The drill of a seed; `undefined` where the platform has no two arrangements with a way for anybody. */
export function drillOf(platform: Platform, service: DrillService, seed: number): Drill | undefined {
  const draw = drawsFrom(`drill ${platform.id} ${seed}`),
    all = validArrangements(platform);
  const withChange = (key: DrillKey, from: Arrangement, missing: Item | undefined): DrillKey => {
    // In one drill of three the call changes on the way.
    if (key.kind === "nobody" || draw(3) > 0) return key;
    const change = changeOf(platform, service, { from, missing, key }, draw);
    return change ? { ...key, change } : key;
  };
  for (const configuration of shuffle(inUse(platform), draw)) {
    const patient = drawPatient(platform, service, configuration.id, draw);
    if (!patient) continue;
    const suited = all.filter((each) => each.configuration.id === configuration.id && suits(each, patient));
    const [least] = suited;
    // Every second patient comes with something more than the least.
    const wanted = draw(2) === 0 ? least : suited[draw(Math.max(1, suited.length))];
    if (!least || !wanted) continue;
    const asked = wanted.options.filter((option) => !least.options.includes(option)).map(({ id }) => id);
    for (const from of shuffle(all, draw).slice(0, TRIES)) {
      if (from.name === wanted.name) continue;
      const missing = drawMissing(platform, service, from, wanted, draw);
      const key = keyOf(platform, service, { from, patient, asked, missing }, configuration.id);
      if (key) return { seed, from, patient, asked, missing, signal: draw(3) > 0, key: withChange(key, from, missing) };
    }
  }
  return undefined;
}

/** Whether an arrangement is for a patient, with all the options that this one needs. */
function suits(arrangement: Arrangement, patient: DrillPatient): boolean {
  return isFor(arrangement, patient) && optionsMissing(arrangement, patient).length === 0;
}

/** A patient for whom the table of bands gives just this configuration. */
function drawPatient(platform: Platform, service: DrillService, id: string, draw: Draw): DrillPatient | undefined {
  for (let attempt = 0; attempt < TRIES * AGES.length; attempt++) {
    const [age, saidAge, beyond] = AGES[draw(AGES.length)]!;
    const usual = beyond ? { fromKg: beyond[0], toKg: beyond[1] } : usualWeights(age);
    if (!usual) continue;
    const { weight: carried } = service.band;
    const least = Math.max(usual.fromKg, carried.from ? kgOf(carried.from.value) : 0.5),
      most = Math.min(usual.toKg, carried.to ? kgOf(carried.to.value) : usual.toKg);
    if (least > most) continue;
    // Each ratio of weights as often as another: most drills would else be of the heaviest.
    const kg = least * (most / least) ** (draw(1001) / 1000);
    const unit = kg < HUNDREDTHS_TO ? 100 : kg < TENTHS_TO ? 10 : 1;
    const weight = (BigInt(Math.round(kg * unit)) * MASS_PER_KG) / BigInt(unit);
    const isUsual = kgOf(weight) >= usual.fromKg && kgOf(weight) <= usual.toKg;
    if (!isUsual || !holds(carried, weight) || !holds(service.band.age, age)) continue;
    const found = rowsFor({ service: service.band, rows: inUse(platform) }, { weight, age });
    if (found.kind === "rows" && found.rows.length === 1 && found.rows[0]!.id === id)
      return { weight, age, said: { weight: sayMassExactly(weight), age: sayMeasure(saidAge) } };
  }
  return undefined;
}

/** In one drill of three a piece is missing, never of what stands: mostly one without which what is wanted is lost. */
function drawMissing(
  platform: Platform,
  service: DrillService,
  from: Arrangement,
  wanted: Arrangement,
  draw: Draw,
): Item | undefined {
  if (draw(3) > 0) return undefined;
  const isLeft = (item: Item, { name }: Arrangement) =>
    stillPossible(platform, service, new Map([[item.id, 1]])).possible.some((each) => each.name === name);
  const spare = platform.items.filter((item) => item.count > 0 && isLeft(item, from)),
    felt = spare.filter((item) => !isLeft(item, wanted));
  const drawn = felt.length > 0 && draw(3) > 0 ? felt : spare;
  return drawn[draw(Math.max(1, drawn.length))];
}

/**
 * The key: questions first, then the arrangement that is still possible for the patient, with all that was asked for or
 * as much of it as can be had, and the way to it. `undefined` where there is nothing to do, or no way.
 */
function keyOf(
  platform: Platform,
  service: DrillService,
  { from, patient, asked, missing }: Pick<Drill, "from" | "patient" | "asked" | "missing">,
  configuration: string,
): DrillKey | undefined {
  const out = new Map(missing ? [[missing.id, 1]] : []),
    questions = firstQuestionsFor(service.questions, patient);
  const suited = stillPossible(platform, service, out).possible.filter((each) => suits(each, patient));
  const refusedBy = (each: Arrangement) => asked.filter((id) => !each.options.some((option) => option.id === id));
  // As much as can be had of what was asked for, and nothing that was not.
  const [to] = suited
    .filter((each) => each.configuration.id === configuration)
    .toSorted((a, b) => refusedBy(a).length - refusedBy(b).length || a.options.length - b.options.length);
  if (!to) return suited.length === 0 ? { kind: "nobody", questions } : undefined;
  const model = modelOf(without(platform, out)),
    [start, end] = [arrangementNamed(model, from.name), arrangementNamed(model, to.name)];
  if (!start || !end || start === end) return undefined;
  const changeover = planFor(model, service, start, end, patient);
  if (!changeover || changeover.steps.length === 0) return undefined;
  const leg = { to: end, changeover, timeline: timelineOf(changeover, service, platform) };
  return { kind: "changeover", questions, refused: refusedBy(end), ...leg };
}

const timelineOf = ({ steps }: Changeover, { crew }: DrillService, platform: Platform): Timeline =>
  planTimeline(
    steps,
    crew.map(({ id }) => id),
    platform,
  );

/**
 * Another patient, or stood down, after some of the steps: the least way from exactly there. `undefined` where nothing
 * can change on so short a way, or nothing leads on.
 */
function changeOf(
  platform: Platform,
  service: DrillService,
  { from, missing, key }: Pick<Drill, "from" | "missing"> & { readonly key: DrillLeg },
  draw: Draw,
): DrillChange | undefined {
  const model = modelOf(without(platform, new Map(missing ? [[missing.id, 1]] : []))),
    order = actingSteps(key),
    start = arrangementNamed(model, from.name)!;
  if (order.length < LEAST_STEPS) return undefined;
  const after = 1 + draw(order.length - 1);
  const begun = begunAt(start, key.changeover.steps, new Set(order.slice(0, after).map(({ index }) => index)));
  const [to, patient] = draw(2) === 0 ? [standsBy(platform, model), undefined] : otherPatient();
  if (!to || to.name === key.to.name) return undefined;
  const changeover = leastFromHere(model, service, begun, to, patient ?? {});
  return changeover && { after, begun, patient, to, changeover, timeline: timelineOf(changeover, service, platform) };

  /** A patient of another configuration, in the least arrangement for them. */
  function otherPatient(): readonly [Arrangement | undefined, DrillPatient | undefined] {
    const others = shuffle(
      inUse(platform).filter(({ id }) => id !== key.to.configuration.id),
      draw,
    );
    for (const { id } of others) {
      const drawn = drawPatient(platform, service, id, draw);
      const to = model.arrangements.find(
        (each) =>
          drawn && each.configuration.id === id && isFor(each, drawn) && optionsMissing(each, drawn).length === 0,
      );
      // Who is asked about first is no news for the middle of a changeover.
      if (drawn && to && firstQuestionsFor(service.questions, drawn).length === 0) return [to, drawn];
    }
    return [undefined, undefined];
  }
}

/** The steps of a way in the order in which they begin, without the reading of the card that ends it. */
const actingSteps = ({ timeline }: DrillLeg): TimedStep[] =>
  inStartingOrder(timeline).filter(({ step }) => !readsCard(step));

/** The steps that are done when the call changes. */
export function stepsBefore(leg: DrillLeg, { after }: DrillChange): TimedStep[] {
  return actingSteps(leg).slice(0, after);
}

const standsBy = (platform: Platform, model: Model): Arrangement | undefined => {
  const standing = standingArrangement(platform);
  return standing && arrangementNamed(model, standing.name);
};
