/**
 * A small collection that has something of everything, built in the language from the right that is made by machine: no
 * English is left on its pages but that of the collection, neither before nor after their scripts have run, and no
 * measure is turned round. No page of it, nor of the starter in long words, is wider than a phone.
 */
import { cp, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { en } from "../../src/words/en.ts";
import { buildForTest } from "../builder/built-site.ts";
import { englishIn, textOfCollection, textsOfPage, wordsIn } from "../words/english-left.ts";
import { DAY, writeEverything } from "../words/everything.ts";
import { FROM_RIGHT, LONG, mirror } from "../words/machine-made.ts";
import { forScreens, needBrowser, openBrowser } from "./find-browser.ts";
import { pagesByKind } from "./look/page-kinds.ts";
import { measuresSeen, pressEverything } from "./look/press-everything.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { coverOf, fileOf, isEveryPageAsked, oneOfEach, readShown } from "./look/representatives.ts";
import { serveKept } from "./look/serve-kept.ts";
import { sidewaysParts } from "./look/strain.ts";

const starter = resolve(import.meta.dirname, "../../src/starter");
/** Kinds of pages that show the format by examples in English, whatever the language. */
const OF_AUTHORS = /^(?:guide|rules)\//;
/** Presses on one page: enough for a round of questions and for a walk through a changeover. */
const PRESSES = 30;

/** What is made of the collection's own words (other names, directives, almost right answers) or was once said. */
const MADE = [
  "change to the vacuum bean bag",
  "Takes the shell off the bed and puts the mattress on it",
  "three, clip across",
  "three in the tail bag",
  "Look under the shell",
  "Pull both pins out of the shell",
];

let work: string, browser: Browser;
beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "machine-made-"));
  for (const language of [LONG, FROM_RIGHT]) {
    const collectionFolder = join(work, language);
    if (language === FROM_RIGHT) await writeEverything(collectionFolder, language);
    else await writeStarter(collectionFolder, language);
    await buildForTest({ collectionFolder, outFolder: join(work, `${language}-site`), on: DAY });
  }
  browser = await openBrowser(forScreens(needBrowser())!);
}, 900_000);
afterAll(async () => {
  await browser?.close();
  await rm(work, { recursive: true, force: true });
});

async function writeStarter(folder: string, language: string): Promise<void> {
  await cp(starter, folder, { recursive: true });
  const service = await readFile(join(folder, "service.yaml"), "utf8");
  await writeFile(join(folder, "service.yaml"), service.replace(/^language: .*$/m, `language: ${language}`));
}

/**
 * Pages of a site, one of each kind, between which every script is with all that it may say, and every control: what
 * else stands on a page is read without its script.
 */
async function pressedPages(site: string): Promise<readonly string[]> {
  const first = [...(await pagesByKind(site))]
    .filter(([kind]) => !OF_AUTHORS.test(kind))
    .map(([, [address]]) => address!);
  if (isEveryPageAsked) return first;
  const pages = await Promise.all(
    (await readShown(site, first)).map(async (page) => {
      const html = await readFile(join(site, fileOf(page.address)), "utf8");
      const scripts = [...html.matchAll(/<script src="[^"]*?([\w-]+)-\w+\.js"/g)].map(([, name]) => `script ${name}`),
        { rooms = {} } = JSON.parse(
          /<script type="application\/json" data-words>(.*?)<\/script>/s.exec(html)?.[1] ?? "{}",
        ) as {
          rooms?: Readonly<Record<string, object>>;
        },
        words = Object.entries(rooms).flatMap(([room, entries]) =>
          Object.keys(entries).map((name) => `word ${room}.${name}`),
        ),
        controls = [...page.signatures].filter((each) =>
          /^[^>]*> (?:button|input|select|textarea|summary|dialog)/.test(each),
        );
      return { ...page, signatures: new Set([...scripts, ...words, ...controls]) };
    }),
  );
  return coverOf(pages).map(({ address }) => address);
}

/** What the collection from the right says itself, or is made of that. */
const ownWords = async () => (await textOfCollection(join(work, FROM_RIGHT))) + wordsIn(MADE.join("\n"));

/** The pages of a site, but those of authors. */
async function pagesOf(language: string): Promise<string[]> {
  const files = await readdir(join(work, `${language}-site`), { recursive: true });
  return files.filter((file) => file.endsWith(".html") && !OF_AUTHORS.test(file)).sort();
}

async function textsByPage(language: string): Promise<ReadonlyMap<string, readonly string[]>> {
  const texts = new Map<string, readonly string[]>();
  for (const file of await pagesOf(language))
    texts.set(file, textsOfPage(await readFile(join(work, `${language}-site`, file), "utf8")));
  return texts;
}

describe("something of everything from the right", () => {
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
    const own = await ownWords(),
      left = new Map<string, string>();
    for (const [file, texts] of await textsByPage(FROM_RIGHT))
      for (const text of texts) if (englishIn(text, own).length > 0) left.set(text, file);
    expect([...left].map(([text, file]) => `${file}: ${text}`)).toEqual([]);
  });

  it("has none at the edges of its paper, nor where a device answers by itself", async () => {
    const site = join(work, `${FROM_RIGHT}-site`),
      own = await ownWords(),
      styles = new Set<string>();
    for (const file of await pagesOf(FROM_RIGHT))
      for (const [name] of (await readFile(join(site, file), "utf8")).matchAll(/page-[\da-f]+\.css/g)) styles.add(name);
    let seen = 0;
    for (const name of styles) {
      // Signs stand there by their numbers, with a blank behind (CSS Syntax Module Level 3, 4.3.7).
      const css = (await readFile(join(site, "assets", name), "utf8")).replace(/\\([\da-f]+) /g, (_, code: string) =>
        String.fromCodePoint(parseInt(code, 16)),
      );
      if (!css.includes("@bottom-right")) continue;
      seen += 1;
      const said = [...css.matchAll(/content:([^;]*)/g)].flatMap(([, content]) => content!.match(/"[^"]*"/g) ?? []);
      expect(said.length, name).toBeGreaterThan(3);
      expect(said.filter((text) => englishIn(text, own).length > 0)).toEqual([]);
    }
    expect(seen).toBeGreaterThan(50);
    const worker = (await readFile(join(site, "service-worker.js"), "utf8")).replace(
      /\\u([\dA-F]{4})/g,
      (_, code: string) => String.fromCharCode(parseInt(code, 16)),
    );
    const { notInIt } = en.heldSet;
    expect([notInIt, mirror(notInIt)].map((text) => worker.includes(text))).toEqual([false, true]);
  });

  it("has none after its scripts have run and every button was pressed, and no measure is turned round", async () => {
    const own = await ownWords(),
      left = new Map<string, string>(),
      turned: string[] = [],
      site = join(work, `${FROM_RIGHT}-site`),
      served = await serveKept(site);
    let measures = 0,
      texts = 0;
    const page = await newQuietPage(browser);
    await page.setViewport({ width: 1280, height: 900 });
    const pressed = new Set(await pressedPages(site)),
      looked = await oneOfEach(site, (kind) => !OF_AUTHORS.test(kind));
    expect(pressed.size).toBeGreaterThan(10);
    for (const address of new Set([...pressed, ...looked])) {
      await page.goto(served.address + address);
      const seen = await page.evaluate(measuresSeen),
        read = pressed.has(address) ? await page.evaluate(pressEverything, PRESSES) : [],
        after = pressed.has(address) ? await page.evaluate(measuresSeen) : [];
      measures += seen.length + after.length;
      texts += read.length;
      for (const { text, isTurned } of [...seen, ...after]) if (isTurned) turned.push(`${address}: ${text}`);
      for (const text of read) if (englishIn(text, own).length > 0) left.set(text, address);
    }
    await page.close();
    served.server.close();
    expect(texts).toBeGreaterThan(1000);
    expect([...left].map(([text, file]) => `${file}: ${text}`)).toEqual([]);
    expect(measures).toBeGreaterThan(100);
    expect([...new Set(turned)]).toEqual([]);
  }, 600_000);

  it("calls what it finds by the names of the choice that narrows to its kind", async () => {
    const served = await serveKept(join(work, `${FROM_RIGHT}-site`)),
      page = await newQuietPage(browser);
    await page.goto(`${served.address}find/`);
    const kinds = await page.$$eval(".finder [name=kind] option", (all) =>
      all.map((each) => [each.value, each.text] as const),
    );
    const seen = new Map<string, string>();
    for (const [kind, name] of kinds.filter(([value]) => value !== "")) {
      await page.select(".finder [name=kind]", kind);
      await page.$eval("#find-page", (box) => {
        document.querySelector(".found-count")!.replaceChildren();
        document.querySelector(".found")!.replaceChildren();
        (box as HTMLInputElement).value = "shell mattress";
        box.dispatchEvent(new Event("input", { bubbles: true }));
      });
      await page.waitForFunction(() => document.querySelector(".found-count")!.textContent !== "");
      const said = await page.$$eval(".found .about", (all) => all.map((each) => each.textContent.split(" · ")[0]!));
      for (const each of said) seen.set(each, name);
    }
    await page.close();
    served.server.close();
    expect(seen.size).toBeGreaterThan(4);
    expect([...seen].filter(([said, name]) => said !== name)).toEqual([]);
    expect([...seen.keys()].filter((said) => englishIn(said, "").length > 0)).toEqual([]);
  }, 90_000);
});

it("sees a measure that is turned round, and one that is isolated (UAX #9, N1 and 2.7)", async () => {
  const page = await newQuietPage(browser);
  const seen = async (text: string) => {
    await page.setContent(`<p dir="rtl">אב ${text} גד</p>`);
    return (await page.evaluate(measuresSeen)).map(({ isTurned }) => isTurned);
  };
  expect(await seen("2 kg")).toEqual([true]);
  expect(await seen("\u20662 kg\u2069")).toEqual([false]);
  expect(await seen("<b>2</b> kg")).toEqual([true]);
  expect(await seen("7234-QS")).toEqual([true]);
  expect(await seen("5 يناير 2026")).toEqual([false]);
  await page.close();
});

describe.each([LONG, FROM_RIGHT])("what is written in %s", (language) => {
  it("is on no kind of page wider than a phone of 390 px", async () => {
    const site = join(work, `${language}-site`),
      wide: string[] = [];
    const page = await newQuietPage(browser);
    await page.setViewport({ width: 390, height: 844 });
    const served = await serveKept(site);
    for (const address of await oneOfEach(site, (kind) => !OF_AUTHORS.test(kind))) {
      await page.goto(served.address + address);
      wide.push(...(await page.evaluate(sidewaysParts)).map((part) => `${address}: ${part}`));
    }
    await page.close();
    served.server.close();
    expect(wide).toEqual([]);
  }, 600_000);
});

it("what is made by machine is no English", () => expect(mirror("Some {steps:~ step|~ steps}")).not.toMatch(/Some/));
