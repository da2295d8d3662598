/**
 * Arrangements: which sets of options there are, where everything then is, and what keeps one from existing, against a
 * naive second look.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  excludedBy,
  findArrangement,
  listArrangements,
  sayArrangement,
  validArrangements,
} from "../../../src/domain/parts/arrangements.ts";
import type { Fitted, Option, Platform, Range } from "../../../src/schema/collection.ts";
import {
  anyone,
  configuration,
  fastening,
  grams,
  item,
  option,
  place,
  platform,
  range,
} from "../../arbitraries/platform.ts";
import { naiveStart, type NaiveState } from "../states/naive-run.ts";

const PLACES = ["deck", "rail", "tray", "shelf", "seat", "slot"];
const fittedEntry = fc.record({
  item: fc.constantFrom("base", "box", "pin"),
  place: fc.constantFrom(...PLACES),
  count: fc.integer({ min: 1, max: 2 }),
});
const weights: Range[] = [
  anyone.weight,
  range(undefined, grams(5000, false)),
  range(grams(5000, true), undefined),
  range(grams(9000, true), undefined),
];
const someBand = fc.constantFrom(...weights).map((weight) => ({ ...anyone, weight }));
const someOption = (id: string) =>
  fc
    .record({
      fitted: fc.array(fittedEntry, { maxLength: 2 }),
      empty: fc.constantFrom([], [], ["rail"], ["deck"]),
      notWith: fc.subarray(["a", "b", "c"], { maxLength: 1 }),
      band: someBand,
    })
    .map(({ fitted, empty, notWith, band }) => ({
      id,
      fitted,
      empty,
      notWith: notWith.filter((other) => other !== id),
      band,
    }));

/**
 * A platform with one configuration and three options. Every place has a fastening of its own that says whether it is
 * on the platform and filled; every fitted entry has a line of its own.
 */
const built = fc
  .record({
    fitted: fc.array(fittedEntry, { maxLength: 4 }),
    options: fc.tuple(someOption("a"), someOption("b"), someOption("c")),
    order: fc.shuffledSubarray(["a", "b", "c"]),
    band: someBand,
    room: fc.integer({ min: 1, max: 3 }),
    home: fc.constantFrom("rail", "shelf", "deck"),
    named: fc.boolean(),
    carries: fc.boolean(),
  })
  .map(({ fitted, options, order, band, room, home, named, carries }): Platform => {
    let line = 1;
    const lined = (entries: readonly { item: string; place: string; count: number }[]): Fitted[] =>
      entries.map((entry) => ({ ...entry, where: { file: "test", line: line++, column: 1 } }));
    const where = { file: "test", line: 0, column: 1 };
    return platform({
      places: [
        place("deck", { room }),
        place("rail", { room: 2 }),
        place("tray", { kind: "stowage" }),
        place("shelf", { kind: "store" }),
        place("seat", { on: "base", room: 2 }),
        place("slot", { on: "base" }),
      ],
      items: [
        item("base", "shelf", { places: ["seat", "slot"], carries }),
        item("box", home),
        item("pin", "tray", { count: 3 }),
      ],
      fastenings: [
        ...PLACES.map((id) => fastening(`of-${id}`, [id], { whenEmpty: "out" })),
        fastening("both", ["seat", "rail"], { whenEmpty: "out" }),
      ],
      configurations: [
        {
          ...configuration("built", {}),
          band,
          fitted: lined(fitted),
          options: order.map((id) => ({ id, where })),
          fastenings: named ? [{ fastening: "both", state: "out", where }] : [],
        },
      ],
      options: options.map(({ id, fitted: entries, empty, notWith, band: own }): Option => ({
        ...option(id, {}),
        band: own,
        fitted: lined(entries),
        empty: empty.map((each) => ({ place: each, where })),
        notWith,
      })),
      procedures: [],
    });
  });

const contentsOf = ({ pieces }: NaiveState) => {
  const counts = new Map<string, number>();
  for (const [piece, where] of pieces)
    counts.set(`${piece.split("#")[0]} in ${where}`, (counts.get(`${piece.split("#")[0]} in ${where}`) ?? 0) + 1);
  return Object.fromEntries([...counts].sort());
};
const isIn = ({ from, to }: Range, value: bigint) => (!from || value >= from.value) && (!to || value < to.value);

/**
 * Every arrangement by the design's sentences: sets of options as bits, fitted entries replaced place by place, lines
 * of what can't be.
 */
function naiveList(from: Platform) {
  const [configured] = from.configurations,
    options = configured!.options.map(({ id }) => from.options.find((each) => each.id === id)!);
  return Array.from({ length: 2 ** options.length }, (_, bits) =>
    options.filter((_option, at) => bits & (1 << at)),
  ).flatMap((chosen) => {
    if (chosen.some((a) => chosen.some((b) => a.notWith.includes(b.id)))) return [];
    if (
      ![1n, grams(5000, true).value, grams(9000, true).value].some((mass) =>
        [configured!, ...chosen].every(({ band }) => isIn(band.weight, mass)),
      )
    )
      return [];
    const gone = (at: number) =>
      chosen.slice(at).flatMap(({ fitted, empty }) => [...fitted, ...empty].map((each) => each.place));
    const fitted = [configured!, ...chosen].flatMap((each, at) =>
      each.fitted.filter((entry) => !gone(at).includes(entry.place)),
    );
    const start = naiveStart(
      from,
      fitted,
      new Map(configured!.fastenings.map(({ fastening: id, state }) => [id, state])),
    );
    const lines = from.items.flatMap(({ id, count }) => {
      const own = fitted.filter((entry) => entry.item === id);
      return own
        .filter((_entry, at) => own.slice(0, at + 1).reduce((sum, each) => sum + each.count, 0) > count)
        .slice(0, 1)
        .map(({ where }) => where.line);
    });
    const tooMany = lines.length > 0;
    for (const { id, room = Infinity } of from.places) {
      const last = fitted.filter((entry) => entry.place === id).at(-1);
      // What is fitted and what is at home there, also where more is fitted than there is.
      const pieces =
        fitted.filter((entry) => entry.place === id).reduce((sum, { count }) => sum + count, 0) +
        from.items
          .filter(({ home }) => home === id)
          .reduce(
            (sum, each) =>
              sum +
              Math.max(
                0,
                each.count -
                  fitted.filter((entry) => entry.item === each.id).reduce((all, { count }) => all + count, 0),
              ),
            0,
          );
      if (last && pieces > room) lines.push(last.where.line);
    }
    for (const entry of fitted) if (!start.fastenings.has(`of-${entry.place}`)) lines.push(entry.where.line);
    return [
      {
        name: [configured!.id, ...chosen.map(({ id }) => id)].join("+"),
        lines: lines.sort((a, b) => a - b),
        tooMany,
        start,
      },
    ];
  });
}

describe("arrangements of any configuration with options", () => {
  it(
    "are those of the naive list: every set of options that can be together, what is where, how each fastening " +
      "is, and the words at fault",
    () => {
      let odd = 0;
      fc.assert(
        fc.property(built, (made) => {
          const mine = listArrangements(made),
            naive = naiveList(made);
          expect(mine.map(({ name }) => name).sort()).toEqual(naive.map(({ name }) => name).sort());
          expect(mine.map(({ options }) => options.length)).toEqual(
            mine.map(({ options }) => options.length).sort((a, b) => a - b),
          );
          for (const each of mine) {
            const { lines, tooMany, start } = naive.find(({ name }) => name === each.name)!;
            // More pieces than there are stand nowhere at all: what is on the platform is then no question.
            if (tooMany) {
              odd++;
              expect(each.problems.length).toBeGreaterThan(0);
              continue;
            }
            expect([each.name, each.problems.map(({ where }) => where.line).sort((a, b) => a - b)]).toEqual([
              each.name,
              lines,
            ]);
            expect(
              Object.fromEntries(
                each.contents
                  .map(({ item: what, place: where, count }) => [`${what} in ${where}`, count] as const)
                  .sort(),
              ),
            ).toEqual(contentsOf(start));
            expect(Object.fromEntries([...each.fastenings].sort())).toEqual(
              Object.fromEntries([...start.fastenings].sort()),
            );
            const reversed = `${each.configuration.id} + ${each.options
              .map(({ id }) => id)
              .reverse()
              .join(" + ")}`.replace(/ \+ $/, "");
            expect(findArrangement(mine, reversed)).toBe(each);
          }
          expect(validArrangements(made)).toEqual(mine.filter(({ problems }) => problems.length === 0));
          expect(findArrangement(mine, "built+nothing")).toBeUndefined();
        }),
        { numRuns: 600 },
      );
      expect(odd).toBeGreaterThan(0);
    },
  );
});

describe("more options than can all be tried (invented cases)", () => {
  const named = (count: number, notWith: Record<string, string[]> = {}) => {
    const ids = Array.from({ length: count }, (_, at) => `o${at}`);
    const options = ids.map((id) => ({ ...option(id, { rail: { pin: 1 } }), notWith: notWith[id] ?? [] }));
    const where = { file: "test", line: 1, column: 1 };
    return listArrangements(
      platform({
        places: [place("rail"), place("shelf", { kind: "store" })],
        items: [item("pin", "shelf")],
        configurations: [{ ...configuration("all", {}), options: ids.map((id) => ({ id, where })) }],
        options,
        procedures: [],
      }),
    ).map(({ options: { length } }) => length);
  };
  const tally = (lengths: readonly number[]) =>
    [...new Set(lengths)].map((length) => [length, lengths.filter((each) => each === length).length]);
  it("are all tried up to ten, and then one at a time, two at a time and all together", () => {
    expect(named(10)).toHaveLength(1024);
    expect(tally(named(11))).toEqual([
      [0, 1],
      [1, 11],
      [2, 55],
      [11, 1],
    ]);
  });
  it("keep apart what can't be together, whichever of the two says so", () => {
    expect(tally(named(13, { o1: ["o0"], o2: ["o3"] }))).toEqual([
      [0, 1],
      [1, 13],
      [2, 76],
      [11, 1],
    ]);
  });
});

describe("options that exclude each other (invented cases)", () => {
  const shelf = option("gas-shelf", {}, { notWith: ["cooling-unit"] }),
    cooling = option("cooling-unit", {}),
    rack = option("rack", {}),
    platform = { options: [shelf, cooling, rack] };

  it("are said at both, whichever of the two names the other; none is an empty list", () => {
    expect(excludedBy(platform, shelf)).toEqual([cooling]);
    expect(excludedBy(platform, cooling)).toEqual([shelf]);
    expect(excludedBy(platform, rack)).toEqual([]);
  });
});

describe("the name of an arrangement (invented)", () => {
  it("is the configuration's with its options in one sentence, abbreviations as they are written", () => {
    const capsule = { title: "Newborn capsule" };
    const options = [{ title: "Gas shelf" }, { title: "ECG rack" }, { title: "Roll supports" }];
    expect(sayArrangement({ configuration: capsule, options: [] })).toBe("Newborn capsule");
    expect(sayArrangement({ configuration: capsule, options })).toBe(
      "Newborn capsule with gas shelf, ECG rack and roll supports",
    );
  });
});

describe("what names nothing that there is (invented cases)", () => {
  const where = { file: "test", line: 1, column: 1 };
  it("is left out of an arrangement: an item, a place, a place on an item", () => {
    const [made] = listArrangements(
      platform({
        places: [place("deck"), place("loose", { on: "ghost" }), place("shelf", { kind: "store" })],
        items: [item("box", "shelf")],
        fastenings: [fastening("lever", ["loose"])],
        procedures: [],
        configurations: [
          {
            ...configuration("c", {}),
            fitted: [
              { item: "ghost", place: "deck", count: 1, where },
              { item: "box", place: "nowhere", count: 1, where },
            ],
          },
        ],
      }),
    );
    expect(made).toMatchObject({ contents: [{ item: "box", place: "shelf", count: 1 }], problems: [] });
    expect(made!.fastenings.size).toBe(0);
  });
});
