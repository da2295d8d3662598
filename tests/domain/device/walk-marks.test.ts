/** What of a walk is no longer as it was: any difference that a crew could act on, and no difference of times. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { changeSince, marksOf, wayOfKey } from "../../../src/domain/device/walk-marks.ts";
import type { WalkStop } from "../../../src/domain/device/walk.ts";

const stop = (text: string, more: Partial<WalkStop> = {}): WalkStop => ({
  number: 1,
  procedure: "fit",
  title: "Fit",
  code: "F1",
  step: 1,
  who: "Lead",
  critical: false,
  hold: false,
  text,
  detail: [],
  alerts: [],
  acts: [],
  checks: [],
  takes: "20 s",
  takesSeconds: 20,
  revision: 1,
  start: 0,
  end: 20,
  photos: [],
  meanwhile: [],
  group: 0,
  ...more,
});
const words = fc.uniqueArray(fc.string({ minLength: 1, maxLength: 8 }), { minLength: 1, maxLength: 9 });

describe("what has changed in a walk", () => {
  it("is nothing where every stop says the same, whatever the plan gives it of time", () => {
    fc.assert(
      fc.property(words, (texts) => {
        const before = marksOf({ stops: texts.map((text) => stop(text)) });
        const later = texts.map((text, at) =>
          stop(text, { start: at, takes: "5 s", takesSeconds: 5, meanwhile: ["x"] }),
        );
        expect(changeSince(before, { stops: later })).toBeUndefined();
      }),
    );
  });
  it("begins at the first stop that says another thing, and lists exactly those that are new", () => {
    fc.assert(
      fc.property(words, fc.nat(), (texts, seed) => {
        const at = seed % texts.length,
          stops = texts.map((text) => stop(text));
        const later = stops.with(at, stop(`${texts[at]!} and more of it`));
        expect(changeSince(marksOf({ stops }), { stops: later })).toEqual({ from: at, anew: [later[at]] });
      }),
    );
  });
  it("is also a warning, a check, an act, a role, a hold: whatever a crew could act on", () => {
    const before = marksOf({ stops: [stop("Push the pins in.")] });
    const others: Partial<WalkStop>[] = [
      { alerts: [{ signal: "warning", text: "Four pins." }] },
      { checks: [{ challenge: "Pins", answer: "four", who: "" }] },
      { acts: ["Pin 4: box to seat"] },
      { detail: ["Each clicks."] },
      { who: "Second" },
      { hold: true },
      { critical: true },
    ];
    for (const more of others)
      expect(changeSince(before, { stops: [stop("Push the pins in.", more)] })).toMatchObject({ from: 0 });
  });
  it("is a stop that fell away, and two that changed places, with nothing new to list", () => {
    const [a, b, c] = [stop("a"), stop("b"), stop("c")];
    const before = marksOf({ stops: [a, b, c] });
    expect(changeSince(before, { stops: [a, c] })).toEqual({ from: 1, anew: [] });
    expect(changeSince(before, { stops: [a, c, b] })).toEqual({ from: 1, anew: [] });
    expect(changeSince(before, { stops: [a, b] })).toEqual({ from: 2, anew: [] });
  });
});

describe("the same way", () => {
  it("is found whatever the revisions, the steps and the numbers left out, and never another way's", () => {
    const key = "tern a b remove@1:1,2 fit@3:1,2,3";
    expect(wayOfKey(key)).toBe(wayOfKey("tern a b remove@1:1,2 fit@4:1,2 lock@1:1"));
    expect(wayOfKey(`${key} without 3,4`)).toBe(wayOfKey("tern a b fit@4:1 without 2"));
    for (const other of ["tern a c fit@3:1", "tern b a fit@3:1", "sled a b fit@3:1", `${key} without 3`])
      expect(wayOfKey(other)).not.toBe(wayOfKey(key));
    expect(wayOfKey("drill 12 to its end tern a b fit@3:1")).not.toBe(wayOfKey("drill 15 to its end tern a b fit@3:1"));
  });
});
