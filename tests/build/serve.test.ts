/** The small server: right types and headers, and nothing outside its folder. */
import { mkdtemp, mkdir, rm, writeFile } from "node:fs/promises";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";

let folder: string, served: Served;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rerig-serve-"));
  await mkdir(join(folder, "site/tern"), { recursive: true });
  await writeFile(join(folder, "secret.txt"), "secret");
  await writeFile(join(folder, "site/index.html"), "<p>home");
  await writeFile(join(folder, "site/tern/index.html"), "<p>tern");
  await writeFile(join(folder, "site/.hidden"), "hidden");
  served = await serveSite(join(folder, "site"), 0);
});
afterAll(async () => {
  served.server.close();
  await rm(folder, { recursive: true });
});

/** Sends the path as it is; `fetch` would clean it first. */
function get(path: string): Promise<{ status: number; headers: NodeJS.Dict<string | string[]>; body: string }> {
  const { port } = new URL(served.address);
  return new Promise((done, fail) => {
    request({ host: "localhost", port, path }, (response) => {
      let body = "";
      response
        .on("data", (part) => (body += part))
        .on("end", () => done({ status: response.statusCode!, headers: response.headers, body }));
    })
      .on("error", fail)
      .end();
  });
}

describe("the server of a built site", () => {
  it("sends a page with its type and the policy that allows nothing from elsewhere (W3C CSP level 3)", async () => {
    const { status, headers, body } = await get("/");
    expect([status, headers["content-type"], body]).toEqual([200, "text/html; charset=utf-8", "<p>home"]);
    expect(headers["content-security-policy"]).toContain("default-src 'none'");
    expect(headers["content-security-policy"]).not.toContain("unsafe-inline");
  });
  it("adds the closing / of a folder and keeps the query", async () => {
    expect((await get("/tern?q=1")).headers["location"]).toBe("/tern/?q=1");
    expect((await get("/tern/")).body).toBe("<p>tern");
  });
  it.each([
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/tern/..%5c..%5csecret.txt",
    "/.hidden",
    "/%00",
    "/%",
  ])("refuses %s", async (path) => {
    const { status, body } = await get(path);
    expect(status).toBe(400);
    expect(body).not.toContain("secret");
  });
  it("says so when there is no such page", async () => {
    expect((await get("/none/")).status).toBe(404);
  });
  it("takes the next port when one is busy", async () => {
    const port = Number(new URL(served.address).port);
    const second = await serveSite(folder, port);
    expect(second.address).not.toBe(served.address);
    second.server.close();
  });
});
