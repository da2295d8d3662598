/**
 * Turns of fastenings that are not on the platform: no plan makes them in vain, and a procedure that always makes them
 * there still runs.
 */
import { describe, expect, it } from "vitest";
import { graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { proveParts } from "../../../src/domain/states/prove-parts.ts";
import {
  anyone,
  configuration,
  fastening,
  item,
  move,
  place,
  platform,
  procedure,
  turn,
} from "../../arbitraries/platform.ts";

const base = {
  places: [
    place("deck", { room: 1 }),
    place("tray", { kind: "stowage" }),
    place("kit-room", { kind: "store" }),
    place("seat", { on: "pod" }),
  ],
  items: [item("pod", "kit-room", { places: ["seat"], carries: true }), item("pad", "tray")],
  fastenings: [fastening("canopy", ["seat"], { states: ["shut", "open"], secure: "shut", whenEmpty: "shut" })],
  configurations: [configuration("bare", {}), configuration("pod", { deck: { pod: 1 }, seat: { pad: 1 } })],
};
const fit = procedure("fit", [move("pod", "kit-room", "deck")]);
const dress = procedure("dress", [turn("canopy", "open"), move("pad", "tray", "seat"), turn("canopy", "shut")]);

function plan(procedures: Parameters<typeof platform>[0]["procedures"]) {
  const model = buildModel(platform({ ...base, procedures }));
  const [bare, pod] = model.arrangements;
  return {
    broken: proveParts(model, anyone).broken.map(({ program }) => program.procedure.id),
    way: planChangeover(model, graphFor(model, {}), bare!, pod!)?.procedures.map(({ id }) => id),
  };
}

describe("a procedure that opens a canopy", () => {
  it("is planned after the pod has come on to the platform, not while it is in the kit room", () => {
    // In the order of the ids `dress` would come first, at the same cost.
    expect(plan([dress, fit])).toEqual({ broken: [], way: ["fit", "dress"] });
  });
  it("runs in the kit room if that is where it is always done", () => {
    const prepare = procedure("prepare", [
      turn("canopy", "open"),
      move("pad", "tray", "seat"),
      turn("canopy", "shut"),
      move("pod", "kit-room", "deck"),
    ]);
    expect(plan([prepare])).toEqual({ broken: [], way: ["prepare"] });
  });
  it("that is never shut again is broken, though nobody would notice in the kit room", () => {
    const open = procedure("dress", [turn("canopy", "open"), move("pad", "tray", "seat")]);
    expect(plan([open, fit]).broken).toEqual(["dress"]);
  });
});
