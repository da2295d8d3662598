/**
 * Layouts of cards of any length: nothing is lost, split or said twice, and what does not fit is said in millimetres.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FORMATS, formatOf } from "../../src/paper/card-format.ts";
import { roomOn, sayWhom } from "../../src/paper/card-heights.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { addPauses, addressOf, MOST_LINES, type PrintedCard, type PrintedLine } from "../../src/paper/printed-card.ts";

const check = (number: number, answer = "down, no red"): PrintedLine => ({
  kind: "check",
  number,
  challenge: `Lever ${number}`,
  answer,
  lane: number % 2 ? "left" : "right",
  critical: false,
  aside: "",
});
const hold = (text: string): PrintedLine => ({
  kind: "hold",
  text,
  looks: ["Strap: none longer"],
  lane: "both",
  aside: "",
});

function cardOf(lines: readonly PrintedLine[], more: Partial<PrintedCard> = {}): PrintedCard {
  return {
    id: "a",
    platform: "Sled",
    title: "Child shell",
    code: "KRR-S-C1",
    revision: 1,
    effective: "2026-01-05",
    band: "from 8 kg to under 30 kg",
    checkCode: "7K3F-QS",
    address: "HTTPS://SLED.EXAMPLE.ORG/C/7K3FQS/",
    leftLooks: "Leader",
    rightLooks: "Tail",
    hasCritical: false,
    parts: [{ lines: addPauses(lines) }],
    warnings: [],
    count: [],
    loads: [],
    complete: "Child shell complete",
    ...more,
  };
}

const words = fc
  .array(
    fc.constantFrom("lever", "red", "strap", "buckle", "of", "the", "hindmost", "anchor", "flat", "no", "x".repeat(30)),
    { minLength: 1, maxLength: 9 },
  )
  .map((list) => list.join(" "));
const line = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .record({
        challenge: words,
        answer: words,
        aside: fc.constantFrom("", "Instead of line 3"),
        lane: fc.constantFrom("left", "right", "both"),
      })
      .map((parts) => ({ kind: "check", number: 0, critical: true, ...parts }) as PrintedLine),
  },
  { weight: 1, arbitrary: words.map(hold) },
);
const card = fc
  .record({
    own: fc.array(line, { maxLength: 40 }),
    options: fc.array(fc.array(line, { minLength: 1, maxLength: 12 }), { maxLength: 5 }),
    warnings: fc.array(words, { maxLength: 3 }),
    flows: fc.boolean(),
  })
  .map(({ own, options, warnings, flows }) => {
    let number = 0;
    const numbered = (lines: readonly PrintedLine[]) =>
      lines.map((each) => (each.kind === "check" ? { ...each, number: (number += 1) } : each));
    const parts = [
      { lines: addPauses(numbered(own)) },
      ...options.map((lines, at) => ({ title: `If fitted: option ${at}`, lines: addPauses(numbered(lines)) })),
    ];
    return cardOf([], {
      parts,
      warnings: warnings.map((text) => ({ signal: "warning" as const, text })),
      ...(flows ? { flows: true } : {}),
    });
  });

describe("a card", () => {
  it(
    "of any length has each line once, whole, in order, on a side that has room for it; or says how much too " +
      "long it is",
    () => {
      fc.assert(
        fc.property(card, fc.constantFrom(...FORMATS), (printed, format) => {
          const { sides, tooLongMm } = layoutCard(printed, format);
          for (const side of sides)
            for (const column of side.columns)
              expect(column.reduce((sum, { height }) => sum + height, 0)).toBeLessThanOrEqual(
                roomOn(printed, format, side.isFront) + 1e-9,
              );
          const placed = sides
            .flatMap(({ columns }) => columns.flat())
            .flatMap((block) => (block.kind === "line" ? [block.line] : []));
          const all = printed.parts.flatMap(({ lines }) => lines);
          if (tooLongMm === 0) {
            expect(placed).toEqual(all);
            expect(
              sides.flatMap(({ columns }) => columns.flat()).filter(({ kind }) => kind === "control"),
            ).toHaveLength(1);
            expect(
              sides.flatMap(({ columns }) => columns.flat()).filter(({ kind }) => kind === "warning"),
            ).toHaveLength(printed.flows ? 0 : printed.warnings.length);
          } else expect(placed).toEqual(all.slice(0, placed.length));
          expect(sides.map(({ page }) => page)).toEqual(sides.map((_, at) => at + 1));
          // A mark that something is continued has its fellow on the next side.
          for (const [at, { continues }] of sides.entries()) expect(sides[at + 1]?.continued ?? false).toBe(continues);
          if (!printed.flows) expect(sides.length).toBeLessThanOrEqual(2 * format.leaves);
        }),
        { numRuns: 400 },
      );
    },
  );

  it("has its warnings before every line, and over each column of an option's lines the option's heading", () => {
    fc.assert(
      fc.property(card, fc.constantFrom(...FORMATS), (printed, format) => {
        const columns = layoutCard(printed, format).sides.flatMap((side) => side.columns);
        const kinds = columns.flat().map(({ kind }) => kind);
        if (kinds.includes("warning") && kinds.includes("line"))
          expect(kinds.lastIndexOf("warning")).toBeLessThan(kinds.indexOf("line"));
        if (printed.flows) return;
        for (const blocks of columns) {
          let under: string | undefined;
          for (const block of blocks) {
            if (block.kind === "part") under = block.part.title;
            if (block.kind === "end") under = undefined;
            if (block.kind !== "line") continue;
            const { title } = printed.parts.find(({ lines }) => lines.includes(block.line))!;
            // A line that fills a small column with its heading alone stands there by itself, rather than nowhere.
            const heading = columns.flat().find((each) => each.kind === "part" && each.part.title === title),
              room = roomOn(printed, format, false) - 2 * (heading?.height ?? 0) - 8;
            if (block.height < room || !title) expect(under).toBe(title);
          }
        }
      }),
      { numRuns: 400 },
    );
  });

  it("keeps an option's lines on one side where that takes no side more", () => {
    const option = (title: string, from: number) => ({
      title: `If fitted: ${title}`,
      lines: Array.from({ length: 5 }, (_, at) => check(from + at)),
    });
    const parts = [
      { lines: Array.from({ length: 20 }, (_, at) => check(at + 1)) },
      ...["oxygen", "heat", "splint", "shade"].map((title, at) => option(title, 21 + 5 * at)),
    ];
    const { sides } = layoutCard(cardOf([], { parts }), formatOf("a5"));
    const sideOf = (number: number) =>
      sides.findIndex(({ columns }) =>
        columns.flat().some((block) => block.kind === "line" && "number" in block.line && block.line.number === number),
      );
    for (const from of [21, 26, 31, 36])
      expect([from, ...Array.from({ length: 5 }, (_, at) => sideOf(from + at))]).toEqual([
        from,
        ...Array.from({ length: 5 }, () => sideOf(from)),
      ]);
    expect(sides).toHaveLength(3);
  });

  it("puts the last line of options and the word that all is complete at the end", () => {
    const printed = cardOf([check(1)], {
      parts: [{ lines: [check(1)] }, { title: "If fitted: oxygen", lines: [check(2)] }],
    });
    const kinds = layoutCard(printed, formatOf("a5"))
      .sides.flatMap(({ columns }) => columns.flat())
      .filter(({ kind }) => kind === "line" || kind === "end");
    expect(kinds.map((block) => (block.kind === "end" ? (block.own ? "own end" : "end") : "line"))).toEqual([
      "line",
      "own end",
      "line",
      "end",
    ]);
  });

  it.each([
    [12, true],
    [26, true],
    [40, false],
  ])("of %d lines of one height fits on the front and back of A5: %s", (count, fits) => {
    const { tooLongMm } = layoutCard(cardOf(Array.from({ length: count }, (_, at) => check(at + 1))), formatOf("a5"));
    expect(tooLongMm === 0).toBe(fits);
  });

  it("is too long by the height of the lines that have no room: two more lines, about two rows more", () => {
    const tooLong = (count: number) =>
      layoutCard(cardOf(Array.from({ length: count }, (_, at) => check(at + 1))), formatOf("a5")).tooLongMm;
    const more = tooLong(42) - tooLong(40);
    // Rows stand as close as they may, 9.5 mm, before a card is too long.
    expect(more).toBeGreaterThan(19);
    expect(more).toBeLessThan(30);
  });

  it("keeps an A4 side what A5 is, larger by the square root of two (ISO 216)", () => {
    const printed = cardOf(Array.from({ length: 20 }, (_, at) => check(at + 1)));
    expect(layoutCard(printed, formatOf("a4")).sides).toEqual(layoutCard(printed, formatOf("a5")).sides);
    expect(formatOf("a4").scale).toBeCloseTo(Math.SQRT2, 3);
  });
});

describe("a card of steps", () => {
  const step = (number: number): PrintedLine => ({
    kind: "step",
    number,
    text: "Push the four pins in until each one clicks",
    lane: "both",
    critical: true,
    aside: "",
  });
  const alarm = (text: string): PrintedLine => ({ kind: "alarm", signal: "warning", text });
  const alarms = fc.array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 1, max: 12 })), {
    minLength: 1,
    maxLength: 40,
  });

  it("never parts a warning from its step: both are in one column, in any format, and nothing is lost", () => {
    fc.assert(
      fc.property(alarms, fc.constantFrom(...FORMATS), (list, format) => {
        // A column of A6 has no room for two long warnings, a heading and a step: there the last is parted, not lost.
        const lines = list.flatMap(([most, long], at) => [
          ...Array.from({ length: format.paper === "A6" ? Math.min(most, 1) : most }, () =>
            alarm("Nothing holds the capsule until all four pins are in. ".repeat((long % 4) + 1)),
          ),
          step(at + 1),
        ]);
        const { sides } = layoutCard(cardOf(lines, { flows: true, parts: [{ title: "Seat it", lines }] }), format);
        const columns = sides.flatMap(({ columns }) => columns);
        const placed = columns.flatMap((blocks) =>
          blocks.flatMap((block) => (block.kind === "line" ? [block.line] : [])),
        );
        expect(placed).toEqual(lines);
        for (const blocks of columns) {
          const last = blocks.findLast(({ kind }) => kind === "line");
          if (last?.kind === "line") expect(last.line.kind).not.toBe("alarm");
        }
      }),
    );
  });

  it("says who looks once above a column of lines, however much of the side before the count fills", () => {
    for (let rows = 0; rows <= 40; rows++)
      for (const format of FORMATS) {
        const count = Array.from({ length: rows }, (_, at) => ({
          number: at + 1,
          item: "Capsule pin",
          place: "Pin tray to capsule seat",
          count: 4,
        }));
        const lines = Array.from({ length: 12 }, (_, at) => step(at + 1));
        const { sides } = layoutCard(cardOf([], { flows: true, count, parts: [{ title: "Seat it", lines }] }), format);
        for (const blocks of sides.flatMap(({ columns }) => columns)) {
          const said = blocks.filter(({ kind }) => kind === "lookers").length;
          const expected = blocks.some(({ kind }) => kind === "line") ? [1] : [0, 1];
          expect([rows, format.name, expected]).toEqual([rows, format.name, expect.arrayContaining([said])]);
        }
      }
  });
});

describe("pauses", () => {
  it(
    "leave fewer than ten lines in a run (Gawande, Boorman, Berry 2010: fewer than ten items a pause point), " +
      "and change nothing else",
    () => {
      fc.assert(
        fc.property(fc.array(fc.boolean(), { maxLength: 60 }), (holds) => {
          const lines = holds.map((isHold, at) => (isHold ? hold(`hold ${at}`) : check(at)));
          const paused = addPauses(lines);
          expect(paused.filter(({ kind }) => kind !== "pause")).toEqual(lines);
          let run = 0;
          for (const each of paused) {
            run = each.kind === "check" ? run + 1 : 0;
            expect(run).toBeLessThanOrEqual(MOST_LINES);
          }
          expect(MOST_LINES).toBeLessThan(10);
        }),
      );
    },
  );
});

describe("the address in the QR code", () => {
  it.each([
    ["https://procedures.example.org/", "HTTPS://PROCEDURES.EXAMPLE.ORG/C/7K3FQS/"],
    ["https://procedures.example.org", "HTTPS://PROCEDURES.EXAMPLE.ORG/C/7K3FQS/"],
    ["http://host.example:8080/Tern/site/", "HTTP://HOST.EXAMPLE:8080/Tern/site/C/7K3FQS/"],
  ])("of %s is %s: scheme and host do not distinguish capitals (RFC 3986, 6.2.2.1), a path does", (site, address) =>
    expect(addressOf(site, "7K3F-QS")).toBe(address),
  );

  it("is none without a site", () => expect(addressOf(undefined, "7K3F-QS")).toBeUndefined());
});

it("parts no number from its unit in the line that says whom a card is for", () => {
  expect(sayWhom({ band: "from 8 kg to under 30 kg, under 28 days" })).toBe(
    "from 8\u00a0kg to under 30\u00a0kg, under 28\u00a0days",
  );
});
