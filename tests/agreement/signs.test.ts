/**
 * The demo's drawings against its checks: a colour that an answer asks for is named by the picture of its step, and
 * where the sign stands beside its wrong twin, its words, numbers and colours stand beside the tick and not beside the
 * cross.
 */
import { join } from "node:path";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import type { Photo } from "../../src/schema/collection.ts";
import { readCollection } from "../read-collection.ts";

const folder = join(import.meta.dirname, "../../procedures");
const colours = /\b(red|green|amber|yellow|white|blue)\b/gi;
/** Colours of cloths, tags and bins: they are no signs of the part that is looked at. */
const coloursIn = (text: string): string[] =>
  [...text.replace(/\b(red tags?|red bin)\b/gi, "").matchAll(colours)].map(([word]) => word.toLowerCase());
/** What is said to be there: `no red`, `not flat`, `out of the green field` are not. */
const affirmed = (text: string): string =>
  text.replace(
    /\b(no|not|half|without|neither|none|out of the) (\w+ )?(red|green|amber|yellow|ring|gap|flat|closed|moved|line)\b/gi,
    "",
  );

/** The words beside the tick and beside the cross. */
function twinsOf({ alt }: Photo): { right: string; wrong: string } | undefined {
  const [, right, wrong] = /\(right: (.*?); wrong: (.*?)\)/.exec(alt ?? "") ?? [];
  return right === undefined || wrong === undefined ? undefined : { right, wrong };
}

interface Asked {
  readonly at: string;
  readonly answer: string;
  readonly photos: readonly Photo[];
}
let asked: readonly Asked[] = [];
let twins: readonly { readonly id: string; readonly file: string; readonly right: string; readonly wrong: string }[] =
  [];

beforeAll(async () => {
  const { platforms } = await readCollection(folder);
  asked = platforms.flatMap(({ procedures, photos }) =>
    procedures
      .filter(({ status }) => status === "approved")
      .flatMap(({ id, steps }) =>
        steps.flatMap((step) =>
          step.checks.map(({ challenge, answer }) => ({
            at: `${id} ${step.id ?? step.number} ${challenge}`,
            answer,
            photos: step.photos.flatMap((photo) => photos.filter((other) => other.id === photo.id)),
          })),
        ),
      ),
  );
  twins = platforms.flatMap(({ id: platform, photos }) =>
    photos.flatMap((photo) => {
      const both = twinsOf(photo);
      return both ? [{ id: photo.id, file: join(folder, platform, "photos", `${photo.id}.jpg`), ...both }] : [];
    }),
  );
});

// Common practice, no source: whoever looks for a sign has seen it once, and what is wrong beside it. Invented texts.
describe("a picture of the demo", () => {
  it("names every colour that a check of its step asks for", () => {
    const wanted = asked.flatMap(({ at, answer, photos }) => {
      const said = photos.flatMap(({ alt, marks }) => [alt ?? "", ...marks.map(({ label }) => label)]).join(" ");
      return photos.length > 0 ? coloursIn(answer).map((colour) => ({ at, colour, said })) : [];
    });
    expect(wanted.length).toBeGreaterThan(30);
    expect(wanted.filter(({ colour, said }) => !coloursIn(said).includes(colour)).map(({ at }) => at)).toEqual([]);
  });

  it("has no word of an answer beside the cross that does not stand beside the tick as well", () => {
    const SIGNS =
      /\b(red|green|amber|yellow|white|blue|dark|flat|up|down|out|open|shut|closed|across|along|zero|home)\b/gi;
    const wordsOf = (text: string) => new Set([...affirmed(text).matchAll(SIGNS)].map(([word]) => word.toLowerCase()));
    let compared = 0;
    const wrongly = asked.flatMap(({ at, answer, photos }) =>
      photos.flatMap((photo) => {
        const both = twinsOf(photo);
        if (!both) return [];
        const right = wordsOf(both.right),
          wrong = wordsOf(both.wrong);
        return [...wordsOf(answer)].flatMap((word) => {
          if (!right.has(word) && !wrong.has(word)) return [];
          compared++;
          return right.has(word) ? [] : [`${at}: ${word} stands beside the cross of ${photo.id}`];
        });
      }),
    );
    expect(wrongly).toEqual([]);
    expect(compared).toBeGreaterThan(40);
  });

  it("says the number that the answer says, of the same thing", () => {
    const COUNTED =
      /\b(one|two|three|four|five) (?:\w+ )?(bars?|dots?|curves?|ticks?|rolls?|bolts?|holes?|anchors?|cups?)\b/gi;
    const numbersOf = (text: string) =>
      [...text.matchAll(COUNTED)].map(([, count, thing]) => [thing!.replace(/s$/, ""), count!.toLowerCase()] as const);
    let compared = 0;
    const otherwise = asked.flatMap(({ at, answer, photos }) =>
      photos.flatMap((photo) => {
        const said = numbersOf([twinsOf(photo)?.right ?? "", ...photo.marks.map(({ label }) => label)].join("; "));
        return numbersOf(answer).flatMap(([thing, count]) => {
          const shown = said.filter(([other]) => other === thing).map(([, other]) => other);
          if (shown.length === 0) return [];
          compared++;
          return shown.includes(count) ? [] : [`${at}: ${count} ${thing}, ${photo.id} says ${shown.join(", ")}`];
        });
      }),
    );
    expect(otherwise).toEqual([]);
    expect(compared).toBeGreaterThan(10);
  });

  // Where `engine/twins.ts` of the drawings lays them, and the tones of `engine/ink.ts`, in a picture of 1600 by 1200.
  const BOX = { left: 1096, width: 480, height: 360 },
    TOPS = { right: 190, wrong: 650 };
  const TONES: Readonly<Record<string, readonly (readonly [number, number, number])[]>> = {
    green: [
      [0x2f, 0x9e, 0x44],
      [0x27, 0x85, 0x38],
      [0x1f, 0x6c, 0x2d],
    ],
    amber: [
      [0xff, 0x9d, 0x0a],
      [0xe0, 0x84, 0x00],
      [0xbd, 0x6f, 0x00],
    ],
    yellow: [
      [0xff, 0xe6, 0x00],
      [0xe6, 0xcf, 0x00],
      [0xc4, 0xb1, 0x00],
    ],
    blue: [
      [0x2a, 0x6f, 0xdb],
      [0x22, 0x5c, 0xb8],
      [0x1b, 0x4a, 0x94],
    ],
  };
  type Tones = readonly (readonly [number, number, number])[];
  const RED: Tones = [
      [0x9c, 0x0e, 0x09],
      [0x86, 0x0c, 0x08],
      [0x70, 0x0a, 0x06],
    ],
    /** What lights up the part that a step is about. */
    LIT: Tones = [
      [0xc6, 0xd1, 0x3f],
      [0xb2, 0xbd, 0x33],
      [0x99, 0xa4, 0x27],
      [0xb9, 0xc4, 0x37],
      [0xa4, 0xaf, 0x2c],
      [0x8b, 0x95, 0x22],
    ];
  const decoded = new Map<string, Promise<Buffer>>();
  /** Points of these tones in one of the two boxes of a picture, which is read once: x and y within the box. */
  async function pointsIn(file: string, twin: "right" | "wrong", tones: Tones): Promise<(readonly [number, number])[]> {
    const read = decoded.get(file) ?? sharp(file).removeAlpha().raw().toBuffer();
    decoded.set(file, read);
    const data = await read;
    const seen: (readonly [number, number])[] = [];
    for (let y = 0; y < BOX.height; y++)
      for (let x = 0; x < BOX.width; x++) {
        const at = ((y + TOPS[twin]) * 1600 + x + BOX.left) * 3;
        if (tones.some((tone) => tone.every((part, i) => Math.abs(part - data[at + i]!) < 26))) seen.push([x, y]);
      }
    return seen;
  }
  const seenIn = async (file: string, twin: "right" | "wrong", colour: string) =>
    (await pointsIn(file, twin, TONES[colour]!)).length;
  it("has the colour that its words name in the points beside the tick, and beside the cross", async () => {
    let looked = 0;
    const missing: string[] = [];
    for (const each of twins) {
      decoded.clear();
      for (const twin of ["right", "wrong"] as const) {
        const other = twin === "right" ? "wrong" : "right";
        for (const colour of coloursIn(affirmed(each[twin])).filter((name) => name in TONES)) {
          looked++;
          const [here, there] = [await seenIn(each.file, twin, colour), await seenIn(each.file, other, colour)];
          // A lamp that is lit here and dark there, a window or a collar that is green here and white there.
          const isDarkThere = /\b(dark|white)\b/i.test(each[other]) && !coloursIn(each[other]).includes(colour);
          if (here < 150 || (isDarkThere && there * 3 > here))
            missing.push(`${each.id}: ${colour} ${twin} ${here}, ${other} ${there}`);
        }
      }
    }
    expect(missing).toEqual([]);
    expect(looked).toBeGreaterThan(20);
  });

  it("lights up nothing but what bears the sign: in the box its colour begins where the sign ends", async () => {
    const beside: string[] = [];
    let looked = 0,
      lit = 0;
    for (const each of twins) {
      decoded.clear();
      for (const twin of ["right", "wrong"] as const)
        for (const colour of coloursIn(affirmed(each[twin])).filter((name) => name in TONES || name === "red")) {
          looked++;
          const sign = await pointsIn(each.file, twin, TONES[colour] ?? RED),
            light = await pointsIn(each.file, twin, LIT);
          if (light.length === 0) continue;
          lit++;
          // The line round a part is up to nine points wide.
          const near = new Set(light.map(([x, y]) => (x >> 3) * 1000 + (y >> 3)));
          const touches = sign.some(([x, y]) =>
            [-1, 0, 1].some((dx) => [-1, 0, 1].some((dy) => near.has(((x >> 3) + dx) * 1000 + (y >> 3) + dy))),
          );
          if (!touches || sign.length < 150) beside.push(`${each.id}: ${colour} ${twin}, ${sign.length} points`);
        }
    }
    expect(beside).toEqual([]);
    expect(looked).toBeGreaterThan(35);
    expect(lit).toBeGreaterThan(20);
  });
});
