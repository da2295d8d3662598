/** The words of bands and the units of quantities, against published values. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Range } from "../../src/schema/collection.ts";
import {
  parseAge,
  parseDate,
  parseDuration,
  parseForce,
  parseKg,
  parseLength,
  parseMass,
  parseRange,
} from "../../src/schema/quantities.ts";
import type { ReadResult } from "../../src/schema/quantities.ts";

const valueOf = <T>(reading: ReadResult<T>): T => {
  if (!reading.ok) throw new Error(reading.message);
  return reading.value;
};
const ruleOf = (reading: ReadResult<unknown>) => (reading.ok ? "ok" : reading.rule);
/** A range as an interval of ISO 80000-2: [a, b] owns both ends, ]a, b[ neither. */
const interval = ({ from, to }: Range) =>
  `${from?.owned ? "[" : "]"}${from?.text ?? "−∞"}, ${to?.text ?? "+∞"}${to?.owned ? "]" : "["}`;

describe("bands", () => {
  // The words are the file format's own; the intervals are written as in ISO 80000-2:2019, items 2-7.7 to 2-7.10 (from
  // memory).
  it.each([
    ["under 5 kg", "]−∞, 5 kg["],
    ["up to 5 kg", "]−∞, 5 kg]"],
    ["from 5 kg", "[5 kg, +∞["],
    ["from 5 kg to under 40 kg", "[5 kg, 40 kg["],
    ["from 5 kg up to 40 kg", "[5 kg, 40 kg]"],
    ["over 5 kg to under 40 kg", "]5 kg, 40 kg["],
    ["over 5 kg up to 40 kg", "]5 kg, 40 kg]"],
    ["40 kg and over", "[40 kg, +∞["],
    ["over 40 kg", "]40 kg, +∞["],
    ["any weight", "]−∞, +∞["],
    ["from 5 to under 40 kg", "[5 kg, 40 kg["],
    ["from 900 g to under 5kg", "[900 g, 5 kg["],
    ["  from\t5 kg  to under 40 kg ", "[5 kg, 40 kg["],
    ["from 5 kg up to 5 kg", "[5 kg, 5 kg]"],
    ["up to 11 lb", "]−∞, 11 lb]"],
  ])("reads `%s` as %s", (words, expected) => expect(interval(valueOf(parseRange(words, "weight")))).toBe(expected));

  it.each([
    ["under 18 months", "]−∞, 18 months["],
    ["any age", "]−∞, +∞["],
    ["from 1 day to under 1 week", "[1 day, 1 week["],
    ["from 6 to under 18 months", "[6 months, 18 months["],
    ["2 years and over", "[2 years, +∞["],
  ])("reads the age `%s` as %s", (words, expected) =>
    expect(interval(valueOf(parseRange(words, "age")))).toBe(expected),
  );

  it.each([
    "5-40 kg",
    "5 – 40 kg",
    "5 to 40 kg",
    "between 5 and 40 kg",
    "from 5 kg to 40 kg",
    "over 5 kg to 40 kg",
    "< 5 kg",
    "<5 kg",
    ">= 5 kg",
    "≤ 5 kg",
    "about 5 kg",
    "under about 5 kg",
    "approximately 5 kg to under 6 kg",
    "5 kg",
    "5 kg - 40 kg",
    "5..40 kg",
  ])("does not let `%s` pass: it does not say who owns an end", (words) =>
    expect(ruleOf(parseRange(words, "weight"))).toBe("bands/unclear"),
  );

  it.each([
    "from 40 kg to under 5 kg",
    "over 5 kg up to 5 kg",
    "from 5 kg to under 5 kg",
    "over 5 kg to under 5 kg",
    "under 0 kg",
    "from 2 lb to under 900 g",
  ])("says that nobody is in `%s`", (words) => expect(ruleOf(parseRange(words, "weight"))).toBe("bands/empty"));

  it.each([
    "",
    "heavy",
    "under 5",
    "under 5 stone",
    "from 5 kg to under",
    "under 4,5 kg",
    "under 5 kg kg",
    "under -5 kg",
    "under 5 months",
    "any age",
    "under 1e3 kg",
    "under .5 kg",
    "under 5. kg",
    `under ${"9".repeat(40)} kg`,
    "from 5 kg and over",
    "up to 5 kg to under 6 kg",
    "under 0.0000000000001 kg",
  ])("refuses `%s` as a weight", (words) => expect(ruleOf(parseRange(words, "weight"))).toBe("text/bad-value"));

  it("keeps the author's words, with the unit put to the first number", () => {
    expect(valueOf(parseRange("from 5 to under 40 kg", "weight")).text).toBe("from 5 kg to under 40 kg");
    expect(valueOf(parseRange("40 kg and over", "weight")).text).toBe("40 kg and over");
  });

  it("reads what it has written to the same band", () => {
    const number = fc
      .tuple(fc.nat(999), fc.nat(99))
      .map(([whole, part]) => `${whole}.${String(part).padStart(2, "0")}`);
    const unit = fc.constantFrom("kg", "g", "lb"),
      words = fc
        .tuple(fc.constantFrom("from", "over"), number, unit, fc.constantFrom("to under", "up to"), number, unit)
        .map((parts) => parts.join(" "));
    fc.assert(
      fc.property(words, (text) => {
        const once = parseRange(text, "weight");
        if (once.ok) expect(valueOf(parseRange(once.value.text, "weight"))).toEqual(once.value);
        else expect(once.rule).toBe("bands/empty");
      }),
    );
  });
});

describe("masses", () => {
  // NIST Special Publication 811 (2008), appendix B.8: 1 lb (avoirdupois) = 0.45359237 kg exactly.
  it("keeps the pound exact (NIST SP 811, appendix B.8)", () => {
    expect(valueOf(parseMass("1 lb")).value).toBe(45_359_237n * 10n ** 12n);
    expect(valueOf(parseMass("11 lb")).value).toBe(valueOf(parseMass("4.98951607 kg")).value);
    expect(valueOf(parseMass("0.0001 lb")).value).toBe(45_359_237n * 10n ** 8n);
    expect(valueOf(parseMass("0.000000000001 lb")).value).toBe(45_359_237n);
  });
  it.each([
    // 1 lb = 16 oz (NIST Handbook 44, appendix C, avoirdupois units), 1 kg = 1,000 g.
    ["2 lb 10 oz", "Write `2.625 lb`"],
    ["7 lbs 1 ounce", "Write `7.0625 lb`"],
    ["1 kg 50 g", "Write `1.05 kg`"],
  ])("refuses %s, since each person works it out otherwise, and says it in one unit", (words, fix) => {
    const read = parseMass(words);
    expect(read).toMatchObject({ ok: false, fix });
    const [number, great, count] = words.split(" ") as [string, string, string],
      [unit, has] = great.startsWith("lb") ? (["lb", 16n] as const) : (["kg", 1000n] as const),
      massOf = (text: string) => valueOf(parseMass(text)).value;
    expect(massOf(/`(.*)`/.exec(fix)![1]!) * has).toBe(massOf(`1 ${unit}`) * (BigInt(number) * has + BigInt(count)));
  });

  it("reads grams as thousandths", () =>
    expect(valueOf(parseMass("1200 g")).value).toBe(valueOf(parseMass("1.2 kg")).value));
  it("gives kilograms as near as a number can be", () => {
    expect(valueOf(parseKg("8.2 kg"))).toBe(8.2);
    expect(valueOf(parseKg("50 g"))).toBe(0.05);
    expect(valueOf(parseKg("1 lb"))).toBe(0.45359237);
  });
});

describe("ages", () => {
  it("are exact: 1 week = 7 days, 1 year = 12 months = 365.25 days (the file format's page)", () => {
    expect(valueOf(parseAge("1 week")).value).toBe(valueOf(parseAge("7 days")).value);
    expect(valueOf(parseAge("1 year")).value).toBe(valueOf(parseAge("12 months")).value);
    expect(valueOf(parseAge("1 month")).value).toBe(valueOf(parseAge("30.4375 days")).value);
    expect(valueOf(parseAge("4 years")).value).toBe(valueOf(parseAge("1461 days")).value);
  });
});

describe("lengths, forces and durations", () => {
  it.each([
    ["820 mm", 820],
    ["82 cm", 820],
    ["0.82 m", 820],
    ["-140 mm", -140],
    ["0 mm", 0],
    ["1.5 m", 1500],
    ["0.1 cm", 1],
  ])("reads %s", (words, mm) => expect(valueOf(parseLength(words))).toBe(mm));
  it.each([
    ["9 kN", 9000],
    ["900 N", 900],
    ["1.5 kN", 1500],
  ])("reads %s", (words, newtons) => expect(valueOf(parseForce(words))).toBe(newtons));
  it.each([
    ["40 s", 40],
    ["2 min", 120],
    ["1 min 30 s", 90],
    ["1 h", 3600],
    ["1 h 5 min", 3900],
    ["90s", 90],
    ["1.5 min", 90],
  ])("reads %s", (words, seconds) => expect(valueOf(parseDuration(words))).toBe(seconds));
  it.each(["40", "1 minute", "", "30 s 1 min", "-5 s", "1:30"])("refuses the duration `%s`", (words) =>
    expect(ruleOf(parseDuration(words))).toBe("text/bad-value"),
  );
  it.each(["820", "820 in", "8,2 mm", "x", "--5 mm"])("refuses the length `%s`", (words) =>
    expect(ruleOf(parseLength(words))).toBe("text/bad-value"),
  );
});

describe("dates", () => {
  // ISO 8601 calendar dates, extended format; leap years by the Gregorian rule (ISO 8601-1:2019, 4.2.1 and 5.2.2, from
  // memory).
  it.each(["2026-09-14", "2024-02-29", "2000-02-29"])("takes %s", (words) =>
    expect(valueOf(parseDate(words))).toBe(words),
  );
  it.each([
    "2026-02-29",
    "1900-02-29",
    "2026-13-01",
    "2026-04-31",
    "2026-00-10",
    "14.9.2026",
    "2026-9-14",
    "2026-09-14T00:00",
  ])("refuses %s", (words) => expect(ruleOf(parseDate(words))).toBe("text/bad-value"));
  it("takes exactly the days that the engine's own calendar has", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1600, max: 2400 }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 31 }),
        (year, month, day) => {
          const words = `${year}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
          expect(parseDate(words).ok).toBe(new Date(`${words}T00:00:00Z`).toISOString().startsWith(words));
        },
      ),
    );
  });
});
