/** Notices and change bars: what people do differently is said, what only moved is not marked. */
import { wordsFor } from "../../../src/words/words.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type {
  ConfigurationContent,
  OptionContent,
  ProcedureContent,
  RequirementContent,
  StepContent,
} from "../../../src/domain/records/content.ts";
import { changedSteps, concerned, noticeOf } from "../../../src/domain/records/notice.ts";
import { differenceBetween } from "../../../src/domain/records/revisions.ts";
import { stepLines, type ThingNames } from "../../../src/domain/records/step-lines.ts";
import { procedureContent } from "../../arbitraries/content.ts";

const located = { where: { file: "service.yaml", line: 1, column: 1 }, at: {} };
const names: ThingNames = {
  item: (id) => id,
  place: (id) => id,
  fastening: (id) => id,
  option: (id) => id,
  incident: (id) => id,
  words: wordsFor({ language: "en-GB" }).records,
  crew: [
    { ...located, id: "lead", name: "Lead" },
    { ...located, id: "second", name: "Second" },
  ],
};
const step = (words: string, rest: Partial<StepContent> = {}): StepContent => ({
  kind: "step",
  by: ["lead"],
  critical: false,
  hold: false,
  photos: [],
  takesSeconds: 20,
  after: [],
  guards: [],
  alerts: [],
  alertsAfter: [],
  instruction: [{ kind: "text", text: words }],
  detail: [],
  operations: [],
  checks: [],
  ...rest,
});
const procedure = (revision: number, steps: readonly StepContent[]): ProcedureContent => ({
  form: 1,
  kind: "procedure",
  platform: "tern",
  id: "p",
  code: "P",
  title: "P",
  revision,
  weight: { text: "any weight" },
  age: { text: "any age" },
  record: { changes: [] },
  purpose: [],
  sections: [{ title: "", entries: steps }],
});
const lock = step("Turn the deck lever down until it stops.", { id: "lock" }),
  lift = step("Lift the capsule on to the base.", { id: "lift" });
const pins = step("Push the four pins in until they are seated.", {
  id: "pins",
  critical: true,
  checks: [{ challenge: "Pins", answer: "four in", by: ["second"] }],
});
const between = (after: readonly StepContent[]) =>
  differenceBetween(procedure(1, [lock, lift, pins]), procedure(2, after));
const points = (after: readonly StepContent[]) => {
  const { different, also } = noticeOf(between(after), names);
  return { different: different.map(({ text }) => text), also: also.map(({ text }) => text) };
};

describe("change bars", () => {
  it("stand at text that changed and at steps that are new", () => {
    expect([
      ...changedSteps(between([lock, step("Wipe the base.", { id: "wipe" }), lift, { ...pins, hold: true }])),
    ]).toEqual([2, 4]);
  });

  it(
    "do not stand at text that only moved, was renamed or waits for other steps (common practice with change " +
      "bars, no source)",
    () => {
      expect(changedSteps(between([lift, pins, lock])).size).toBe(0);
      expect(changedSteps(between([{ ...lock, id: "lock-deck" }, { ...lift, after: ["lock-deck"] }, pins])).size).toBe(
        0,
      );
    },
  );

  it("of an issue against itself are none", () => {
    fc.assert(
      fc.property(procedureContent, (content) => {
        expect(changedSteps(differenceBetween(content, { ...content, revision: 2 })).size).toBe(0);
      }),
    );
  });

  it("are at numbers that the later issue has", () => {
    fc.assert(
      fc.property(procedureContent, procedureContent, (before, after) => {
        const count = after.sections.flatMap(({ entries }) => entries.filter(({ kind }) => kind === "step")).length;
        for (const number of changedSteps(differenceBetween(before, after)))
          expect(number >= 1 && number <= count).toBe(true);
      }),
    );
  });
});

describe("a notice", () => {
  it("says a new step with its check, and a step that is gone with its old number", () => {
    const { different } = noticeOf(
      between([
        lock,
        pins,
        step("Tug both grips.", {
          critical: true,
          hold: true,
          checks: [{ challenge: "Grips", answer: "no gap", by: ["lead"] }],
        }),
      ]),
      names,
    );
    expect(different.map(({ text, step: number, gone }) => [number ?? gone, text])).toEqual([
      [2, "No longer done: “Lift the capsule on to the base.”"],
      [3, "New, safety-critical, a hold: “Tug both grips.” Check: Grips: no gap (lead)."],
    ]);
  });

  it("says a new answer with the old one beside it", () => {
    const { different } = noticeOf(
      between([
        lock,
        lift,
        { ...pins, checks: [{ challenge: "Pins", answer: "four in, four green", by: ["second"] }] },
      ]),
      names,
    );
    expect(different.map(({ text, was, instruction }) => [text, was, instruction])).toEqual([
      [
        "Answer: Pins: four in, four green (second).",
        "four in (second)",
        "Push the four pins in until they are seated.",
      ],
    ]);
  });

  it("puts what is done otherwise before what is only to be known", () => {
    expect(
      points([{ ...lock, reason: [{ kind: "text", text: "it rolls otherwise." }] }, lift, { ...pins, by: ["second"] }]),
    ).toEqual({ different: ["Is done by: second."], also: ["Why: it rolls otherwise."] });
  });

  it("leaves out what nobody does or reads otherwise: time, names, waiting of a plain step", () => {
    expect(points([{ ...lock, takesSeconds: 90 }, { ...lift, after: ["lock"] }, pins])).toEqual({
      different: [],
      also: [],
    });
  });
  it("says a guard that is new, and that a safety-critical step waits for others", () => {
    const { different } = points([lock, { ...lift, guards: ["near-miss-1"] }, { ...pins, after: ["lift"] }]);
    expect(JSON.stringify(different)).toMatch(/Guards against: near-miss-1.*Waits for other steps now/);
  });

  it("misses nothing that weighs: every procedural or critical aspect of a step that stayed has its point", () => {
    const silent = new Set(["takes", "guards", "name"]);
    fc.assert(
      fc.property(procedureContent, procedureContent, (before, after) => {
        const difference = differenceBetween(before, after),
          { different } = noticeOf(difference, names);
        for (const change of difference.steps) {
          const weighty =
            change.kind === "added" ||
            change.kind === "removed" ||
            stepLines(change, names).some(
              (line) => !silent.has(line.aspect) && (line.class === "procedural" || line.class === "critical"),
            );
          if (!weighty) continue;
          const told = different.some((point) =>
            change.after ? point.step === change.after.number : point.gone === change.before!.number,
          );
          expect(told, JSON.stringify(change.aspects)).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it("is for those who do what changed, in the crew's order; for all if it is about the whole", () => {
    const { different } = noticeOf(between([lock, lift, { ...pins, by: ["second"] }]), names);
    expect(concerned(different, ["lead", "second"])).toEqual(["second"]);
    expect(concerned([{ text: "x", class: "procedural", by: [] }], ["lead", "second"])).toEqual(["lead", "second"]);
  });
});

describe("a notice of an option or a configuration", () => {
  const any = { text: "any weight" },
    option: OptionContent = {
      form: 1,
      kind: "option",
      platform: "tern",
      id: "mat",
      code: "M",
      title: "Mat",
      revision: 1,
      weight: any,
      age: { text: "any age" },
      record: { changes: [] },
      body: [],
      fitted: [],
      empty: [],
      notWith: [],
      checks: [{ challenge: "Slot", answer: "empty", by: ["second"] }],
    };
  const told = (change: Partial<OptionContent> & Pick<Partial<ConfigurationContent>, "requires">) =>
    noticeOf(differenceBetween(option, { ...option, ...change, revision: 2 } as OptionContent), names).different.map(
      ({ text }) => text,
    );

  it("says what must be left empty, what never goes together, what is always fitted, whose place a line takes", () => {
    expect(told({})).toEqual([]);
    expect(told({ empty: ["slot"] })).toEqual(["Left empty: slot."]);
    expect(told({ notWith: ["rolls", "shelf"] })).toEqual(["Never fitted together with: rolls, shelf."]);
    const under: RequirementContent = { option: "rolls", weight: { text: "under 2.5 kg" }, age: { text: "any age" } };
    expect(told({ requires: [under] })).toEqual(["Always fitted: rolls: under 2.5 kg."]);
    expect(told({ checks: [{ ...option.checks[0]!, replaces: "Mattress" }] })).toEqual([
      "Answer: Slot: empty (second), read in the place of: Mattress.",
    ]);
  });
});
