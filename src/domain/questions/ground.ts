/** What every kind of question is asked from: one platform, its model, and the states in which its procedures run. */
import type { Configuration, Platform, Procedure, Service, Step } from "../../schema/collection.ts";
import type { Arrangement } from "../arrangements.ts";
import { nextMinimal } from "../chance.ts";
import { buildModel, type Model, type Program, type State } from "../model.ts";
import { sayInstruction } from "../say.ts";
import { findOrders, type Orders, startsOf } from "./orders.ts";
import { readAlike, type Source } from "./question.ts";

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
  const model = buildModel(platform);
  const starts = startsOf(model, service.band);
  const orders = new Map<Program, Orders | undefined>();
  const ordersOf = (program: Program) => {
    if (!orders.has(program)) orders.set(program, findOrders(model, program, starts.get(program) ?? []));
    return orders.get(program);
  };
  const arrangements = model.arrangements.filter(({ configuration, options }) => configuration.status === "approved" && options.length < 2);
  return { service, platform, model, starts, ordersOf, arrangements };
}

/** A configuration as the source of a question. */
export function fromConfiguration({ id, title, code, revision }: Configuration, critical = false): Source {
  return { kind: "configuration", id, title, code, revision, critical };
}

/** A procedure as the source of a question, or one of its steps. */
export function fromProcedure({ id, title, code, revision }: Procedure, step?: Step): Source {
  return { kind: "procedure", id, title, code, revision, critical: step?.critical ?? false, ...(step ? { step: step.number } : {}) };
}

/** How an arrangement is called: `Newborn capsule with gas shelf`. */
export function sayArrangement({ configuration, options }: Arrangement): string {
  return [configuration.title, ...options.map(({ title }) => lowerFirst(title))].join(" with ");
}

/** The first letter made small, unless the word is an abbreviation. */
export function lowerFirst(text: string): string {
  return /^\p{Lu}\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** Which of a procedure's patients a program is for, when its steps differ between patients: ` (steps for …)`; else empty. */
export function sayVariant(ground: Ground, { procedure, steps }: Program): string {
  if (steps.length === procedure.steps.length) return "";
  const banded = steps.find((step) => (step.ownWeight || step.ownAge) && !holdsForAll(ground, procedure, step));
  if (!banded) return "";
  return `, for a patient ${[banded.ownWeight?.text, banded.ownAge?.text].filter(Boolean).join(", ")}`;
}

function holdsForAll(ground: Ground, procedure: Procedure, step: Step): boolean {
  return [...ground.starts.keys()].every((program) => program.procedure !== procedure || program.steps.includes(step));
}

/** Whether two steps read alike, or do the same thing in other words: such a step is no wrong answer for the other. */
export function isSameDeed(a: Step, b: Step): boolean {
  const [one, other] = [deedsOf(a), deedsOf(b)];
  return one.text === other.text || other.deeds.some((deed) => one.deeds.includes(deed));
}

interface Deeds {
  readonly text: string;
  readonly deeds: readonly string[];
}

const known = new WeakMap<Step, Deeds>();

/** What a step says, does and has looked at; remembered, since every step is compared with every other. */
function deedsOf(step: Step): Deeds {
  const found = known.get(step);
  if (found) return found;
  const { operations, checks } = step;
  const deeds = [
    ...operations.map((operation) => (operation.kind === "turn" ? `turn ${operation.fastening} ${operation.to}` : `move ${operation.item} ${operation.to}`)),
    ...checks.map(({ challenge }) => `check ${readAlike(challenge)}`),
  ];
  const fresh = { text: readAlike(sayInstruction(step)), deeds };
  known.set(step, fresh);
  return fresh;
}

/** Steps of a program that are there only once, so that naming one names no other. */
export function isUnmistakable(steps: readonly Step[], step: Step): boolean {
  const { text } = deedsOf(step);
  return text !== "" && steps.filter((other) => deedsOf(other).text === text).length === 1;
}

/** Steps of the platform's other approved procedures: those that work on the same things first, equals in an order that differs from step to step. */
export function stepsElsewhere({ platform }: Ground, procedure: Procedure, like: Step): Step[] {
  const things = new Set(thingsOf(like));
  const nearness = (step: Step) => thingsOf(step).filter((thing) => things.has(thing)).length;
  const own = new Set(procedure.steps.map(({ procedure: id }) => id)).add(procedure.id);
  return platform.procedures.filter(({ id, status }) => !own.has(id) && status === "approved").flatMap(({ id, steps }) => steps.filter((step) => step.procedure === id))
    .map((step) => ({ step, near: nearness(step), turn: scatter(sayInstruction(step) + sayInstruction(like)) })).sort((a, b) => b.near - a.near || a.turn - b.turn).map(({ step }) => step);
}

/** A number that differs without pattern from text to text. */
function scatter(text: string): number {
  let number = 7;
  for (let at = 0; at < text.length; at++) number = (number * 31 + text.charCodeAt(at)) % 2_147_483_647;
  return nextMinimal(number);
}

/** Ids of the items, places, fastenings and photos of a step. */
export function thingsOf({ operations, photos, guards }: Step): string[] {
  return [
    ...operations.flatMap((operation) => (operation.kind === "turn" ? [operation.fastening] : [operation.item, operation.from, operation.to])),
    ...photos.map(({ id }) => `photo ${id}`), ...guards.map(({ id }) => `guard ${id}`),
  ];
}
