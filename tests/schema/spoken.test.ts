/**
 * Numbers, dates and lists of a language. Outside source: Unicode CLDR 48 (cldr.unicode.org, chart of each language:
 * Numbers/Symbols, Date & Time/Gregorian, Core Data/List patterns), which `Intl` carries; written here as it stands
 * there. Signs that cannot be seen are written by their code points.
 */
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { readWeight } from "../../src/domain/bands/entry.ts";
import { kept, keepOn } from "../../src/domain/words/keep.ts";
import { sayDate, sayDecimal, sayFigures, sayMass } from "../../src/domain/words/say.ts";
import {
  speakIn,
  writeDate,
  writeDecimal,
  writeFigures,
  writeHour,
  writeList,
  writeMonth,
} from "../../src/schema/spoken.ts";
import { sayList } from "../../src/schema/wording.ts";
import { hearWords } from "../../src/words/hear.ts";

afterEach(() => speakIn(undefined));

function said(tag: string, say: () => string): string {
  speakIn(tag);
  return say();
}

describe("what a language writes", () => {
  it.each([
    ["de", "1204,50", "1.234.567", "14. Sept. 2026", "a, b und c", "a, b oder c"],
    ["fr", "1204,50", "1\u202f234\u202f567", "14 sept. 2026", "a, b et c", "a, b ou c"],
    ["pl", "1204,50", "1\u00a0234\u00a0567", "14 wrz 2026", "a, b i c", "a, b lub c"],
    ["pt-BR", "1204,50", "1.234.567", "14 de set. de 2026", "a, b e c", "a, b ou c"],
    ["he", "1204.50", "1,234,567", "14 בספט׳ 2026", "a, b ו-c", "a, b או c"],
    ["ar", "1204.50", "1,234,567", "14 سبتمبر 2026", "a وb وc", "a أو b أو c"],
    // CLDR's short form of Finnish has the month in figures: the long one is taken.
    ["fi", "1204,50", "1\u00a0234\u00a0567", "14. syyskuuta 2026", "a, b ja c", "a, b tai c"],
  ])("is CLDR's for %s", (tag, decimal, figures, date, and, or) => {
    speakIn(tag);
    expect([writeDecimal("1204.50"), writeFigures(1_234_567), writeDate("2026-09-14")]).toEqual([
      ...[decimal, figures, date],
    ]);
    expect([writeList(["a", "b", "c"], "and"), writeList(["a", "b", "c"], "or")]).toEqual([and, or]);
  });

  it("counts days as the files do and keeps our digits, unless the tag names others (RFC 6067, `ca` and `nu`)", () => {
    expect(said("fa", () => writeDate("2026-09-14"))).toBe("14 سپتامبر 2026");
    expect(said("fa-u-ca-persian", () => writeDate("2026-09-14"))).toContain("1405");
    expect(said("ar-EG", () => writeDecimal("12.5"))).toBe("12.5");
    expect(said("ar-u-nu-arab", () => writeDecimal("12.5"))).toBe("١٢٫٥");
  });

  it("loses no digit of an exact number", () =>
    expect(said("de", () => writeDecimal("0.453592370000000000001"))).toBe("0,453592370000000000001"));

  it("is what Intl writes of any number, with as many decimals as it has", () => {
    fc.assert(
      fc.property(fc.constantFrom("de", "fr", "sv", "he", "ja"), fc.integer({ min: -1e7, max: 1e7 }), (tag, n) => {
        const intl = new Intl.NumberFormat(`${tag}-u-nu-latn`, { useGrouping: false, maximumFractionDigits: 3 });
        expect(said(tag, () => writeDecimal(String(n / 1000)))).toBe(intl.format(n / 1000));
      }),
    );
  });

  it("names a month by itself", () =>
    expect(["en-GB", "de", "pl"].map((tag) => said(tag, () => writeMonth(9)))).toEqual(["Sep", "Sep", "wrz"]));

  it("is the hour of the day by twenty-four", () => {
    const moment = new Date(2026, 10, 28, 19, 5);
    expect(["en-US", "de", "ar"].map((tag) => said(tag, () => writeHour(moment)))).toEqual(["19:05", "19:05", "19:05"]);
    expect(said("fi", () => writeHour(moment))).toBe("19.05");
  });
});

describe("English of every region", () => {
  it.each(["en", "en-GB", "en-US", "en-XA"])("is written as issued documents have it: %s", (tag) => {
    speakIn(tag);
    const months = Array.from({ length: 12 }, (_, at) => sayDate(`2026-${String(at + 1).padStart(2, "0")}-05`));
    expect(months.join(", ")).toBe(
      "5 Jan 2026, 5 Feb 2026, 5 Mar 2026, 5 Apr 2026, 5 May 2026, 5 Jun 2026, " +
        "5 Jul 2026, 5 Aug 2026, 5 Sep 2026, 5 Oct 2026, 5 Nov 2026, 5 Dec 2026",
    );
    expect([sayDecimal(8.25, 2), sayFigures(1260), sayMass(104), sayList(["a", "b", "c"])]).toEqual([
      ...["8.25", "1,260", "104", "a, b and c"],
    ]);
  });
});

describe("a process", () => {
  it("speaks the language that it was told, until it is told another", () => {
    speakIn("de");
    expect([sayDate("2026-03-04"), sayDecimal(8.25, 1), sayList(["a", "b"], "or")]).toEqual([
      ...["4. März 2026", "8,3", "a oder b"],
    ]);
    speakIn(undefined);
    expect(sayDate("2026-03-04")).toBe("4 Mar 2026");
  });

  it("says a number that a text of the table is given with the language's mark, and a count as it is", () => {
    const { load } = hearWords<"load">({ language: "de", numbers: [], rooms: { load: { distance: "{distance} mm" } } });
    speakIn("de");
    expect(load.distance({ distance: 12.5, datum: "" })).toBe("12,5 mm");
    expect(load.distance({ distance: 1200, datum: "" })).toBe("1200 mm");
  });

  it("reads a weight back as the language writes it, and takes it again: it is the same weight", () => {
    speakIn("de");
    const read = readWeight("7.2", "kg");
    expect(read).toMatchObject({ kind: "value", value: { text: "7,2 kg" } });
    const again = readWeight("7,2 kg");
    expect(again).toEqual(read);
  });

  it("keeps what a proof said in one language apart from what it says in another", () => {
    const shelf = new Map<string, string>();
    keepOn({
      find: (name, question) => shelf.get(name + question),
      put: (name, question, answer) => void shelf.set(name + question, answer),
    });
    const work = kept(
      "said",
      () => false,
      (given: { words: string[] }) => ({ said: sayList(given.words) }),
    );
    const say = (tag: string) => {
      speakIn(tag);
      return work({ words: ["a", "b"] }).said;
    };
    expect(["en", "de", "en-GB", "de"].map(say)).toEqual(["a and b", "a und b", "a and b", "a und b"]);
    expect(shelf.size).toBe(2);
    keepOn(undefined);
  });
});
