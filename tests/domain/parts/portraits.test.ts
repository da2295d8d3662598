/** The picture of an arrangement is the one its author wrote first, of an item the one it is carried on (invented). */
import { beforeAll, describe, expect, it } from "vitest";
import { pictureOfArrangement, pictureOfOption, portraitOf } from "../../../src/domain/parts/portraits.ts";
import type { Block, Platform } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";
import { WHERE } from "./make.ts";

const photo = (id: string): Block => ({ kind: "component", name: "Photo", attributes: { id }, where: WHERE });
const note: Block = { kind: "paragraph", children: [], where: WHERE };

describe("the picture of", () => {
  let platform: Platform;
  beforeAll(async () => {
    platform = (await readCollection("procedures")).platforms[0]!;
  });
  const named = (id: string) => platform.photos.find((each) => each.id === id);

  it("an arrangement is the first photo in its text, whatever its name", () => {
    const body = [note, photo("gas-shelf-in"), photo("cooling-unit-in")];
    expect(pictureOfArrangement(platform, { body })).toBe(named("gas-shelf-in"));
    expect(pictureOfArrangement(platform, { body: [photo("nowhere"), photo("gas-shelf-in")] })?.id).toBe(
      "gas-shelf-in",
    );
    expect(pictureOfArrangement(platform, { body: [note] })).toBeUndefined();
    for (const { id, body: own } of platform.configurations)
      expect(pictureOfArrangement(platform, { body: own }), id).toBeDefined();
  });

  it("an option is its own photo, else one of what it fits; no two options share one", () => {
    const pictures = platform.options.map((option) => pictureOfOption(platform, option)?.id);
    expect(pictures).not.toContain(undefined);
    expect(new Set(pictures).size).toBe(platform.options.length);
    const { fitted } = platform.options.find(({ id }) => id === "cooling-unit")!;
    expect(pictureOfOption(platform, { fitted, body: [] })).toBe(portraitOf(platform, { id: fitted[0]!.item }));
  });

  it("an item is of a step that carries it, where one shows as few others as any", () => {
    const carried = (id: string) =>
      platform.procedures.flatMap(({ steps }) =>
        steps
          .filter(({ operations }) => operations.some((each) => each.kind === "move" && each.item === id))
          .flatMap(({ photos }) => photos.map((each) => each.id)),
      );
    let carrying = 0;
    for (const { id } of platform.items) {
      const shown = platform.photos.filter(({ shows }) => shows.some((each) => each.id === id)),
        fewest = Math.min(...shown.map(({ shows }) => shows.length)),
        best = shown.filter(({ shows }) => shows.length === fewest).map((each) => each.id),
        own = best.filter((each) => carried(id).includes(each)),
        portrait = portraitOf(platform, { id })?.id;
      if (shown.length === 0) expect(portrait, id).toBeUndefined();
      else expect(own.length ? own : best, id).toContain(portrait);
      carrying += own.length ? 1 : 0;
    }
    expect(carrying).toBeGreaterThan(10);
    expect(portraitOf(platform, { id: "cooling-unit" })?.id).toMatch(/^cooling-unit-/);
  });
});
