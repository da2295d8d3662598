/**
 * Procedures and checklists printed by a real browser on A4 and A5: sizes, margins, whole steps, nothing shrunk or cut
 * off. Runs on the demo's site that `npm test` builds.
 */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Served } from "../../src/build/serve.ts";
import { openBrowser } from "./find-browser.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { servePlain } from "./look/serve-plain.ts";

const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;

/** ISO 216: A4 is 210 mm x 297 mm, A5 is 148 mm x 210 mm. */
const PAPERS = [
  ["A4", 210, 297],
  ["A5", 148, 210],
] as const;
const MM = 72 / 25.4;

interface Printed {
  readonly pages: readonly {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly text: string;
    readonly sizes: ReadonlySet<number>;
  }[];
  /** Page (from 0) of each named place. */
  readonly places: ReadonlyMap<string, number>;
}

describe.skipIf(!site || !browserPath)("paper", () => {
  let browser: Browser, served: Served;
  beforeAll(async () => {
    [browser, served] = await Promise.all([openBrowser(browserPath!), servePlain(site!)]);
  });
  afterAll(async () => {
    await browser.close();
    served.server.close();
  });

  /**
   * Prints a page as Ctrl+P does (sizes of the paper from the dialog), and gives the words of each step as the page
   * holds them.
   */
  async function print(
    path: string,
    format: "A4" | "A5" | "Letter",
  ): Promise<{ printed: Printed; steps: readonly (readonly string[])[]; rows: readonly string[] }> {
    const page = await newQuietPage(browser);
    await page.setBypassCSP(true);
    await page.goto(`${served.address}${path}`, { waitUntil: "load" });
    // A link to every step makes Chromium write down on which page it stands.
    const steps = await page.evaluate(() =>
      [...document.querySelectorAll("main .step[id]")].map((step) => {
        const link = document.createElement("a");
        link.href = `#${step.id}`;
        link.textContent = `${step.id} `;
        document.querySelector("main")!.append(link);
        const words: string[] = [],
          texts = document.createTreeWalker(step.querySelector(".body")!, NodeFilter.SHOW_TEXT);
        while (texts.nextNode())
          if (!texts.currentNode.parentElement!.closest(".hide, .step-note, .as-issued, .changeover .guards"))
            words.push(...texts.currentNode.textContent!.split(/[^\p{L}\p{N}]+/u));
        return words.filter((word) => word.length > 3);
      }),
    );
    const rows = await page.$$eval(".cl .q > span:first-child, .cl .q > b", (texts) =>
      texts.map(({ textContent }) => textContent!.trim()),
    );
    const bytes = await page.pdf({ format, printBackground: true, preferCSSPageSize: false });
    await page.close();
    return { printed: await readPdf(bytes), steps, rows };
  }

  async function readPdf(bytes: Uint8Array): Promise<Printed> {
    const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 });
    const pdf = await task.promise;
    const pages = [];
    for (let number = 1; number <= pdf.numPages; number++) {
      const page = await pdf.getPage(number);
      const { items } = await page.getTextContent();
      const [, , width, height] = page.view;
      const texts = items.flatMap((item) => ("str" in item ? [item] : []));
      pages.push({
        widthMm: width! / MM,
        heightMm: height! / MM,
        text: texts
          .map(({ str }) => str)
          .join(" ")
          .replace(/\s+/g, " "),
        sizes: new Set(
          texts
            .filter(({ str }) => str.trim())
            .map(({ transform }) => Math.round(Math.hypot(transform[2], transform[3]) * 10) / 10),
        ),
      });
    }
    const places = new Map<string, number>();
    const targets: unknown = await pdf.getDestinations();
    for (const [name, target] of targets instanceof Map ? targets : Object.entries(targets ?? {}))
      if (Array.isArray(target)) places.set(name, await pdf.getPageIndex(target[0]));
    await task.destroy();
    return { pages, places };
  }

  const demo = site
    ? readdirSync(join(site, "tern/procedures"), { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map(({ name }) => name)
    : [];
  const procedures = demo.filter((name) => ["seat-capsule", "fit-child-cradle", "clean-and-restock"].includes(name));

  const demoPairs = site
    ? readdirSync(join(site, "tern/changeovers")).filter((name) => name.includes("--") && !name.includes("."))
    : [];

  it.each([
    ["tern/amendments/cradle-straps/", "A5", 1],
    ["tern/ready/state/", "A4", 2],
    // The last of these had nothing but the foot of the page on it, and names of marks a word a line.
    ["tern/cards/newborn-capsule/", "A4", 3],
    ["glossary/", "A4", 3],
    // No pin is cut in two between sides, so none is a piece too few.
    ["tern/tonight/", "A4", 4],
    ["folders/road-crew/audit/", "A4", 1],
    // Letter is lower than A4 (ANSI/ASME Y14.1, size A: 8.5 x 11 in, 279.4 mm).
    ["folders/road-crew/audit/", "Letter", 1],
    ["tern/sign-off/configurations/child-cradle/", "Letter", 1],
    // A form that is filled in by hand, with a temporary amendment above it: nobody has to turn it over.
    ["tern/sign-off/configurations/child-cradle/", "A4", 1],
  ] as const)("prints %s on %s on no more sides than it has faces: %d", async (path, format, sides) => {
    const { printed } = await print(path, format);
    expect(printed.pages).toHaveLength(sides);
  });

  it.each(["A4", "A5", "Letter"] as const)(
    "prints on %s what is said of an answer that does not match on the side of the last line",
    async (format) => {
      for (const card of ["newborn-capsule", "child-cradle", "deck-harness"]) {
        const { printed, rows } = await print(`tern/cards/${card}/`, format);
        const last = printed.pages.find(({ text }) => text.includes("An answer does not match?"));
        expect(last?.text).toContain(rows.at(-2));
        expect(last?.text).toContain(rows.at(-1));
        expect(last?.text).toContain("End of the checklist");
      }
    },
    60_000,
  );

  it("prints the words of a picture that never came, and no number over them", async () => {
    const page = await newQuietPage(browser);
    await page.setRequestInterception(true);
    page.on("request", (request) => void (request.resourceType() === "image" ? request.abort() : request.continue()));
    await page.goto(`${served.address}tern/procedures/seat-capsule/`, { waitUntil: "load" });
    await page.emulateMediaType("print");
    const over = await page.$$eval(".steps .photo", (photos) =>
      photos.map((photo) => {
        const end = getComputedStyle(photo.querySelector("img:not([hidden])")!, "::after"),
          marks = [...photo.querySelectorAll(".mark")].map((mark) => Number(getComputedStyle(mark).zIndex) || 0);
        return [end.position, end.backgroundColor, Number(end.zIndex) > Math.max(0, ...marks)];
      }),
    );
    await page.close();
    expect(over.length).toBeGreaterThan(5);
    expect(new Set(over.map((each) => each.join()))).toEqual(new Set(["absolute,rgb(255, 255, 255),true"]));
  }, 60_000);

  /** Whether each step stands whole, with all its words, on the side on which it begins. */
  const expectWhole = ({ printed, steps }: Awaited<ReturnType<typeof print>>) => {
    for (const [index, words] of steps.entries()) {
      const { text } = printed.pages[printed.places.get(`step-${index + 1}`)!]!;
      expect({ step: index + 1, missing: words.filter((word) => !text.includes(word)) }).toEqual({
        step: index + 1,
        missing: [],
      });
    }
  };

  it.each(demoPairs)("prints %s on A5 with two steps a side and more, each whole", async (pair) => {
    const all = await print(`tern/changeovers/${pair}/`, "A5");
    const { printed, steps } = all;
    expect(steps.length).toBeGreaterThan(20);
    // Two sides for what is fetched and counted and for who does what when; then five steps on each two sides.
    expect(printed.pages.length).toBeLessThanOrEqual(2 + Math.ceil(steps.length / 2.5));
    expectWhole(all);
    // What stands at the edges is set in 8 pt; smaller are only the numbers on pictures.
    const sizes = printed.pages.flatMap(({ sizes }) => [...sizes]);
    expect(Math.min(...sizes.filter((points) => points > 7))).toBeGreaterThanOrEqual(7.9);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(5.5);
    // Anything too wide would shrink the whole.
    expect([...printed.pages[0]!.sizes]).toContain(18);
  });

  it("prints a changeover with four steps a side and more, each whole with all that it warns of and asks", async () => {
    const all = await print("tern/changeovers/newborn-capsule--child-cradle/", "A4");
    const { printed, steps } = all;
    expect(steps.length).toBeGreaterThan(30);
    // A side for what is fetched and counted and for who does what when; then at least four steps a side.
    expect(printed.pages.length).toBeLessThanOrEqual(1 + Math.ceil(steps.length / 4));
    expectWhole(all);
    expect(printed.pages[0]!.text).toMatch(/Fetch first.*Count out.*Count in.*Who does what, when/);
    // Who waits for whom stands at the steps: the score, which has it on screens, is not printed.
    expect(printed.pages.map(({ text }) => text).join(" ")).toMatch(/after step \d+/);
  }, 60_000);

  describe.each(PAPERS)("%s", (format, widthMm, heightMm) => {
    it.each(procedures)(
      "prints %s with code, revision, page n of m and the day on every page, and no step over two pages",
      async (id) => {
        const { printed, steps } = await print(`tern/procedures/${id}/`, format);
        expect(steps.length).toBeGreaterThan(3);
        for (const [index, page] of printed.pages.entries()) {
          expect(Math.abs(page.widthMm - widthMm)).toBeLessThan(0.5);
          expect(Math.abs(page.heightMm - heightMm)).toBeLessThan(0.5);
          expect(page.text).toMatch(/FCR-T-\d+ · revision \d+/);
          expect(page.text).toContain(`Page ${index + 1} of ${printed.pages.length}`);
          expect(page.text).toContain("Uncontrolled when printed");
          expect(page.text).toMatch(/Printed on \d{1,2} [A-Z][a-z]{2} \d{4}/);
        }
        // Every word of a step is on the page where it begins: a step that broke over two pages, or ran over the edge,
        // would miss some.
        for (const [index, words] of steps.entries()) {
          expect([...printed.places.keys()]).toContain(`step-${index + 1}`);
          const { text } = printed.pages[printed.places.get(`step-${index + 1}`)!]!;
          const missing = words.filter((word) => !text.includes(word));
          expect({ step: index + 1, missing }).toEqual({ step: index + 1, missing: [] });
        }
        // Anything too wide makes Chromium shrink the whole document: then the title would be smaller than its 20 pt.
        expect([...printed.pages[0]!.sizes]).toContain(20);
        // Without the rules that lay words beside pictures some stand one on a side.
        if (format === "A5") expect(printed.pages.length).toBeLessThanOrEqual(2 + Math.ceil(steps.length / 2));
      },
      60_000,
    );

    it("prints a checklist with its check code on every page, and every challenge and answer", async () => {
      const { printed, rows } = await print("tern/cards/newborn-capsule/", format);
      expect(rows.length).toBeGreaterThan(20);
      const all = printed.pages.map(({ text }) => text).join(" ");
      for (const page of printed.pages)
        expect(page.text).toMatch(
          /FCR-T-C1 · revision \d+ · edition \d+ from \d+ \w+ \d+ · check code [0-9A-Z]{4}-[0-9A-Z]{2}/,
        );
      for (const row of rows) expect(all).toContain(row);
      expect(all).toContain("End of the checklist");
      expect(all).toContain("An answer does not match?");
      expect([...printed.pages[0]!.sizes]).toContain(20);
    }, 60_000);

    it("marks a draft across every page", async () => {
      const { printed } = await print("tern/procedures/cold-vehicle-start/", format);
      for (const page of printed.pages) expect(page.text.match(/draft/gi)?.length).toBeGreaterThanOrEqual(2);
    }, 60_000);
  });
});
