/** How much a change of a step matters (the project's own classes): a table of small invented cases. */
import { describe, expect, it } from "vitest";
import {
  type Aspect,
  type ChangeClass,
  classOfAspect,
  classOfStep,
  classOfInstruction,
  classOfReading,
  classOfWords,
  greatest,
  sameRange,
  isSameCheck,
  signOffsStand,
} from "../../../src/domain/records/change-class.ts";
import { OTHERWISE, OTHERWISE_LATER, THE_SAME, THE_SAME_LATER, type Pair } from "./pairs.ts";
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
  ["a detail gone", "detail", { detail: [block("Click.")] }, {}, "informative", "procedural"],
  [
    "a number in a detail",
    "detail",
    { detail: [block("To 5 bar.")] },
    { detail: [block("To 50 bar.")] },
    "procedural",
    "critical",
  ],
  ["a detail's case", "detail", { detail: [block("click")] }, { detail: [block("Click")] }, "editorial", "editorial"],
  ["a warning before", "alerts", {}, { alerts: [alert("It slips.")] }, "informative", "informative"],
  ["a warning gone", "alerts", { alerts: [alert("It slips.")] }, {}, "procedural", "procedural"],
  [
    "a warning that is a note now",
    "alerts",
    { alerts: [alert("It slips.")] },
    { alerts: [{ ...alert("It slips."), signal: "note" }] },
    "procedural",
    "procedural",
  ],
  [
    "a warning without its not",
    "alerts",
    { alerts: [alert("Do not lift.")] },
    { alerts: [alert("Do lift.")] },
    "procedural",
    "critical",
  ],
  [
    "a warning after",
    "alerts",
    { alertsAfter: [alert("Hot.")] },
    { alertsAfter: [alert("Cold.")] },
    "procedural",
    "critical",
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
      classOfReading("Lift  it.", "lift it"),
      classOfReading("Lift it", "Lift them"),
      classOfReading("Lift 5", "Lift 50"),
    ]).toEqual(["editorial", "informative", "informative"]);
    const check = { challenge: "Pins", answer: "> 4 in", by: ["lead"] };
    expect(
      [
        { ...check, challenge: "pins:" },
        { ...check, answer: "< 4 in" },
        { ...check, answer: "> 4" },
        { ...check, by: [] },
        { ...check, challenge: "Needles" },
      ].map((other) => isSameCheck(check, other)),
    ).toEqual([true, false, false, false, false]);
    expect([sameRange(undefined, { text: "any weight" } as never), sameRange(from5 as never, undefined)]).toEqual([
      true,
      false,
    ]);
  });
});

describe("a hundred hand-made pairs in which something else is done", () => {
  it.each(OTHERWISE)("%s -> %s lapses sign-offs in an instruction, a check and beside a critical step", (was, is) => {
    for (const [before, after] of [
      [was, is],
      [is, was],
    ] as const) {
      const of = (aspect: Aspect, critical: boolean, make: (words: string) => object) =>
        classOfAspect(
          aspect,
          { ...plain, critical, ...make(before) } as StepContent,
          { ...plain, critical, ...make(after) } as StepContent,
        );
      expect(signOffsStand(classOfInstruction(before, after))).toBe(false);
      expect(of("instruction", true, (words) => ({ instruction: text(words) }))).toBe("critical");
      expect(of("checks", false, (words) => ({ checks: [check("Pins", words)] }))).toBe("procedural");
      expect(of("checks", true, (words) => ({ checks: [check(words, "in")] }))).toBe("critical");
      expect(of("reason", true, (words) => ({ reason: text(words) }))).toBe("informative");
    }
  });
  it.each(THE_SAME)("%s -> %s leaves sign-offs standing in a plain step", (was, is) => {
    expect(signOffsStand(classOfInstruction(was, is))).toBe(true);
    expect(signOffsStand(classOfInstruction(is, was))).toBe(true);
    expect(signOffsStand(classOfWords(was, is, true))).toBe(true);
  });
  it("is critical in a detail or a warning of a critical step for nearly all of them", () => {
    const missed = OTHERWISE.filter(([was, is]) => classOfWords(was, is, true) !== "critical");
    expect(missed.map((pair) => pair.join(" -> "))).toMatchInlineSnapshot(`
      [
        "Take the capsule. -> Take the cradle.",
        "Hold the bag upright. -> Hold the bag flat.",
      ]
    `);
    expect(missed.filter(([was, is]) => signOffsStand(classOfWords(was, is, true)))).toEqual([]);
  });
});

describe("pairs that were written after the lists of words", () => {
  const asked = ([was, is]: Pair) =>
    [classOfInstruction(was, is), classOfInstruction(is, was)].every((each) => !signOffsStand(each));
  it("lapse sign-offs where something else is done", () => {
    expect(OTHERWISE_LATER.filter((pair) => !asked(pair))).toEqual([]);
    expect(OTHERWISE_LATER.filter(([was, is]) => signOffsStand(classOfWords(was, is, true)))).toEqual([]);
  });
  it("are asked again for nothing where words are unknown or turned round: six of twenty-five", () => {
    expect(THE_SAME_LATER.filter(asked).map((pair) => pair.join(" -> "))).toMatchInlineSnapshot(`
      [
        "Recieve the capsule. -> Receive the capsule.",
        "Read the gauge out loud. -> Read out the gauge loudly.",
        "Lift the capsule using its grips. -> Lift the capsule by its grips.",
        "Then close the flap. -> Close the flap.",
        "The second crew member holds it. -> It is held by the second crew member.",
        "Remove the strap. -> Take off the strap.",
      ]
    `);
  });
  it("leave sign-offs standing in a plain step's detail where no word is known to be telling: ten of 45", () => {
    const missed = OTHERWISE_LATER.filter(([was, is]) => signOffsStand(classOfWords(was, is)));
    expect(missed.map((pair) => pair.join(" -> "))).toMatchInlineSnapshot(`
      [
        "Hardly pull it. -> Pull it.",
        "Skip the flap. -> Do the flap.",
        "Go on although it blinks. -> Go on because it blinks.",
        "It is safe to lift. -> It is unsafe to lift.",
        "The line is clamped. -> The line is unclamped.",
        "Inflate the mattress. -> Deflate the mattress.",
        "Fold the seat. -> Unfold the seat.",
        "Stand on the monitor side. -> Stand on the ventilator side.",
        "Undo the chest buckle. -> Undo the hip buckle.",
        "Lift with straight arms. -> Lift with bent arms.",
      ]
    `);
  });
});
