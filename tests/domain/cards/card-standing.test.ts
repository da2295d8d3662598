/**
 * What has become of cards: which is in force, what took its place on which day, which issue did it, and what differs.
 */
import type { Issuable } from "../../../src/schema/documents.ts";
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { CardContent } from "../../../src/domain/cards/card-content.ts";
import { cardDifference } from "../../../src/domain/cards/card-difference.ts";
import { bandStandings, standingOf } from "../../../src/domain/cards/card-standing.ts";
import { currentBandCards, currentCards, type IssuedCard } from "../../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { auditFolders } from "../../../src/paper/folder-audit.ts";
import { contentOf, hashOf } from "../../../src/domain/records/freeze.ts";
import { requestCards } from "../../../src/paper/card-requests.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import type { Collection, FolderCopy, Issued } from "../../../src/schema/collection.ts";
import { parseRange } from "../../../src/schema/quantities.ts";
import { readCollection } from "../../read-collection.ts";

const content = (over: Partial<CardContent> = {}): CardContent => ({
  platform: "tern",
  configuration: "capsule",
  title: "Capsule",
  code: "C1",
  revision: 1,
  weight: "from 1 kg to under 5 kg",
  age: "any age",
  lines: [
    { kind: "check", challenge: "Pins", answer: "four in", by: ["second"], critical: false },
    { kind: "check", challenge: "Lever", answer: "down", by: ["lead"], critical: true },
  ],
  warnings: [],
  count: [{ item: "pin", place: "base", count: 4 }],
  options: [],
  ...over,
});
const card = (code: string, from: string | undefined, isCurrent = false): IssuedCard => ({
  platform: "tern",
  configuration: "capsule",
  code,
  ...(from ? { from } : {}),
  isCurrent,
  content: content(),
});
const names = {
  item: (id: string) => id,
  place: (id: string) => id,
  crew: [
    { id: "lead", name: "Lead", where: { file: "", line: 1, column: 1 }, at: {} },
    { id: "second", name: "Second", where: { file: "", line: 1, column: 1 }, at: {} },
  ],
};
const changes = (over: Partial<CardContent>) => cardDifference(content(), content(over), names);

describe("the standing of a card", () => {
  const cards = [card("A", "2026-01-01"), card("B", "2026-03-01"), card("C", "2026-06-01", true)];
  const asOn = (day: string) => {
    const now = cards.findLast(({ from }) => from! <= day);
    return cards.map((each) => ({ ...each, isCurrent: each === now }));
  };

  it.each([
    ["2026-02-28", ["current", "coming", "coming"]],
    ["2026-03-01", ["replaced", "current", "coming"]],
    ["2026-05-31", ["replaced", "current", "coming"]],
    ["2026-06-01", ["replaced", "replaced", "current"]],
  ])("on %s is %s: a card is in force from its own day on", (today, states) => {
    const then = asOn(today);
    expect(then.map((each) => standingOf(each, then, today).state)).toEqual(states);
  });

  it("of a replaced card names the day on which the next one took its place, not the newest", () => {
    expect(standingOf(cards[0]!, cards, "2026-07-01")).toMatchObject({
      state: "replaced",
      until: "2026-03-01",
      now: { code: "C" },
    });
  });

  it("is withdrawn for every card of a configuration that is no longer used", () => {
    const gone = cards.map((each) => ({ ...each, isCurrent: false }));
    for (const each of gone) expect(standingOf(each, gone, "2026-07-01")).toMatchObject({ state: "withdrawn" });
    expect(standingOf(gone[0]!, gone, "2026-07-01").now).toBeUndefined();
  });
});

describe("the difference between two cards", () => {
  it("is empty if only revision or date differ", () =>
    expect(changes({ revision: 2, effective: "2026-09-14" })).toEqual([]));

  it("names a line whose answer changed, with both answers", () => {
    expect(
      changes({
        lines: [
          { kind: "check", challenge: "Pins", answer: "four in, four green", by: ["second"], critical: false },
          content().lines[1]!,
        ],
      }),
    ).toEqual([{ what: "Pins", was: "four in (second)", is: "four in, four green (second)" }]);
  });

  it("names who answers and safety-critical as part of a line", () => {
    expect(
      changes({
        lines: [
          { kind: "check", challenge: "Pins", answer: "four in", by: ["lead", "second"], critical: true },
          content().lines[1]!,
        ],
      }),
    ).toEqual([{ what: "Pins", was: "four in (second)", is: "four in (both), safety-critical" }]);
  });

  it("tells a new line from one that is gone, and holds from checks", () => {
    expect(
      changes({ lines: [content().lines[0]!, { kind: "hold", text: "Pull up hard.", by: ["lead"], checks: [] }] }),
    ).toEqual([
      { what: "HOLD: Pull up hard.", is: "nobody goes on until it is done (lead)" },
      { what: "Lever", was: "down (lead), safety-critical" },
    ]);
  });

  it("says when the same lines stand in another order", () => {
    expect(changes({ lines: [...content().lines].reverse() })).toEqual([
      { what: "Order of the lines", was: "Pins, Lever", is: "Lever, Pins" },
    ]);
  });

  it("names counts, bands, warnings and options", () => {
    const option = {
      id: "gas",
      title: "Gas shelf",
      code: "O1",
      weight: "any weight",
      age: "any age",
      lines: [{ kind: "check" as const, challenge: "Clamps", answer: "flat", by: [], critical: false }],
    };
    expect(
      changes({
        weight: "from 1 kg to under 6 kg",
        warnings: ["warning: Two people lift."],
        count: [{ item: "pin", place: "base", count: 6 }],
        options: [option],
      }),
    ).toEqual([
      { what: "Weight", was: "from 1 kg to under 5 kg", is: "from 1 kg to under 6 kg" },
      { what: "Warning", is: "warning: Two people lift." },
      { what: "pin in base", was: "4", is: "6" },
      { what: "Option Gas shelf", is: "flat", option: "Gas shelf" },
    ]);
  });
});

describe("the cards of elementary bands, told as a story", () => {
  let collection: Collection, first: readonly IssuedCard[];
  const located = { where: { file: "", line: 1, column: 1 }, at: {} };
  /** The sled with its oxygen only from a weight on, as a revision in force from a day on. */
  const withOxygen = (from: Collection, weight: string, revision: number, effective: string): Collection => {
    const read = parseRange(weight, "weight");
    if (!read.ok) throw new Error(read.message);
    return {
      ...from,
      platforms: from.platforms.map((platform) => ({
        ...platform,
        options: platform.options.map((option) => ({
          ...option,
          band: { ...option.band, weight: read.value },
          revision,
          effective,
        })),
      })),
    };
  };
  const issue = ({ platforms: [platform] }: Collection, record: Issuable): Issued => {
    const content = contentOf(record, platform!);
    const head = { platform: "sled", kind: content.kind, id: record.id, revision: record.revision };
    return {
      ...located,
      file: `issued/sled/${record.id}@${record.revision}.json`,
      ...head,
      form: 2,
      head,
      hash: hashOf({ ...head, content }),
      content,
    };
  };
  const copyOf = (check: string): FolderCopy => ({
    ...located,
    card: "child-shell",
    platform: "sled",
    copy: 1,
    check,
    placed: "2026-01-05",
  });
  const bandsOf = (cards: readonly IssuedCard[]) =>
    cards.filter(({ configuration }) => configuration === "child-shell").map(({ content: { weight } }) => weight);

  beforeAll(async () => {
    const read = await readCollection(resolve(import.meta.dirname, "../../fixtures/collections/sled"));
    const since = <T extends object>(records: readonly T[]) =>
      records.map((record) => ({ ...record, effective: "2026-01-05" }));
    const sled = {
      ...read,
      platforms: read.platforms.map((platform) => ({
        ...platform,
        configurations: since(platform.configurations),
        procedures: since(platform.procedures),
      })),
    };
    const one = withOxygen(sled, "from 10 kg", 1, "2026-01-05"),
      two = withOxygen(sled, "from 12 kg", 2, "2026-03-02");
    first = currentBandCards(one.platforms[0]!, printedCodes(one));
    const [platform] = one.platforms;
    collection = {
      ...two,
      issued: [...platform!.configurations, ...platform!.procedures, ...platform!.options]
        .map((record) => issue(one, record))
        .concat(issue(two, two.platforms[0]!.options[0]!)),
    };
  });
  const inForce = (day = "2026-04-01") => forceOn(collection, day).collection;
  const standings = (today: string) =>
    bandStandings(inForce(today), inForce(today).platforms[0]!, today, printedCodes(inForce(today))).filter(
      ({ card: { configuration } }) => configuration === "child-shell",
    );
  const on = (today: string) =>
    standings(today).map(
      ({
        card: {
          content: { weight },
        },
        state,
      }) => `${weight}: ${state}`,
    );

  it("are two where an option is only for some, cut where it begins", () => {
    expect(bandsOf(first)).toEqual(["from 8 kg to under 10 kg", "from 10 kg to under 30 kg"]);
    expect(bandsOf(currentBandCards(inForce().platforms[0]!, printedCodes(inForce())))).toEqual([
      "from 8 kg to under 12 kg",
      "from 12 kg to under 30 kg",
    ]);
  });

  it("stay in force until the day on which the option is for others", () => {
    expect(on("2026-03-01")).toEqual([
      "from 8 kg to under 10 kg: current",
      "from 10 kg to under 30 kg: current",
      "from 8 kg to under 12 kg: coming",
      "from 12 kg to under 30 kg: coming",
    ]);
    expect(on("2026-03-02")).toEqual([
      "from 8 kg to under 10 kg: replaced",
      "from 10 kg to under 30 kg: replaced",
      "from 8 kg to under 12 kg: current",
      "from 12 kg to under 30 kg: current",
    ]);
  });

  it("give way to the card that holds all their patients; where there is none, to the configuration's own", () => {
    const [narrow, wide] = standings("2026-04-01");
    expect([narrow!.until, narrow!.now!.content.weight]).toEqual(["2026-03-02", "from 8 kg to under 12 kg"]);
    expect([wide!.until, wide!.now!.code]).toEqual([
      "2026-03-02",
      currentCards(inForce().platforms[0]!, printedCodes(inForce()))[0]!.code,
    ]);
  });

  it("are known in a folder by their codes, and replaced there by what took their place", () => {
    const [old, now] = [first[0]!.code, currentBandCards(inForce().platforms[0]!, printedCodes(inForce()))[0]!.code];
    const filled = {
      ...inForce(),
      folders: [{ ...located, id: "hut", name: "Hut", copies: [copyOf(old), copyOf(now)] }],
    };
    const [folder] = auditFolders(filled, "2026-04-01");
    expect(folder!.copies.map((copy) => [copy.state, copy.found?.code, copy.now?.code])).toEqual([
      ["replace", old, now],
      ["current", now, now],
    ]);
    const { requests, unknown } = requestCards(filled, { folder: "hut" }, "2026-04-01");
    expect([requests.map(({ card: { checkCode }, copy }) => [checkCode, copy?.folder]), unknown]).toEqual([
      [
        [now, "Hut"],
        [now, "Hut"],
      ],
      [],
    ]);
  });

  it("are printed for a patient: one card, for both only where nothing says which, none outside", () => {
    const kg = (value: bigint) => ({ weight: value * 10n ** 20n });
    const codes = (asked: Parameters<typeof requestCards>[1]) =>
      requestCards(inForce(), asked).requests.map(({ card: { band } }) => band);
    expect(codes({ patient: kg(11n), card: ["child-shell"] })).toEqual(["Only from 8 kg to under 12 kg"]);
    expect(codes({ patient: kg(12n), card: ["child-shell"] })).toEqual(["Only from 12 kg to under 30 kg"]);
    expect(codes({ patient: {}, card: ["child-shell"] })).toHaveLength(2);
    expect(codes({ card: ["child-shell"], eachBand: true })).toHaveLength(2);
    expect(codes({ card: ["child-shell"] })).toEqual(["from 8 kg to under 30 kg"]);
    expect(requestCards(inForce(), { patient: kg(7n) }).unknown).toEqual(["No card is for these patients"]);
    expect(requestCards(inForce(), { card: ["child-shel"] }).unknown[0]).toContain(
      "There is no card `child-shel` in force",
    );
  });
});
