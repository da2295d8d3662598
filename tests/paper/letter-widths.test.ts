/**
 * The widths that layouts are proved from, against the font itself, read here from its WOFF 1 file (W3C WOFF 1.0;
 * OpenType tables cmap 4, hmtx, OS/2).
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { inflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { FORMATS } from "../../src/paper/card-format.ts";
import { countLines, MM_PER_POINT, signWidth, widthOf, X_HEIGHT } from "../../src/paper/letter-widths.ts";

const fonts = resolve(import.meta.dirname, "../../node_modules/@fontsource/b612/files");

/** Advance width of every character, and the heights of the letters, in units of the em. */
function readFont(file: string): { em: number; xHeight: number; advances: Map<number, number> } {
  const woff = readFileSync(join(fonts, file));
  const tables = new Map<string, Buffer>();
  for (let index = 0; index < woff.readUInt16BE(12); index += 1) {
    const at = 44 + 20 * index;
    const [offset, packed, length] = [4, 8, 12].map((add) => woff.readUInt32BE(at + add)) as [number, number, number];
    const raw = woff.subarray(offset, offset + packed);
    tables.set(woff.toString("latin1", at, at + 4), packed < length ? inflateSync(raw) : raw);
  }
  const [head, hhea, hmtx, os2, cmap] = ["head", "hhea", "hmtx", "OS/2", "cmap"].map((name) => tables.get(name)!) as [
    Buffer,
    Buffer,
    Buffer,
    Buffer,
    Buffer,
  ];
  const metrics = hhea.readUInt16BE(34);
  const advances = new Map<number, number>();
  for (let index = 0; index < cmap.readUInt16BE(2); index += 1) {
    const at = cmap.readUInt32BE(8 + 8 * index);
    if (cmap.readUInt16BE(at) !== 4) continue;
    const segments = cmap.readUInt16BE(at + 6) / 2;
    for (let segment = 0; segment < segments; segment += 1) {
      const end = cmap.readUInt16BE(at + 14 + 2 * segment),
        start = cmap.readUInt16BE(at + 16 + 2 * (segments + segment)),
        delta = cmap.readUInt16BE(at + 16 + 2 * (2 * segments + segment));
      const rangeAt = at + 16 + 2 * (3 * segments + segment),
        range = cmap.readUInt16BE(rangeAt);
      for (let code = start; code <= end && code < 0xffff; code += 1) {
        const own = range ? cmap.readUInt16BE(rangeAt + range + 2 * (code - start)) : code;
        const glyph = range && !own ? 0 : (own + delta) & 0xffff;
        advances.set(code, hmtx.readUInt16BE(4 * Math.min(glyph, metrics - 1)));
      }
    }
  }
  return { em: head.readUInt16BE(18), xHeight: os2.readInt16BE(86), advances };
}

describe.each(["b612-latin-400-normal.woff", "b612-latin-700-normal.woff"])("%s", (file) => {
  const { em, xHeight, advances } = readFont(file);

  it("has every character as wide as the layout takes it to be", () => {
    expect(advances.size).toBeGreaterThan(200);
    // Characters without a width of their own on a line: control characters and the soft hyphen.
    const printed = [...advances].filter(([code]) => code >= 0x20 && code !== 0xad);
    const wrong = printed
      .filter(([code, advance]) => Math.abs(signWidth(String.fromCodePoint(code)) - (advance / em) * 1000) > 0.001)
      .map(([code]) => String.fromCodePoint(code));
    expect(wrong).toEqual([]);
  });

  it("has small letters as high as the cards say", () => expect(xHeight / em).toBe(X_HEIGHT));

  it.each(FORMATS.filter(({ paper }) => paper !== "A6"))(
    "prints the lines of $name with an x-height of at least 2.54 mm (Degani 1992, NASA CR-177605: 0.10 inch " +
      "for important text)",
    ({ type, scale, name }) => {
      const mm = type.line * scale * MM_PER_POINT * (xHeight / em);
      process.stdout.write(
        `x-height of a line on ${name}: ${mm.toFixed(2)} mm at ${(type.line * scale).toFixed(1)} pt\n`,
      );
      expect(mm).toBeGreaterThanOrEqual(2.54);
    },
  );
});

describe("the type of every paper", () => {
  it.each(FORMATS)(
    "on $name is at least 10 pt, headings 12 pt (UK CAA CAP 676, issue 3, chapter 7); what identifies the " +
      "card is 8.5 pt",
    ({ type, scale }) => {
      for (const size of [type.line, type.hold, type.text]) expect(size * scale).toBeGreaterThanOrEqual(10);
      for (const size of [type.title, type.again, type.band, type.head])
        expect(size * scale).toBeGreaterThanOrEqual(12);
      expect(type.small * scale).toBeGreaterThanOrEqual(8.5);
    },
  );

  it.each([
    ["A4", 210, 297],
    ["A5", 148, 210],
    ["A6", 105, 148],
  ])("%s is %d mm × %d mm (ISO 216)", (paper, width, height) => {
    for (const format of FORMATS.filter((each) => each.paper === paper))
      expect([format.sheet.width, format.sheet.height].sort((a, b) => a - b)).toEqual([width, height]);
  });
});

describe("lines of text", () => {
  it("are as wide as their letters: 12 pt are 4.233 mm (1 pt = 25.4/72 mm)", () =>
    expect(widthOf("@", 12)).toBeCloseTo(4.2333, 4));

  it.each([
    ["", 1],
    ["one", 1],
    ["one two", 1],
    ["one two three four five six", 2],
  ])("of “%s” are %d", (text, lines) => expect(countLines(text, 12, 40)).toBe(lines));

  it("break a word that is longer than a line", () =>
    expect(countLines("W".repeat(40), 12, 40)).toBeGreaterThanOrEqual(Math.ceil(widthOf("W".repeat(40), 12) / 40)));

  it("are never fewer for more text or less room", () => {
    const words = "Nobody goes on until both have pulled on each of the four straps and nothing gives".split(" ");
    let before = 0;
    for (let count = 1; count <= words.length; count += 1) {
      const lines = countLines(words.slice(0, count).join(" "), 13.2, 60);
      expect(lines).toBeGreaterThanOrEqual(before);
      expect(countLines(words.slice(0, count).join(" "), 13.2, 40)).toBeGreaterThanOrEqual(lines);
      before = lines;
    }
  });
});
