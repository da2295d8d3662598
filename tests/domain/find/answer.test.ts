/** What a query is answered with, on a few pages. */
import { describe, expect, it } from "vitest";
import { answerFrom } from "../../../src/domain/find/answer.ts";
import type { FindEntry } from "../../../src/domain/find/entry.ts";
import { rankEntries } from "../../../src/domain/find/find.ts";
import { searchWords } from "../../../src/domain/find/query-words.ts";
import { searching } from "../../../src/words/english/searching.ts";

const pages: readonly FindEntry[] = [
  { address: "", title: "Which arrangement for this patient", kind: "Page", chooses: true },
  { address: "tray/", title: "Tray", kind: "Configuration", words: ["shelf"], weights: [1, 5] },
  { address: "tray/notices/2/", title: "Tray: notice", kind: "History" },
  { address: "tray/notices/11/", title: "Tray: notice", kind: "History" },
  { address: "pump/", title: "Infusion pump", kind: "Item" },
  {
    address: "fit/",
    title: "Fit the infusion pump",
    kind: "Procedure",
    parts: [["step-1", "Hang the pump on its hold."]],
  },
  {
    address: "terms/",
    title: "Terms",
    kind: "Page",
    defines: true,
    parts: [["word-hold", "Hold", "Nobody goes on alone."]],
  },
];
const known = new Map(
  pages
    .flatMap(({ title, words = [], parts = [] }) => [title, ...words, ...parts.map((part) => part.join(" "))])
    .flatMap(searchWords)
    .map((word) => [word, 1]),
);
const answer = (query: string, how = {}) =>
  answerFrom({ pages, known, otherNames: {}, asked: searching.intents }, query, {}, how);
const addresses = (query: string) => answer(query).found.map(({ entry }) => entry.address);

describe("a weight", () => {
  it("is answered by the page that chooses", () => {
    expect(addresses("3 kg")[0]).toBe("");
    expect(answer("three kilos").weight).toBe("3");
    expect(addresses("3 kg infusion pump")).toContain("");
  });
  it("beside a thing that is nowhere is no answer to it: the page that chooses is named beside", () => {
    const { found, isNothing, aside, missing, weight } = answer("ketamine infusion 12 kg");
    expect({ found, isNothing, missing, weight }).toEqual({
      found: [],
      isNothing: true,
      missing: ["ketamine"],
      weight: "12",
    });
    expect(aside.map(({ entry }) => entry.address)).toEqual([""]);
    expect(answer("ketamine infusion 12 kg", { theRest: true }).found.length).toBeGreaterThan(0);
  });
  it("of somebody, or with a quality that stands nowhere, is a weight all the same", () => {
    for (const query of ["tiny 3 kg baby", "3 kg newborn"]) expect(addresses(query)[0], query).toBe("");
  });
});

describe("an age", () => {
  it("of somebody is answered by the page that chooses, where nothing is asked beside it", () => {
    for (const query of ["3 year old", "two-year-old child", "baby 6 months", "3yo"])
      expect(addresses(query)[0], query).toBe("");
    for (const query of ["3 months", "infusion pump 3 year old"]) expect(addresses(query), query).not.toContain("");
    expect(answer("seizure 3 year old")).toMatchObject({ found: [], isNothing: true });
  });
  it("is answered sooner by what differs by age", () => {
    const ears = ["a", "b"].map((address): FindEntry => ({ address, title: "Ears", kind: "Procedure" }));
    const list = [ears[0]!, { ...ears[1]!, byAge: true as const }];
    const firstOf = (query: string) => rankEntries(list, query, {}, {})[0]!.entry.address;
    expect(["ears", "ears 4 months"].map(firstOf)).toEqual(["a", "b"]);
  });
});

describe("a question for a meaning", () => {
  it.each(["what is a hold", "what's a hold point", "what does hold mean", "meaning of hold"])(
    "%s is answered by the page that says it",
    (query) => expect(addresses(query)[0]).toBe("terms/"),
  );
  it("is none where a page is called so, or where more is asked", () => {
    expect(addresses("what is the infusion pump")[0]).toBe("pump/");
    expect(addresses("what is on hold")).not.toEqual(["terms/"]);
  });
});

describe("a question for what is new", () => {
  it("in a document is answered by the newest notice of it", () => {
    expect(addresses("what's new with the tray")[0]).toBe("tray/notices/11/");
    expect(addresses("what changed in the tray")[0]).toBe("tray/notices/11/");
    expect(addresses("new tray")[0]).toBe("tray/");
  });
});

describe("what a term means", () => {
  it("is answered by its place on the page of words", () => {
    const [first] = answer("what is a hold point").found;
    expect([first!.entry.address, first!.part?.[0]]).toEqual(["terms/", "word-hold"]);
  });
});

describe("what is for other weights than the one that is typed", () => {
  it("never stands before the page that chooses", () => {
    const strap: FindEntry = { address: "strap/", title: "Strap the newborn", kind: "Procedure", weights: [1, 5] };
    const list = { pages: [...pages, strap], known, otherNames: {}, asked: searching.intents };
    const first = (query: string) => answerFrom(list, query).found[0]!.entry.address;
    expect(first("strap the newborn 9 kg")).toBe("");
    expect(first("strap the newborn 3 kg")).toBe("strap/");
  });
});

describe("a check code", () => {
  const [weighed] = pages,
    card = { address: "C/0A1BCD/", title: "Card 0A1B-CD: replaced", kind: "Check code", code: "0A1B-CD" } as const;
  it("is found as the box for codes reads it: O for 0, I and L for 1, in one piece (Crockford, Base 32)", () => {
    for (const query of ["0A1B-CD", "oaib cd", "OALBCD", "0a1b–cd"]) {
      const { found } = answerFrom(
        { pages: [weighed!, card], known: new Map([["0a1b", 1]]), otherNames: {}, asked: searching.intents },
        query,
      );
      expect(found[0]?.entry.address, query).toBe(card.address);
    }
  });
});
