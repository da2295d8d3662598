/** The second look: the same checks, in another order, without their answers. */
import { resolve } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { CardContent, CardLine } from "../../../src/domain/cards/card-content.ts";
import { currentCards } from "../../../src/domain/cards/cards-issued.ts";
import { asksFor, checkerCardOf, givesAway, MOST_QUESTIONS } from "../../../src/domain/cards/checker-card.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import { readCollection } from "../../read-collection.ts";

const check = (challenge: string, answer: string): CardLine => ({
  kind: "check",
  challenge,
  answer,
  by: ["lead"],
  critical: false,
});
const contentOf = (lines: readonly CardLine[], revision = 1): CardContent => ({
  platform: "sled",
  configuration: "shell",
  title: "Shell",
  code: "S-1",
  revision,
  weight: "any weight",
  age: "any age",
  lines,
  warnings: [],
  count: [],
  options: [],
});

describe("what is asked", () => {
  it.each([
    ["four green collars", "count"],
    ["both folded down", "count"],
    ["2, clip across", "count"],
    ["none on deck or floor", "count"],
    ["lever flat", "state"],
    ["down, no red", "state"],
    ["from 1.2 kg, under 5 kg", "value"],
    ["over 150 bar", "value"],
    ["“FOR TRANSPORT” in green", "label"],
  ])("for “%s” is a %s", (answer, asks) => expect(asksFor(answer)).toBe(asks));
});

describe("a question gives its answer away", () => {
  it.each([
    ["Deck lever locked", "locked", true],
    ["Locking lever", "locked", true],
    ["Four pins", "four green collars", true],
    ["Deck lever", "down, no red", false],
    ["Capsule pins", "four green collars", false],
    ["Head flap", "flat on the deck", false],
    ["Two straps", "two buckles, no yellow ring", true],
  ])("“%s” of “%s”: %s", (thing, answer, gives) => expect(givesAway(thing, answer)).toBe(gives));

  it("also in what is done at a hold, if a number stands in it", () => {
    expect(givesAway("Pull on all four tails.", "four pulled, none longer", true)).toBe(true);
    expect(givesAway("Pull on every tail.", "four pulled, none longer", true)).toBe(false);
  });

  it("and is warned of by name", () =>
    expect(checkerCardOf(contentOf([check("Lever locked", "locked")])).warnings).toEqual([
      "“Lever locked” gives the answer away: “locked”",
    ]));
});

describe("a checker's card", () => {
  const lines = fc
    .uniqueArray(fc.string({ minLength: 3, maxLength: 12, unit: "grapheme-ascii" }), { maxLength: 40 })
    .map((names) => names.map((name, at) => check(`thing ${name}`, `state ${at}`)));

  it(
    "asks every check once, in the same order each time, in sittings of seven at most, and says when there is " +
      "more than one",
    () => {
      fc.assert(
        fc.property(lines, fc.integer({ min: 1, max: 99 }), (own, revision) => {
          const card = checkerCardOf(contentOf(own, revision));
          const asked = card.sittings.flat();
          expect(asked.map(({ number }) => number)).toEqual(own.map((_, at) => at + 1));
          expect(asked.map(({ thing }) => thing).sort()).toEqual(
            own.map((line) => (line.kind === "check" ? line.challenge : "")).sort(),
          );
          expect(checkerCardOf(contentOf(own, revision))).toEqual(card);
          for (const sitting of card.sittings) expect(sitting.length).toBeLessThanOrEqual(MOST_QUESTIONS);
          expect(card.warnings.some((warning) => warning.includes("in one sitting"))).toBe(own.length > MOST_QUESTIONS);
        }),
      );
    },
  );

  it("is in another order than the crew's: from four checks on, no question follows the one it follows there", () => {
    fc.assert(
      fc.property(
        lines.filter((own) => own.length >= 4),
        fc.integer({ min: 1, max: 99 }),
        (own, revision) => {
          const order = checkerCardOf(contentOf(own, revision))
            .sittings.flat()
            .map(({ line }) => line);
          const kept = order.filter((line, at) => at > 0 && line === order[at - 1]! + 1).length;
          expect(kept).toBeLessThanOrEqual(Math.max(1, Math.floor(own.length / 8)));
          expect(order).not.toEqual(order.toSorted((a, b) => a - b));
        },
      ),
    );
  });

  describe("of the demo", () => {
    let cards: ReturnType<typeof currentCards> = [];
    beforeAll(async () => {
      const collection = await readCollection(resolve(import.meta.dirname, "../../../procedures"));
      cards = collection.platforms.flatMap((platform) => currentCards(platform, printedCodes(collection)));
    });

    it("has no question with its own answer in it, word for word or a part of it", () => {
      expect(cards.length).toBeGreaterThan(0);
      for (const { content } of cards)
        for (const { thing, act, question, answer } of checkerCardOf(content).sittings.flat()) {
          const said = `${thing} ${act} ${question}`.toLowerCase();
          expect(said).not.toContain(answer.toLowerCase());
          for (const part of answer.split(",")) expect(said).not.toContain(part.trim().toLowerCase());
        }
    });
  });
});
