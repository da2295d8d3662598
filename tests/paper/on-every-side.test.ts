/**
 * What each side of a card says by itself, since a side may be folded away or copied without the others: the day from
 * which it holds, or that it is not for use; and where the options stand that its own lines end with. That every sheet
 * of a controlled document bears its day is common practice, no source. Over the demo and the collections of the tests
 * (all invented).
 */
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { sayDate } from "../../src/domain/words/say.ts";
import { FORMATS, formatOf } from "../../src/paper/card-format.ts";
import { roomOn } from "../../src/paper/card-heights.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { packHtml } from "../../src/paper/card-pack.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import type { PrintedCard } from "../../src/paper/printed-card.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { speakFor } from "../../src/words/words.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const ROOT = resolve(import.meta.dirname, "../..");
const DAY = "2026-11-28";
const TIME = 60_000;

async function cardsOf(folder: string): Promise<readonly PrintedCard[]> {
  const { collection } = forceOn(await readCollection(join(ROOT, folder)), DAY);
  speakFor(collection.service);
  return requestCards(collection, {}, DAY).requests.map(({ card }) => card);
}

const sidesOf = (html: string) => html.split('<section class="c-side ').slice(1);
const textOf = (html: string) =>
  html
    .replaceAll(/<[^>]+>/g, " ")
    .replaceAll(/\s+/g, " ")
    .trim();
const footOf = (side: string) => /<footer><p>(.*?)<\/p>/.exec(side)![1]!;

it("is the day from which it holds, before all else at its foot", async () => {
  const cards = (await cardsOf("procedures")).filter(({ effective }) => effective);
  expect(cards).toHaveLength(3);
  for (const format of FORMATS)
    for (const card of cards) {
      const sides = sidesOf(drawCard(card, layoutCard(card, format)));
      expect(sides.length).toBeGreaterThan(1);
      for (const side of sides.filter((each) => !each.startsWith("c-blank")))
        expect(footOf(side)).toMatch(`<b>In force from ${sayDate(card.effective!)}.</b>`);
    }
});

it("is that it is not for use, with no copy number and no day, where it is proposed, draft or withdrawn", async () => {
  for (const card of await cardsOf("procedures"))
    for (const notForUse of ["PROPOSED", "DRAFT", "WITHDRAWN"]) {
      const { checkCode: _code, address: _address, edition: _edition, ...rest } = card;
      const sides = sidesOf(drawCard({ ...rest, notForUse }, layoutCard({ ...rest, notForUse }, formatOf("a5"))));
      for (const side of sides) {
        expect(footOf(side)).toMatch(`<b>${notForUse}: not for use.</b>`);
        // Across the side, twice: a fold leaves one of them.
        expect(side.match(/class="c-across"/g)).toHaveLength(2);
      }
      const all = textOf(sides.join(""));
      expect(all).not.toMatch(/Copy number|Do not use after|In force from|replaced/);
      // What is for use says all of it.
      expect(textOf(drawCard(card, layoutCard(card, formatOf("a5"))))).toMatch(/Copy number.*Do not use after/);
    }
});

it("is where the options stand: below, or on a page that has them", async () => {
  const said = { below: 0, page: 0 };
  for (const folder of COLLECTIONS)
    for (const card of await cardsOf(folder))
      for (const format of FORMATS) {
        const layout = layoutCard(card, format);
        if (layout.tooLongMm > 0) continue;
        const drawn = sidesOf(drawCard(card, layout)),
          columns = drawn.map((side) => side.split('<div class="c-col">').slice(1));
        for (const [at, own] of columns.entries())
          for (const column of own) {
            const end = column.indexOf('<div class="c-end"><p>'),
              options = /<b>Options:<\/b> (below|page (\d+))/.exec(column.slice(Math.max(end, 0)));
            if (end < 0 || !options) continue;
            const isBelow = column.includes('<div class="c-part">', end);
            expect([folder, card.title, format.id, options[1] === "below"]).toEqual([
              folder,
              card.title,
              format.id,
              isBelow,
            ]);
            if (!isBelow) expect(drawn[Number(options[2]) - 1]).toContain('<div class="c-part">');
            if (!isBelow) expect(Number(options[2])).toBeGreaterThanOrEqual(at + 1);
            said[isBelow ? "below" : "page"] += 1;
          }
      }
  expect(said.below).toBeGreaterThan(20);
  expect(said.page).toBeGreaterThan(20);
}, 120_000);

it(
  "is not a title that pushes the lines off the front",
  async () => {
    const card = (await cardsOf("procedures"))[0]!,
      format = formatOf("a5");
    const titled = (title: string) => ({ ...card, title }),
      front = (title: string) => drawCard(titled(title), layoutCard(titled(title), format));
    const [short, long] = [
      "Newborn capsule",
      "Kinderrückhalteschale mit Kopfstützenverlängerung und Seitenhalt",
    ] as const;
    expect(front(short)).not.toContain("c-long");
    expect(front(long)).toContain("c-name c-long");
    // In the size of short titles it would take four lines of 25 pt, 29 mm more than one.
    expect(roomOn(titled(short), format, true) - roomOn(titled(long), format, true)).toBeLessThan(12);
  },
  TIME,
);

it("is, of the list that comes with them, the newest day of what it lists", async () => {
  const cards = (await cardsOf("procedures")).filter(({ effective }) => effective),
    format = formatOf("a5");
  const list = async (last: string) => {
    const html = await packHtml({
      title: "Cards",
      language: "en",
      format,
      cards: cards.map((card, at) => ({ card: at === 1 ? { ...card, effective: last } : card })),
    });
    return textOf(sidesOf(html)[0]!);
  };
  expect(await list("2026-12-20")).toMatch("List of effective cards from 20 Dec 2026");
  expect(await list("2026-01-02")).toMatch("List of effective cards from 28 Nov 2026");
});
