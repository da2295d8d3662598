import { describe, expect, it } from "vitest";
import { clearLabels, roomFor } from "../../src/drawing/rail-labels.ts";

describe("weights under a rail", () => {
  const labels = [0, 5, 10, 50, 100].map((x) => ({ x, label: "2.5 kg" }));
  it("stand all where there is room", () => expect(clearLabels(labels, 1200)).toEqual([true, true, true, true, true]));
  it("leave out those that would lie over others, never the first and the last", () => {
    expect(clearLabels(labels, 600)).toEqual([true, false, true, true, true]);
    expect(clearLabels(labels, 60)).toEqual([true, false, false, false, true]);
  });
  it("are none where there are none", () => expect(clearLabels([], 600)).toEqual([]));
});

it("a name needs room for its longest word, or for half of itself and a little more", () => {
  expect(roomFor("Child cradle")).toBe(5);
  expect(roomFor("Schwerlasttragenlagerungsmatratze")).toBe(18);
});
