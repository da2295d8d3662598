/** What every kind of question is asked from: one platform, its model, and the states in which its procedures run. */
import { wordsFor } from "../../../words/words.ts";
import type { Configuration, Platform, Procedure, Service, Step } from "../../../schema/collection.ts";
import type { Arrangement } from "../../parts/arrangements.ts";
import { nextMinimal } from "../../numbers/chance.ts";
import { modelOf, type Model, type Program, type State } from "../../states/model.ts";
import { sayInstruction } from "../../words/say.ts";
import { findOrders, type Orders, startsOf } from "./orders.ts";
import { readAlike, type QuestionSource } from "./question.ts";
import { remember } from "../../words/remember.ts";
import { nearProcedures } from "./near.ts";
import { crossPatients, inventPatients } from "./patients.ts";
import { holdsPatient } from "../../bands/bands.ts";
import { usableProcedures } from "../../parts/lookup.ts";

/** What questions are asked of: one platform as it is in force, proved once for all of them. */
export interface Ground {
  readonly service: Service;
  readonly platform: Platform;
  readonly model: Model;
  /** Programs of approved procedures, each with the states in which it runs. */
  readonly starts: ReadonlyMap<Program, readonly State[]>;
  /** The orders in which a program's steps can be done; looked for once. `undefined` if there are too many. */
  readonly ordersOf: (program: Program) => Orders | undefined;
  /** Approved configurations alone, then each with one option. */
  readonly arrangements: readonly Arrangement[];
}

/** The ground for one platform. */
export function layGround(service: Service, platform: Platform): Ground {
  const model = modelOf(platform);
  const starts = startsOf(model, service.band);
  const orders = new Map<Program, Orders | undefined>();
  const ordersOf = (program: Program) => {
    if (!orders.has(program)) orders.set(program, findOrders(model, program, starts.get(program) ?? []));
    return orders.get(program);
  };
  const arrangements = model.arrangements.filter(
    ({ configuration, options }) => configuration.status === "approved" && options.length < 2,
  );
  return { service, platform, model, starts, ordersOf, arrangements };
}

/** A configuration as the source of a question. */
export function fromConfiguration({ id, title, code, revision }: Configuration, critical = false): QuestionSource {
  return { kind: "configuration", id, title, code, revision, critical };
}

/** A procedure as the source of a question, or one of its steps. */
export function fromProcedure({ id, title, code, revision }: Procedure, step?: Step): QuestionSource {
  return {
    kind: "procedure",
    id,
    title,
    code,
    revision,
    critical: step?.critical ?? false,
    ...(step ? { step: step.number } : {}),
  };
}

/**
 * A patient for whom a procedure's steps are those of a program: `, for a patient of 14 kg`; empty where all of its
 * patients have the same steps. The patient stands at no end of a band, where one does not have to.
 */
export const sayVariant = remember((ground: Ground, program: Program): string => {
  const { procedure } = program;
  const variants = [...ground.starts.keys()].filter((other) => other.procedure === procedure);
  if (variants.length < 2 && program.steps.length === procedure.steps.length) return "";
  const has = new Set(program.steps);
  const bands = [procedure.band, ground.service.band];
  const own = procedure.steps.map(({ band }) => band);
  const patients = [...inventPatients(own, bands), ...crossPatients([...own, ...bands])].filter(
    (patient) =>
      bands.every((band) => holdsPatient(band, patient)) &&
      procedure.steps.every((step) => holdsPatient(step.band, patient) === has.has(step)),
  );
  const middle = patients[Math.floor(patients.length / 2)];
  return middle ? wordsFor(ground.service).study.forOneOf({ told: middle.told }) : "";
});

/** Whether two steps read alike, or do the same thing in other words: such a step is no wrong answer for the other. */
export function isSameDeed(a: Step, b: Step): boolean {
  const [one, other] = [deedsOf(a), deedsOf(b)];
  return one.text === other.text || other.deeds.some((deed) => one.deeds.includes(deed));
}

interface Deeds {
  readonly text: string;
  readonly deeds: readonly string[];
}

/** What a step says, does and has looked at; remembered, since every step is compared with every other. */
const deedsOf = remember((step: Step): Deeds => {
  const { operations, checks } = step;
  const deeds = [
    ...operations.map((operation) =>
      operation.kind === "turn"
        ? `turn ${operation.fastening} ${operation.to}`
        : `move ${operation.item} ${operation.to}`,
    ),
    ...checks.map(({ challenge }) => `check ${readAlike(challenge)}`),
  ];
  return { text: readAlike(sayInstruction(step)), deeds };
});

/** Steps of a program that are there only once, so that naming one names no other. */
export function isUnmistakable(steps: readonly Step[], step: Step): boolean {
  const { text } = deedsOf(step);
  return text !== "" && steps.filter((other) => deedsOf(other).text === text).length === 1;
}

/**
 * At most `count` steps of the procedures near this one that do nothing which one of `own` does: those that work on the
 * same things as `like` first, equals in an order that differs from step to step.
 */
export function stepsElsewhere(
  ground: Ground,
  procedure: Procedure,
  own: readonly Step[],
  like: Step,
  count: number,
): Step[] {
  const things = new Set(thingsOfStep(like));
  const text = sayInstruction(like),
    shift = shiftBy(text.length),
    tail = scatter(0, text);
  const best: { readonly step: Step; readonly near: number; readonly turn: number }[] = [];
  for (const { step, things: others, scattered } of foreignTo(ground, procedure, own)) {
    let near = 0;
    for (const thing of others) if (things.has(thing)) near++;
    const worst = best[count - 1];
    if (worst && near < worst.near) continue;
    const turn = nextMinimal((multiply(scattered, shift) + tail) % MODULUS);
    let at = best.length;
    while (at > 0 && (best[at - 1]!.near < near || (best[at - 1]!.near === near && best[at - 1]!.turn > turn))) at--;
    if (at >= count) continue;
    best.splice(at, 0, { step, near, turn });
    if (best.length > count) best.pop();
  }
  return best.map(({ step }) => step);
}

interface Foreign {
  readonly step: Step;
  readonly things: readonly string[];
  /** `scatter` of its instruction. */
  readonly scattered: number;
}

/**
 * Steps of the procedures near this one that do nothing which one of `own` does; looked for once, since each step of a
 * program asks for them.
 */
const foreignTo = remember((ground: Ground, procedure: Procedure, own: readonly Step[]): readonly Foreign[] => {
  const inside = new Set(procedure.steps.map(({ procedure: id }) => id)).add(procedure.id);
  const texts = new Set(own.map((step) => deedsOf(step).text)),
    deeds = new Set(own.flatMap((step) => deedsOf(step).deeds));
  const near = nearProcedures(ground, procedure);
  return approvedSteps(ground).filter(
    ({ procedure: id, step }) =>
      near.has(id) &&
      !inside.has(id) &&
      !texts.has(deedsOf(step).text) &&
      !deedsOf(step).deeds.some((deed) => deeds.has(deed)),
  );
});

/** Every approved procedure's own steps. */
const approvedSteps = remember((ground: Ground): readonly (Foreign & { readonly procedure: string })[] =>
  usableProcedures(ground.platform).flatMap(({ id, steps }) =>
    steps
      .filter((step) => step.procedure === id)
      .map((step) => ({
        procedure: id,
        step,
        things: thingsOfStep(step),
        scattered: scatter(START, sayInstruction(step)),
      })),
  ),
);

const MODULUS = 2_147_483_647;
const BASE = 31;
const START = 7;

/**
 * A number that differs without pattern from text to text; from `start` on, so that one text can be taken after
 * another.
 */
function scatter(start: number, text: string): number {
  let number = start;
  for (let at = 0; at < text.length; at++) number = (number * BASE + text.charCodeAt(at)) % MODULUS;
  return number;
}

/**
 * By what a text of that length shifts the number of a text before it: `scatter(n, text)` is `n * shiftBy(length) +
 * scatter(0, text)`.
 */
function shiftBy(length: number): number {
  let shift = 1;
  for (let at = 0; at < length; at++) shift = (shift * BASE) % MODULUS;
  return shift;
}

/** A product of two numbers of 31 bits, exact although it has more bits than a number holds. */
function multiply(a: number, b: number): number {
  return (((a * (b >>> 16)) % MODULUS) * 65_536 + a * (b & 65_535)) % MODULUS;
}

/** Ids of the items, places, fastenings and photos of a step. */
export function thingsOfStep({ operations, photos, guards }: Step): string[] {
  return [
    ...operations.flatMap((operation) =>
      operation.kind === "turn" ? [operation.fastening] : [operation.item, operation.from, operation.to],
    ),
    ...photos.map(({ id }) => `photo ${id}`),
    ...guards.map(({ id }) => `guard ${id}`),
  ];
}
