/** Cards made from contents: which lines are critical, where holds stand, and which cards there ever were. */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { currentCards, everyCard } from "../../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { contentOf, hashOf } from "../../../src/domain/records/freeze.ts";
import { isValidCode } from "../../../src/domain/cards/check-code.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import type { Collection, Issued, Platform } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

let collection: Collection;
let platform: Platform;
beforeAll(async () => {
  collection = await readCollection(resolve(import.meta.dirname, "../../fixtures/collections/sled"));
  platform = collection.platforms[0]!;
});

const on = (from: Collection, day = "2026-04-01") => forceOn(from, day).collection;
const cardOf = (from: Collection, id: string) =>
  currentCards(on(from).platforms[0]!, printedCodes(from)).find(({ configuration }) => configuration === id)!;

/** The collection with one of its configurations changed. */
function withConfiguration(id: string, change: Partial<Platform["configurations"][number]>): Collection {
  return {
    ...collection,
    platforms: [
      {
        ...platform,
        configurations: platform.configurations.map((each) => (each.id === id ? { ...each, ...change } : each)),
      },
    ],
  };
}

describe("the card of a configuration", () => {
  it("marks the lines that a critical step of its build checks, and holds after what they hold for", () => {
    expect(
      cardOf(collection, "child-shell").content.lines.map((line) =>
        line.kind === "hold" ? `HOLD ${line.text}` : `${line.critical ? "critical " : ""}${line.challenge}`,
      ),
    ).toEqual(["critical Bed straps", "critical Shell pins", "HOLD Close both bed straps."]);
  });

  it("takes the options' lines from the options", () => {
    expect(cardOf(collection, "child-shell").content.options.map(({ id, lines }) => [id, lines.length])).toEqual([
      ["oxygen", 1],
    ]);
  });

  it("has a valid code that stays when nothing printed changes", () => {
    const code = cardOf(collection, "child-shell").code;
    expect(isValidCode(code)).toBe(true);
    expect(
      cardOf(withConfiguration("child-shell", { reviewBy: "2040-01-01", owner: "Someone else" }), "child-shell").code,
    ).not.toBe(code);
  });

  it("has another code when a line, the revision, the band or the count changes", () => {
    const code = cardOf(collection, "child-shell").code;
    const changes: Partial<Platform["configurations"][number]>[] = [
      { revision: 2 },
      { title: "Child's shell" },
      { checks: platform.configurations[0]!.checks.slice(1) },
      { fitted: platform.configurations[0]!.fitted.map((fitted) => ({ ...fitted, count: fitted.count + 1 })) },
      { body: [] },
    ];
    const codes = changes.map((change) => cardOf(withConfiguration("child-shell", change), "child-shell").code);
    expect(codes.slice(0, 4)).not.toContain(code);
    expect(new Set(codes.slice(0, 4)).size).toBe(4);
    // Its body has no warning, so that nothing of it is printed.
    expect(codes[4]).toBe(code);
  });

  it("is none for a withdrawn configuration, and the issued one for a draft", () => {
    expect(cardOf(withConfiguration("child-shell", { status: "withdrawn" }), "child-shell")).toBeUndefined();
    expect(cardOf(withConfiguration("child-shell", { status: "draft", revision: 2 }), "child-shell")).toBeUndefined();
    const content = contentOf(platform.configurations[0]!, platform);
    const issue: Issued = {
      file: "issued/sled/child-shell@1.json",
      platform: "sled",
      kind: "configuration",
      id: "child-shell",
      revision: 1,
      hash: hashOf(content),
      content,
      where: { file: "", line: 1, column: 1 },
      at: {},
    };
    const draft = {
      ...withConfiguration("child-shell", { status: "draft", revision: 2, title: "Not yet" }),
      issued: [issue],
    };
    expect(cardOf(draft, "child-shell").content).toMatchObject({ revision: 1, title: "Child shell" });
  });

  it("is listed with every card before it, the current one once and last", () => {
    const content = { ...contentOf(platform.configurations[0]!, platform), effective: "2026-01-01" };
    const issue: Issued = {
      file: "issued/sled/child-shell@1.json",
      platform: "sled",
      kind: "configuration",
      id: "child-shell",
      revision: 1,
      hash: hashOf(content),
      content,
      where: { file: "", line: 1, column: 1 },
      at: {},
    };
    const next = { ...content, revision: 2, effective: "2026-03-01" };
    const second = { ...issue, file: "issued/sled/child-shell@2.json", revision: 2, hash: hashOf(next), content: next };
    const later = on({
      ...withConfiguration("child-shell", { revision: 2, effective: "2026-03-01" }),
      issued: [issue, second],
    });
    const cards = everyCard(later, later.platforms[0]!, printedCodes(later)).filter(
      ({ configuration }) => configuration === "child-shell",
    );
    expect(cards.map(({ isCurrent, from, content: { revision } }) => [revision, from, isCurrent])).toEqual([
      // Issues of the first form: with the code of their lines, and the present one with that of the whole card.
      [1, "2026-01-01", false],
      [2, "2026-03-01", false],
      [2, "2026-03-01", true],
    ]);
  });
});
