/** What the page of a procedure shows of the omission proof, on the demo: the words are the project's own. */
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { modelOf } from "../../../src/domain/states/model.ts";
import { proveSlips, type SlipProof } from "../../../src/domain/slips/prove.ts";
import { STRETCHES } from "../../../src/domain/slips/ends.ts";
import { showSlips, type ShownSlip } from "../../../src/domain/slips/say-slips.ts";
import type { Collection } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

let collection: Collection, proof: SlipProof;
const shown = (id: string): readonly ShownSlip[] => {
  const platform = collection.platforms[0]!;
  return showSlips(
    proof,
    platform.procedures.find((each) => each.id === id)!,
    platform,
    collection.service.crew,
  );
};
beforeAll(async () => {
  collection = await readCollection(join(import.meta.dirname, "../../../procedures"));
  proof = proveSlips(modelOf(collection.platforms[0]!), collection.service);
}, 120_000);

it("says of every slip of every procedure how far it gets, once", () => {
  let ways = 0;
  for (const { id } of collection.platforms[0]!.procedures)
    for (const slip of shown(id)) ways += slip.ways.split(/, | or /).length;
  expect(ways).toBe(proof.rows.length);
});

it("draws what nobody notices to the end, and everything else shorter, stretch by stretch", () => {
  const stretch = 100 / STRETCHES.length;
  for (const { id } of collection.platforms[0]!.procedures)
    for (const { outcome, reach, told } of shown(id)) {
      expect(reach === 100).toBe(outcome === "silent");
      expect(reach).toBeGreaterThan(0);
      if (outcome === "counted") expect(reach).toBe(3 * stretch);
      if (/when the card is read/.test(told)) expect(reach).toBe(4 * stretch);
      if (outcome === "stopped") expect(reach).toBeLessThan(2 * stretch);
    }
});

it("names who is stopped where, the line that sees it and how long after", () => {
  const said = (id: string, step: number, ways: RegExp) =>
    shown(id).find((slip) => slip.step === step && ways.test(slip.ways))?.told;
  expect(said("seat-capsule", 2, /left out/)).toBe("Both are stopped at step 4, 40 s later: it cannot be done.");
  expect(said("seat-capsule", 4, /too few/)).toBe("Lead sees it at “Capsule pins”, step 5, 20 s later.");
  expect(said("seat-capsule", 5, /left out/)).toMatch(/^Seen when the card is read, at “Capsule pins”, \d+ min/);
  expect(said("strap-child", 7, /left out/)).toMatch(/ sees it at “Cradle buckles”, step 10/);
  const silent = collection.platforms[0]!.procedures.flatMap(({ id }) => shown(id)).filter(
    ({ outcome }) => outcome === "silent",
  );
  for (const { told } of silent) expect(told).toMatch(/^Nobody notices\./);
  expect(shown("confirm-band")).toEqual([]);
});
