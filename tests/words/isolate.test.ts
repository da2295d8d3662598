/** Measures in text from the right: Unicode UAX #9 (bidirectional algorithm), 2.7 for what is isolated and how. */
import { describe, expect, it } from "vitest";
import { changeTexts, isolateDays, isolateMeasures } from "../../src/words/isolate.ts";

const LRI = "\u2066",
  PDI = "\u2069";

describe("a measure", () => {
  it.each([
    "2 kg",
    "7,25 kg",
    "≈ 40.82 kg".slice(2),
    "-3 mm",
    "4 min 10 s",
    "8 lb 9 oz",
    "12\u00a0kN",
    "5 %",
    "7234-QS",
  ])("is isolated as a whole: %s", (text) => expect(isolateMeasures(`א ${text}, ב`)).toBe(`א ${LRI}${text}${PDI}, ב`));

  it.each(["FCR-T-02", "7234-QS-1", "A4 1", "2 kits", "x2 kg2", "step 3", "14 Sep 2026"])("is not made of %s", (text) =>
    expect(isolateMeasures(text)).toBe(text),
  );

  it.each(["2 kg", "2.5 kg", "4 min 10 s"])("is isolated once: %s", (text) =>
    expect(isolateMeasures(isolateMeasures(`${text}, ${text}`))).toBe(`${LRI}${text}${PDI}, ${LRI}${text}${PDI}`),
  );
});

it("a measure in a sentence that is read from the left stays in it (UAX #9, W7)", () => {
  expect(isolateMeasures("from 5 kg, under 40 kg")).toBe("from 5 kg, under 40 kg");
  expect(isolateMeasures("from 5 kg, א 40 kg")).toBe(`from 5 kg, א ${LRI}40 kg${PDI}`);
  expect(isolateMeasures("א 5 kg, 40 kg")).toBe(`א ${LRI}5 kg${PDI}, ${LRI}40 kg${PDI}`);
});

describe("a page", () => {
  it("keeps its tags, scripts and styles as they are", () =>
    expect(
      changeTexts(
        '<title>2 kg</title><p title="a > 2 kg">2 kg<b>3 mm</b></p><script>"4 kg"</script><style>/* 5 mm */</style>',
        isolateMeasures,
      ),
    ).toBe(
      `<title>2 kg</title><p title="a > 2 kg">${LRI}2 kg${PDI}<b>${LRI}3 mm${PDI}</b></p>` +
        '<script>"4 kg"</script><style>/* 5 mm */</style>',
    ));
});

it("a day from the right is isolated in an English sentence (UAX #9, W7 and 2.7), another is not", () => {
  expect(isolateDays("placed on 1 فبراير 2026, before")).toBe("placed on \u20681 فبراير 2026\u2069, before");
  expect(isolateDays("placed on 1 February 2026, before")).toBe("placed on 1 February 2026, before");
});
