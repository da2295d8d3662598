/** Changed texts shown for reading: no word lost, no shreds. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readableEdits } from "../../../src/domain/records/readable-edits.ts";

const words = fc
  .array(
    fc.constantFrom("push", "the", "four", "pins", "in", "until", "each", "clicks", "a", "lever", "down,", "slowly"),
    { maxLength: 14 },
  )
  .map((list) => list.join(" "));
const join = (edits: ReturnType<typeof readableEdits>, kind: "added" | "removed") =>
  edits
    .filter((edit) => edit.kind === "keep" || edit.kind === kind)
    .map(({ value }) => value)
    .join("");

describe("readable edits", () => {
  it("hold the earlier text in what is kept and removed, and the later in what is kept and added", () => {
    fc.assert(
      fc.property(words, words, (before, after) => {
        const edits = readableEdits(before, after),
          even = (text: string) => text.replace(/\s+/g, " ").trim();
        expect(even(join(edits, "removed"))).toBe(even(before));
        expect(even(join(edits, "added"))).toBe(even(after));
      }),
    );
  });

  it("strike and underline whole runs, not word by word", () => {
    expect(
      readableEdits(
        "Push the four pins in, a quarter turn each.",
        "Push the four pins in until each one clicks.",
      ).filter(({ kind }) => kind !== "keep").length,
    ).toBeLessThanOrEqual(2);
  });

  it("show texts with hardly a word in common whole, one after the other", () => {
    expect(readableEdits("Tick the sheet.", "Read the card aloud from top to bottom.")).toEqual([
      { kind: "removed", value: "Tick the sheet." },
      { kind: "added", value: "Read the card aloud from top to bottom." },
    ]);
  });

  it("of equal texts are nothing but kept", () => {
    fc.assert(
      fc.property(words, (text) => {
        expect(readableEdits(text, text).every(({ kind }) => kind === "keep")).toBe(true);
      }),
    );
  });

  it("never marks a bare space", () => {
    expect(readableEdits("under 2.5 kg, from 28 days (lead)", "under 2.5 kg (lead)")).toEqual([
      { kind: "keep", value: "under 2.5 kg" },
      { kind: "removed", value: ", from 28 days" },
      { kind: "keep", value: " " },
      { kind: "keep", value: "(lead)" },
    ]);
    fc.assert(
      fc.property(words, words, (before, after) =>
        readableEdits(before, after).every(({ kind, value }) => kind === "keep" || value.trim() !== ""),
      ),
    );
  });
});
