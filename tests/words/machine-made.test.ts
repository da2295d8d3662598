/** The languages made by machine: everything that the table says is changed in them, and what is put in is not. */
import { describe, expect, it } from "vitest";
import { en } from "../../src/words/en.ts";
import { directionOf } from "../../src/words/isolate.ts";
import { speakFor, wordsFor } from "../../src/words/words.ts";
import { sayOptionTitles, sayWhoInside } from "../../src/domain/words/say.ts";
import { addLanguage, languageFor } from "../../src/words/languages.ts";
import { addMachineMade, FROM_RIGHT, lengthen, LONG, mirror, ownLength } from "./machine-made.ts";

const texts: readonly string[] = Object.values(en).flatMap((entries) => Object.values(entries) as string[]);
/** What of a text is the table's own. */
const own = (text: string) => text.replace(/\{([^{}:]*)\}/g, "").replace(/\{[^{}:]*:|[|}~#^]/g, " ");

describe("the language of long words", () => {
  it("makes every text longer by two fifths of its letters at least, with a mark at each end", () => {
    for (const text of texts) {
      const long = lengthen(text);
      expect(long.trim()).toMatch(/^⟦[\s\S]*⟧$/);
      expect(long.length).toBeGreaterThanOrEqual(text.length + ownLength(text) * 0.4);
    }
  });

  it("leaves no word of more than two letters as it was, unless it has no vowel", () => {
    const plain = /[A-Za-z]*[aeiouyAEIOUY][A-Za-z]*/;
    for (const text of texts) expect(own(lengthen(text))).not.toMatch(plain);
  });
});

describe("the language from the right", () => {
  it("has none of our letters left", () => {
    for (const text of texts) expect(own(mirror(text))).not.toMatch(/[a-z]/i);
  });

  it("is written from the right, by what the tag says", () => {
    expect([FROM_RIGHT, LONG, "en-GB"].map(directionOf)).toEqual(["rtl", undefined, undefined]);
  });
});

it("both are spoken once they are added, and what is put in stays as it is", () => {
  expect(wordsFor({ language: LONG }).frame.noPlatform).not.toContain("⟦");
  addMachineMade();
  expect(wordsFor({ language: LONG }).frame.noPlatform).toMatch(/^⟦.*⟧$/);
  const told = wordsFor({ language: FROM_RIGHT, words: { patient: { one: "ox", many: "oxen", article: "an" } } });
  expect(told.through.told({ told: "4 kg" })).toMatch(/^an ox [א-ת]+ \u20664 kg\u2069$/);
  expect(wordsFor({ language: "en-GB" }).through.told({ told: "4 kg" })).toBe("a patient of 4 kg");
});

it("a language says itself whether titles and roles keep their capital within a sentence", () => {
  const options = [{ title: "Sauerstoffflasche" }, { title: "QR-Karte" }],
    crew = [{ id: "pflegekraft", name: "Pflegekraft" }] as unknown as Parameters<typeof sayWhoInside>[1];
  const said = () => [sayOptionTitles(options), sayWhoInside(["pflegekraft"], crew)];
  speakFor({ language: "en" });
  expect(said()).toEqual(["sauerstoffflasche and QR-Karte", "pflegekraft"]);
  // Nouns have a capital in German (Amtliche Regelung der deutschen Rechtschreibung, § 55).
  addLanguage("de", { ...languageFor("en"), capitals: true });
  speakFor({ language: "de-CH" });
  expect(said()).toEqual(["Sauerstoffflasche und QR-Karte", "Pflegekraft"]);
  speakFor({ language: "en" });
});
