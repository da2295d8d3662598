/** What has become of cards: which is in force, what took its place on which day, which issue did it, and what differs. */
import { describe, expect, it } from "vitest";
import type { CardContent } from "../../src/domain/card-content.ts";
import { cardDifference } from "../../src/domain/card-difference.ts";
import { cardInForce, standingOf } from "../../src/domain/card-standing.ts";
import type { IssuedCard } from "../../src/domain/cards-issued.ts";

const content = (over: Partial<CardContent> = {}): CardContent => ({
  platform: "tern", configuration: "capsule", title: "Capsule", code: "C1", revision: 1, weight: "from 1 kg to under 5 kg", age: "any age",
  lines: [{ kind: "check", challenge: "Pins", answer: "four in", by: ["second"], critical: false }, { kind: "check", challenge: "Lever", answer: "down", by: ["lead"], critical: true }],
  warnings: [], count: [{ item: "pin", place: "base", count: 4 }], options: [], ...over,
});
const card = (code: string, from: string | undefined, isCurrent = false): IssuedCard => ({ platform: "tern", configuration: "capsule", code, ...(from ? { from } : {}), isCurrent, content: content() });
const names = { item: (id: string) => id, place: (id: string) => id, crew: [{ id: "lead", name: "Lead", where: { file: "", line: 1, column: 1 }, at: {} }, { id: "second", name: "Second", where: { file: "", line: 1, column: 1 }, at: {} }] };
const changes = (over: Partial<CardContent>) => cardDifference(content(), content(over), names);

describe("the standing of a card", () => {
  const cards = [card("A", "2026-01-01"), card("B", "2026-03-01"), card("C", "2026-06-01", true)];

  it.each([
    ["2026-02-28", ["current", "coming", "coming"]],
    ["2026-03-01", ["replaced", "current", "coming"]],
    ["2026-05-31", ["replaced", "current", "coming"]],
    ["2026-06-01", ["replaced", "replaced", "current"]],
  ])("on %s is %s: a card is in force from its own day on", (today, states) => {
    expect(cards.map((each) => standingOf(each, cards, today).state)).toEqual(states);
  });

  it("of a replaced card names the day on which the next one took its place, not the newest", () => {
    expect(standingOf(cards[0]!, cards, "2026-07-01")).toMatchObject({ state: "replaced", until: "2026-03-01", now: { code: "C" } });
  });

  it("is withdrawn for every card of a configuration that is no longer used", () => {
    const gone = cards.map((each) => ({ ...each, isCurrent: false }));
    for (const each of gone) expect(standingOf(each, gone, "2026-07-01")).toMatchObject({ state: "withdrawn" });
    expect(standingOf(gone[0]!, gone, "2026-07-01").now).toBeUndefined();
  });

  it("has nothing in force before the first card's day; a card without a day is in force always", () => {
    expect(cardInForce(cards, "2025-12-31")).toBeUndefined();
    expect(cardInForce([card("A", undefined, true)], "2000-01-01")?.code).toBe("A");
  });
});

describe("the difference between two cards", () => {
  it("is empty if only revision or date differ", () => expect(changes({ revision: 2, effective: "2026-09-14" })).toEqual([]));

  it("names a line whose answer changed, with both answers", () => {
    expect(changes({ lines: [{ kind: "check", challenge: "Pins", answer: "four in, four green", by: ["second"], critical: false }, content().lines[1]!] })).toEqual([{ what: "Pins", was: "four in (second)", is: "four in, four green (second)" }]);
  });

  it("names who answers and safety-critical as part of a line", () => {
    expect(changes({ lines: [{ kind: "check", challenge: "Pins", answer: "four in", by: ["lead", "second"], critical: true }, content().lines[1]!] })).toEqual([{ what: "Pins", was: "four in (second)", is: "four in (both), safety-critical" }]);
  });

  it("tells a new line from one that is gone, and holds from checks", () => {
    expect(changes({ lines: [content().lines[0]!, { kind: "hold", text: "Pull up hard.", by: ["lead"], checks: [] }] })).toEqual([
      { what: "HOLD: Pull up hard.", is: "nobody goes on until it is done (lead)" },
      { what: "Lever", was: "down (lead), safety-critical" },
    ]);
  });

  it("says when the same lines stand in another order", () => {
    expect(changes({ lines: [...content().lines].reverse() })).toEqual([{ what: "Order of the lines", was: "Pins, Lever", is: "Lever, Pins" }]);
  });

  it("names counts, bands, warnings and options", () => {
    const option = { id: "gas", title: "Gas shelf", code: "O1", weight: "any weight", age: "any age", lines: [{ kind: "check" as const, challenge: "Clamps", answer: "flat", by: [], critical: false }] };
    expect(changes({ weight: "from 1 kg to under 6 kg", warnings: ["warning: Two people lift."], count: [{ item: "pin", place: "base", count: 6 }], options: [option] })).toEqual([
      { what: "Weight", was: "from 1 kg to under 5 kg", is: "from 1 kg to under 6 kg" },
      { what: "Warning", is: "warning: Two people lift." },
      { what: "pin in base", was: "4", is: "6" },
      { what: "Option Gas shelf", is: "flat" },
    ]);
  });
});
