/**
 * The model of a platform whose files name what there is not: it is built all the same, and only what names it can't be
 * run.
 */
import { describe, expect, it } from "vitest";
import { buildModel, programOf } from "../../../src/domain/states/model.ts";
import { isOn, run, runs } from "../../../src/domain/states/run.ts";
import { configuration, fastening, item, move, place, platform, procedure, turn } from "../../arbitraries/platform.ts";

const where = { file: "test", line: 1, column: 1 };
const built = platform({
  places: [
    place("seat", { on: "lost" }),
    place("deck"),
    place("shelf", { kind: "store" }),
    place("loose", { on: "ghost" }),
    place("tray", { kind: "stowage" }),
  ],
  // The home of `lost` is no place, so it stands nowhere.
  items: [item("box", "shelf"), item("bag", "shelf"), item("lost", "attic", { places: ["seat"] })],
  fastenings: [fastening("lever", ["deck"]), fastening("strap", ["loose", "cellar"])],
  configurations: [
    configuration(
      "bare",
      {},
      {
        fastenings: [
          { fastening: "ghost", state: "out", where },
          { fastening: "lever", state: "ajar", where },
          { fastening: "lever", state: "out", where },
        ],
      },
    ),
  ],
  procedures: [
    procedure("items", [move("ghost", "shelf", "deck")]),
    procedure("from", [move("box", "attic", "deck")]),
    procedure("to", [move("box", "deck", "cellar")]),
    procedure("fastenings", [turn("ghost", "in")]),
    procedure("states", [turn("lever", "ajar")]),
    procedure("sound", [move("box", "shelf", "tray")]),
    procedure("seat", [move("box", "shelf", "seat")]),
  ],
});
const model = buildModel(built);

describe("what names nothing that there is (invented cases)", () => {
  it("has no slot: only known items in known places have", () => {
    expect(model.slots.map((slot) => `${model.items[slot.item]!.id} ${model.places[slot.place]!.id}`).sort()).toEqual([
      "bag shelf",
      "box deck",
      "box seat",
      "box shelf",
      "box tray",
    ]);
  });
  it.each([
    ["items", false],
    ["from", false],
    ["to", false],
    ["fastenings", false],
    ["states", false],
    ["sound", true],
    ["seat", true],
  ])("makes a program that can't be run, and others no worse: %s", (id, whole) => {
    const { steps } = model.procedures.get(id)!,
      program = programOf(model, model.procedures.get(id)!, steps);
    expect([program.whole, program.acts.length, runs(model, model.states[0]!, program) !== undefined]).toEqual([
      whole,
      whole ? 1 : 0,
      whole,
    ]);
  });
  it("is not on the platform: a place on an item that there is not, or that stands nowhere", () => {
    expect(model.places.map(({ id, on }, at) => [id, on, isOn(model, model.states[0]!, at)])).toEqual([
      ["seat", 2, false],
      ["deck", -1, true],
      ["shelf", -1, false],
      ["loose", -1, false],
      ["tray", -1, true],
      ["aside", -1, false],
    ]);
  });
  it("lets things be put into a place on an item that stands nowhere, for that is reported elsewhere", () => {
    const program = programOf(model, model.procedures.get("seat")!, model.procedures.get("seat")!.steps);
    expect(run(model, model.states[0]!, program).stops).toEqual([]);
  });
  it("names no state of a fastening; a state that there is, is named for what the arrangement holds there", () => {
    expect(model.fastenings.map(({ named }) => [...named.values()].map((states) => [...states]))).toEqual([[[1]], []]);
  });
});

describe("two arrangements with the same contents that name different states of a fastening (invented case)", () => {
  it("may both be left so", () => {
    const state = (id: string, named: string) =>
      configuration(id, {}, { fastenings: [{ fastening: "flap", state: named, where }] });
    const { fastenings } = buildModel(
      platform({
        places: [place("deck"), place("shelf", { kind: "store" })],
        items: [item("box", "shelf")],
        fastenings: [fastening("flap", ["deck"], { states: ["up", "down", "off"], secure: "up" })],
        configurations: [state("a", "down"), state("b", "off")],
        procedures: [],
      }),
    );
    expect([...fastenings[0]!.named.values()].map((states) => [...states])).toEqual([[1, 2]]);
  });
});
