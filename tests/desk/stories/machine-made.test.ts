/**
 * The desk of a collection that speaks a language made by machine: no screen, and nothing that a script or an answer
 * says, is English, but what rules find (it says so, WCAG 2.2, 3.1.2), and names and words of the format, which are the
 * guide's. Every sort of screen is asked: the collection has something of everything.
 */
import { work } from "../work-folder.ts";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SCREENS } from "../../../src/desk/screens-at.ts";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";
import { englishIn, textOfCollection, textsOfPage, wordsIn } from "../../words/english-left.ts";
import { DAY, writeEverything } from "../../words/everything.ts";
import { addMachineMade, FROM_RIGHT } from "../../words/machine-made.ts";
import { screensBySort } from "./screens-by-sort.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
/** Where the format says what its fields are called and what they are for. */
const FORMAT = ["files", "leaves", "described", "file-kinds", "rule-names", "units"].map(
  (name) => new URL(`../../../src/schema/${name}.ts`, import.meta.url),
);
/** What it says of each direction by one sentence. */
const FACTORS = ["forward", "rearward", "sideward", "upward", "downward"].map((way) => `The load factor ${way}`);
const folder = join(work, "everything");
let desk: Desk, own: string;
const post = async (address: string, body: object | string) => {
  const answer = await fetch(desk.address + address, {
    method: "POST",
    headers: {
      "Content-Type": typeof body === "string" ? "application/octet-stream" : "application/json",
      Origin: new URL(desk.address).origin,
    },
    body: typeof body === "string" ? body : JSON.stringify(body),
  });
  return answer.text();
};
/** Texts in which English is left. */
const english = (texts: readonly string[]) => texts.filter((text) => englishIn(text, own).length > 0);

beforeAll(async () => {
  process.env["RERIG_TODAY"] = DAY;
  addMachineMade();
  await writeEverything(folder, FROM_RIGHT);
  desk = await openDesk(folder, 0);
  // A row without a name is not placed, and said so.
  const table = [
    JSON.stringify({ platform: "tender", fileName: "kit.csv", home: "shed" }),
    "name,size",
    "Oar,long",
    ",8",
  ];
  expect(await post("take-in", table.join("\n"))).toMatch(/taken-in\/1/);
  const format = FORMAT.map((file) => readFileSync(file, "utf8"));
  own = (await textOfCollection(folder)) + wordsIn([...format, ...FACTORS, "kit.csv"].join("\n"));
}, 240_000);
afterAll(() => desk?.close());

it("is on no sort of its screens", async () => {
  // One state of the day more, so that there is something to go back to.
  const file = "tender/look-over.mdx",
    text = readFileSync(join(folder, file), "utf8"),
    hash = /data-hash="([^"]*)/.exec(await (await fetch(`${desk.address}text/${file}`)).text())![1];
  expect(
    await post("text", { file, basedOn: hash, text: text.replace("as it is done here", "as it is done") }),
  ).toMatch(/"saved":true/);
  const screens = await screensBySort(desk.address);
  expect([...new Set([...screens.keys()].map((sort) => sort.split(" ")[0]))].sort()).toEqual(
    ["", ...Object.keys(SCREENS)].sort(),
  );
  const lost = await (await fetch(`${desk.address}none/`)).text();
  const left = [...[...screens].map(([sort, { html }]) => [sort, html] as const), ["none", lost] as const].flatMap(
    ([sort, html]) => {
      expect(html).toMatch(/<html\s[^>]*lang="ar-XB"\s[^>]*dir="rtl"/);
      return english(textsOfPage(html)).map((said) => `${sort}: ${said}`);
    },
  );
  expect(left).toEqual([]);
  // The page of the desk's start has what its table says, in its letters.
  expect(textsOfPage(screens.get("")!.html).join(" ")).toMatch(/[א-ת]{3}/);
}, 240_000);

it("is in no answer to what is asked in vain", async () => {
  const file = "tender/look-over.mdx";
  const answers = [
    ...(await Promise.all(
      ["no-such-key/", "x"].map(async (path) => (await fetch(new URL(`/${path}`, desk.address))).text()),
    )),
    await post("nowhere", {}),
    await post("edit", {}),
    await post("undo", { file: "sled/platform.yaml" }),
    await post("restore", { file, basedOn: "x", hash: "x" }),
    await post("text", { file: "../x.mdx", basedOn: "x", text: "" }),
    await post("take-photo", JSON.stringify({ platform: "none", fileName: "", alt: "" })),
    await post("new-platform", { name: "", place: "", store: "" }),
  ];
  for (const answer of answers) expect(answer).toMatch(/[א-ת]{3}/);
  expect(english(answers.map((answer) => answer.replace(/"(?:refused|saved|changed)":|`[^`]*`/g, "")))).toEqual([]);
}, 60_000);

describe.skipIf(!browserPath)("its scripts", () => {
  let browser: Browser, page: Page;
  beforeAll(async () => {
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(60_000);
  }, 60_000);
  afterAll(() => browser?.close());

  const open = (address: string) => page.goto(desk.address + address, { waitUntil: "load" });
  /** What is said at the foot of the screen, when it says something else than before. */
  const said = async (act: () => Promise<unknown>) => {
    const before = await page.$eval("#said", (each) => each.textContent);
    await act();
    await page.waitForFunction((was) => document.querySelector("#said")!.textContent !== was, {}, before);
    return page.$eval("#said", (each) => each.textContent);
  };

  it("say nothing in English of what is moved on a photo, saved, refused or not answered", async () => {
    const heard: string[] = [];
    await open("photos/sled/bed/");
    await page.focus("#spot-0");
    await page.keyboard.press("ArrowDown");
    heard.push(await page.$eval("#where-moved", (each) => each.textContent));
    await page.waitForFunction(() => document.querySelector("#said")!.textContent !== "");
    for (const handle of await page.$$eval("#picture .handle", (all) =>
      all.map((each) => [each.getAttribute("aria-label"), each.getAttribute("aria-valuetext")].join(" ")),
    ))
      heard.push(handle);
    await page.waitForFunction(() => document.querySelector("main")!.getAttribute("aria-busy") === "false");
    heard.push(await page.$eval("#said", (each) => each.textContent));

    await open("form/folders.yaml");
    await page.$eval("form[data-put]", (form) => form.closest("details")!.setAttribute("open", ""));
    heard.push(await said(() => page.$eval("form[data-put]", (form) => (form as HTMLFormElement).requestSubmit())));

    // Another program changes the file while its writer has begun.
    await open("form/sled/equipment.yaml/shell-pin");
    const file = join(folder, "sled/equipment.yaml"),
      field = String.raw`input[data-edit*='"name"']`;
    await page.focus(field);
    await page.keyboard.type("1");
    writeFileSync(file, `${readFileSync(file, "utf8")}# Changed.\n`);
    await page.keyboard.press("Tab");
    await page.waitForSelector("#elsewhere[open]");
    heard.push(...(await page.$eval("#elsewhere", (each) => (each as HTMLElement).innerText)).split("\n"));
    heard.push(await page.$eval("#said", (each) => each.textContent));
    await page.click("#elsewhere [value=theirs]");

    await desk.close();
    heard.push(await said(() => page.$eval("[data-again=undo]", (each) => (each as HTMLElement).click())));
    expect(heard.length).toBeGreaterThan(12);
    expect(heard.filter((text) => /[א-ת]{3}/.test(text)).length).toBeGreaterThan(9);
    expect(english(heard)).toEqual([]);
  }, 240_000);
});
