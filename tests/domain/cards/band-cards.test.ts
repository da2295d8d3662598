/**
 * Cards of elementary bands against a second, naive look: each patient asked for one by one, with plain comparisons of
 * numbers.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addressOfBand, bandCardsOf } from "../../../src/domain/cards/band-cards.ts";
import { holdsPatient } from "../../../src/domain/bands/bands.ts";
import { cardCodeOf, cardContentOf } from "../../../src/domain/cards/card-content.ts";
import type {
  ConfigurationContent,
  OptionContent,
  ProcedureContent,
  RangeContent,
  StepContent,
} from "../../../src/domain/records/content.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../../src/schema/units.ts";

/** A range in whole kilograms or days. */
interface Span {
  readonly from?: number | undefined;
  readonly fromOwned: boolean;
  readonly to?: number | undefined;
  readonly toOwned: boolean;
}
interface Patients {
  readonly kg: Span;
  readonly days: Span;
}

/** ISO 80000-2, 2-7.7 to 2-7.10: [a, b], ]a, b], [a, b[ and ]a, b[, asked of one number. */
const isIn = ({ from, fromOwned, to, toOwned }: Span, value: number) =>
  (from === undefined || value > from || (fromOwned && value === from)) &&
  (to === undefined || value < to || (toOwned && value === to));
const isFor = ({ kg, days }: Patients, patient: Patient) => isIn(kg, patient.kg) && isIn(days, patient.days);

interface Patient {
  readonly kg: number;
  readonly days: number;
}
const EVERYBODY: readonly Patient[] = Array.from({ length: 19 }, (_, at) => at / 2 + 0.5).flatMap((kg) =>
  [0, 1, 1.5, 2, 2.5, 3, 9].map((days) => ({ kg, days })),
);

function rangeOf({ from, fromOwned, to, toOwned }: Span, unit: "kg" | "days"): RangeContent {
  const one = unit === "kg" ? MASS_PER_KG : AGE_PER_DAY;
  const low = from === undefined ? "" : `${fromOwned ? "from" : "over"} ${from} ${unit}`,
    high =
      to === undefined ? "" : `${low ? (toOwned ? "up to" : "to under") : toOwned ? "up to" : "under"} ${to} ${unit}`;
  return {
    text: [low, high].filter(Boolean).join(" ") || (unit === "kg" ? "any weight" : "any age"),
    ...(from === undefined ? {} : { from: { value: String(BigInt(from) * one), owned: fromOwned } }),
    ...(to === undefined ? {} : { to: { value: String(BigInt(to) * one), owned: toOwned } }),
  };
}
const bandOf = ({ kg, days }: Patients) => ({ weight: rangeOf(kg, "kg"), age: rangeOf(days, "days") });

const head = { form: 1, platform: "sled", code: "", revision: 1, record: { changes: [] } } as const;
const check = (challenge: string) => ({ challenge, answer: "as it should be", by: [] });
const stepOf = (name: string, hold: boolean, critical: boolean, patients: Patients | undefined): StepContent => ({
  kind: "step",
  by: [],
  critical,
  hold,
  photos: [],
  takesSeconds: 20,
  ...(patients ? bandOf(patients) : {}),
  after: [],
  guards: [],
  alerts: [],
  alertsAfter: [],
  instruction: [{ kind: "text", text: name }],
  detail: [],
  operations: [{ kind: "move", item: "shell", count: 1, from: "store", to: "bed" }],
  checks: [check(name)],
});
const procedureOf = (id: string, patients: Patients, steps: readonly StepContent[]): ProcedureContent => ({
  ...head,
  ...bandOf(patients),
  kind: "procedure",
  id,
  title: id,
  purpose: [],
  sections: [{ title: "", entries: steps }],
});
const optionOf = (id: string, patients: Patients): OptionContent => ({
  ...head,
  ...bandOf(patients),
  kind: "option",
  id,
  title: id,
  fitted: [{ place: "bay", item: id, count: 1 }],
  empty: [],
  notWith: [],
  checks: [check(`${id} latch`)],
  body: [],
});
const configurationOf = (
  patients: Patients,
  options: readonly string[],
  checks: readonly string[],
): ConfigurationContent => ({
  ...head,
  ...bandOf(patients),
  kind: "configuration",
  id: "shell",
  title: "Shell",
  authority: [],
  standing: false,
  fitted: [{ place: "bed", item: "shell", count: 1 }],
  fastenings: [],
  options,
  checks: checks.map(check),
  body: [],
});

const ALL: Span = { fromOwned: true, toOwned: true };
const span = (most: number): fc.Arbitrary<Span> =>
  fc
    .record({
      from: fc.option(fc.integer({ min: 1, max: most }), { nil: undefined }),
      fromOwned: fc.boolean(),
      to: fc.option(fc.integer({ min: 1, max: most }), { nil: undefined }),
      toOwned: fc.boolean(),
    })
    .filter(
      ({ from, fromOwned, to, toOwned }) =>
        from === undefined || to === undefined || from < to || (from === to && fromOwned && toOwned),
    );
const patients: fc.Arbitrary<Patients> = fc.record({
  kg: span(8),
  days: fc.oneof({ weight: 2, arbitrary: fc.constant(ALL) }, span(3)),
});
const steps = fc.array(
  fc.record({ hold: fc.boolean(), critical: fc.boolean(), for: fc.option(patients, { nil: undefined }) }),
  { maxLength: 4 },
);
const platform = fc.record({
  whole: patients,
  options: fc.array(patients, { maxLength: 3 }),
  procedures: fc.array(fc.record({ for: patients, steps }), { maxLength: 2 }),
});

function build({
  whole,
  options,
  procedures,
}: {
  whole: Patients;
  options: readonly Patients[];
  procedures: readonly {
    for: Patients;
    steps: readonly { hold: boolean; critical: boolean; for?: Patients | undefined }[];
  }[];
}) {
  // A step for none of its procedure's patients is an error of its own (bands/step-never-applies).
  const applies = (own: Patients, step: Patients | undefined) =>
    EVERYBODY.some((patient) => isFor(own, patient) && (!step || isFor(step, patient)));
  const named = procedures.map((procedure, at) => ({
    ...procedure,
    steps: procedure.steps
      .filter((step) => applies(procedure.for, step.for))
      .map((step, index) => ({ ...step, name: `look ${at} ${index}` })),
  }));
  const names = named.flatMap((procedure) => procedure.steps.map(({ name }) => name));
  const configuration = configurationOf(
    whole,
    options.map((_, at) => `option-${at}`),
    names,
  );
  const contents = [
    configuration,
    ...options.map((each, at) => optionOf(`option-${at}`, each)),
    ...named.map((procedure, at) =>
      procedureOf(
        `p-${at}`,
        procedure.for,
        procedure.steps.map((step) => stepOf(step.name, step.hold, step.critical, step.for)),
      ),
    ),
  ];
  /** What a patient's card holds, each asked by itself. */
  const naive = (patient: Patient) => {
    const done = named
      .filter((procedure) => isFor(procedure.for, patient))
      .flatMap((procedure) => procedure.steps)
      .filter((step) => !step.for || isFor(step.for, patient));
    return {
      holds: done
        .filter(({ hold }) => hold)
        .map(({ name }) => name)
        .sort(),
      critical: done
        .filter(({ critical }) => critical)
        .map(({ name }) => name)
        .sort(),
      options: options.flatMap((each, at) => (isFor(each, patient) ? [`option-${at}`] : [])),
    };
  };
  return { configuration, contents, naive };
}
const exact = ({ kg, days }: Patient) => ({
  weight: (BigInt(kg * 2) * MASS_PER_KG) / 2n,
  age: (BigInt(days * 2) * AGE_PER_DAY) / 2n,
});

describe("the cards of elementary bands", () => {
  it(
    "give each patient of the configuration exactly one card, with exactly the lines for that patient and no " +
      "“only”; nobody else has one",
    () => {
      let several = 0;
      fc.assert(
        fc.property(platform, (drawn) => {
          const { configuration, contents, naive } = build(drawn);
          const cards = bandCardsOf(configuration, contents),
            whole = cardContentOf(configuration, contents);
          several += cards.length > 1 ? 1 : 0;
          for (const patient of EVERYBODY) {
            const own = cards.filter(({ band }) => holdsPatient(band, exact(patient)));
            if (!isFor(drawn.whole, patient)) {
              expect(own).toEqual([]);
              continue;
            }
            expect(own).toHaveLength(cards.length ? 1 : 0);
            const { lines, options } = own[0]?.content ?? whole,
              expected = naive(patient);
            expect(lines.flatMap((line) => (line.kind === "hold" ? [line.text] : [])).sort()).toEqual(expected.holds);
            expect(
              lines.flatMap((line) => (line.kind === "check" && line.critical ? [line.challenge] : [])).sort(),
            ).toEqual(expected.critical);
            if (own[0]) expect(options.map(({ id }) => id)).toEqual(expected.options);
            expect(lines.filter((line) => line.kind === "hold" && line.only !== undefined)).toEqual([]);
          }
        }),
        { numRuns: 300 },
      );
      expect(several).toBeGreaterThan(60);
    },
  );

  it("are none where every patient has the same lines, whatever else divides them", () => {
    const whole: Patients = { kg: { from: 2, fromOwned: true, to: 8, toOwned: false }, days: ALL };
    const { configuration, contents } = build({
      whole,
      options: [{ kg: { from: 1, fromOwned: true, to: 8, toOwned: false }, days: ALL }],
      procedures: [{ for: { kg: ALL, days: ALL }, steps: [{ hold: true, critical: true, for: whole }] }],
    });
    expect(bandCardsOf(configuration, contents)).toEqual([]);
  });

  const newborn = () =>
    build({
      whole: { kg: { from: 1, fromOwned: true, to: 5, toOwned: false }, days: ALL },
      procedures: [],
      options: [
        { kg: { fromOwned: true, to: 3, toOwned: false }, days: ALL },
        { kg: { from: 2, fromOwned: true, toOwned: true }, days: { fromOwned: true, to: 28, toOwned: false } },
      ],
    });

  it("join neighbours with the same lines, and say each end as the author wrote it (worked by hand)", () => {
    const { configuration, contents } = newborn();
    expect(
      bandCardsOf(configuration, contents).map(({ band, content }) => [
        band.weight.text,
        band.age.text,
        content.options.map(({ id }) => id).join(" "),
      ]),
    ).toEqual([
      ["from 1 kg to under 2 kg", "any age", "option-0"],
      ["from 2 kg to under 3 kg", "under 28 days", "option-0 option-1"],
      ["from 2 kg to under 3 kg", "from 28 days", "option-0"],
      ["from 3 kg to under 5 kg", "under 28 days", "option-1"],
      ["from 3 kg to under 5 kg", "from 28 days", ""],
    ]);
  });

  it("have codes and addresses of their own, and keep the code when an option's band changes elsewhere", () => {
    const { configuration, contents } = newborn();
    const cards = bandCardsOf(configuration, contents),
      codes = cards.map(({ content }) => cardCodeOf(content));
    expect(new Set([...codes, cardCodeOf(cardContentOf(configuration, contents))]).size).toBe(cards.length + 1);
    expect(new Set(cards.map(({ band }) => addressOfBand(band))).size).toBe(cards.length);
    expect(addressOfBand(cards[1]!.band)).toBe("from-2-kg-to-under-3-kg-under-28-days");
    const moved = contents.map((content) =>
      content.id === "option-0"
        ? { ...content, weight: rangeOf({ fromOwned: true, to: 4, toOwned: false }, "kg") }
        : content,
    );
    const later = bandCardsOf(configuration, moved).map(({ content }) => cardCodeOf(content));
    expect(later[0]).toBe(codes[0]);
    expect(later).not.toContain(codes[1]);
  });
});
