/**
 * Cards printed by a real browser and measured on the PDF: sizes, type, whole lines, fonts, tags, QR code, equal bytes.
 * Needs Chromium; no other program.
 */
import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import jsQR from "jsqr";
import { getDocument, type PDFDocumentProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Browser } from "puppeteer-core";
import QRCode from "qrcode";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { packHtml, type PackLook } from "../../src/paper/card-pack.ts";
import { findBrowser } from "../../src/paper/find-browser.ts";
import { printIn } from "../../src/paper/print-pack.ts";
import { QUIET_ZONE } from "../../src/paper/qr.ts";
import { serveSite } from "../../src/build/serve.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { type CardFormat, FORMATS, formatOf } from "../../src/paper/card-format.ts";
import { roomOn } from "../../src/paper/card-heights.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { type Asked, type CardRequest, requestCards } from "../../src/paper/card-requests.ts";
import { checkerCardOf } from "../../src/domain/cards/checker-card.ts";
import type { PrintedCard } from "../../src/paper/printed-card.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runHere } from "../commands/run-here.ts";
import { openBrowser } from "../site/find-browser.ts";

const browserPath = process.env["RERIG_BROWSER"] ?? findBrowser();
const root = resolve(import.meta.dirname, "../..");
const sled = join(root, "tests/fixtures/collections/sled");
const MM = 72 / 25.4;
const TIME = 120_000;

const read = new Map<string, Promise<Collection>>();
/** A collection, read once for all tests. */
function collectionOf(folder: string): Promise<Collection> {
  const known = read.get(folder) ?? loadCollection(folder, new Findings());
  read.set(folder, known);
  return known;
}

const made = new Map<string, Promise<readonly CardRequest[]>>();
/** What is asked for of a collection, made once for all papers: no paper changes what a card says. */
function requestsOf(folder: string, asked: Asked = {}): Promise<readonly CardRequest[]> {
  const name = JSON.stringify([folder, asked]);
  const known = made.get(name) ?? collectionOf(folder).then((collection) => requestCards(collection, asked).requests);
  made.set(name, known);
  return known;
}

async function cardsOf(folder: string, asked?: Asked): Promise<PrintedCard[]> {
  return (await requestsOf(folder, asked)).map(({ card }) => card);
}

const packOf = (cards: readonly PrintedCard[], format: CardFormat) =>
  packHtml({ title: "Cards, Karst Ridge Rescue", language: "en-GB", format, cards: cards.map((card) => ({ card })) });

async function open(bytes: Uint8Array): Promise<PDFDocumentProxy> {
  return getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 }).promise;
}

/** Words and sizes of type (in points) of every page. */
async function readPages(pdf: PDFDocumentProxy) {
  return Promise.all(
    Array.from({ length: pdf.numPages }, async (_, at) => {
      const page = await pdf.getPage(at + 1);
      const { items } = await page.getTextContent();
      const texts = items.flatMap((item) =>
        "str" in item && item.str.trim()
          ? [
              {
                text: item.str,
                size: Math.hypot(item.transform[2], item.transform[3]),
                x: item.transform[4],
                y: item.transform[5],
                width: item.width,
              },
            ]
          : [],
      );
      return {
        page,
        widthMm: page.view[2]! / MM,
        heightMm: page.view[3]! / MM,
        texts,
        text: squeeze(texts.map(({ text }) => text).join(" ")),
      };
    }),
  );
}

const squeeze = (text: string) => text.replace(/[\s\u00a0]+/g, "");

/** The words of every block, as the layout places them. */
function blocksOf(card: PrintedCard, format: CardFormat) {
  return layoutCard(card, format).sides.map((side) =>
    side.columns.flat().flatMap((block): string[] => {
      if (block.kind === "warning") return [card.warnings[block.at]!.text];
      if (block.kind === "part") return [block.part.title ?? ""];
      if (block.kind !== "line") return [];
      const { line } = block;
      if (line.kind === "check") return [line.challenge, line.answer, line.aside];
      return line.kind === "hold" ? ["HOLD", line.text, ...line.looks, line.aside] : [line.text];
    }),
  );
}

/**
 * The paper that goes through every check; on the others only what a paper can change is looked at: the size and number
 * of pages, whether each line stands where the layout puts it, type, margins, the list in front. What depends on no
 * paper (tags, title, bookmarks) is the same program for all; codes are read on the largest, the smallest and the
 * usual, and stand whole in their full size on all (`take no more room`).
 */
const WHOLE = "a5";
const DECODED: readonly string[] = ["a5", "a4", "a6"];
/** In the place of `it` for what a paper is not asked. */
const without = (..._: readonly unknown[]): void => {};

describe.skipIf(!browserPath)("printed cards", () => {
  // One browser for all: to start one costs as much as to print a pack. Commands start their own in the tests below.
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser(browserPath!);
  }, TIME);
  afterAll(() => browser?.close());

  describe.each(FORMATS)("$name", (format) => {
    const inFull = format.id === WHOLE ? it : without,
      decoded = DECODED.includes(format.id) ? it : without;
    let cards: PrintedCard[] = [],
      bytes: Uint8Array = new Uint8Array(),
      pages: Awaited<ReturnType<typeof readPages>> = [],
      pdf: PDFDocumentProxy;
    beforeAll(async () => {
      cards = await cardsOf(sled);
      bytes = await printIn(browser, await packOf(cards, format));
      pdf = await open(bytes);
      pages = await readPages(pdf);
    }, TIME);
    afterAll(() => pdf?.loadingTask.destroy());

    it("has every page within 0.5 mm of its paper (ISO 216)", () => {
      for (const { widthMm, heightMm } of pages) {
        expect(Math.abs(widthMm - format.sheet.width)).toBeLessThan(0.5);
        expect(Math.abs(heightMm - format.sheet.height)).toBeLessThan(0.5);
      }
    });

    it("has one page for each sheet: nothing ran over", () => {
      const leaves = cards.map((card) => Math.ceil(layoutCard(card, format).sides.length / 2));
      const sheets = leaves.reduce((sum, each) => sum + each, 1);
      expect(pages).toHaveLength(format.folded ? sheets : 2 * sheets);
    });

    it("has each line whole on the page where the layout puts it", () => {
      let next = format.folded ? 1 : 2;
      for (const card of cards) {
        const sides = blocksOf(card, format);
        expect(sides.flat().length).toBeGreaterThan(3);
        for (const [at, blocks] of sides.entries()) {
          const { text } = pages[next + (format.folded ? Math.floor(at / 2) : at)]!;
          expect(blocks.filter((words) => !text.includes(squeeze(words)))).toEqual([]);
          expect(text).toContain(squeeze(`Page ${at + 1} of ${sides.length}`));
          if (card.checkCode) expect(text).toContain(card.checkCode);
        }
        next += Math.ceil(sides.length / 2) * (format.folded ? 1 : 2);
      }
    });

    it(
      "is printed at full size: lines as large as they should be, nothing under 8.5 pt (a page that is too wide " +
        "would be shrunk)",
      () => {
        const sizes = pages.flatMap(({ texts }) => texts.map(({ size }) => size));
        expect(Math.min(...sizes)).toBeGreaterThan(8.5 * format.scale - 0.2);
        const first = cards[0]!.parts[0]!.lines[0]!;
        const answer = first.kind === "check" ? first.answer : "";
        const found = pages.flatMap(({ texts }) => texts).find(({ text }) => squeeze(text) === squeeze(answer));
        expect(found?.size).toBeGreaterThan(format.type.line * format.scale - 0.1);
      },
    );

    it("has no text nearer to the edge than 4 mm", () => {
      for (const { texts, widthMm, heightMm } of pages)
        for (const { x, y, width, text } of texts.filter(({ width }) => width > 0)) {
          const inside = x / MM > 4 && (x + width) / MM < widthMm - 4 && y / MM > 3.5 && y / MM < heightMm - 4;
          // The words on the tab, which runs off the edge, stand upright.
          if (!inside) expect(text).toMatch(/^(from|over|under|up to) .*kg$/);
        }
    });

    it("embeds every font", () => {
      const plain = Buffer.from(bytes).toString("latin1");
      const descriptors = plain.match(/\/Type\s*\/FontDescriptor[\s\S]*?endobj/g) ?? [];
      expect(descriptors.length).toBeGreaterThan(2);
      for (const descriptor of descriptors) expect(descriptor).toMatch(/\/FontFile2? \d+ 0 R/);
      const names = new Set(
        descriptors.map((descriptor) => /\/FontName\s*\/(\S+)/.exec(descriptor)?.[1]?.replace(/^[A-Z]{6}\+/, "")),
      );
      expect([...names].sort()).toEqual(["B612-Bold", "B612-Regular", "B612Mono-Bold", "B612Mono-Regular"]);
    });

    inFull("is tagged, has a title, a language and bookmarks, and its list leads to each card", async () => {
      const marks: unknown = await pdf.getMarkInfo();
      expect(marks instanceof Map ? marks.get("Marked") : (marks as { Marked?: boolean } | null)?.Marked).toBe(true);
      const { info } = (await pdf.getMetadata()) as { info: Record<string, unknown> };
      expect(info["Title"]).toBe("Cards, Karst Ridge Rescue");
      expect(info["Language"]).toBe("en-GB");
      const roles = JSON.stringify(await Promise.all(pages.map(({ page }) => page.getStructTree())));
      for (const role of ["H1", "H2", "H3", "L", "LI", "Figure", "P"]) expect(roles).toContain(`"role":"${role}"`);
      const titles = JSON.stringify(await pdf.getOutline());
      for (const { title } of cards) expect(titles).toContain(title);
      const targets: unknown = await pdf.getDestinations();
      const names = targets instanceof Map ? [...targets.keys()] : Object.keys(targets ?? {});
      expect(names).toEqual(expect.arrayContaining(cards.map((_, at) => `card-${at + 1}`)));
    });

    it(
      "lists the effective cards in front: code, title, revision, check code (CAP 676 lists its effective pages " +
        "in the same way)",
      () => {
        for (const { code, title, checkCode } of cards)
          for (const words of [code, title, checkCode!]) expect(pages[0]!.text).toContain(squeeze(words));
      },
    );

    decoded(
      "has a QR code that another library reads from 150 dots per inch",
      async () => {
        const decoded = await decodeAll(
          pages.map(({ page }) => page),
          pdf,
        );
        expect([...decoded].sort()).toEqual(cards.map(({ address }) => address).sort());
      },
      TIME,
    );
  });

  /**
   * Draws each page with pdf.js at 150 dpi and reads what QR codes jsQR finds; it finds one on a picture, so each
   * quarter is looked at too.
   */
  async function decodeAll(
    pages: readonly Awaited<ReturnType<PDFDocumentProxy["getPage"]>>[],
    pdf: PDFDocumentProxy,
  ): Promise<Set<string>> {
    const found = new Set<string>();
    for (const page of pages) {
      const viewport = page.getViewport({ scale: 150 / 72 });
      const factory = pdf.canvasFactory as {
        create(width: number, height: number): { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D };
      };
      const { canvas, context } = factory.create(Math.round(viewport.width), Math.round(viewport.height));
      await page.render({ canvas, canvasContext: context, viewport }).promise;
      const { data, width, height } = context.getImageData(0, 0, canvas.width, canvas.height);
      const code = jsQR(data, width, height);
      // jsQR now and then takes drawn squares for a symbol, and reads nothing from it.
      if (code?.data) found.add(code.data);
    }
    return found;
  }

  describe.each([formatOf("a5"), formatOf("a4-landscape"), formatOf("a6")])("second looks on $name", (format) => {
    let looks: PackLook[] = [],
      cards: PrintedCard[] = [],
      html = "",
      pages: Awaited<ReturnType<typeof readPages>> = [],
      pdf: PDFDocumentProxy;
    beforeAll(async () => {
      const requests = await requestsOf(sled);
      cards = requests.map(({ card }) => card);
      looks = requests.flatMap(({ card, content }) => (content ? [{ card, checker: checkerCardOf(content) }] : []));
      const pack = async () => packHtml({ title: "Cards", language: "en-GB", format, cards: requests, looks });
      html = await pack();
      // What is printed twice from the same page has the same bytes: that is asked of all cards below.
      expect(await pack()).toBe(html);
      pdf = await open(await printIn(browser, html));
      pages = await readPages(pdf);
    }, TIME);
    afterAll(() => pdf?.loadingTask.destroy());

    it("stand after all cards, the keys after all questions, each beginning a leaf; nothing is cut off", () => {
      expect(looks).toHaveLength(cards.length);
      const at = (words: string) => pages.findIndex(({ text }) => text.includes(squeeze(words)));
      const first = (kind: string) => looks.map(({ card: { title } }) => at(`${title}, ${kind}`));
      const [questions, keys] = [first("second look"), first("key")];
      const lastCard = pages.findLastIndex(({ text }) => text.includes("Copynumber"));
      expect(Math.min(...questions)).toBeGreaterThan(lastCard);
      expect(Math.min(...keys)).toBeGreaterThan(Math.max(...questions));
      if (!format.folded) for (const page of [...questions, ...keys]) expect(page % 2).toBe(0);
      const all = squeeze(pages.map(({ text }) => text).join(""));
      for (const { thing, question, answer } of looks.flatMap(({ checker: { sittings } }) => sittings.flat()))
        for (const words of [thing, question, answer]) expect(all).toContain(squeeze(words));
      const sheets = html.match(/<div class="c-sheet/g)!.length;
      expect(pages).toHaveLength(sheets);
      for (const { widthMm, heightMm } of pages)
        expect([Math.abs(widthMm - format.sheet.width) < 0.5, Math.abs(heightMm - format.sheet.height) < 0.5]).toEqual([
          true,
          true,
        ]);
    });

    it("tell no answer on a side of questions (primed second checks find nothing: common practice, no source)", () => {
      const sides = pages.filter(({ text }) => text.includes("Lookedatby"));
      expect(sides.length).toBeGreaterThanOrEqual(looks.length);
      for (const { checker } of looks)
        for (const { answer } of checker.sittings.flat())
          for (const { text } of sides) expect(text).not.toContain(squeeze(answer));
    });

    it("are on the list in front with links, among the bookmarks, and tagged", async () => {
      expect(pages[0]!.text + (pages[1]?.text ?? "")).toMatch(/Secondlooks.*Keys/);
      const names = await pdf
        .getDestinations()
        .then((targets: unknown) => (targets instanceof Map ? [...targets.keys()] : Object.keys(targets as object)));
      expect(names).toEqual(expect.arrayContaining(looks.flatMap((_, at) => [`look-${at + 1}`, `key-${at + 1}`])));
      const outline = JSON.stringify(await pdf.getOutline());
      for (const {
        card: { title },
      } of looks)
        for (const kind of ["second look", "key"]) expect(squeeze(outline)).toContain(squeeze(`${title}, ${kind}`));
      const roles = JSON.stringify(await Promise.all(pages.map(({ page }) => page.getStructTree())));
      for (const role of ["H1", "H2", "L", "LI"]) expect(roles).toContain(`"role":"${role}"`);
    });
  });

  it(
    "of a changeover have a QR code, too, which another library reads from 150 dots per inch",
    async () => {
      const cards = await cardsOf(sled, { changeover: ["child-shell--vacuum-mattress"] });
      const pdf = await open(await printIn(browser, await packOf(cards, formatOf("a5"))));
      const pages = await Promise.all(Array.from({ length: pdf.numPages }, (_, at) => pdf.getPage(at + 1)));
      const codes = [...(await decodeAll(pages, pdf))];
      expect(codes).toEqual(cards.map(({ address }) => address));
      expect(codes[0]).toMatch(/^HTTPS:\/\/[A-Z.]+\/C\/[0-9A-HJKMNP-TV-Z]{6}\/$/);
      await pdf.loadingTask.destroy();
    },
    TIME,
  );

  it("have a QR code with four clear modules around it (ISO/IEC 18004), whose modules are 0.4 mm or more", async () => {
    const [card] = await cardsOf(sled);
    const html = await packOf([card!], formatOf("a5"));
    const [, side, path] = /<svg class="c-qr" viewBox="0 0 (\d+) \1".*?<path d="([^"]+)"/.exec(html)!;
    expect(QUIET_ZONE).toBe(4);
    const columns = [...path!.matchAll(/M(\d+) (\d+)h(\d+)/g)].map(([, x, y, width]) => ({
      x: Number(x),
      y: Number(y),
      end: Number(x) + Number(width),
    }));
    const whole = Number(side);
    expect(Math.min(...columns.map(({ x }) => x))).toBe(4);
    expect(Math.min(...columns.map(({ y }) => y))).toBe(4);
    expect(Math.max(...columns.map(({ end }) => end))).toBe(whole - 4);
    expect(Math.max(...columns.map(({ y }) => y))).toBe(whole - 5);
    for (const { type: _, qr, scale } of FORMATS) expect((qr * scale) / whole).toBeGreaterThan(0.4);
    // Capitals alone keep the symbol in alphanumeric mode: version 3, 29 modules, also at level Q.
    expect(QRCode.create(card!.address!, { errorCorrectionLevel: "Q" }).modules.size).toBeLessThanOrEqual(29);
  });

  describe("take no more room than the layout counts on", () => {
    it.each(
      FORMATS.flatMap(
        (format) =>
          [
            ["sled", format.name, format],
            ["demo", format.name, format],
          ] as const,
      ),
    )(
      "%s on %s",
      async (name, _, format) => {
        const demo = join(root, "procedures");
        const bands = name === "sled" ? [] : (await cardsOf(demo, { eachBand: true })).filter(({ isPart }) => isPart);
        if (name === "demo") expect(bands.length).toBeGreaterThan(1);
        const cards =
          name === "sled"
            ? await cardsOf(sled)
            : [
                ...(await cardsOf(demo)),
                ...(await cardsOf(demo, { changeover: ["newborn-capsule--child-cradle"] })),
                ...(await cardsOf(demo, { changeover: ["child-cradle--newborn-capsule"] })),
                ...bands,
              ];
        const page = await browser.newPage();
        await page.emulateMediaType("print");
        await page.setContent(await packOf(cards, format), { waitUntil: "load" });
        // Without growing, so that each block is as high as its words need.
        await page.addStyleTag({
          content: ".c-rows,.c-row{flex:none!important;max-height:none!important}.c-control{margin-top:0!important}",
        });
        const real = await page.evaluate(async () => {
          await document.fonts.ready;
          const height = (element: Element) => {
            const { marginTop, marginBottom } = getComputedStyle(element);
            return (
              element.getBoundingClientRect().height + Math.max(0, parseFloat(marginTop)) + parseFloat(marginBottom)
            );
          };
          return [...document.querySelectorAll(".c-side:not(.c-contents):not(.c-blank)")].map((side) => ({
            room:
              height(side.querySelector(".c-cols")!) -
              parseFloat(getComputedStyle(side.querySelector(".c-cols")!).paddingTop),
            columns: [...side.querySelectorAll(".c-col")].map((column) =>
              [...column.children]
                .flatMap((child) => (child.tagName === "OL" ? [...child.children] : [child]))
                .map(height),
            ),
            codes: [...side.querySelectorAll(".c-qr")].map((code) => {
              code.scrollIntoView({ block: "center", inline: "center" });
              const { left, right, top, bottom } = code.getBoundingClientRect(),
                edge = side.getBoundingClientRect();
              return {
                least: Math.min(right - left, bottom - top),
                isInside: left >= edge.left && right <= edge.right && top >= edge.top && bottom <= edge.bottom,
                isOnTop: code.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2)),
              };
            }),
            over: [...side.querySelectorAll<HTMLElement>(":not(svg):not(svg *)")]
              .filter(
                (element) =>
                  element.scrollWidth > element.clientWidth + 1 &&
                  element.clientWidth > 0 &&
                  !element.classList.contains("hide"),
              )
              .map(({ className }) => className),
          }));
        });
        await page.close();
        const px = (mm: number) => (mm * format.scale * 96) / 25.4;
        const sides = cards.flatMap((card) => layoutCard(card, format).sides.map((side) => ({ card, side })));
        expect(real).toHaveLength(sides.length);
        // What is too long for its paper is refused (`rerig cards`), and may end before its code.
        const isPrinted = (card: PrintedCard) => layoutCard(card, format).tooLongMm === 0;
        let coded = 0;
        for (const [at, { card, side }] of sides.entries()) {
          expect(real[at]!.over).toEqual([]);
          // A code stands where the card has an address, as large as its paper has it, with nothing over it.
          for (const { least, isInside, isOnTop } of real[at]!.codes)
            expect([isInside, isOnTop, least > px(format.qr) - 1]).toEqual([true, true, true]);
          if (isPrinted(card)) coded += real[at]!.codes.length;
          expect(real[at]!.room).toBeGreaterThanOrEqual(px(roomOn(card, format, side.isFront)));
          for (const [column, blocks] of side.columns.entries()) {
            expect(real[at]!.columns[column]).toHaveLength(blocks.length);
            for (const [index, block] of blocks.entries()) {
              const height = real[at]!.columns[column]![index]!;
              expect(
                height <= px(block.height)
                  ? `${block.kind} fits`
                  : `${block.kind} is ${height} px, counted on ${px(block.height)}`,
              ).toBe(`${block.kind} fits`);
            }
          }
        }
        expect(coded).toBe(cards.filter((card) => card.address !== undefined && isPrinted(card)).length);
      },
      TIME,
    );
  });
});

describe.skipIf(!browserPath || !process.env["RERIG_SITE"])("the site's own page of a card", () => {
  it(
    "prints the same card as the pack, without a script",
    async () => {
      const format = formatOf("a5");
      const [card] = await cardsOf(join(root, "procedures"));
      const served = await serveSite(process.env["RERIG_SITE"]!, 0),
        browser = await openBrowser(browserPath!);
      try {
        const page = await browser.newPage();
        await page.setJavaScriptEnabled(false);
        await page.goto(`${served.address}tern/cards/${card!.id}/card/`, { waitUntil: "load" });
        const own = await open(await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true }));
        const pack = await open(await printIn(browser, await packOf([card!], format)));
        const [site, printed] = await Promise.all([readPages(own), readPages(pack)]);
        const sides = layoutCard(card!, format).sides.length;
        expect(site).toHaveLength(sides);
        for (const [at, { text, texts, widthMm, heightMm }] of site.entries()) {
          const other = printed[at + 2]!;
          expect(text).toBe(other.text);
          expect([widthMm, heightMm]).toEqual([other.widthMm, other.heightMm]);
          const moved = texts.filter(
            ({ x, y, size }, index) =>
              Math.hypot(x - other.texts[index]!.x, y - other.texts[index]!.y) +
                Math.abs(size - other.texts[index]!.size) >
              0.5,
          );
          expect(moved.map(({ text }) => text)).toEqual([]);
        }
        await own.loadingTask.destroy();
        await pack.loadingTask.destroy();
      } finally {
        await browser.close();
        served.server.close();
      }
    },
    TIME,
  );
});

describe.skipIf(!browserPath)("rerig cards", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-cards-"));
  afterAll(() => rmSync(work, { recursive: true, force: true }));

  function start(...args: string[]) {
    const child = spawn(
      process.execPath,
      [join(root, "src/commands/rerig.mjs"), "cards", "--procedures", sled, ...args],
      { cwd: work, stdio: ["ignore", "pipe", "pipe"], env: { ...process.env, CHROME_PATH: browserPath, TMPDIR: work } },
    );
    let stdout = "",
      stderr = "";
    child.stdout.on("data", (data) => (stdout += data));
    child.stderr.on("data", (data) => (stderr += data));
    const done = new Promise<{ status: number | null; stdout: string; stderr: string }>((resolved) =>
      child.on("close", (status) => resolved({ status, stdout, stderr })),
    );
    return { child, done };
  }

  /** The same in this process, where nothing is particular to one. */
  const here = async (...args: string[]) => {
    process.env["CHROME_PATH"] = browserPath;
    return runHere(["cards", "--procedures", sled, ...args], undefined, work);
  };

  /** All cards by a process of its own, printed once for all tests; how long it took in ms. */
  let printed: Promise<{ readonly status: number | null; readonly stdout: string; readonly takes: number }> | undefined;
  const printedOnce = () =>
    (printed ??= (async () => {
      const began = Date.now(),
        { status, stdout } = await start("--out", "one.pdf").done;
      return { status, stdout, takes: Date.now() - began };
    })());

  it(
    "gives the same bytes twice",
    async () => {
      // A process of its own, and this one, which has printed before.
      const one = await printedOnce(),
        two = await here("--out", "two.pdf");
      expect([one.status, two.status]).toEqual([0, 0]);
      expect(one.stdout.trim()).toBe(join(work, "one.pdf"));
      expect(readFileSync(join(work, "one.pdf")).equals(readFileSync(join(work, "two.pdf")))).toBe(true);
    },
    TIME,
  );

  it(
    "prints a folder's copies with their numbers, titled with its name",
    async () => {
      const { status } = await here("--folder", "ridge-hut");
      expect(status).toBe(0);
      const pdf = await open(readFileSync(join(work, "ridge-hut.pdf")));
      const pages = await readPages(pdf);
      expect(pages[0]!.text).toContain(squeeze("Ridge hut folder, Karst Ridge Rescue"));
      expect(pages.filter(({ text }) => text.includes(squeeze("Copy 1 Ridge hut folder")))).toHaveLength(2);
      await pdf.loadingTask.destroy();
    },
    TIME,
  );

  it(
    "lists the slip that lies over a card of the folder on its days: what is not listed is thrown out",
    async () => {
      const amended = join(work, "amended"),
        [number, until, after] = ["KRR-A7", "2026-06-19", "2026-06-20"];
      cpSync(sled, amended, { recursive: true });
      mkdirSync(join(amended, "sled/amendments"));
      writeFileSync(
        join(amended, "sled/amendments/buckles.mdx"),
        `---
number: ${number}
title: Buckles of the batch of May
reason: Two buckles jammed in the cold
from: 2026-06-08
until: ${until}
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
---
:::step{replaces=open-straps by=tail critical takes="25 s" photo=bed}
Warm both buckles with the hand, then open both bed straps.

::turn{fastening=bed-straps to=open}
::check[Bed straps]{by=leader answer="both open and warm"}
:::
`,
      );
      expect((await runHere(["issue", "--procedures", amended], "2026-01-12")).status).toBe(0);
      for (const [day, lies] of [
        [until, true],
        [after, false],
      ] as const) {
        const { status, stderr } = await runHere(
          ["cards", "--procedures", amended, "--folder", "ridge-hut", "--on", day, "--out", `list-${day}.pdf`],
          undefined,
          work,
        );
        expect(status).toBe(0);
        const pdf = await open(readFileSync(join(work, `list-${day}.pdf`)));
        const pages = await readPages(pdf);
        expect([day, pages[0]!.text.includes(squeeze(`${number}, over Child shell`))]).toEqual([day, lies]);
        expect([day, stderr.includes(`slip of ${number}`)]).toEqual([day, lies]);
        await pdf.loadingTask.destroy();
      }
    },
    TIME,
  );

  it(
    "adds second looks and keys when asked",
    async () => {
      const { status, stderr } = await here("--second-look", "--out", "look.pdf");
      expect([status, stderr.includes("second looks and their keys")]).toEqual([0, true]);
      const pdf = await open(readFileSync(join(work, "look.pdf")));
      const [list, next] = await readPages(pdf);
      expect(list!.text + (next?.text ?? "")).toMatch(/Secondlooks.*Keys/);
      await pdf.loadingTask.destroy();
    },
    TIME,
  );

  it(
    "prints the card for a patient, which is the configuration's where every patient has the same lines",
    async () => {
      const { status, stderr } = await here("--weight", "12 kg", "--out", "weight.pdf");
      expect([status, stderr.includes("one card")]).toEqual([0, true]);
      const pdf = await open(readFileSync(join(work, "weight.pdf")));
      const [list] = await readPages(pdf);
      expect(list!.text).toContain("Childshell");
      expect(list!.text).not.toContain("Vacuummattress");
      await pdf.loadingTask.destroy();
    },
    TIME,
  );

  it.each([
    [["--band", "5 to 10 kg"], "--band: "],
    [["--weight", "12"], "--weight: "],
    [["--weight", "7 kg"], "No card is for these patients"],
    [["--card", "child-shel"], "There is no card `child-shel`"],
    [["--folder", "ridge-hut", "--weight", "12 kg"], "does not go together"],
    [["--band", "from 8 kg", "--age", "2 years"], "does not go together"],
    [["--folder", "ridge-hat"], "There is no folder `ridge-hat`"],
    [["--platform", "sledge"], "There is no platform `sledge`"],
    [["--paper", "A3"], "takes A4, A5 or A6"],
    [["--changeover", "child-shell--nothing"], "There is no changeover"],
    [["--out", "none/such/cards.pdf"], "there is no folder"],
  ])(
    "ends with 2 and says why: %j",
    async (args, words) => {
      const { status, stdout, stderr } = await here(...args);
      expect(status).toBe(2);
      expect(stdout).toBe("");
      expect(stderr).toContain(words);
    },
    TIME,
  );

  it("interrupted at two moments, leaves the file as it was or whole, and clears up the next time", async () => {
    const folder = mkdtempSync(join(work, "stop-"));
    const out = join(folder, "cards.pdf");
    const { status, takes } = await printedOnce();
    expect(status).toBe(0);
    cpSync(join(work, "one.pdf"), out);
    const whole = readFileSync(out);
    let stopped = 0;
    for (let round = 0; round < 2; round += 1) {
      if (round % 2) rmSync(out, { force: true });
      const before = existsSync(out);
      const { child, done } = start("--out", out);
      // While it reads, and when the browser has begun (the moment of writing itself is met in
      // tests/build/write-whole.test.ts).
      const hasBrowser = () => readdirSync(work).some((name) => name.startsWith("puppeteer_dev_chrome_profile-"));
      const began = Date.now(),
        left = new Set(readdirSync(work)),
        isNow = () => (round ? hasBrowser() : Date.now() - began > takes / 2),
        timer = setInterval(() => isNow() && child.kill(round ? "SIGKILL" : "SIGINT"), 20);
      const { status } = await done;
      clearInterval(timer);
      for (const name of readdirSync(work))
        if (!left.has(name)) rmSync(join(work, name), { recursive: true, force: true, maxRetries: 5 });
      stopped += status === 0 ? 0 : 1;
      if (before || status === 0) expect(existsSync(out)).toBe(true);
      if (existsSync(out)) expect(readFileSync(out).equals(whole)).toBe(true);
    }
    expect(stopped).toBeGreaterThan(0);
    expect((await here("--out", out)).status).toBe(0);
    expect(readdirSync(folder)).toEqual(["cards.pdf"]);
  }, 300_000);
});
