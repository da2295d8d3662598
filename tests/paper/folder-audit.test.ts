/** Copies in folders against the cards in force. */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { CardContent } from "../../src/domain/cards/card-content.ts";
import type { IssuedCard } from "../../src/domain/cards/cards-issued.ts";
import { codeOf } from "../../src/domain/cards/check-code.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import { configurationOf } from "../../src/domain/parts/arrangements.ts";
import { auditFolders, isStale, printOrders } from "../../src/paper/folder-audit.ts";
import type { Collection, Folder, FolderCopy } from "../../src/schema/collection.ts";
import { readCollection } from "../read-collection.ts";

const located = { where: { file: "folders.yaml", line: 1, column: 1 }, at: {} };
const [OLD, NOW, NEXT, GONE] = ["old", "now", "next", "gone"].map(codeOf) as [string, string, string, string];
const card = (configuration: string, code: string, from: string, isCurrent = false): IssuedCard => ({
  platform: "tern",
  configuration,
  code,
  from,
  isCurrent,
  content: { title: configuration, lines: [], warnings: [], count: [], options: [] } as unknown as CardContent,
});
const cards = [
  card("capsule", OLD, "2026-01-01"),
  card("capsule", NOW, "2026-03-01"),
  card("capsule", NEXT, "2026-09-01"),
  card("cot", GONE, "2025-01-01"),
];
const asOn = (day: string) => {
  const now = cards.findLast(({ configuration, from }) => configuration === "capsule" && from! <= day);
  return cards.map((each) => ({ ...each, isCurrent: each === now }));
};
const copy = (values: Partial<FolderCopy>): FolderCopy => ({
  ...located,
  card: "capsule",
  platform: "tern",
  copy: 1,
  ...values,
});
const folder = (id: string, ...copies: FolderCopy[]): Folder => ({ ...located, id, name: id, copies });
const audit = (folders: readonly Folder[], today = "2026-06-01") =>
  auditFolders({ folders, platforms: [] } as unknown as Collection, today, asOn(today));
const stateOf = (values: Partial<FolderCopy>, today?: string) =>
  audit([folder("a", copy(values))], today)[0]!.copies[0]!;

describe("a copy in a folder", () => {
  it.each([
    ["has the code of the card in force", { check: NOW }, "current", false],
    ["has the code of an older card", { check: OLD }, "replace", true],
    ["has the code of the card that takes effect later", { check: NEXT }, "coming", false],
    ["has a code that no card ever had", { check: codeOf("nobody") }, "wrong-code", true],
    ["has no code, and was placed since the card in force took effect", { placed: "2026-03-01" }, "unread", false],
    ["has no code, and was placed before", { placed: "2026-02-28" }, "replace", true],
    ["has neither code nor day", {}, "unclear", true],
    ["is of a configuration that is no longer used", { card: "cot", check: GONE }, "withdrawn", true],
    ["is of a configuration that there never was", { card: "sleigh" }, "withdrawn", true],
    ["is a changeover's", { card: "capsule--cradle" }, "not-tracked", false],
    [
      "is of a configuration with an option that it cannot have",
      { card: "capsule+gas-shelf", check: NOW },
      "withdrawn",
      true,
    ],
  ])("that %s", (_title, values, state, stale) => {
    const audited = stateOf(values);
    expect([audited.state, isStale(audited)]).toEqual([state, stale]);
  });

  it("is read whatever case and hyphens the code was written with", () =>
    expect(stateOf({ check: NOW.toLowerCase().replace("-", "") }).state).toBe("current"));

  it("changes its state on the day on which the next card takes effect, not before", () => {
    expect([stateOf({ check: NEXT }, "2026-08-31").state, stateOf({ check: NEXT }, "2026-09-01").state]).toEqual([
      "coming",
      "current",
    ]);
    expect([stateOf({ check: NOW }, "2026-08-31").state, stateOf({ check: NOW }, "2026-09-01").state]).toEqual([
      "current",
      "replace",
    ]);
    expect(stateOf({ check: NOW }, "2026-08-31").next?.code).toBe(NEXT);
  });
});

describe("an audit", () => {
  it("keeps folders and copies in the order of the file, and names cards in force that a folder lacks", () => {
    const audited = audit([folder("z", copy({ check: NOW })), folder("a", copy({ card: "cot", check: GONE }))]);
    expect(audited.map((each) => each.folder.id)).toEqual(["z", "a"]);
    expect(audited.map(({ absent }) => absent.map(({ configuration }) => configuration))).toEqual([[], ["capsule"]]);
  });

  it("orders each card to print once, with every copy that it replaces and none that it does not", () => {
    const orders = printOrders(
      audit([
        folder("z", copy({ check: OLD, copy: 1 }), copy({ check: NOW, copy: 2 })),
        folder("a", copy({ copy: 3 }), copy({ card: "cot", check: GONE })),
      ]),
    );
    expect(
      orders.map((order) => [order.card.code, order.copies.map((each) => `${each.folder.id} ${each.copy.copy}`)]),
    ).toEqual([[NOW, ["z 1", "a 3"]]]);
  });

  it("takes the configuration from a card's name", () =>
    expect(["capsule", "capsule+gas", "a--b"].map(configurationOf)).toEqual(["capsule", "capsule", undefined]));
});

describe("a copy of a changeover's card", () => {
  const pair = "child-shell--vacuum-mattress";
  let sled: Collection,
    code = "";
  beforeAll(async () => {
    sled = await readCollection(resolve(import.meta.dirname, "../fixtures/collections/sled"));
    code = changeoverCards(sled, sled.platforms[0]!)(pair)[0]!.checkCode!;
  });
  const stateIn = (collection: Collection, values: Partial<FolderCopy>) =>
    auditFolders(
      { ...collection, folders: [folder("a", copy({ card: pair, platform: "sled", ...values }))] },
      "2026-06-01",
    )[0]!.copies[0]!;

  it("is current while the changeover is made as on the day of printing", () => {
    expect(stateIn(sled, { check: code })).toMatchObject({ state: "current", now: { code } });
    expect(stateIn(sled, { check: code.toLowerCase() }).state).toBe("current");
  });

  it("is to be replaced when a step of it reads otherwise, or its procedure has another revision", () => {
    const [platform] = sled.platforms;
    const later = {
      ...sled,
      platforms: [
        {
          ...platform!,
          procedures: platform!.procedures.map((procedure) => ({ ...procedure, revision: procedure.revision + 1 })),
        },
      ],
    };
    const audited = stateIn(later, { check: code });
    expect([audited.state, isStale(audited), audited.now?.code === code]).toEqual(["replace", true, false]);
  });

  it.each([
    [{ check: "7K3F-Q7" }, "wrong-code"],
    [{}, "unclear"],
    [{ placed: "2099-01-01" }, "unread"],
    [{ card: "child-shell--child-shell" }, "not-tracked"],
    // With options it is a card as good as without: what the copy bears is not known until its code is written down.
    [{ card: "child-shell+oxygen--vacuum-mattress" }, "unclear"],
  ])("with %j is %s", (values, state) => expect(stateIn(sled, values).state).toBe(state));
});
