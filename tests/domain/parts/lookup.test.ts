/** Names on the way to an item's home, against the towers that they were made of (invented). */
import { describe, expect, it } from "vitest";
import { usableProcedures, wayHome } from "../../../src/domain/parts/lookup.ts";
import { makeItem, makePlace, makePlatform, makeProcedure } from "./make.ts";

describe("wayHome", () => {
  const platform = makePlatform({
    places: [
      makePlace("store", { name: "Store", kind: "store" }),
      makePlace("pouch", { name: "Pouch", kind: "stowage", on: "capsule" }),
      makePlace("slot", { name: "Slot", kind: "stowage", on: "roll" }),
      makePlace("loop", { name: "Loop", kind: "stowage", on: "ring" }),
    ],
    items: [
      makeItem("capsule", { name: "Capsule", home: "store" }),
      makeItem("roll", { name: "Roll", home: "pouch" }),
      makeItem("peg", { name: "Peg", home: "slot" }),
      makeItem("ring", { name: "Ring", home: "loop" }),
    ],
  });
  const way = (id: string) =>
    wayHome(
      platform,
      platform.items.find((item) => item.id === id)!,
    );

  it("goes from the outermost place down to the home, over all that is in between", () => {
    expect(way("capsule")).toEqual(["Store"]);
    expect(way("roll")).toEqual(["Store", "Capsule", "Pouch"]);
    expect(way("peg")).toEqual(["Store", "Capsule", "Pouch", "Roll", "Slot"]);
  });
  it("ends where an item is at home on itself, and at a home that is not there", () => {
    expect(way("ring")).toEqual(["Ring", "Loop"]);
    expect(wayHome(platform, { home: "nowhere" })).toEqual(["nowhere"]);
  });
});

describe("usableProcedures", () => {
  it("are those in force, in the collection's order; the collection's own list is left as it is", () => {
    const procedures = (["approved", "draft", "in review", "withdrawn", "coming", "approved"] as const).map(
      (status, at) => ({ ...makeProcedure(`p-${6 - at}`), status }),
    );
    const found = usableProcedures({ procedures });
    expect(found.map(({ id }) => id)).toEqual(["p-6", "p-1"]);
    found.reverse();
    expect(procedures[0]!.id).toBe("p-6");
  });
});
