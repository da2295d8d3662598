/** Orders to turn something, among harmless sentences. The sentences were written before the rule (invented). */
import { describe, expect, it } from "vitest";
import type { Paragraph } from "../../../src/schema/collection.ts";
import { findOrdered, namesOfFastenings } from "../../../src/rules/wording/nothing-turned.ts";
import { FASTENINGS, KNOWN, type Sentence, UNSEEN } from "./turned-sentences.ts";

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
