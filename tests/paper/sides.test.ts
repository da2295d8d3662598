/**
 * How many sides each card and changeover takes, and how full the last of them is: over the demo and every collection
 * of the tests (all invented), on every paper. The demo's are listed in `tests/bench/MEASURED.md` (`UPDATE=1` writes
 * them).
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { sayOptionTitles } from "../../src/domain/words/say.ts";
import { Findings } from "../../src/findings/finding.ts";
import { type CardFormat, FORMATS, formatOf } from "../../src/paper/card-format.ts";
import { lengthOf, roomOn } from "../../src/paper/card-heights.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import { type CardSide, layoutCard } from "../../src/paper/card-layout.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import type { PrintedCard } from "../../src/paper/printed-card.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { speakFor } from "../../src/words/words.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";

const ROOT = resolve(import.meta.dirname, "../..");
const LIST = join(ROOT, "tests/bench/MEASURED.md");
const DAY = "2026-11-28";
const TIME = 120_000;
/** The last side of a card of three or more is filled to this share at least; A6 is parted by what can't be split. */
const LEAST: Readonly<Record<CardFormat["paper"], number>> = { A4: 0.5, A5: 0.5, A6: 0.33 };

async function read(folder: string): Promise<Collection> {
  const all = await loadCollection(join(ROOT, folder), new Findings());
  speakFor(all.service);
  return forceOn(all, DAY).collection;
}

/** Every card of a collection: for everybody, for each band, with each option, and of each changeover. */
function cardsOf(collection: Collection): PrintedCard[] {
  const cardsFor = (asked: Parameters<typeof requestCards>[1]) =>
    requestCards(collection, asked, DAY).requests.map(({ card }) => card);
  const own = [{}, { eachBand: true }].flatMap(cardsFor);
  const rest = collection.platforms.flatMap(({ id: platform, configurations }) => {
    const approved = configurations.filter(({ status }) => status === "approved");
    return approved.flatMap(({ id, options }) => [
      ...options.flatMap((option) => cardsFor({ card: [`${platform}/${id}+${option.id}`] })),
      ...approved.flatMap((to) => (to.id === id ? [] : cardsFor({ platform, changeover: [`${id}--${to.id}`] }))),
    ]);
  });
  return [
    ...new Map([...own, ...rest].map((card) => [`${card.id} ${card.band} ${card.fitted?.join()}`, card])).values(),
  ];
}

/** The share of each side's room that is filled, by the heights that the layout counts on (a browser keeps them). */
function sharesOf(card: PrintedCard, format: CardFormat): number[] {
  return layoutCard(card, format).sides.map(
    ({ columns, isFront }) => lengthOf(columns.flat()) / (roomOn(card, format, isFront) * format.columns),
  );
}

describe.each(COLLECTIONS)("the cards of %s", (folder) => {
  it(
    "have no side at the end that is nearly empty",
    async () => {
      const cards = cardsOf(await read(folder));
      for (const format of FORMATS)
        for (const card of cards) {
          // One that does not fit is not printed: `rerig cards` says so, and by how much.
          if (layoutCard(card, format).tooLongMm > 0) continue;
          const shares = sharesOf(card, format);
          expect(shares.length).toBeGreaterThan(0);
          const least = shares.length < 3 ? 0 : LEAST[format.paper];
          expect([format.name, card.title, card.band, shares.at(-1)! >= least ? "filled" : shares]).toEqual([
            format.name,
            card.title,
            card.band,
            "filled",
          ]);
        }
    },
    TIME,
  );
});

/** Sides of the demo's cards on A5 at most: of a configuration with its options apart, and of one arrangement. */
const MOST: Readonly<Record<string, readonly [apart: number, fitted: number]>> = {
  "Newborn capsule": [4, 3],
  "Child cradle": [3, 3],
  "Deck harness": [3, 2],
};

/** What is wrong with how a card of the demo is set on A5; empty if nothing is. */
function faultsOf(card: PrintedCard, format: CardFormat): string[] {
  const { sides, tooLongMm } = layoutCard(card, format),
    [apart, fitted] = MOST[card.title]!,
    blocks = sides.map(({ columns }) => columns.flat());
  const own = new Set(card.parts[0]!.lines);
  const isOwn = (side: CardSide) =>
    side.columns.flat().some((block) => block.kind === "line" && block.line.kind === "check" && own.has(block.line));
  const counts = blocks.flat().filter(({ kind }) => kind === "count");
  return [
    ...(tooLongMm > 0 ? [`${tooLongMm} mm too long`] : []),
    ...(sides.length > (card.fitted ? fitted : apart) ? [`${sides.length} sides`] : []),
    ...(!card.fitted && sides.slice(2).some(isOwn) ? ["own lines beyond the first leaf"] : []),
    ...(!card.fitted && blocks.flat().some((block) => block.kind === "part" && block.again)
      ? ["an option parted"]
      : []),
    ...(blocks.flat().some((block) => block.kind === "plan" || (block.kind === "count" && block.plan))
      ? []
      : ["no drawing"]),
    ...(counts.length === 1 ? [] : ["no count, or one that is parted"]),
  ];
}

it("of the demo on A5 take as few sides as these, each with its drawing and its count in one piece", async () => {
  const format = formatOf("a5"),
    cards = cardsOf(await read("procedures")).filter(({ flows }) => !flows);
  expect(cards.length).toBeGreaterThan(12);
  const whole = cards.filter(({ isPart }) => !isPart);
  expect(
    whole.flatMap((card) => faultsOf(card, format).map((fault) => `${card.title}, ${card.band}: ${fault}`)),
  ).toEqual([]);
  // A card for some of the patients takes no more than that for all.
  for (const card of cards.filter(({ isPart }) => isPart))
    expect(layoutCard(card, format).sides.length).toBeLessThanOrEqual(MOST[card.title]![0]);
  // With rows and margins of before, the newborn's card takes a third leaf, or loses its drawing or an option's unity.
  const before = { ...format, row: 10.5, rowLeast: 9.7, margin: { ...format.margin, top: 9, bottom: 8 } };
  expect(
    faultsOf(
      whole.find(({ title, fitted }) => title === "Newborn capsule" && !fitted)!,
      before,
    ),
  ).not.toEqual([]);
});

it("of every collection of the tests stand on one leaf of A5, and no front is left half empty for it", async () => {
  const format = formatOf("a5");
  for (const folder of COLLECTIONS.slice(1))
    for (const { card } of requestCards(await read(folder), {}, DAY).requests) {
      const shares = sharesOf(card, format);
      expect([folder, card.title, shares.length <= 2]).toEqual([folder, card.title, true]);
      // A front is never left half empty while its back is used for what it had room for.
      if (shares.length === 2) expect([folder, card.title, shares[0]! >= 0.45]).toEqual([folder, card.title, true]);
    }
});

it(
  "show every number of the drawing whole, on none other, and inside it",
  async () => {
    let seen = 0;
    for (const format of FORMATS)
      for (const card of cardsOf(await read("procedures"))) {
        const drawing = /<svg class="c-mp" viewBox="([^"]*)".*?<\/svg>/s.exec(drawCard(card, layoutCard(card, format)));
        if (!drawing) continue;
        const [left, top, width, height] = drawing[1]!.split(" ").map(Number) as [number, number, number, number];
        const circles = [...drawing[0].matchAll(/<circle cx="([^"]*)" cy="([^"]*)" r="([^"]*)"/g)].map(
          ([, x, y, r]) => ({ x: Number(x), y: Number(y), r: Number(r) }),
        );
        seen += circles.length;
        for (const [at, { x, y, r }] of circles.entries()) {
          expect([x - r >= left, x + r <= left + width, y - r >= top, y + r <= top + height]).toEqual(
            Array(4).fill(true),
          );
          for (const other of circles.slice(at + 1))
            expect(Math.hypot(other.x - x, other.y - y)).toBeGreaterThan(1.9 * r);
        }
      }
    expect(seen).toBeGreaterThan(100);
  },
  TIME,
);

it(
  "are listed with their sides, leaves and smallest type",
  async () => {
    const cards = cardsOf(await read("procedures"));
    const rows = ["a5", "a6"].flatMap((id) => {
      const format = formatOf(id);
      return cards.map((card) => {
        const shares = sharesOf(card, format),
          { tooLongMm } = layoutCard(card, format);
        const what = card.fitted
          ? `${card.title}, ${sayOptionTitles([...card.fitted].map((title) => ({ title })))}`
          : card.title;
        const fits = tooLongMm > 0 ? `no: ${tooLongMm} mm too long` : "yes";
        const cells = [
          format.name,
          what,
          card.band,
          shares.length,
          Math.ceil(shares.length / 2),
          `${Math.round(shares.at(-1)! * 100)} %`,
          `${format.type.small} pt`,
          fits,
        ];
        return `| ${cells.join(" | ")} |`;
      });
    });
    const table = [
      "| paper | card | for | sides | leaves | last side filled | smallest type | fits |",
      "| --- | --- | --- | --- | --- | --- | --- | --- |",
      ...rows,
    ].join("\n");
    const [begin, end] = ["<!-- sides: made by tests/paper/sides.test.ts -->", "<!-- end of sides -->"];
    const list = readFileSync(LIST, "utf8"),
      [from, to] = [list.indexOf(begin), list.indexOf(end)];
    expect(from).toBeGreaterThan(0);
    const updated = `${list.slice(0, from)}${begin}\n${table}\n${list.slice(to)}`;
    if (process.env["UPDATE"]) writeFileSync(LIST, updated);
    expect(updated).toBe(readFileSync(LIST, "utf8"));
  },
  TIME,
);
