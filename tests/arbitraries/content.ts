/** Generators of frozen contents: procedures whose steps have ids or not, are like each other or not. */
import fc from "fast-check";
import type {
  BlockContent,
  CheckContent,
  InlineContent,
  OperationContent,
  ProcedureContent,
  RangeContent,
  StepContent,
} from "../../src/domain/records/content.ts";

const sentence = fc
  .array(
    fc.constantFrom(
      "push",
      "lift",
      "the",
      "four",
      "pins",
      "capsule",
      "lever",
      "until",
      "each",
      "clicks",
      "down",
      "slowly",
      "not",
    ),
    { minLength: 1, maxLength: 7 },
  )
  .map((words) => `${words.join(" ")}.`);
const inlines: fc.Arbitrary<InlineContent[]> = sentence.map((text) => [{ kind: "text", text }]);
const paragraph: fc.Arbitrary<BlockContent> = inlines.map((children) => ({ kind: "paragraph", children }));
const alert = fc.record({
  kind: fc.constant("alert" as const),
  signal: fc.constantFrom("warning" as const, "caution" as const, "note" as const),
  children: fc.array(paragraph, { minLength: 1, maxLength: 2 }),
});
const names = fc.constantFrom("a", "b", "c");
const operation: fc.Arbitrary<OperationContent> = fc.oneof(
  fc.record({
    kind: fc.constant("move" as const),
    item: names,
    count: fc.integer({ min: 1, max: 4 }),
    from: names,
    to: names,
  }),
  fc.record({ kind: fc.constant("turn" as const), fastening: names, to: fc.constantFrom("in", "out") }),
);
const check: fc.Arbitrary<CheckContent> = fc.record({
  challenge: names,
  answer: sentence,
  by: fc.subarray(["lead", "second"]),
});
const range: fc.Arbitrary<RangeContent> = fc.constantFrom<RangeContent>(
  { text: "any weight" },
  { text: "from 5 kg", from: { value: "5", owned: true } },
  { text: "over 5 kg", from: { value: "5", owned: false } },
);

/** A step, with the given id or none. */
export function stepContent(id: fc.Arbitrary<string | undefined>): fc.Arbitrary<StepContent> {
  return fc
    .record({
      kind: fc.constant("step" as const),
      id,
      by: fc.subarray(["lead", "second"]),
      critical: fc.boolean(),
      hold: fc.boolean(),
      photos: fc.array(fc.record({ id: names }), { maxLength: 1 }),
      takesSeconds: fc.constantFrom(20, 40),
      weight: fc.option(range, { nil: undefined }),
      after: fc.subarray(["one", "two"]),
      guards: fc.subarray(["near-miss-1"]),
      alerts: fc.array(alert, { maxLength: 1 }),
      alertsAfter: fc.constant([]),
      instruction: inlines,
      reason: fc.option(inlines, { nil: undefined }),
      detail: fc.array(paragraph, { maxLength: 1 }),
      operations: fc.array(operation, { maxLength: 2 }),
      checks: fc.array(check, { maxLength: 1 }),
    })
    .map((step) => JSON.parse(JSON.stringify(step)) as StepContent);
}

/** A procedure of up to two sections; ids within it are not used twice. */
export const procedureContent: fc.Arbitrary<ProcedureContent> = fc
  .record({
    title: sentence,
    effective: fc.option(fc.constantFrom("2026-01-01", "2026-02-01"), { nil: undefined }),
    weight: range,
    purpose: fc.array(paragraph, { maxLength: 2 }),
    sections: fc.array(
      fc.record({
        title: names,
        entries: fc.array(
          fc.oneof(
            {
              weight: 5,
              arbitrary: stepContent(fc.option(fc.constantFrom("one", "two", "three", "four"), { nil: undefined })),
            },
            alert,
            fc.record({ kind: fc.constant("include" as const), procedure: names }),
          ),
          { maxLength: 5 },
        ),
      }),
      { maxLength: 2 },
    ),
  })
  .map((parts) => {
    const seen = new Set<string>();
    const sections = parts.sections.map(({ title, entries }) => ({
      title,
      entries: entries.map((entry) => {
        if (entry.kind !== "step" || !entry.id || !seen.has(entry.id)) {
          if (entry.kind === "step" && entry.id) seen.add(entry.id);
          return entry;
        }
        const { id: _taken, ...rest } = entry;
        return rest;
      }),
    }));
    return JSON.parse(
      JSON.stringify({
        ...parts,
        sections,
        form: 1,
        kind: "procedure",
        platform: "tern",
        id: "seat",
        code: "X-1",
        revision: 1,
        age: { text: "any age" },
        record: { changes: [] },
      }),
    ) as ProcedureContent;
  });
