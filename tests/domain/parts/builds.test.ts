/** Which procedures build an arrangement: its own, and none fewer than put its pieces there. */
import { describe, expect, it } from "vitest";
import { shareOf } from "../../../src/domain/bands/bands.ts";
import { buildersOf, buildsAmong, netMoved, ownBuilders } from "../../../src/domain/parts/builds.ts";
import { cardBuilders } from "../../../src/domain/cards/card-content.ts";
import { contentsInForce } from "../../../src/domain/cards/cards-issued.ts";
import type { ConfigurationContent } from "../../../src/domain/records/content.ts";
import { COLLECTIONS } from "../../fixtures/collections.ts";
import { readCollection } from "../../read-collection.ts";

/** What puts so many pieces into places, in one step. */
const putting = (...keys: string[]) => ({
  keys,
  steps: [
    {
      operations: keys.map((key) => {
        const [item = "", to = ""] = key.split(" ");
        return { kind: "move" as const, item, count: 1, from: "store", to };
      }),
    },
  ],
});
const fitting = (...keys: string[]) => ({
  fitted: keys.map((key) => {
    const [item = "", place = ""] = key.split(" ");
    return { item, place };
  }),
});
const always = () => true;

describe("the builders of an arrangement", () => {
  const nest = fitting("nest deck", "pin holes"),
    mattress = fitting("mattress deck", "pin holes");
  const fitNest = putting("nest deck", "pin holes"),
    fitMattress = putting("mattress deck", "pin holes");

  it("are its own where others share its pins (a card bore the holds of all three)", () => {
    expect(ownBuilders(nest, [fitNest, fitMattress], [nest, mattress], always)).toEqual([fitNest]);
    expect(ownBuilders(mattress, [fitNest, fitMattress], [nest, mattress], always)).toEqual([fitMattress]);
  });

  it("are those of another arrangement too where nothing else puts a piece of it there", () => {
    const bare = fitting("pin holes"),
      all = [nest, mattress, bare];
    expect(ownBuilders(bare, [fitNest, fitMattress], all, always)).toEqual([fitNest, fitMattress]);
    const pins = putting("pin holes");
    expect(ownBuilders(bare, [fitNest, pins], all, always)).toEqual([pins]);
    // What is there for some patients only leaves the others to the procedure that is for all.
    expect(ownBuilders(bare, [fitNest, pins], all, (each) => each !== pins)).toEqual([fitNest, pins]);
  });

  for (const name of COLLECTIONS)
    it(`leave out no piece of ${name} that a procedure puts there, and a card has those of its page`, async () => {
      for (const platform of (await readCollection(name)).platforms) {
        const contents = contentsInForce(platform);
        for (const configuration of platform.configurations) {
          const builders = buildersOf(platform, configuration),
            put = new Set(builders.flatMap((each) => [...netMoved(each).into.keys()])),
            anywhere = new Set(
              platform.procedures
                .filter(({ band }) => shareOf(band, configuration.band) !== "none")
                .filter((each) => buildsAmong(each, [configuration], platform.options).configurations.length > 0)
                .flatMap((each) => [...netMoved(each).into.keys()]),
            );
          for (const { item, place } of configuration.fitted)
            expect(!anywhere.has(`${item} ${place}`) || put.has(`${item} ${place}`), `${item} ${place}`).toBe(true);
          const frozen = contents.find(
            (each): each is ConfigurationContent => each.kind === "configuration" && each.id === configuration.id,
          );
          if (!frozen) continue;
          const own = cardBuilders(frozen, contents)(frozen).map(({ id }) => id);
          for (const { id } of builders) if (contents.some((each) => each.id === id)) expect(own).toContain(id);
        }
      }
    });
});
