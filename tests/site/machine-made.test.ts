/**
 * The starter built in the two languages that are made by machine: every page is built; no English is left on them but
 * that of the collection; no page is wider than a phone, in long words and from the right.
 */
import { cp, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parse } from "parse5";
import { launch, type Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { addMachineMade, FROM_RIGHT, LONG, mirror } from "../words/machine-made.ts";
import { BROWSER_FLAGS, needBrowser } from "./find-browser.ts";
import { pagesByKind } from "./page-kinds.ts";
import { newQuietPage } from "./quiet-page.ts";
import { sidewaysParts } from "./strain.ts";

const starter = resolve(import.meta.dirname, "../../src/starter");
/** Kinds of pages that show the format by examples in English, whatever the language. */
const OF_AUTHORS = /^(?:guide|rules)\//;
/** No words of a language: check codes, and the symbol of the minute (SI Brochure, 9th edition, table 8). */
const UNWORDED = /\b[0-9A-Z]{4}-[0-9A-Z]{2}\b|\bC\/[0-9A-Z]{6}\b|(?<=\d\s)min\b/g;

let work: string, browser: Browser;
beforeAll(async () => {
  addMachineMade();
  work = await mkdtemp(join(tmpdir(), "machine-made-"));
  for (const language of [LONG, FROM_RIGHT]) {
    const folder = join(work, language);
    await cp(starter, folder, { recursive: true });
    const service = await readFile(join(folder, "service.yaml"), "utf8");
    await writeFile(join(folder, "service.yaml"), service.replace(/^language: .*$/m, `language: ${language}`));
    await buildSite({ collectionFolder: folder, outFolder: join(work, `${language}-site`), log: () => {} });
  }
  browser = await launch({ executablePath: needBrowser(), args: [...BROWSER_FLAGS] });
}, 900_000);
afterAll(async () => {
  await browser?.close();
  await rm(work, { recursive: true, force: true });
});

interface Html {
  readonly nodeName: string;
  readonly value?: string;
  readonly attrs?: readonly { readonly name: string; readonly value: string }[];
  readonly childNodes?: readonly Html[];
}

/** All that is read or read out, a text for each node and attribute. */
function textsOf(node: Html): string[] {
  if (["script", "style", "code"].includes(node.nodeName)) return [];
  return [
    ...(node.nodeName === "#text" ? [node.value ?? ""] : []),
    ...(node.attrs ?? [])
      .filter(({ name }) =>
        /^(?:alt|title|aria-(?:label|description|roledescription|valuetext)|placeholder)$/.test(name),
      )
      .map(({ value }) => value),
    ...(node.childNodes ?? []).flatMap(textsOf),
  ];
}

async function textsByPage(language: string): Promise<ReadonlyMap<string, readonly string[]>> {
  const site = join(work, `${language}-site`);
  const files = (await readdir(site, { recursive: true })).filter((file) => file.endsWith(".html"));
  const texts = new Map<string, readonly string[]>();
  for (const file of files.filter((name) => !OF_AUTHORS.test(name)).sort())
    texts.set(
      file,
      textsOf(parse(await readFile(join(site, file), "utf8"), { scriptingEnabled: false }) as unknown as Html).map(
        (text) => text.replace(/\s+/g, " ").trim(),
      ),
    );
  return texts;
}

/** The words of the collection itself: whatever stands in its files. */
async function wordsOfCollection(): Promise<ReadonlySet<string>> {
  const files = (await readdir(starter, { recursive: true })).filter((file) => /\.(?:mdx|yaml)$/.test(file));
  const texts = await Promise.all(files.map((file) => readFile(join(starter, file), "utf8")));
  return new Set(texts.flatMap((text) => text.toLowerCase().match(/[a-z]+/g) ?? []));
}

describe("the starter from the right", () => {
  it("says so, on every page", async () => {
    const site = join(work, `${FROM_RIGHT}-site`);
    const files = (await readdir(site, { recursive: true })).filter((file) => file.endsWith(".html"));
    expect(files.length).toBeGreaterThan(80);
    for (const file of files) expect(await readFile(join(site, file), "utf8"), file).toMatch(/<html[^>]* dir="rtl"/);
  });

  it("says what the table says in its letters, on every page", async () => {
    const english: string[] = [];
    for (const [file, texts] of await textsByPage(FROM_RIGHT))
      if (!texts.some((text) => /[א-ת]{3}/.test(text))) english.push(file);
    expect(english).toEqual([]);
  });

  it("has no English in it", async () => {
    const own = await wordsOfCollection(),
      left = new Map<string, string>();
    for (const [file, texts] of await textsByPage(FROM_RIGHT))
      for (const text of texts) {
        const words = text.replace(UNWORDED, " ").match(/[a-z]{3,}/gi) ?? [];
        if (words.some((word) => !own.has(word.toLowerCase()))) left.set(text, file);
      }
    expect([...left].map(([text, file]) => `${file}: ${text}`)).toEqual([]);
  });
});

describe.each([LONG, FROM_RIGHT])("the starter in %s", (language) => {
  it("is on no kind of page wider than a phone of 390 px", async () => {
    const site = join(work, `${language}-site`),
      wide: string[] = [];
    const page = await newQuietPage(browser);
    await page.setViewport({ width: 390, height: 844 });
    for (const [kind, [address]] of await pagesByKind(site)) {
      if (OF_AUTHORS.test(kind)) continue;
      await page.goto(pathToFileURL(join(site, /(?:^|\/)$/.test(address!) ? `${address}index.html` : address!)).href);
      wide.push(...(await page.evaluate(sidewaysParts)).map((part) => `${address}: ${part}`));
    }
    await page.close();
    expect(wide).toEqual([]);
  }, 600_000);
});

it("what is made by machine is no English", () => expect(mirror("Some {steps:~ step|~ steps}")).not.toMatch(/Some/));
