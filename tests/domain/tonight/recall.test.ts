/** What an item touches, against the words of the files: whatever names the item there is in the answer. */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { recall } from "../../../src/domain/tonight/recall.ts";
import type { Collection, Procedure } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");

describe.each(["procedures", "tests/fixtures/collections/theatre"])("recall in %s", (name) => {
  let collection: Collection;
  beforeAll(async () => {
    collection = await readCollection(join(root, name));
  });
  const textOf = ({ file }: Pick<Procedure, "file">) => readFileSync(join(root, name, file), "utf8");

  it("finds every procedure whose file moves the item, and no other as one that moves it", () => {
    let found = 0;
    for (const platform of collection.platforms)
      for (const { id } of platform.items) {
        const { procedures } = recall(collection, platform, id)!;
        const moving = procedures.filter(({ steps }) => steps.some(({ how }) => how.includes("moves")));
        const inFiles = platform.procedures.filter(
          (procedure) =>
            procedure.status === "approved" && new RegExp(`::move\\{[^}]*item="?${id}"?[\\s}]`).test(textOf(procedure)),
        );
        expect(moving.map(({ procedure }) => procedure.id)).toEqual(inFiles.map((procedure) => procedure.id));
        found += moving.length;
      }
    expect(found).toBeGreaterThan(0);
  }, 120_000);

  it("finds every configuration and option whose file fits it, and their cards' copies", () => {
    let copies = 0;
    for (const platform of collection.platforms)
      for (const { id } of platform.items) {
        const found = recall(collection, platform, id)!;
        const fitting = [...platform.configurations, ...platform.options].filter((document) => {
          const fitted = /^fitted:[^\n]*\n(?:[ -][^\n]*\n)*/m.exec(textOf(document))?.[0] ?? "";
          return new RegExp(`(?<![\\w-])${id}(?![\\w-])(?!:)`).test(fitted);
        });
        expect(found.fittedIn.map((each) => each.id)).toEqual(fitting.map((each) => each.id));
        // Whoever fits it has a card that touches it, and each copy of that card is named with its folder.
        const cards = new Set(found.cards.map(({ configuration }) => configuration.id));
        for (const { id: fitted } of platform.configurations.filter((each) => found.fittedIn.includes(each)))
          expect(cards).toContain(fitted);
        const lying = collection.folders.flatMap((folder) =>
          folder.copies.filter(
            (copy) => copy.platform === platform.id && copy.card.split("--").some((card) => cards.has(card)),
          ),
        );
        expect(found.copies.flatMap((each) => each.copies)).toEqual(lying);
        copies += lying.length;
      }
    expect(copies).toBeGreaterThan(0);
  }, 120_000);
});

it("knows a name in one and in several, in any case, and not inside another word", async () => {
  const collection = await readCollection(join(root, "tests/fixtures/collections/sled"));
  const platform = collection.platforms[0]!;
  const { cards } = recall(collection, platform, "shell-pin")!;
  expect(cards.flatMap(({ lines }) => lines.map(({ challenge }) => challenge.toLowerCase()))).toContain("shell pins");
  expect(recall(collection, platform, "no-such-item")).toBeUndefined();
});
