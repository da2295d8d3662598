/** Differences between issues: what is added, removed, moved, reworded; how weighty it is; which sign-offs stand. */
import { describe, expect, it } from "vitest";
import fc from "fast-check";
import type { Content, ProcedureContent, StepContent } from "../../../src/domain/records/content.ts";
import { canonicalJson, differs } from "../../../src/domain/records/freeze.ts";
import {
  applyDifference,
  differenceBetween,
  earliestStanding,
  isEmptyDifference,
} from "../../../src/domain/records/revisions.ts";
import { sayDifference } from "../../../src/domain/records/say-difference.ts";
import { procedureContent } from "../../arbitraries/content.ts";

/** A step that says `words`; the rest is plain unless given. */
function step(words: string, rest: Partial<StepContent> = {}): StepContent {
  return {
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
  };
}

function procedure(
  revision: number,
  steps: readonly StepContent[],
  rest: Partial<ProcedureContent> = {},
): ProcedureContent {
  return {
    form: 1,
    kind: "procedure",
    platform: "tern",
    id: "seat-capsule",
    code: "FCR-T-02",
    title: "Seat the capsule",
    revision,
    weight: { text: "any weight" },
    age: { text: "any age" },
    record: { changes: [] },
    purpose: [],
    sections: [{ title: "", entries: steps }],
    ...rest,
  };
}

const lock = step("Turn the deck lever down until it stops.");
const lift = step("Lift the capsule by its two grips on to the base.", {
  operations: [{ kind: "move", item: "capsule", count: 1, from: "store", to: "base" }],
});
const pins = step("Push the four pins in until they are seated.", {
  critical: true,
  checks: [{ challenge: "Pins", answer: "four in", by: ["second"] }],
});
const pouch = step("Close the pouch.", { reason: [{ kind: "text", text: "An open pouch loses its rolls in a turn" }] });
const base = [lock, lift, pins, pouch];
const changed = (at: number, rest: Partial<StepContent>) =>
  base.map((each, index) => (index === at ? { ...each, ...rest } : each));
const said = (words: string): Partial<StepContent> => ({ instruction: [{ kind: "text", text: words }] });

describe("difference between two issues", () => {
  it("gives the later issue when it is applied to the earlier one", () => {
    fc.assert(
      fc.property(procedureContent, procedureContent, (before, after) => {
        const difference = differenceBetween(before, { ...after, revision: 2 });
        expect(canonicalJson(applyDifference(before, difference))).toBe(canonicalJson({ ...after, revision: 2 }));
      }),
      { numRuns: 300 },
    );
  });

  it("is empty exactly when a reader can notice nothing", () => {
    fc.assert(
      fc.property(procedureContent, procedureContent, (before, after) => {
        expect(isEmptyDifference(differenceBetween(before, before))).toBe(true);
        // A step that only went to another section is noticed by its heading, so `differs` may be true where steps are
        // the same.
        if (!isEmptyDifference(differenceBetween(before, after))) expect(differs(before, after)).toBe(true);
        if (!differs(before, after)) expect(isEmptyDifference(differenceBetween(before, after))).toBe(true);
      }),
    );
  });

  it("accounts for every step of both issues once", () => {
    fc.assert(
      fc.property(procedureContent, procedureContent, (before, after) => {
        const { steps } = differenceBetween(before, after);
        const count = (content: ProcedureContent) =>
          content.sections.flatMap(({ entries }) => entries.filter(({ kind }) => kind === "step")).length;
        const numbers = (side: "before" | "after") =>
          steps.flatMap((change) => change[side]?.number ?? []).sort((a, b) => a - b);
        expect(numbers("before")).toEqual(Array.from({ length: count(before) }, (_, at) => at + 1));
        expect(numbers("after")).toEqual(Array.from({ length: count(after) }, (_, at) => at + 1));
      }),
    );
  });

  it.each([
    ["nothing", base, "nothing", "editorial"],
    ["a step added", [...base, step("Count the straps.")], "step 5 added", "procedural"],
    ["a safety-critical step added", [step("Set the brake.", { critical: true }), ...base], "step 1 added", "critical"],
    ["a step removed", base.slice(0, 3), "step 4 removed", "procedural"],
    ["a safety-critical step removed", [lock, lift, pouch], "step 3 removed", "critical"],
    ["a step moved across a safety-critical one", [lock, pouch, lift, pins], "step 2 moved", "procedural"],
    ["two plain steps exchanged", [lift, lock, pins, pouch], "step 1 moved; step 2 moved", "informative"],
    [
      "a comma in an instruction",
      changed(0, said("Turn the deck lever down, until it stops.")),
      "step 1 reworded",
      "editorial",
    ],
    [
      "other words in a plain step",
      changed(0, said("Turn the deck lever down until it clicks.")),
      "step 1 reworded",
      "procedural",
    ],
    [
      "words for the same in a plain step",
      changed(0, said("Rotate the deck lever down till it stops.")),
      "step 1 reworded",
      "informative",
    ],
    [
      "another number in a plain step",
      changed(1, said("Lift the capsule by its four grips on to the base.")),
      "step 2 reworded",
      "procedural",
    ],
    [
      "a negation in a plain step",
      changed(0, said("Turn the deck lever not down until it stops.")),
      "step 1 reworded",
      "procedural",
    ],
    [
      "other words in a safety-critical step",
      changed(2, said("Push the four pins in until each one clicks.")),
      "step 3 reworded",
      "critical",
    ],
    ["made safety-critical", changed(0, { critical: true }), "step 1 made safety-critical", "critical"],
    ["no longer safety-critical", changed(2, { critical: false }), "step 3 no longer safety-critical", "critical"],
    ["made a hold", changed(0, { hold: true }), "step 1 made a hold", "procedural"],
    ["another person", changed(0, { by: ["second"] }), "step 1 done by others", "procedural"],
    [
      "another count",
      changed(1, { operations: [{ kind: "move", item: "capsule", count: 2, from: "store", to: "base" }] }),
      "step 2 parts changed",
      "procedural",
    ],
    [
      "a turn added",
      changed(3, { operations: [{ kind: "turn", fastening: "pouch-flap", to: "closed" }] }),
      "step 4 turns changed",
      "procedural",
    ],
    [
      "a band",
      changed(1, { weight: { text: "from 5 kg", from: { value: "5", owned: true } } }),
      "step 2 for other patients",
      "procedural",
    ],
    [
      "a check's answer",
      changed(2, { checks: [{ challenge: "Pins", answer: "four in, four locked", by: ["second"] }] }),
      "step 3 checks changed",
      "critical",
    ],
    ["another photo", changed(0, { photos: [{ id: "deck-lever" }] }), "step 1 photo changed", "informative"],
    [
      "a comma in a reason",
      changed(3, { reason: [{ kind: "text", text: "An open pouch loses its rolls, in a turn" }] }),
      "step 4 reason changed",
      "editorial",
    ],
    [
      "another reason",
      changed(3, { reason: [{ kind: "text", text: "Rolls fall out" }] }),
      "step 4 reason changed",
      "informative",
    ],
    [
      "a warning added",
      changed(0, {
        alerts: [
          {
            kind: "alert",
            signal: "warning",
            children: [{ kind: "paragraph", children: [{ kind: "text", text: "Mind your fingers." }] }],
          },
        ],
      }),
      "step 1 warnings changed",
      "informative",
    ],
    ["the time", changed(0, { takesSeconds: 30 }), "step 1 time changed", "editorial"],
  ])("calls %s by its name and weight (classes: the project's own)", (_, after, words, weight) => {
    const difference = differenceBetween(procedure(1, base), procedure(2, after));
    expect(sayDifference(difference)).toMatch(typeof words === "string" ? new RegExp(`^${words}$`) : words);
    expect(difference.class).toBe(weight);
  });

  it("does not call text that an added step pushed down changed or moved", () => {
    const { steps } = differenceBetween(procedure(1, base), procedure(2, [step("Set the brake."), ...base]));
    expect(steps.map(({ kind, moved }) => `${kind}${moved ? " moved" : ""}`)).toEqual([
      "added",
      "same",
      "same",
      "same",
      "same",
    ]);
  });

  it("knows a step by its id whatever its words, and never takes one id for another", () => {
    const before = procedure(1, [step("Lock the lever.", { id: "a" }), step("Close the pouch.", { id: "b" })]);
    const after = procedure(2, [
      step("Close the pouch.", { id: "a" }),
      step("Count the straps on both sides.", { id: "c" }),
    ]);
    expect(sayDifference(differenceBetween(before, after))).toBe("step 1 reworded; step 2 removed; step 2 added");
  });

  it("takes a renamed step for the same one, also where others wait for it", () => {
    const before = procedure(1, [
      step("Lock the lever.", { id: "lock" }),
      step("Push the pins in.", { id: "pins", critical: true, after: ["lock"] }),
    ]);
    const after = procedure(2, [
      step("Lock the lever.", { id: "lock-lever" }),
      step("Push the pins in.", { id: "pins", critical: true, after: ["lock-lever"] }),
    ]);
    const difference = differenceBetween(before, after);
    expect([sayDifference(difference), difference.class]).toEqual(["step 1 renamed; step 2 renamed", "editorial"]);
    expect(applyDifference(before, difference)).toEqual(after);
  });

  it("shows the instruction word by word", () => {
    const [, , change] = differenceBetween(
      procedure(1, base),
      procedure(2, changed(2, said("Push the four pins in until each one clicks."))),
    ).steps;
    expect(
      change!
        .words!.filter(({ kind }) => kind === "keep")
        .map(({ value }) => value)
        .join("|"),
    ).toContain("Push the four pins in until ");
  });

  it("compares configurations field by field", () => {
    const before: Content = {
      ...procedure(1, []),
      kind: "configuration",
      authority: [],
      standing: false,
      fitted: [{ place: "deck", item: "cradle", count: 1 }],
      fastenings: [],
      options: [],
      checks: [{ challenge: "Pins", answer: "four", by: [] }],
      body: [],
    } as Content;
    const after = { ...before, revision: 2, checks: [{ challenge: "Pins", answer: "five", by: [] }] } as Content;
    const difference = differenceBetween(before, after);
    expect(sayDifference(difference)).toBe("checks changed");
    expect(difference.class).toBe("procedural");
    expect(applyDifference(before, difference)).toEqual(after);
  });
});

describe("the earliest revision at which a sign-off still stands", () => {
  const issue = (
    revision: number,
    steps: readonly StepContent[],
    declared: readonly ("again" | "stand" | undefined)[] = [],
  ) =>
    procedure(revision, steps, {
      record: {
        changes: declared.flatMap((signOffs, at) =>
          signOffs ? [{ revision: at + 1, date: "2026-01-01", by: "a", summary: "s", signOffs }] : [],
        ),
      },
    });
  const reworded = changed(3, said("Shut the pouch."));
  const critical = changed(2, said("Push the four pins in until each one clicks."));

  it.each([
    ["one issue", [issue(1, base)], 1],
    ["reworded twice", [issue(1, base), issue(2, reworded), issue(3, reworded)], 1],
    ["a safety-critical step reworded at 2, a comma at 3", [issue(1, base), issue(2, critical), issue(3, critical)], 2],
    ["changed and changed back", [issue(1, base), issue(2, critical), issue(3, base)], 3],
    [
      "declared again, though only reworded",
      [issue(1, base), issue(2, reworded, [undefined, "again"]), issue(3, reworded)],
      2,
    ],
    ["declared to stand, but weighty", [issue(1, base), issue(2, critical, [undefined, "stand"])], 2],
    ["an issue missing, declared to stand", [issue(1, base), issue(3, reworded, [undefined, "stand", "stand"])], 1],
    ["an issue missing, nothing declared", [issue(1, base), issue(3, reworded)], 3],
    ["no issue", [], 1],
  ])("%s", (_, chain, earliest) => {
    expect(earliestStanding(chain)).toBe(earliest);
  });
});
