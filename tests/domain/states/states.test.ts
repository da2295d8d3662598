/**
 * States that hold nothing (a brake, a valve, a lead): proved like fastenings. Invented platforms; what is expected is
 * worked out by hand from the design (section 7, states that are not parts).
 */
import { describe, expect, it } from "vitest";
import { validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { buildModel, programOf } from "../../../src/domain/states/model.ts";
import { run } from "../../../src/domain/states/run.ts";
import {
  configuration,
  fastening,
  item,
  move,
  nowhere,
  place,
  platform,
  procedure,
  turn,
} from "../../arbitraries/platform.ts";

const brake = fastening("brake", [], { kind: "brake", states: ["on", "off"], secure: "on" });
const valve = fastening("valve", [], { kind: "valve", states: ["shut", "open"], secure: "shut" });

/** A deck that waits with a seat, and takes a shelf whose arrangement wants the valve open. */
function built(...procedures: Parameters<typeof procedure>[1][]) {
  return platform({
    places: [place("deck"), place("bay"), place("store", { kind: "store" })],
    items: [item("seat", "store"), item("shelf", "store")],
    fastenings: [brake, valve],
    configurations: [
      configuration("waiting", { deck: { seat: 1 } }),
      configuration(
        "with-gas",
        { deck: { seat: 1 }, bay: { shelf: 1 } },
        { fastenings: [{ fastening: "valve", state: "open", where: nowhere }] },
      ),
    ],
    procedures: procedures.map((acts, at) => procedure(`p${at}`, acts)),
  });
}

function ending(from: string, ...acts: Parameters<typeof procedure>[1]) {
  const on = built(acts),
    model = buildModel(on),
    start = model.states[model.arrangements.findIndex(({ name }) => name === from)]!;
  const { stops } = run(model, start, programOf(model, on.procedures[0]!, on.procedures[0]!.steps));
  return stops.map(({ rule, fastening: at }) => `${rule} ${model.fastenings[at]?.id ?? ""}`.trim());
}

describe("a state that holds nothing", () => {
  it("is in every arrangement: secure, or as the arrangement names it", () => {
    expect(validArrangements(built()).map(({ name, fastenings }) => [name, Object.fromEntries(fastenings)])).toEqual([
      ["waiting", { brake: "on", valve: "shut" }],
      ["with-gas", { brake: "on", valve: "open" }],
    ]);
  });
  it("must be put back when the procedure ends", () => {
    expect(ending("waiting", turn("brake", "off"))).toEqual(["fastening/left-open brake"]);
    expect(ending("waiting", turn("brake", "off"), turn("brake", "on"))).toEqual([]);
  });
  it("can't be turned to what it is", () => {
    expect(ending("waiting", turn("brake", "on"))).toEqual(["fastening/no-change brake"]);
  });
  it("may be left as an arrangement names it only where what that arrangement fits is there", () => {
    expect(ending("waiting", turn("valve", "open"))).toEqual(["fastening/left-open valve"]);
    expect(ending("waiting", move("shelf", "store", "bay"), turn("valve", "open"))).toEqual([]);
    expect(ending("with-gas", turn("valve", "shut"), turn("valve", "open"))).toEqual([]);
  });
  it("keeps nothing in its place: anything is moved past it", () => {
    expect(ending("waiting", move("shelf", "store", "bay"))).toEqual([]);
  });
});
