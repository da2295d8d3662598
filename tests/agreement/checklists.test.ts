/**
 * A checklist is numbered once: the page of a card, its print and the second look have the same lines under the same
 * numbers, and say of the same lines that another is read instead. Over the demo and the collections of the tests
 * (invented), in force and with every proposal.
 */
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { layChecklist, notesOfReplaced, sayOptionHead } from "../../src/domain/cards/checklist.ts";
import { cardContentOf } from "../../src/domain/cards/card-content.ts";
import { contentsInForce } from "../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import type { ConfigurationContent } from "../../src/domain/records/content.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { formatFor } from "../../src/paper/card-format.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import { printCard } from "../../src/paper/printed-card.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");

describe.each(COLLECTIONS)("checklists of %s", (folder) => {
  it("have the same numbers and the same lines read instead of others on the page and in print", async () => {
    const { collection, proposed } = forceOn(await readCollection(join(root, folder)), "2026-11-28");
    let lines = 0,
      replaced = 0;
    for (const view of [collection, proposed])
      for (const platform of view.platforms)
        for (const configuration of platform.configurations) {
          const content = cardContentOf(
            contentOf(configuration, platform) as ConfigurationContent,
            contentsInForce(platform),
          );
          const parts = layChecklist(content, platform, configuration);
          const onPage = parts.flatMap((part) => {
            let number = part.from;
            return part.lines.flatMap((line) =>
              line.kind === "check" ? [`${number++} ${line.challenge}: ${line.answer}`] : [],
            );
          });
          const card = printCard(view, platform, configuration);
          const printed = card.parts.flatMap((part) => part.lines).filter((line) => line.kind === "check");
          expect(printed.map(({ number, challenge, answer }) => `${number} ${challenge}: ${answer}`)).toEqual(onPage);
          expect(onPage.map((line) => Number.parseInt(line))).toEqual(onPage.map((_, at) => at + 1));
          // Read anew from the records: which lines of options ask what one of the configuration's asks, or say so.
          const same = (a: string | undefined, b: string) => a?.trim().toLowerCase() === b.trim().toLowerCase();
          const instead = configuration.checks.map(({ challenge }) =>
            parts.flatMap(({ option, from }) =>
              (option?.checks ?? []).flatMap((check, at) =>
                same(check.challenge, challenge) || same(check.replaces, challenge) ? [from + at] : [],
              ),
            ),
          );
          const notes = notesOfReplaced(parts);
          for (const { number, aside } of printed) {
            if (notes.has(number)) expect(aside).toContain(notes.get(number));
            const told = [...aside.matchAll(/: line (\d+) instead/g)].map(([, other]) => Number(other));
            const expected = instead[number - 1];
            if (expected) expect([number, told]).toEqual([number, expected]);
            replaced += expected?.length ?? 0;
          }
          lines += printed.length;
        }
    expect(lines).toBeGreaterThan(3);
    if (folder === "procedures") expect(replaced).toBeGreaterThan(0);
  });
});

describe("an option that some patients are never without", async () => {
  const { collection } = forceOn(await readCollection(join(root, "procedures")), "2026-11-28");
  const platform = collection.platforms.find(({ id }) => id === "tern")!,
    capsule = platform.configurations.find(({ id }) => id === "newborn-capsule")!;
  const [rolls] = capsule.requires!;
  /** The own end of the card, as it is drawn on A5. */
  const endOf = (own: typeof platform, band?: typeof capsule.band) => {
    const card = printCard(
      collection,
      own,
      own.configurations.find(({ id }) => id === capsule.id)!,
      band && { band },
    );
    const sides = drawCard(card, layoutCard(card, formatFor("A5")));
    return {
      card,
      end: /<div class="c-end"><p>(.*?)<\/p>/.exec(sides)![1]!.replaceAll(/<[^>]+>/g, ""),
    };
  };
  const asking = (requires: NonNullable<typeof capsule.requires>) => ({
    ...platform,
    configurations: platform.configurations.map((each) => (each === capsule ? { ...capsule, requires } : each)),
  });

  it("is named where the own lines end, so that 'if none' does not pass for them", () => {
    expect(endOf(platform).end).toBe(
      "Under 2.5 kg: never without roll supports. Options: page 3. If none, say “Newborn capsule complete”",
    );
  });

  it("leaves no patient of a band's card who goes without, and nothing is said for none", () => {
    const light = { ...capsule.band, weight: { ...capsule.band.weight, to: rolls!.band.weight.to! } };
    const { card, end } = endOf(platform, light);
    expect(end).toBe("Never without roll supports. Options: page 3");
    expect(card.parts.map(({ title }) => title)).toContain("Fitted always: Roll supports");
  });

  it("is said for everybody who needs it, where one entry asks by weight and another by age", () => {
    const age = { text: "under 28 days", to: platform.options.find(({ id }) => id === "cooling-unit")!.band.age.to! };
    const shelf = [
      { ...rolls!, option: "gas-shelf", band: { ...rolls!.band, age: { text: "any age" } } },
      { ...rolls!, option: "gas-shelf", band: { weight: { text: "any weight" }, age } },
    ];
    const own = asking([rolls!, ...shelf]),
      { card, end } = endOf(own);
    const head = "Fitted always under 2.5 kg or any weight, under 28 days: Gas shelf";
    expect(card.parts.map(({ title }) => title)).toContain(head);
    expect(end).toContain("Under 2.5 kg or any weight, under 28 days: never without gas shelf.");
    const content = cardContentOf(contentOf(capsule, platform) as ConfigurationContent, contentsInForce(platform));
    const parts = layChecklist(
      content,
      own,
      own.configurations.find(({ id }) => id === capsule.id)!,
    );
    expect(parts.flatMap((part) => (part.option ? [sayOptionHead(part, part.option)] : []))).toEqual(
      card.parts.flatMap(({ title }) => title ?? []),
    );
  });
});
