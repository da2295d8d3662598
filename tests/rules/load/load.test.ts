/** The load rules: whole findings for platforms that break one limit each. The platforms are invented. */
import { describe, expect, it } from "vitest";
import { findBrokenLoads } from "../../../src/domain/load/broken-loads.ts";
import { Findings, type Rule } from "../../../src/findings/finding.ts";
import { noMass } from "../../../src/rules/load/no-mass.ts";
import { outOfBalance } from "../../../src/rules/load/out-of-balance.ts";
import { overMass } from "../../../src/rules/load/over-mass.ts";
import { overRating } from "../../../src/rules/load/over-rating.ts";
import type { Band, Collection, Platform } from "../../../src/schema/collection.ts";
import {
  bandOf,
  makeConfiguration,
  makeFastening,
  makeItem,
  makeOption,
  makePlace,
  makePlatform,
  WHERE,
} from "../../domain/parts/make.ts";

const fit = (item: string, place: string, count = 1) => ({ item, place, count, where: WHERE });
const options = (...ids: readonly string[]) => ids.map((id) => ({ id, where: WHERE }));

/**
 * A trolley that keeps all its limits: 58 kg itself, a 10 kg seat, two options of 5 kg and 6 kg, patients from 5 kg to
 * under 40 kg.
 */
function trolley(values: Partial<Platform> = {}): Platform {
  return makePlatform({
    own: { massKg: 58, xMm: 900 },
    patient: { xMm: 800 },
    limits: { massKg: 119, balance: { fromMm: 800, toMm: 1000 } },
    places: [
      makePlace("deck", { xMm: 900 }),
      makePlace("foot-rail", { xMm: 1600 }),
      makePlace("head-rail", { xMm: 100 }),
      makePlace("store", { kind: "store" }),
    ],
    items: [
      makeItem("seat", { massKg: 10, restrains: bandOf(5, 40).weight }),
      makeItem("gas", { massKg: 5 }),
      makeItem("pump", { massKg: 6 }),
    ],
    fastenings: [makeFastening("lever", ["deck"], { ratedN: 8000 })],
    factors: { source: "14 CFR 29.561(b)(3)", forward: 16, upward: 4 },
    configurations: [
      makeConfiguration("chair", {
        band: bandOf(5, 40),
        fitted: [fit("seat", "deck")],
        options: options("gas-shelf", "pump-mount"),
      }),
    ],
    options: [
      makeOption("gas-shelf", { fitted: [fit("gas", "foot-rail")] }),
      makeOption("pump-mount", { fitted: [fit("pump", "head-rail")] }),
    ],
    ...values,
  });
}

function findingsOf(rule: Rule, platform: Platform, band: Band = bandOf(1, 130), damaged: readonly string[] = []) {
  const findings = new Findings();
  const collection = { service: { band }, platforms: [platform] } as unknown as Collection;
  rule.check!(collection, (where, remark) => findings.add(rule.id, rule.severity, where, remark), {
    today: "2026-09-14",
    damaged: new Set(damaged),
  });
  return findings.list.map(({ file, message, fix }) => ({ file, message, fix }));
}

describe("the load rules", () => {
  it.each([overMass, outOfBalance, overRating, noMass])("find nothing on a trolley within its limits: $id", (rule) => {
    expect(findingsOf(rule, trolley())).toEqual([]);
  });

  it("report a configuration that is too heavy once, not again for its options", () => {
    expect(findingsOf(overMass, trolley({ limits: { massKg: 100.5 } }))).toEqual([
      {
        file: "tern/configurations/chair.mdx",
        message:
          "`chair` weighs 108 kg with a patient of 40 kg: over the limit of 100.5 kg for every patient over 32.5 kg",
        fix:
          "Take something off, let the band end at 32.5 kg, or correct `limits: mass` in platform.yaml from the " +
          "maker's data",
      },
    ]);
  });

  it("report the option that makes it too heavy, and two that do so only together at the later one", () => {
    expect(
      findingsOf(overMass, trolley({ limits: { massKg: 113.5 } })).map(({ file, message }) => [file, message]),
    ).toEqual([
      [
        "tern/options/pump-mount.mdx",
        "`chair+pump-mount` weighs 114 kg with a patient of 40 kg: over the limit of 113.5 kg for every " +
          "patient over 39.5 kg",
      ],
    ]);
    expect(
      findingsOf(overMass, trolley({ limits: { massKg: 118 } })).map(({ file, message }) => [file, message]),
    ).toEqual([
      [
        "tern/options/pump-mount.mdx",
        "`chair+gas-shelf+pump-mount` weighs 119 kg with a patient of 40 kg: over the limit of 118 kg for " +
          "every patient over 39 kg",
      ],
    ]);
  });

  it("name the other configurations that an option breaks too", () => {
    const platform = trolley({
      limits: { massKg: 112 },
      configurations: ["chair", "bench"].map((id) =>
        makeConfiguration(id, { band: bandOf(5, 40), fitted: [fit("seat", "deck")], options: options("gas-shelf") }),
      ),
    });
    expect(findingsOf(overMass, platform).map(({ message }) => message)).toEqual([
      "`chair+gas-shelf` weighs 113 kg with a patient of 40 kg: over the limit of 112 kg for every patient " +
        "over 39 kg; the same goes for `bench+gas-shelf`",
    ]);
  });

  it("let a limit be met exactly, and judge an end that the band does not own", () => {
    expect(findingsOf(overMass, trolley({ limits: { massKg: 119 } }))).toEqual([]);
    expect(findingsOf(overMass, trolley({ limits: { massKg: 118.999999 } }))).toHaveLength(1);
  });

  it("take an open end of the band from the service, and judge only the lower end when that is open too", () => {
    const open = trolley({
      limits: { massKg: 150 },
      configurations: [makeConfiguration("chair", { band: bandOf(5), fitted: [fit("seat", "deck")] })],
    });
    expect(findingsOf(overMass, open, bandOf(1, 130)).map(({ message }) => message)).toEqual([
      "`chair` weighs 198 kg with a patient of 130 kg: over the limit of 150 kg for every patient over 82 kg",
    ]);
    expect(findingsOf(overMass, open, bandOf(1))).toEqual([]);
  });

  it("report a balance point beyond each of its limits, with the patients for whom", () => {
    // (68 · 900 + 40 · 800) / 108 = 862.963 mm with the heaviest, (68 · 900 + 5 · 800) / 73 = 893.151 mm with the
    // lightest
    expect(
      findingsOf(outOfBalance, trolley({ limits: { balance: { fromMm: 870, toMm: 1000 } }, options: [] })),
    ).toEqual([
      {
        file: "tern/configurations/chair.mdx",
        message:
          "`chair` balances at 863 mm with a patient of 40 kg: below the lower limit of 870 mm for every " +
          "patient over about 29.143 kg",
        fix:
          "Move something away from the datum, let the band end at 29.142 kg, or correct `limits: balance` in " +
          "platform.yaml from the maker's data",
      },
    ]);
    expect(findingsOf(outOfBalance, trolley({ limits: { balance: { fromMm: 700, toMm: 890 } }, options: [] }))).toEqual(
      [
        {
          file: "tern/configurations/chair.mdx",
          message:
            "`chair` balances at 893.2 mm with a patient of 5 kg: above the upper limit of 890 mm for every " +
            "patient under about 7.556 kg",
          fix:
            "Move something towards the datum, let the band begin at 7.556 kg, or correct `limits: balance` in " +
            "platform.yaml from the maker's data",
        },
      ],
    );
    expect(
      findingsOf(outOfBalance, trolley({ limits: { balance: { fromMm: 700, toMm: 800 } }, options: [] })).map(
        ({ message }) => message,
      ),
    ).toEqual([
      "`chair` balances at 893.2 mm with a patient of 5 kg: above the upper limit of 800 mm for every patient " +
        "of the band",
    ]);
  });

  it("report a fastening that has to hold more than its rating, in its worst direction", () => {
    // (10 + 40) kg · 16 · 9.80665 = 7845.32 N
    expect(
      findingsOf(overRating, trolley({ fastenings: [makeFastening("lever", ["deck"], { ratedN: 7800 })] })),
    ).toEqual([
      {
        file: "tern/configurations/chair.mdx",
        message:
          "In `chair` `lever` has to hold 7.8453 kN forward (50 kg, a patient of 40 kg among it, at 16 g), " +
          "and is rated 7.8 kN",
        fix:
          "Fit less there, lower the upper end of the band, or use a stronger fastening and correct `rated` of " +
          "`lever` from its maker's data",
      },
    ]);
    expect(
      findingsOf(overRating, trolley({ fastenings: [makeFastening("clamp", ["foot-rail"], { ratedN: 700 })] })).map(
        ({ file, message }) => [file, message],
      ),
    ).toEqual([
      [
        "tern/options/gas-shelf.mdx",
        "In `chair+gas-shelf` `clamp` has to hold 784.53 N forward (5 kg at 16 g), and is rated 700 N",
      ],
    ]);
  });

  it("check no direction that has no factor, and no fastening that has no rating", () => {
    expect(
      findingsOf(
        overRating,
        trolley({ fastenings: [makeFastening("lever", ["deck"], { ratedN: 1 })], factors: { source: "none" } }),
      ),
    ).toEqual([]);
    expect(findingsOf(overRating, trolley({ fastenings: [makeFastening("lever", ["deck"])] }))).toEqual([]);
  });

  it("warn once of an item without mass that can be on the platform", () => {
    const platform = trolley({
      items: [makeItem("seat", { massKg: 10 }), makeItem("gas"), makeItem("pump", { massKg: 0 }), makeItem("spare")],
    });
    expect(findingsOf(noMass, platform).map(({ message, fix }) => [message, fix])).toEqual([
      [
        "`gas` has no `mass`: it counts as 0 kg wherever it is",
        "Weigh it and write `mass: … kg` (`mass: 0 kg` if it may be left out)",
      ],
    ]);
  });

  it(
    "warn of a place without x, under what stands there too, and of a patient without one, if the balance is " +
      "limited",
    () => {
      const places = [
        makePlace("deck"),
        makePlace("foot-rail", { xMm: 1600 }),
        makePlace("pocket", { on: "seat", dxMm: 5 }),
        makePlace("head-rail"),
        makePlace("store", { kind: "store" }),
      ];
      const lacking = {
        places,
        patient: undefined,
        items: [
          makeItem("seat", { massKg: 0 }),
          makeItem("gas", { massKg: 5 }),
          makeItem("pump", { massKg: 6, home: "pocket" }),
        ],
        options: [],
      };
      expect(findingsOf(noMass, trolley(lacking)).map(({ message }) => message)).toEqual([
        "`deck` has no `x`: what is there counts at the datum, and the balance point is wrong",
        "The balance is limited, and nothing says where the patient's mass acts: it counts at the datum",
      ]);
      expect(findingsOf(noMass, trolley({ ...lacking, limits: { massKg: 119 } }))).toEqual([]);
    },
  );
});

describe("a file with an error of its own", () => {
  it.each(["service.yaml", "tern/platform.yaml", "tern/equipment.yaml", "tern/configurations/chair.mdx"])(
    "is not judged for its load: %s",
    (file) => {
      expect(findingsOf(overMass, trolley({ limits: { massKg: 100.5 } }), bandOf(1, 130), [file])).toEqual([]);
      expect(
        findingsOf(overMass, trolley({ limits: { massKg: 100.5 } }), bandOf(1, 130), ["tern/other.mdx"]),
      ).toHaveLength(1);
    },
  );
});

describe("findBrokenLoads", () => {
  it("gives the arrangement with the fewest options for each limit, and computes it once for a platform", () => {
    const platform = trolley({ limits: { massKg: 113.5 } });
    const service = bandOf(1, 130);
    expect(
      findBrokenLoads(platform, service).map(({ kind, arrangement, option }) => [kind, arrangement.name, option?.id]),
    ).toEqual([["limit", "chair+pump-mount", "pump-mount"]]);
    expect(findBrokenLoads(platform, service)).toBe(findBrokenLoads(platform, service));
  });
});
