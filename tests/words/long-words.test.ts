import { describe, expect, it } from "vitest";
import { breakLongWords } from "../../src/words/long-words.ts";
import { withoutBreaks } from "../../src/words/without-breaks.ts";

const shown = (text: string) => breakLongWords(text).replaceAll("\u00ad", "|");

describe("a long word may break", () => {
  // Amtliche Regelung der deutschen Rechtschreibung, § 110: of several consonants only the last goes to the next line.
  it("before the last of the consonants between two vowels", () =>
    expect(shown("Krankentransportwagen")).toBe("Kranken|transport|wagen".replace("n|t", "nt|")));
  // § 111: ch, ck, sch, ph, rh, sh and th are not parted.
  it("never within ch, sch, th", () => expect(shown("Arbeitsgemeinschaftsapotheken")).not.toMatch(/s\|c|c\|h|t\|h/));
  it("never near an end, and never nearer than five letters to another place", () =>
    expect(
      shown("Kinderrückhaltesystembefestigungsvorrichtung")
        .split("|")
        .every(({ length }) => length >= 5),
    ).toBe(true));
});

it("short words, other scripts and numbers are left as they are", () => {
  for (const text of [
    "Newborn capsule",
    "FCR-T-02",
    "12345678901234567890",
    "緊急搬送用新生児保育器固定具取付手順書一覧",
  ])
    expect(breakLongWords(text)).toBe(text);
});

it("nothing is lost: without the breaks it is the text that it was", () => {
  const text = "The Frühgeborenenrückhaltesystembefestigungsschale, twice";
  expect(breakLongWords(text)).not.toBe(text);
  expect(withoutBreaks(breakLongWords(text))).toBe(text);
});
