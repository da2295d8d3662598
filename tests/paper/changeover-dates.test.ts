/**
 * From when and until when the card of a changeover holds: since the last, and no longer than the first, of all that
 * stands on it, which is the procedures', both arrangements' and a temporary amendment's. Over the demo (invented);
 * that a controlled card bears the day of what it is made from is common practice, no source.
 */
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { forceOn } from "../../src/domain/force/force.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import type { Platform } from "../../src/schema/collection.ts";
import { readCollection } from "../read-collection.ts";

const files = await readCollection(resolve(import.meta.dirname, "../../procedures"));
/** The days on which the card of a changeover of the demo says that it holds, all documents being of these days. */
function daysOf(pair: string, configurations: Partial<Record<string, { effective: string; reviewBy: string }>> = {}) {
  const { collection } = forceOn(files, "2026-11-28");
  const dated = { effective: "2026-01-05", reviewBy: "2028-01-05" };
  const all = collection.platforms.map((platform): Platform => ({
    ...platform,
    procedures: platform.procedures.map((procedure) => ({ ...procedure, ...dated })),
    options: platform.options.map((option) => ({ ...option, ...dated })),
    configurations: platform.configurations.map((each) => ({ ...each, ...dated, ...configurations[each.id] })),
  }));
  const cards = changeoverCards({ ...collection, platforms: all }, all[0]!)(pair);
  expect(cards.length).toBeGreaterThan(0);
  return cards.map(({ effective, reviewBy, onlyUntil }) => ({ effective, reviewBy, onlyUntil }));
}

it("is that of the procedures where nothing is newer, or is to be reviewed sooner", () => {
  for (const days of daysOf("newborn-capsule--deck-harness"))
    expect(days).toEqual({ effective: "2026-01-05", reviewBy: "2028-01-05", onlyUntil: undefined });
});

it("is that of the arrangement whose patients stand on it, and whose card is read at its end", () => {
  const newer = { effective: "2026-11-20", reviewBy: "2027-02-01" };
  for (const id of ["newborn-capsule", "deck-harness"])
    for (const days of daysOf("newborn-capsule--deck-harness", { [id]: newer })) expect(days).toMatchObject(newer);
});

it("is that of a temporary amendment of which it holds a step", () => {
  // tern/amendments/cradle-straps.mdx
  for (const days of daysOf("newborn-capsule--child-cradle"))
    expect(days).toMatchObject({ effective: "2026-11-28", onlyUntil: "2026-12-11" });
});
