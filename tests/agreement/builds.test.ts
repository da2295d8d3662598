/**
 * Which procedures build a configuration or an option is one fact: pages list it from the records, cards mark their
 * lines by it from what is frozen. Collections are the demo and those of the tests (invented).
 */
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { cardBuilders, cardContentOf } from "../../src/domain/cards/card-content.ts";
import { contentsInForce } from "../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { buildersOf, buildsAmong } from "../../src/domain/parts/builds.ts";
import type { ConfigurationContent, OptionContent } from "../../src/domain/records/content.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
import { meetBands } from "../../src/domain/bands/bands.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const inForce = async (folder: string): Promise<Collection> =>
  forceOn(await readCollection(join(root, folder)), "2026-11-28").collection;

describe("what builds a configuration or an option", () => {
  it.each(COLLECTIONS)("is the same on its page and for its card, included procedures apart: %s", async (folder) => {
    let told = 0;
    for (const platform of (await inForce(folder)).platforms) {
      const contents = contentsInForce(platform);
      for (const configuration of platform.configurations.filter(({ status }) => status === "approved")) {
        const own = contentOf(configuration, platform) as ConfigurationContent,
          buildersFor = cardBuilders(own, contents);
        const options = platform.options.filter(
          ({ id, status }) => status === "approved" && configuration.options.some((option) => option.id === id),
        );
        for (const document of [configuration, ...options]) {
          const content = document === configuration ? own : (contentOf(document, platform) as OptionContent);
          const onPage = buildersOf(platform, document).filter(
            ({ status, band }) => status === "approved" && meetBands(band, configuration.band),
          );
          const included = new Set(
            onPage.flatMap(({ sections }) =>
              sections.flatMap(({ entries }) =>
                entries.flatMap((entry) => (entry.kind === "include" ? [entry.procedure] : [])),
              ),
            ),
          );
          const forCard = buildersFor(content).map(({ id }) => id);
          expect(forCard.filter((id) => !included.has(id) || onPage.some((each) => each.id === id))).toEqual(
            onPage.map(({ id }) => id).sort(),
          );
          told += onPage.length;
        }
      }
    }
    expect(told).toBeGreaterThan(1);
  });

  it("is not what clears an option away, even if it puts the configuration's own piece back", async () => {
    const { platforms } = await inForce("procedures");
    const [tern] = platforms;
    const configuration = tern!.configurations.find(({ id }) => id === "newborn-capsule")!;
    // The rack's pumps go back to the rail on which they always are; the shelf and the cooling unit leave an empty bay.
    const cleared = ["remove-pump-rack", "remove-cooling-unit", "remove-gas-shelf"];
    expect(buildersOf(tern!, configuration).filter(({ id }) => cleared.includes(id))).toEqual([]);
    // The bag's latch is safety-critical where the bag is put back.
    const latch = tern!.procedures.filter(({ steps }) =>
      steps.some(({ critical, checks }) => critical && checks.some(({ challenge }) => challenge === "Bay latch")),
    );
    expect(latch.map(({ id }) => id)).toContain("response-bag-in");
    const card = cardContentOf(contentOf(configuration, tern!) as ConfigurationContent, contentsInForce(tern!));
    const builders = new Set(buildersOf(tern!, configuration).map(({ id }) => id));
    expect(card.lines.find((line) => line.kind === "check" && line.challenge === "Bay latch")).toMatchObject({
      critical: latch.some(({ id }) => builders.has(id)),
    });
  });

  it("is what exchanges one configuration for another, whichever of them has more pieces", async () => {
    const { platforms } = await inForce("tests/fixtures/collections/sled");
    const [sled] = platforms;
    const exchanges = (id: string) => {
      const { configurations, takesDown } = buildsAmong(
        sled!.procedures.find((procedure) => procedure.id === id)!,
        sled!.configurations,
        sled!.options,
      );
      return [configurations.map((each) => each.id), takesDown.map((each) => each.id)];
    };
    expect(exchanges("change-to-mattress")).toEqual([["vacuum-mattress"], ["child-shell"]]);
    expect(exchanges("change-to-shell")).toEqual([["child-shell"], ["vacuum-mattress"]]);
  });
});
