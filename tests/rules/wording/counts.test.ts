/**
 * Numbers in words beside a count: what is found and, as important, what is left alone. The sentences are invented in
 * the manner of the trade; common practice, no source.
 */
import { describe, expect, it } from "vitest";
import { findWrongAnswer, findWrongCount } from "../../../src/rules/wording/count-differs.ts";

const named = (...names: string[]) => names.map((name) => ({ name }));
const pin = { name: "Capsule pin" };
const things = {
  items: [pin, ...named("Newborn capsule", "Roll support", "Battery")],
  places: named("Pin tray", "Deck"),
  fastenings: named("Base pins", "Deck lever"),
};
const FOUR = new Set([4]);

describe("a number beside the name of what is moved, four times", () => {
  it.each([
    ["Push the five pins in until each one clicks.", "five"],
    ["Push three capsule pins in.", "three"],
    ["Take 5 pins out of the pin tray.", "5"],
    ["Push both pins in.", "both"],
    ["Push one pin in.", "one"],
    ["Push the two long pins in.", "two"],
    ["Twelve pins are in the tray: push them in.", "Twelve"],
    ["Push the twenty-four pins in.", "twenty-four"],
  ])("is found: %s", (text, words) => {
    expect(findWrongCount(text, pin, things, FOUR)?.words).toBe(words);
  });

  it.each([
    "Push the four pins in until each one clicks.",
    "Push 4 capsule pins in.",
    "Push the pins in.",
    "Push the pins in, one pin at a time.",
    "Lead takes the two head pins, second the two foot pins.",
    "Push two pins in at the head and two at the foot.",
    "Push two pins in on each side.",
    "Put two pins into each guide.",
    "Take two of the five pins that the tray holds.",
    "Pull the two base pins first.",
    "Push the pins in up to the second pin mark.",
    "Look through the two pin trays.",
    "Push the 40 mm pins in.",
    "Wait 40 s, then push the pins in.",
    "Two crew lift the newborn capsule.",
    "Give each pin a quarter turn.",
    "Two more pins lie in the tray.",
    "Push two pairs of pins in.",
  ])("is left alone: %s", (text) => {
    expect(findWrongCount(text, pin, things, FOUR)).toBeUndefined();
  });

  it("counts an item whose name is a plural as one set", () => {
    const rolls = { name: "Roll supports" };
    expect(findWrongCount("Lay two roll supports down.", rolls, things, new Set([1]))).toBeUndefined();
  });
});

describe("a number beside an item whose fastening is called the same in the plural", () => {
  const deckPin = { name: "Deck pin" },
    with_ = { items: [deckPin], places: named("Pin pouch"), fastenings: named("Deck pins", "Belt buckles") };
  it("is found", () => {
    const text = "Push the three deck pins in until each ring lies flat.";
    expect(findWrongCount(text, deckPin, with_, FOUR)?.words).toBe("three");
  });

  it.each(["Push the four deck pins in.", "Push the deck pins in.", "Look at two deck pin rings."])(
    "is left alone: %s",
    (text) => expect(findWrongCount(text, deckPin, with_, FOUR)).toBeUndefined(),
  );
});

describe("an answer about what is moved, four times", () => {
  it.each([
    ["five in, five locked", "five"],
    ["4 in, 3 locked", "3"],
    ["three", "three"],
    ["five pegs of five capsule pins", "five"],
    ["two, clip across", "two"],
  ])("is found: %s", (answer, words) => {
    expect(findWrongAnswer(answer, pin, things, FOUR)?.words).toBe(words);
  });

  it.each([
    "four in, four locked",
    "four green collars",
    "locked, 50 bar",
    "two on each side",
    "one in each guide",
    "two in at the head, two in at the foot",
    "flush, no gap",
    "two clips across",
    "all in",
  ])("is left alone: %s", (answer) => {
    expect(findWrongAnswer(answer, pin, things, FOUR)).toBeUndefined();
  });
});

describe("other things of the platform", () => {
  it.each(["flush, no gap", "two clips across"])("are not looked for where the item is not counted: %s", (text) => {
    let read = 0;
    const other = (at: number) => ({
      get name() {
        read += 1;
        return `Rope ${at}`;
      },
    });
    const many = { ...things, items: [pin, ...Array.from({ length: 400 }, (_, at) => other(at))] };
    expect(findWrongCount(text, pin, many, FOUR)).toBeUndefined();
    expect(read).toBe(0);
    // Where it is, each is asked a few times.
    expect(findWrongCount("Push the five pins in.", pin, many, FOUR)?.words).toBe("five");
    expect(read).toBeLessThan(400 * 5);
  });
});
