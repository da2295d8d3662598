/** The browser that a lane of test files keeps hands nothing on from one file to the next. */
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { forScreens, openBrowser } from "../site/find-browser.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

describe.skipIf(!browserPath)("a browser that is kept", () => {
  const lane = process.env["VITEST_POOL_ID"];
  let server: Server, address: string;
  beforeAll(async () => {
    // Not that of the files before and after this one.
    process.env["VITEST_POOL_ID"] = "of its own";
    server = createServer((_request, response) => {
      response.writeHead(200, { "content-type": "text/html" }).end("<h1>Here</h1>");
    });
    await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  });
  afterAll(() => {
    process.env["VITEST_POOL_ID"] = lane;
    server.close();
  });

  it("is the same one for the next file, without the pages of the one before and what its sites stored", async () => {
    const first = await openBrowser(browserPath!),
      endpoint = first.wsEndpoint(),
      page = await first.newPage();
    await page.goto(address);
    const holds = () =>
      page.evaluate(async () => [localStorage.length, document.cookie, (await caches.keys()).length] as const);
    await page.evaluate(async () => {
      localStorage.setItem("kept", "yes");
      document.cookie = "kept=yes";
      await (await caches.open("kept")).put("/kept", new Response("yes"));
    });
    expect(await holds()).toEqual([1, "kept=yes", 1]);
    await (await first.createBrowserContext()).newPage();
    await first.close();

    const second = await openBrowser(browserPath!);
    expect(second.wsEndpoint()).toBe(endpoint);
    expect(await second.pages()).toHaveLength(1);
    expect(second.browserContexts()).toHaveLength(1);
    const again = await second.newPage();
    await again.goto(address);
    expect(
      await again.evaluate(async () => [localStorage.length, document.cookie, (await caches.keys()).length]),
    ).toEqual([0, "", 0]);
    await second.close();
  });

  it("is a new one where a file has brought it down", async () => {
    const first = await openBrowser(browserPath!),
      endpoint = first.wsEndpoint(),
      session = await first.target().createCDPSession();
    const isGone = new Promise((done) => first.once("disconnected", done));
    await session.send("Browser.close");
    await isGone;
    const second = await openBrowser(browserPath!);
    expect(second.wsEndpoint()).not.toBe(endpoint);
    const page = await second.newPage();
    await page.goto(address);
    expect(await page.$eval("h1", (heading) => heading.textContent)).toBe("Here");
    await second.close();
  });
});
