/** Small platforms, procedures and steps for tests, with everything that a test does not name left plain. */
import type {
  Band,
  Configuration,
  Fastening,
  Item,
  Option,
  Place,
  Platform,
  Procedure,
  Step,
  Where,
} from "../../../src/schema/collection.ts";
import { MASS_PER_KG } from "../../../src/schema/units.ts";

export const WHERE: Where = { file: "tern/platform.yaml", line: 1, column: 1 };
const located = { where: WHERE, at: {} };

/** A band of weights in kg; a missing end is open. The lower end is owned, the upper one is not. */
export function bandOf(fromKg?: number, toKg?: number): Band {
  const end = (kg: number, owned: boolean) => ({
    value: (BigInt(Math.round(kg * 1e6)) * MASS_PER_KG) / 1_000_000n,
    owned,
    text: `${kg} kg`,
  });
  const text =
    [
      fromKg === undefined ? "" : `from ${fromKg} kg`,
      toKg === undefined ? "" : fromKg === undefined ? `under ${toKg} kg` : `to under ${toKg} kg`,
    ]
      .filter(Boolean)
      .join(" ") || "any weight";
  return {
    weight: {
      ...(fromKg === undefined ? {} : { from: end(fromKg, true) }),
      ...(toKg === undefined ? {} : { to: end(toKg, false) }),
      text,
    },
    age: { text: "any age" },
  };
}

const controlled = (id: string, folder: string) => ({
  ...located,
  where: { file: `tern/${folder}/${id}.mdx`, line: 1, column: 1 },
  id,
  platform: "tern",
  file: `tern/${folder}/${id}.mdx`,
  title: id,
  code: id,
  revision: 1,
  status: "approved" as const,
  changes: [],
  band: bandOf(),
});

export function makePlace(id: string, values: Partial<Place> = {}): Place {
  return { ...located, id, name: id, kind: "mount", ...values };
}

export function makeItem(id: string, values: Partial<Item> = {}): Item {
  return { ...located, id, name: id, count: 1, home: "store", carries: false, places: [], ...values };
}

export function makeFastening(id: string, holds: readonly string[], values: Partial<Fastening> = {}): Fastening {
  return { ...located, id, name: id, states: ["in", "out"], secure: "in", holds, ...values };
}

export function makePlatform(values: Partial<Platform> = {}): Platform {
  return {
    ...located,
    id: "tern",
    name: "Tern trolley",
    own: { massKg: 0, xMm: 0 },
    places: [],
    fastenings: [],
    limits: {},
    items: [],
    configurations: [],
    options: [],
    procedures: [],
    photos: [],
    readings: [],
    ...values,
  };
}

export function makeConfiguration(id: string, values: Partial<Configuration> = {}): Configuration {
  return {
    ...controlled(id, "configurations"),
    authority: [],
    standing: false,
    fitted: [],
    fastenings: [],
    options: [],
    checks: [],
    body: [],
    ...values,
  };
}

export function makeOption(id: string, values: Partial<Option> = {}): Option {
  return { ...controlled(id, "options"), fitted: [], empty: [], notWith: [], checks: [], body: [], ...values };
}

export function makeStep(values: Partial<Step> = {}): Step {
  return {
    ...located,
    kind: "step",
    number: 1,
    procedure: "p",
    by: [],
    critical: false,
    hold: false,
    photos: [],
    takesSeconds: 20,
    takesGiven: true,
    band: bandOf(),
    after: [],
    guards: [],
    alerts: [],
    alertsAfter: [],
    instruction: { kind: "paragraph", children: [], where: WHERE },
    detail: [],
    operations: [],
    checks: [],
    ...values,
  };
}

export function makeProcedure(id: string, steps: readonly Step[] = []): Procedure {
  return {
    ...controlled(id, "."),
    purpose: [],
    sections: [],
    steps: steps.map((step, at) => ({ ...step, procedure: id, number: at + 1 })),
  };
}

/** A move as a step's operation. */
export function move(item: string, from: string, to: string, count = 1) {
  return { kind: "move" as const, item, from, to, count, where: WHERE, at: {} };
}

/** A turn as a step's operation. */
export function turn(fastening: string, to: string) {
  return { kind: "turn" as const, fastening, to, where: WHERE, at: {} };
}
