/**
 * The sheets of readiness in the built demo: the same as the domain says, and each whole on A4 and A5, in a real
 * browser. Runs on the demo's site that `npm test` builds. Paper: ISO 216, A4 210 mm × 297 mm, A5 148 mm × 210 mm.
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import ICAL from "ical.js";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Served, serveSite } from "../../src/build/serve.ts";
import { enduranceOfGas } from "../../src/domain/ready/endurance.ts";
import { runHere } from "../commands/run-here.ts";
import { openBrowser } from "./find-browser.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { WAITING } from "../domain/ready/by-hand.ts";

const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;
const SHEETS = [
  "ready",
  "ready/restock/child-cradle",
  "ready/restock/newborn-capsule",
  "ready/endurance",
  "ready/call",
  "ready/state",
];
const PAPERS = [
  ["A4", 210, 297],
  ["A5", 148, 210],
] as const;
const MM = 72 / 25.4;
const read = (file: string) => readFileSync(join(site!, file), "utf8");
/** The text of a page's main part, tags left out. */
const textOf = (file: string) =>
  /<main[\s\S]*<\/main>/
    .exec(read(file))![0]
    .replace(/<[^>]+>/g, " ")
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, " ");

interface ReadyData {
  readonly sheet: readonly { readonly place: string; readonly looks: readonly { readonly look: string }[] }[];
  readonly endurance: readonly {
    readonly minutes: number;
    readonly arithmetic: string;
    readonly demand: string | null;
  }[];
  readonly calls: readonly { readonly to: string; readonly seconds: number }[];
}

describe.skipIf(!site)("the sheets of readiness agree", () => {
  it("data/ready.json fits its schema, and its sheet is what was reckoned by hand", () => {
    const ajv = new Ajv2020(),
      data = JSON.parse(read("data/ready.json")) as ReadyData[];
    ajv.validate(JSON.parse(read("data/ready.schema.json")) as object, data);
    expect(ajv.errors ?? []).toEqual([]);
    expect(data[0]!.sheet.map(({ place }) => place)).toEqual(WAITING.map(([place]) => place));
  });

  it("page, data and command say the same minutes and arithmetic (by hand: 86 min for two at 5 l/min)", async () => {
    const [{ endurance }] = JSON.parse(read("data/ready.json")) as [ReadyData];
    const page = textOf("tern/ready/endurance/index.html");
    const { stdout } = await runHere([
      "ready",
      "endurance",
      "--json",
      "--procedures",
      resolve(import.meta.dirname, "../../procedures"),
      "--on",
      "2026-11-28",
    ]);
    expect((JSON.parse(stdout) as ReadyData).endurance).toEqual(endurance);
    expect(endurance.length).toBeGreaterThan(15);
    for (const { minutes, arithmetic } of endurance) expect(page).toContain(`${minutes} ${arithmetic}`);
    expect(page).toContain(enduranceOfGas(430, 2, 5, 2).arithmetic);
  });

  it("the readiness page asks every line of the sheet, in its order", () => {
    const [{ sheet }] = JSON.parse(read("data/ready.json")) as [ReadyData];
    const page = textOf("tern/ready/index.html");
    let at = -1;
    for (const { look } of sheet.flatMap(({ looks }) => looks)) {
      const next = page.indexOf(`: ${look}`, at + 1);
      expect(next, look).toBeGreaterThan(at);
      at = next;
    }
  });

  it("the calendar is read by another parser: four dates, each with its own UID (RFC 5545, 3.8.4.7)", () => {
    const events = new ICAL.Component(ICAL.parse(read("ready.ics")))
      .getAllSubcomponents("vevent")
      .map((component) => new ICAL.Event(component));
    expect(events.map(({ startDate, summary }) => `${startDate.toString()} ${summary}`)).toEqual([
      "2027-03-01 Response bag: first date on the list",
      "2027-04-30 Newborn capsule: service label in date",
      "2027-05-31 Ventilator: service label in date",
      "2027-06-30 Inhaled-gas cylinder: label in date",
    ]);
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(4);
  });
});

describe.skipIf(!site || !browserPath)("the sheets of readiness on paper", () => {
  let browser: Browser, served: Served;
  beforeAll(async () => {
    [browser, served] = await Promise.all([openBrowser(browserPath!), serveSite(site!, 0)]);
  });
  afterAll(async () => {
    await browser.close();
    served.server.close();
  });

  describe.each(PAPERS)("%s", (format, widthMm, heightMm) => {
    it.each(SHEETS)(
      "prints %s whole, unshrunk, with its caution and the day on every page",
      async (sheet) => {
        const page = await newQuietPage(browser);
        await page.setBypassCSP(true);
        await page.goto(`${served.address}tern/${sheet}/`, { waitUntil: "load" });
        const words = await page.$$eval("main :is(td, th, li, h2):not([hidden] *)", (cells) =>
          cells.map(({ textContent }) => textContent!.replace(/\s+/g, "")).filter(Boolean),
        );
        const bytes = await page.pdf({ format, printBackground: true, preferCSSPageSize: false });
        await page.close();
        const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 });
        const pdf = await task.promise;
        let all = "";
        const sizes = new Set<number>();
        for (let number = 1; number <= pdf.numPages; number++) {
          const sheetPage = await pdf.getPage(number),
            { items } = await sheetPage.getTextContent(),
            [, , width, height] = sheetPage.view;
          expect(Math.abs(width! / MM - widthMm)).toBeLessThan(0.5);
          expect(Math.abs(height! / MM - heightMm)).toBeLessThan(0.5);
          const texts = items.flatMap((item) => ("str" in item ? [item] : []));
          const text = texts.map(({ str }) => str).join(" ");
          expect(text).toMatch(/Printed on \d{1,2} [A-Z][a-z]{2} \d{4}/);
          expect(text).toContain("as of 28 Nov 2026");
          if (number === 1)
            for (const { transform } of texts) sizes.add(Math.round(Math.hypot(transform[2], transform[3]) * 10) / 10);
          all += text;
        }
        await task.destroy();
        // Anything too wide makes Chromium shrink the whole document: then the title would be smaller than its 20 pt.
        // The state card has no title, but its state in 3.5 of the page's 11 pt.
        expect([...sizes]).toContain(sheet === "ready/state" ? 38.5 : 20);
        const printed = all.replace(/\s+/g, "");
        expect(printed).toContain("localcodesandlicensedpracticedecide");
        expect(words.length).toBeGreaterThan(1);
        for (const word of words.flatMap((cell) => cell.match(/.{1,12}/gu) ?? []).filter((part) => part.length === 12))
          expect(printed, word).toContain(word);
      },
      60_000,
    );
  });
});
