/**
 * What is frozen and thawed again is the record that was in the file, place for place. Checked against the demo's and
 * the fixtures' own records; invented data.
 */
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { thaw } from "../../../src/domain/force/thaw.ts";
import { contentOf, differs } from "../../../src/domain/records/freeze.ts";
import type { Step } from "../../../src/schema/collection.ts";
import { configuration, nowhere, platform, procedure, step, anyone } from "../../arbitraries/platform.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");

/** A record without what only a file has: places of words, includes, pictures. */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(
        ([key, entry]) =>
          !["where", "at", "file", "status", "takesGiven", "number"].includes(key) && entry !== undefined,
      )
      .map(([key, entry]) => [key, key === "readsCard" ? true : plain(entry)]),
  );
}

describe("thawed texts", () => {
  it("keep all that a record says, in every collection", async () => {
    for (const folder of ["procedures", "tests/fixtures/collections/sled", "tests/fixtures/collections/theatre"]) {
      const { platforms } = await readCollection(join(root, folder));
      for (const on of platforms)
        for (const record of [...on.configurations, ...on.options, ...on.procedures]) {
          const content = contentOf(record, on),
            again = contentOf(thaw(JSON.parse(JSON.stringify(content)) as typeof content, record.file), on);
          const withoutPictures = (given: unknown) =>
            JSON.parse(
              JSON.stringify(given, (key, value: unknown) => (key === "photos" ? undefined : value)),
            ) as unknown;
          expect([record.file, withoutPictures(again)]).toEqual([record.file, withoutPictures(content)]);
        }
    }
  });
  it("keep the phase, the step that reads the card, what a line is about and replaces, and what is required", () => {
    const check = {
      challenge: "Pins",
      answer: "in",
      by: [],
      about: ["pin"],
      replaces: "Old pins",
      where: nowhere,
      at: {},
    };
    const given = procedure("p", [step([], { readsCard: nowhere, checks: [check] })], { phase: "supply" });
    const written = {
      ...given,
      sections: [{ title: "", where: nowhere, entries: given.steps }],
    };
    const needs = configuration(
      "c",
      {},
      { requires: [{ option: "o", band: { ...anyone, weight: { text: "under 2 kg" } }, where: nowhere }] },
    );
    const on = platform({ places: [], items: [], configurations: [needs], procedures: [written] });
    const thawed = thaw(contentOf(written, on), "p.mdx");
    expect(plain(thawed)).toMatchObject({ phase: "supply", steps: [{ readsCard: true, checks: [plain(check)] }] });
    expect(plain(thaw(contentOf(needs, on), "c.mdx"))).toMatchObject({ requires: plain(needs.requires) });
  });
  it("take the phase and the reading from the file's text where the frozen one has none", () => {
    const written = (more: Partial<Step>, phase?: "supply") => {
      const given = procedure("p", [step([], { id: "read", ...more })], phase ? { phase } : {});
      return { ...given, sections: [{ title: "", where: nowhere, entries: given.steps }] };
    };
    const frozen = contentOf(written({}), platform({ places: [], items: [], configurations: [], procedures: [] }));
    expect(plain(thaw(frozen, "p.mdx", written({ readsCard: nowhere }, "supply")))).toMatchObject({
      phase: "supply",
      steps: [{ id: "read", readsCard: true }],
    });
  });
  it("are no other text for a phase or a reading that an older frozen file does not have", () => {
    const plainOne = procedure("p", [step([])]),
      entries = (record: typeof plainOne) => ({
        ...record,
        sections: [{ title: "", where: nowhere, entries: record.steps }],
      });
    const before = entries(plainOne),
      after = entries(procedure("p", [step([], { readsCard: nowhere })], { phase: "clean" }));
    const on = platform({ places: [], items: [], configurations: [], procedures: [before] });
    expect(differs(contentOf(before, on), contentOf(after, on))).toBe(false);
    const needs = configuration("c", {}, { requires: [{ option: "o", band: anyone, where: nowhere }] });
    expect(differs(contentOf(configuration("c", {}), on), contentOf(needs, on))).toBe(true);
  });
});
