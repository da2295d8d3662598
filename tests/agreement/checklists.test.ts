/**
 * A checklist is numbered once: the page of a card, its print and the second look have the same lines under the same
 * numbers, and say of the same lines that another is read instead. Over the demo and the collections of the tests
 * (invented), in force and with every proposal.
 */
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { layChecklist, notesOfReplaced } from "../../src/domain/cards/checklist.ts";
import { cardContentOf } from "../../src/domain/cards/card-content.ts";
import { contentsInForce } from "../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import type { ConfigurationContent } from "../../src/domain/records/content.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
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
          const parts = layChecklist(content, platform, configuration.band);
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
