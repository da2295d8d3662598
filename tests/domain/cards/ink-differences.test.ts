/** What a card says of how it differs from an older one, by which a crew decides whether the one in hand is to go. */
import { describe, expect, it } from "vitest";
import { inkDifferences } from "../../../src/domain/cards/card-concern.ts";

const own = { lines: ["Pins in"], drawn: "a" },
  shelf = { title: "If fitted: Gas shelf", lines: ["Strap over"], drawn: "c" };
const ink = (...parts: readonly object[]) => ({ parts });

describe("two inks of a card", () => {
  it.each([
    ["are alike", ink(own, shelf), ink(own, shelf), []],
    ["differ in their own lines", ink(own), ink({ ...own, lines: [] }), ["its lines"]],
    [
      "differ in what is drawn of it",
      ink(own),
      ink({ ...own, drawn: "b" }),
      ["the count or the drawing of its own lines"],
    ],
    [
      "differ in what is drawn of an option",
      ink(own, shelf),
      ink(own, { ...shelf, drawn: "b" }),
      ["only the count or the drawing with Gas shelf fitted"],
    ],
    [
      "differ in both",
      ink(own, shelf),
      ink({ ...own, drawn: "b" }, { ...shelf, drawn: "b" }),
      ["the count or the drawing with Gas shelf fitted", "the count or the drawing of its own lines"],
    ],
  ])("%s", (_, before, after, said) => expect(inkDifferences(before, after)).toEqual(said));
});
