/** What a background page shows of an arrangement's mass, for every weight that `check` lets pass. */
import { describe, expect, it } from "vitest";
import { validArrangements } from "../../src/domain/parts/arrangements.ts";
import { loadOf } from "../../src/site/plans/loads.ts";
import { makeConfiguration, makePlace, makePlatform } from "../domain/parts/make.ts";

const platform = makePlatform({
  places: [makePlace("deck", { xMm: 0 })],
  configurations: [makeConfiguration("bare", {})],
  own: { massKg: 50, xMm: 0 },
});

describe("the load that a background page shows", () => {
  // 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix B.8).
  it.each([
    ["11 lb", 50 + 11 * 0.45359237],
    ["20 kg", 70],
    ["800 g", 50.8],
  ])("reads %s as check does", (patient, kg) => {
    expect(loadOf(platform, validArrangements(platform)[0]!, patient)?.mass.kg).toBeCloseTo(kg, 9);
  });

  it("is none for what is no weight", () => {
    expect(loadOf(platform, validArrangements(platform)[0]!, "heavy")).toBeUndefined();
  });
});
