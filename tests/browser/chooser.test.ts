/** The entry of a weight on the built demo, as a crew meets it: asks, confirms, shows, carries on, keeps nothing. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);

// `npm test` builds the demo first and says where it is; alone, there is no page to look at.
describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("the chooser", () => {
  let served: Served, browser: Browser, page: Page;
  const stopped: string[] = [];
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });
  beforeEach(async () => {
    await page?.close();
    page = await newQuietPage(browser);
    page.on("console", (message) => message.type() === "error" && stopped.push(message.text()));
    page.on("pageerror", (error) => stopped.push(String(error)));
    await page.goto(served.address, { waitUntil: "load" });
  });

  const enter = async (text: string, unit?: "kg" | "g" | "lb") => {
    if (unit) await page.click(`.units label:has([value=${unit}])`);
    await page.click("#weight", { count: 3 });
    await page.type("#weight", text);
  };
  const shown = (selector: string) =>
    page.$eval(selector, (place) => ((place as HTMLElement).hidden ? "" : (place.textContent ?? "").trim()));
  const confirm = () => page.click(".sure .yes");

  it("never guesses the unit", async () => {
    await enter("7.2");
    expect(await shown(".answer")).toContain("7.2 of what?");
    expect(await shown(".sure")).toBe("");
  });
  it("reads the table at once, holds the arrangement only after the read-back where a slip changes it", async () => {
    await enter("7.2", "kg");
    expect(await shown(".answer")).toContain("Child cradle");
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer read");
    expect(await shown(".sure .yes")).toBe("Yes, 7.2 kilograms, not pounds");
    expect(await shown(".next")).toBe("");
    // 7.2 lb = 3.265 865 064 kg (1 lb = 0.45359237 kg exactly, NIST SP 811, appendix B.8).
    expect(await shown(".sure")).toMatch(/7\.2 pounds: 3\.27 kg.*Newborn capsule.*72 kg.*Deck harness/s);
    expect(await page.$$(".hang .yes")).toHaveLength(0);
    await confirm();
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer held");
    expect(await shown(".next")).toBe("Checklist cardChange over from newborn capsule");
    expect(await page.$eval(".hang .yes", (place) => (place as HTMLElement).dataset["for"])).toBe("child-cradle");
    expect(await shown(".carry")).toMatch(/4 × ?Cradle strap/);
  });
  it(
    "leads to the card of exactly the patient's band where lines are only for some: both while the age is not " +
      "known, none for anybody else",
    async () => {
      const cards = () =>
        page.$$eval(".hang a.part", (links) =>
          links.map((link) => [link.textContent, link.closest<HTMLElement>("[data-for]")!.dataset["for"]]),
        );
      await enter("3", "kg");
      await confirm();
      const both = await cards();
      expect(both).toHaveLength(2);
      for (const [text, configuration] of both)
        expect([configuration, /only from .* kg/.test(text!)]).toEqual(["newborn-capsule", true]);
      const [href] = await page.$$eval(".hang a.part", (links) =>
        links.map((link) => (link as HTMLAnchorElement).href),
      );
      expect(href).toMatch(/\/tern\/cards\/newborn-capsule\/band\/[a-z0-9-]+\/#kg=3$/);
      expect((await fetch(href!)).status).toBe(200);
      await enter("7.2", "kg");
      expect(await cards()).toEqual([]);
    },
  );
  // 8 lb 9 oz = 137/16 lb = 3.883 884 668 125 kg (1 lb = 0.45359237 kg exactly, NIST SP 811, appendix B.8).
  it.each(["8 lb 9 oz", "8lb 9oz"])("reads %s exactly, from the field or with the ounces beside it", async (told) => {
    await enter(told);
    expect(await shown(".answer")).toMatch(/^Newborn capsule8 lb 9 oz \(3\.88 kg\) is from 1\.2 kg to under 5 kg/);
    expect(new URLSearchParams(new URL(page.url()).hash.slice(1)).get("kg")).toBe("3.883884668125");
    await enter("8", "lb");
    await page.type("#ounces", "9");
    expect(await shown(".answer")).toContain("8 lb 9 oz (3.88 kg)");
  });
  it("asks back an age that does not fit the weight, and names the tables", async () => {
    await enter("3.9", "kg");
    await page.type("#age", "2");
    await page.select("#age-unit", "years");
    expect(await shown(".sure")).toMatch(/2 years does not fit 3\.9 kg.*WHO weight-for-age/s);
    expect(await shown(".sure .yes")).toMatch(/, and 2 years$/);
    expect(await page.$$(".hang .yes")).toHaveLength(0);
    await page.select("#age-unit", "days");
    expect(await shown(".sure")).not.toContain("does not fit");
  });
  it("says what an age alone leaves open, and chooses nothing", async () => {
    await page.type("#age", "6");
    await page.select("#age-unit", "months");
    expect(await shown(".answer")).toMatch(/At 6 months it may be.*Newborn capsule.*Child cradle.*ask for a weight/s);
    expect(await page.$$(".hang .yes")).toHaveLength(0);
    expect(await shown(".next")).toBe("");
  });
  it("leads on to the options that are wanted, after what stands there now", async () => {
    await page.select("#now", "child-cradle");
    await enter("3.9", "kg");
    if (await shown(".sure")) await confirm();
    await page.click(".ask .wanted label:has([value=second-ventilator])");
    const link = await page.$eval(".next a.over", (a) => [a.textContent, (a as HTMLAnchorElement).hash]);
    expect(link).toEqual([
      "Change over to it with second ventilator",
      "#from=child-cradle&to=newborn-capsule+second-ventilator&kg=3.9",
    ]);
    const order = await page.$$eval("#now, .ask .wanted, .ask .next", (all) =>
      all.map((each) => each.id || each.classList.item(each.classList.length - 1)),
    );
    expect(order).toEqual(["now", "wanted", "next"]);
  });
  it("takes its answer back when the entry changes", async () => {
    await enter("7.2", "kg");
    await confirm();
    await page.type("#weight", "5");
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer read");
    expect(await shown(".next")).toBe("");
    expect(await page.$$(".hang .yes")).toHaveLength(0);
    expect(new URL(page.url()).hash).toBe("");
  });
  it("asks for the same weight again after another one: it may be the next patient", async () => {
    await enter("7.2", "kg");
    await confirm();
    await enter("720");
    await enter("7.2");
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer read");
  });
  it("asks nothing again when an age changes neither the arrangement nor what could be confused", async () => {
    await enter("7.2", "kg");
    await confirm();
    const age = await page.$("#age");
    if (age) {
      await page.type("#age", "8");
      await page.select("#age-unit", "months");
    }
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer held");
  });
  it("shows pounds rounded and, once, exactly (1 lb = 0.45359237 kg, NIST SP 811, appendix B.8)", async () => {
    await enter("11", "lb");
    await confirm();
    expect(await shown(".answer")).toMatch(/11 lb \(4\.99 kg\) is from 1\.2 kg to under 5 kg.*Exactly 4\.98951607 kg/);
    expect(await shown(".top .needle")).toBe("4.99 kg");
    await enter("11.023", "lb");
    await confirm();
    expect(await shown(".top .needle")).toMatch(/^4\.9999\d* kg$/);
  });
  // The zones of the demo's FCR-T-29; 10 lb 9 oz = 169/16 lb = 4.79 kg (NIST SP 811, appendix B.8).
  it.each([
    ["4.8", "kg", "Newborn capsule", "Newborn capsule and Child cradle"],
    ["10 lb 9 oz", undefined, "Newborn capsule", "Newborn capsule and Child cradle"],
    ["5.49", "kg", "Child cradle", "Newborn capsule and Child cradle"],
    ["38", "kg", "Child cradle", "Child cradle and Deck harness"],
  ] as const)("asks before it answers %s %s, and says what to fetch meanwhile", async (text, unit, title, fetch) => {
    await enter(text, unit);
    expect(await shown(".answer")).toMatch(/^Ask firstAsk for a weight of today from a scale/);
    expect(await shown(".confirming")).toMatch(/FCR-T-29.*Ask for the unit first.*Ask for a weight of today/s);
    expect(await shown(".answer")).toContain(`At hand until then: ${fetch}.`);
    expect(await shown(".sure ul")).toBe("");
    expect(await page.$$(".hang .yes")).toHaveLength(0);
    expect(await shown(".next")).toBe("");
    expect(new URL(page.url()).hash).toBe("");
    const headings = await page.$$eval(".carry h3", (all) => all.map((each) => each.textContent));
    expect(headings.join(" and ")).toBe(fetch);
    await confirm();
    expect(await shown(".answer")).toMatch(new RegExp(`^${title}.*Read back: Ask for a weight of today`));
    if (await shown(".sure")) await confirm();
    expect(await page.$eval(".answer", (place) => place.className)).toBe("answer held");
    await page.type("#weight", "1");
    await enter(text.replace(/ .*/, ""), unit ?? "lb");
    if (!unit) await page.type("#ounces", "9");
    expect(await shown(".answer")).toMatch(/^Ask first/);
  });
  it("goes with what the smallest need, and every way on leads to that: 2.0 kg with roll supports", async () => {
    await page.select("#now", "child-cradle");
    await enter("2.0", "kg");
    if (await shown(".sure")) await confirm();
    expect(await shown(".answer")).toMatch(/^Newborn capsule.*Under 2\.5 kg: with roll supports\./);
    expect(await shown(".confirming")).toMatch(/Add the two roll supports.*on the list.*Name the band/s);
    expect(await shown(".confirming")).not.toContain("Ask for a weight of today");
    expect(
      await page.$eval(".ask .wanted [value=roll-supports]", (box) => {
        const { checked, disabled } = box as HTMLInputElement;
        return [checked, disabled, box.parentElement!.textContent];
      }),
    ).toEqual([true, true, "Roll supports, always under 2.5 kg"]);
    expect(await page.$(".ask .wanted [value=cooling-unit]")).toBeNull();
    const ways = await page.$$eval(".next a.over, .hang .yes a.over", (links) =>
      links.map((link) => [link.textContent, (link as HTMLAnchorElement).hash]),
    );
    const way = ["Change over to it with roll supports", "#from=child-cradle&to=newborn-capsule+roll-supports&kg=2"];
    expect(ways).toEqual([way, way]);
    await page.goto(`${served.address}tern/changeovers/child-cradle--newborn-capsule/#kg=2`, { waitUntil: "load" });
    expect(await shown(".refused")).toContain("2 kg needs roll supports with it.");
    expect(await page.$eval(".refused a", (link) => (link as HTMLAnchorElement).hash)).toBe(
      "#from=child-cradle&to=newborn-capsule+roll-supports&kg=2",
    );
  });
  it("says which band owns exactly 5 kg", async () => {
    await enter("5", "kg");
    await confirm();
    expect(await shown(".answer")).toContain("so it owns 5 kg; Newborn capsule does not");
  });
  it.each([
    ["131", "kg"],
    ["1.19", "kg"],
    ["130", "kg"],
  ] as const)("asks again for %s %s, outside the service", async (text, unit) => {
    await enter(text, unit);
    expect(await shown(".answer")).toMatch(/^Not carried.*from 1\.2 kg to under 130 kg/);
  });
  it("carries the weight on in the address alone, and keeps nothing", async () => {
    await enter("7.2", "kg");
    await confirm();
    expect(new URL(page.url()).hash).toBe("#kg=7.2");
    await Promise.all([page.waitForNavigation(), page.click(".hang .yes .card")]);
    expect(new URL(page.url()).hash).toBe("#kg=7.2");
    expect(await shown(".top .needle")).toBe("7.2 kg");
    expect(
      await page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }) + document.cookie),
    ).not.toContain("7.2");
  });
  it("asks to confirm a weight that came with the address: it may be another patient's", async () => {
    await page.goto(`${served.address}#kg=7.2`, { waitUntil: "load" });
    await page.reload({ waitUntil: "load" });
    expect(await shown(".sure")).toContain("7.2 pounds");
    expect(await page.$$(".hang .yes")).toHaveLength(0);
  });
  it("is not shown without scripts, and the table of bands is", async () => {
    await page.setJavaScriptEnabled(false);
    await page.goto(served.address, { waitUntil: "load" });
    expect(await page.$eval("form.ask", (form) => getComputedStyle(form).display)).toBe("none");
    expect(await page.$eval("table.bands", (table) => table.textContent)).toContain("from 5 kg to under 40 kg");
  });
  it("runs under the site's policy without anything being stopped", () => {
    expect(stopped).toEqual([]);
  });
});
