/** Orders to turn something, among harmless sentences. The sentences were written before the rule (invented). */
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import type { Operation, Paragraph, Step } from "../../../src/schema/collection.ts";
import { findOrdered, namesOfFastenings, nothingTurned } from "../../../src/rules/wording/nothing-turned.ts";
import { FASTENINGS, KNOWN, type Sentence, UNSEEN } from "./turned-sentences.ts";
import { readCollection } from "../../read-collection.ts";

const called = namesOfFastenings(
  FASTENINGS.map((name) => ({ id: name.toLowerCase().replaceAll(" ", "-"), name })),
  ["Monitor", "Pin tray", "Capsule pin"],
);
const paragraph = (text: string): Paragraph => {
  const where = { file: "a.mdx", line: 1, column: 1 };
  return { kind: "paragraph", children: [{ kind: "text", text, where }], where };
};
const wrong = (sentences: readonly Sentence[]) =>
  sentences.filter(([text, orders]) => (findOrdered(paragraph(text), called) !== undefined) !== orders);

describe("orders to turn a fastening", () => {
  it.each(KNOWN)("%s: %s", (text, orders) => {
    expect(findOrdered(paragraph(text), called) !== undefined).toBe(orders);
  });
  it("are found in unseen sentences, at least 26 of 30", () => {
    const missed = wrong(UNSEEN);
    if (process.env["SHOW"]) console.log(missed);
    expect(missed.length).toBeLessThanOrEqual(4);
  });
  it("names the fastening and points at the words", () => {
    expect(findOrdered(paragraph("Look at the gauge, then open both oxygen valves."), called)).toMatchObject({
      fastenings: ["oxygen-valves"],
      words: "open both oxygen valves",
      where: { column: 25 },
    });
    expect(findOrdered(paragraph("Shut each valve."), called)?.fastenings).toEqual(["oxygen-valves"]);
  });
});

describe("a hand that feels whether a fastening holds (common practice, no source)", () => {
  const press = "Press the bottle latch down with a thumb.";
  /** What is reported where the steps stand at the end of the procedure that fits the bottle and shuts its latch. */
  async function reportedAfter(
    ...steps: { says: string; to?: string; asks?: boolean; lifts?: string }[]
  ): Promise<string[]> {
    const folder = resolve(import.meta.dirname, "../../fixtures/collections/sled"),
      collection = await readCollection(folder);
    const sled = collection.platforms[0]!,
      fit = sled.procedures.find(({ id }) => id === "fit-oxygen")!,
      last = fit.steps.at(-1)!;
    const { where } = last,
      check = { challenge: "Bottle latch", answer: "flat, no yellow", by: ["leader"], where, at: {} };
    const written = steps.map(({ says, to, asks, lifts }, at): Step => {
      const turns: Operation[] = to ? [{ kind: "turn", fastening: "bottle-latch", to, where, at: {} }] : [];
      if (lifts) turns.push({ kind: "move", item: lifts, count: 1, from: "hut", to: "bottle-bay", where, at: {} });
      const { id: _, ...rest } = last;
      return {
        ...rest,
        number: last.number + at + 1,
        instruction: paragraph(says),
        operations: turns,
        checks: asks ? [check] : [],
      };
    });
    const procedures = sled.procedures.map((each) =>
      each === fit ? { ...fit, steps: [...fit.steps, ...written] } : each,
    );
    const found: string[] = [];
    nothingTurned.check!(
      { ...collection, platforms: [{ ...sled, procedures }] },
      (_, { message }) => found.push(message),
      { today: "2026-11-28", damaged: new Set() },
    );
    return found;
  }
  it("turns nothing, where it is secure already and a line asks how it stands", async () => {
    expect(await reportedAfter({ says: press, asks: true })).toEqual([]);
  });
  it("is not accused where its procedure runs nowhere, which is a finding of its own", async () => {
    expect(
      await reportedAfter({ says: press, asks: true }, { says: "Slide a second bottle in.", lifts: "oxygen-bottle" }),
    ).toEqual([]);
  });
  it("would have to turn it where it stands open, or where nobody asks", async () => {
    const finding = "`Press the bottle latch` orders to turn `bottle-latch`, and the step turns nothing of that name";
    expect(await reportedAfter({ says: press })).toEqual([finding]);
    expect(
      await reportedAfter(
        { says: "Free it.", to: "raised" },
        { says: press, asks: true },
        { says: "Look.", to: "shut" },
      ),
    ).toEqual([finding]);
    expect(await reportedAfter({ says: "Shut the bottle latch.", asks: true })).toHaveLength(1);
  });
});
