/** How much a change of a step matters (the project's own classes): a table of small invented cases. */
import { describe, expect, it } from "vitest";
import {
  type Aspect,
  type ChangeClass,
  classOfAspect,
  classOfStep,
  classOfWords,
  greatest,
  sameRange,
  sameWords,
  signOffsStand,
} from "../../../src/domain/records/change-class.ts";
import type { StepContent } from "../../../src/domain/records/content.ts";

const text = (words: string) => [{ kind: "text" as const, text: words }];
const block = (words: string) => ({ kind: "paragraph" as const, children: text(words) });
const alert = (words: string) => ({ kind: "alert" as const, signal: "warning" as const, children: [block(words)] });
const plain = {
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
  instruction: text("Push the four pins in."),
  detail: [],
  operations: [],
  checks: [],
} as unknown as StepContent;
const from5 = { text: "from 5 kg", from: { value: "5", owned: true } },
  over5 = { text: "over 5 kg", from: { value: "5", owned: false } },
  under5 = { text: "under 5 kg", to: { value: "5", owned: false } },
  upTo5 = { text: "up to 5 kg", to: { value: "5", owned: true } };
const check = (challenge: string, answer: string, ...by: string[]) => ({ challenge, answer, by });

/** Aspect, what it was and is, its class in a plain step and in a safety-critical one. */
const cases: readonly (readonly [string, Aspect, object, object, ChangeClass, ChangeClass])[] = [
  ["hold", "hold", {}, { hold: true }, "procedural", "critical"],
  ["who", "by", {}, { by: ["second"] }, "procedural", "critical"],
  ["parts", "parts", {}, {}, "procedural", "critical"],
  ["turns", "turns", {}, {}, "procedural", "critical"],
  [
    "a weight in other words",
    "band",
    { weight: from5 },
    { weight: { ...from5, text: "5 kg and over" } },
    "editorial",
    "editorial",
  ],
  ["who owns the lower end", "band", { weight: from5 }, { weight: over5 }, "procedural", "critical"],
  ["who owns the upper end", "band", { weight: under5 }, { weight: upTo5 }, "procedural", "critical"],
  [
    "the upper end",
    "band",
    { weight: under5 },
    { weight: { ...under5, to: { value: "6", owned: false } } },
    "procedural",
    "critical",
  ],
  ["an age, the weight staying", "band", { weight: from5 }, { weight: from5, age: under5 }, "procedural", "critical"],
  [
    "a check's punctuation",
    "checks",
    { checks: [check("Pins", "four in", "lead")] },
    { checks: [check("Pins:", "Four in.", "lead")] },
    "editorial",
    "editorial",
  ],
  [
    "a check's answer",
    "checks",
    { checks: [check("Pins", "four in", "lead")] },
    { checks: [check("Pins", "six in", "lead")] },
    "procedural",
    "critical",
  ],
  [
    "who answers",
    "checks",
    { checks: [check("Pins", "four in", "lead")] },
    { checks: [check("Pins", "four in", "second")] },
    "procedural",
    "critical",
  ],
  ["one check more", "checks", {}, { checks: [check("Pins", "four in")] }, "procedural", "critical"],
  ["punctuation", "instruction", {}, { instruction: text("push the four pins in") }, "editorial", "editorial"],
  ["a word", "instruction", {}, { instruction: text("Press the four pins in.") }, "informative", "critical"],
  ["a count in words", "instruction", {}, { instruction: text("Push the six pins in.") }, "procedural", "critical"],
  [
    "a count in figures",
    "instruction",
    { instruction: text("Push 4 pins in.") },
    { instruction: text("Push 6 pins in.") },
    "procedural",
    "critical",
  ],
  ["a negation", "instruction", {}, { instruction: text("Never push the four pins in.") }, "procedural", "critical"],
  [
    "a negation gone",
    "instruction",
    { instruction: text("Do not push the four pins in.") },
    { instruction: text("Do push the four pins in.") },
    "procedural",
    "critical",
  ],
  ["a reason", "reason", {}, { reason: text("It slips.") }, "informative", "informative"],
  [
    "a reason's punctuation",
    "reason",
    { reason: text("It slips") },
    { reason: text("It slips!") },
    "editorial",
    "editorial",
  ],
  ["a detail", "detail", {}, { detail: [block("Click.")] }, "informative", "informative"],
  ["a detail's case", "detail", { detail: [block("click")] }, { detail: [block("Click")] }, "editorial", "editorial"],
  ["a warning before", "alerts", {}, { alerts: [alert("Hot.")] }, "informative", "informative"],
  [
    "a warning after",
    "alerts",
    { alertsAfter: [alert("Hot.")] },
    { alertsAfter: [alert("Cold.")] },
    "informative",
    "informative",
  ],
  [
    "a warning's punctuation",
    "alerts",
    { alerts: [alert("Hot")] },
    { alerts: [alert("Hot.")] },
    "editorial",
    "editorial",
  ],
  ["a photo", "photo", {}, { photos: ["a"] }, "informative", "informative"],
  ["what it must follow", "after", {}, { after: ["a"] }, "informative", "procedural"],
  ["how long it takes", "takes", {}, { takesSeconds: 30 }, "editorial", "editorial"],
  ["what it guards against", "guards", {}, { guards: ["a"] }, "editorial", "editorial"],
  ["its name", "name", {}, { id: "a" }, "editorial", "editorial"],
];

describe("the class of a changed step", () => {
  it.each(cases)("%s", (_, aspect, was, is, inPlain, inCritical) => {
    const classOf = (before: object, after: object) =>
      classOfAspect(
        aspect,
        { ...plain, ...was, ...before } as StepContent,
        { ...plain, ...is, ...after } as StepContent,
      );
    expect(classOf({}, {})).toBe(inPlain);
    // Safety-critical before or after is enough.
    for (const [before, after] of [
      [{ critical: true }, {}],
      [{}, { critical: true }],
      [{ critical: true }, { critical: true }],
    ])
      expect(classOf(before!, after!)).toBe(inCritical);
    expect(classOfAspect("critical", plain, { ...plain, ...is } as StepContent)).toBe("critical");
  });

  it("is that of a safety-critical step or not where a step comes or goes", () => {
    expect([classOfStep(plain), classOfStep({ ...plain, critical: true })]).toEqual(["procedural", "critical"]);
  });
});

describe("classes", () => {
  it("have an order, and sign-offs stand for the lower two", () => {
    const order: ChangeClass[] = ["editorial", "informative", "procedural", "critical"];
    for (const a of order)
      for (const b of order) expect(greatest([a, b])).toBe(order[Math.max(order.indexOf(a), order.indexOf(b))]);
    expect(greatest([])).toBe("editorial");
    expect(order.map(signOffsStand)).toEqual([true, true, false, false]);
  });
  it("are editorial for words that are the same but for case, spacing and punctuation", () => {
    expect([
      classOfWords("Lift  it.", "lift it"),
      classOfWords("Lift it", "Lift them"),
      classOfWords("Lift it up", "Lift it"),
    ]).toEqual(["editorial", "informative", "informative"]);
    expect([
      sameWords([["a b", "c"]], [["A, b", "c."]]),
      sameWords([["a"], ["b"]], [["a", "b"]]),
      sameWords([], [["a"]]),
    ]).toEqual([true, false, false]);
    expect([sameRange(undefined, { text: "any weight" } as never), sameRange(from5 as never, undefined)]).toEqual([
      true,
      false,
    ]);
  });
});
