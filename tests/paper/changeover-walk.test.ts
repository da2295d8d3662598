/**
 * The walk to the stores on the printed changeover, against the files of the demo (invented): two stores or more are
 * named in order above the count, with the pieces fetched there and the seconds that platform.yaml gives; one is not.
 */
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { forceOn } from "../../src/domain/force/force.ts";
import { formatOf } from "../../src/paper/card-format.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { speakFor } from "../../src/words/words.ts";
import { readCollection } from "../read-collection.ts";

const DAY = "2026-11-28";

async function demo(): Promise<Collection> {
  const all = await readCollection(resolve(import.meta.dirname, "../../procedures"));
  speakFor(all.service);
  return forceOn(all, DAY).collection;
}

const cardOf = (collection: Collection, pair: string) =>
  requestCards(collection, { changeover: [pair] }, DAY).requests.map(({ card }) => card)[0]!;

it("stands above the count where pieces come from two stores, in the order in which one walks", async () => {
  const card = cardOf(await demo(), "child-cradle--newborn-capsule");
  // By hand from equipment.yaml and platform.yaml: capsule and its base in the kit room, the mattress on its charger.
  expect(card.walk).toEqual([
    { place: "Kit room", fetched: "2 pieces, 0:30 one way" },
    { place: "Charging shelf", fetched: "1 piece, 0:30 one way" },
  ]);
  for (const id of ["a5", "a6"]) {
    const html = drawCard(card, layoutCard(card, formatOf(id)));
    expect([html.indexOf("Charging shelf</b>") > 0, html.indexOf("c-walk") < html.indexOf("c-count")]).toEqual([
      true,
      true,
    ]);
  }
});

it("is left out where all comes from one store: there is no order to keep", async () => {
  const card = cardOf(await demo(), "newborn-capsule--child-cradle");
  expect(card.walk).toBeUndefined();
  expect(drawCard(card, layoutCard(card, formatOf("a5")))).not.toContain("c-walk");
});

it("is part of the check code: another way to a store is another card", async () => {
  const collection = await demo(),
    pair = "child-cradle--newborn-capsule";
  const longer = {
    ...collection,
    platforms: collection.platforms.map((platform) => ({
      ...platform,
      places: platform.places.map((place) => (place.id === "charger" ? { ...place, walkSeconds: 90 } : place)),
    })),
  };
  const [before, after] = [collection, longer].map((each) => cardOf(each, pair));
  expect(after!.walk?.[1]?.fetched).toBe("1 piece, 1:30 one way");
  expect(before!.checkCode).toMatch(/^[0-9A-Z]{4}-[0-9A-Z]{2}$/);
  expect(after!.checkCode).not.toBe(before!.checkCode);
});
