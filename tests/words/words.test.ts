/** The table of fixed text, and a service's own nouns in it (English spelling: from memory, no source). */
import { readFileSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { Findings } from "../../src/findings/finding.ts";
import { compileService } from "../../src/compile/service.ts";
import { Source } from "../../src/read/source.ts";
import { TERMS, termOf } from "../../src/schema/terms.ts";
import { en } from "../../src/words/en.ts";
import { hearWords } from "../../src/words/hear.ts";
import { tellWords, wordsFor } from "../../src/words/words.ts";

const root = resolve(import.meta.dirname, "../..");
const SERVICE = "name: Bench\nlanguage: en-GB\nweight: from 1 kg to under 9 kg\ncrew: { lead: Lead }\n";

function serviceWith(line: string) {
  const findings = new Findings();
  const { service } = compileService(new Source("service.yaml", SERVICE + line), findings);
  return { service, findings: findings.list };
}

describe("a noun of a service", () => {
  it.each([
    ["casualty", "a", "casualties"],
    ["animal", "an", "animals"],
    ["test bench", "a", "test benches"],
    ["box", "a", "boxes"],
    ["boy", "a", "boys"],
  ])("%s has its article and its plural made", (word, article, many) =>
    expect(termOf(word)).toEqual({ one: word, many, article }),
  );

  it("may bring its own article and plural, where letters mislead", () => {
    expect(termOf("an hour glass")).toEqual({ one: "hour glass", many: "hour glasses", article: "an" });
    expect(termOf("a unit")).toMatchObject({ one: "unit", article: "a" });
    expect(termOf("ox", "oxen")).toMatchObject({ many: "oxen", article: "an" });
  });

  it("is read from `words`, with its plural in a list", () => {
    const { service, findings } = serviceWith("words: { patient: animal, vehicle: [a unit, units] }\n");
    expect(findings).toEqual([]);
    expect(service.words).toEqual({
      patient: { one: "animal", many: "animals", article: "an" },
      vehicle: { one: "unit", many: "units", article: "a" },
    });
    expect(serviceWith("").service.words).toBeUndefined();
  });

  it.each([
    ["words: { patiant: animal }\n", "text/unknown-field", "expected `patient`"],
    ["words: { patient: the animal }\n", "text/bad-value", "expected a noun"],
    ["words: { patient: [ox, oxen, oxes] }\n", "text/bad-value", "more than two words"],
    ["words: { patient: }\n", "text/missing-field", "missing"],
  ])("that is badly written is a finding: %s", (line, rule, message) => {
    const { findings } = serviceWith(line);
    expect(findings).toHaveLength(1);
    expect(`${findings[0]!.rule} ${findings[0]!.message}`).toContain(rule);
    expect(findings[0]!.message).toContain(message);
  });
});

describe("what is said", () => {
  const animals = wordsFor({ language: "en-GB", words: { patient: termOf("animal") } });

  it("has the service's noun, its article and its plural, with a capital where the sentence begins", () => {
    expect(animals.chooser.title).toBe("Which arrangement for this animal");
    expect(animals.bands.longOrWide).toContain("An animal who is long or wide");
    expect(animals.bands.dangers).toContain("for heavier animals,");
    expect(animals.chooser.outside({ outside: "Over 9 kg", service: "Bench" })).toBe(
      "Over 9 kg: Bench does not carry such an animal. Ask the coordinator on duty.",
    );
  });

  it("chooses by a count, and writes the count", () => {
    const say = hearWords<"cards">({
      language: "en",
      numbers: ["no", "one", "two"],
      rooms: { cards: { partOfPatients: "{count:one card|# cards}, {count:~|~ of them}, {count:^}" } },
    });
    expect([1, 2, 3].map((count) => say.cards.partOfPatients({ count }))).toEqual([
      "one card, one, One",
      "2 cards, two of them, Two",
      "3 cards, 3 of them, 3",
    ]);
  });

  it("is an error without what it needs, and not a page with a hole", () =>
    expect(() => animals.chooser.outside({ outside: "x" } as never)).toThrow("`service` is lacking"));

  it("is told to a script for the rooms that it asks for, and no others", () =>
    expect(Object.keys(tellWords({ language: "en" }, ["chooser"]).rooms)).toEqual(["chooser"]));
});

describe("the table", () => {
  const sources = ["src", "components"].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => /\.(?:ts|astro)$/.test(name) && name !== "words/en.ts")
      .map((name) => readFileSync(join(root, folder, name), "utf8")),
  );
  /** A function that is handed a room, as `names.words`, says its entries in a file that does not name it. */
  const HANDED = new Set(["records"]);
  /** Otherwise an entry is said in a file that names its room too: by its name, or chosen by it as a value. */
  const files = sources.map((text) => ({
    words: new Set(text.match(/\b[\w$]+\b/g)),
    names: new Set([...text.matchAll(/\.([\w$]+)\b|"([\w$]+)"/g)].map(([, after, quoted]) => after ?? quoted)),
  }));
  const says = (room: string, entry: string) =>
    files.some(({ words, names }) => (HANDED.has(room) || words.has(room)) && names.has(entry));

  it.each(Object.entries(en))("has no entry in %s that nobody says", (room, entries) =>
    expect(Object.keys(entries).filter((entry) => !says(room, entry))).toEqual([]),
  );

  it.each(Object.keys(TERMS))("says %s: no noun can be made a service's own that shows nowhere", (name) => {
    const said = new RegExp(`\\{(?:a )?${name}s?\\}`, "i");
    expect(
      Object.values(en)
        .flatMap((entries) => Object.values(entries))
        .filter((text) => said.test(text)),
    ).not.toEqual([]);
  });

  it("says the nouns of a trade in braces only", () => {
    // A page and a card have a foot, and a document has a head: only ends of a platform are the service's own nouns.
    const nouns = new RegExp(
      `\\b(?:(?:head|foot) end|${Object.entries(TERMS)
        .filter(([name]) => name !== "head" && name !== "foot")
        .flatMap(([, { one, many }]) => [one, many])
        .join("|")})\\b`,
      "i",
    );
    for (const text of Object.values(en).flatMap((entries) => Object.values(entries) as string[]))
      expect(text.replace(/\{[^}]*\}/g, "")).not.toMatch(nouns);
  });
});
