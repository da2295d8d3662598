/**
 * The desk answers the pages that it opened itself and nobody else: other hosts (DNS rebinding), other origins,
 * requests without its key, other methods, forms and sockets of other pages. The statuses are those of RFC 9110; what a
 * page of another origin can send is that of the Fetch standard (CORS-safelisted methods and content types), sockets
 * those of RFC 6455.
 */
import { cpSync, mkdtempSync, rmSync, writeFileSync, readFileSync } from "node:fs";
import { type IncomingMessage, request } from "node:http";
import { connect } from "node:net";
import { networkInterfaces, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { type Desk, openDesk } from "../../src/desk/server.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-desk-")),
  folder = join(work, "collection");
let desk: Desk, url: URL;
beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
  desk = await openDesk(folder, 0);
  url = new URL(desk.address);
}, 120_000);
afterAll(async () => {
  await desk.close();
  rmSync(work, { recursive: true });
});

interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
}

interface Got {
  readonly status: number;
  readonly headers: IncomingMessage["headers"];
  readonly text: string;
}

/** A request with exactly these headers, as no browser would let a page make it. */
async function ask(path: string, { method = "GET", headers = {}, body }: Asked = {}): Promise<Got> {
  return new Promise((done, fail) => {
    const sent = request({ host: "127.0.0.1", port: url.port, path, method, headers }, (response) => {
      let text = "";
      response.on("data", (piece: Buffer) => (text += piece.toString()));
      response.on("end", () => done({ status: response.statusCode!, headers: response.headers, text }));
    });
    sent.on("error", fail);
    sent.end(body);
  });
}

const home = () => url.pathname;
const own = () => ({ Origin: url.origin, "Sec-Fetch-Site": "same-origin" });

describe("the desk", () => {
  it("shows the collection, and its pages as the site has them, to whoever has the key", async () => {
    const start = await ask(home());
    expect(start.status).toBe(200);
    expect(start.text).toContain("Ridge");
    const page = await ask(`${home()}site/`);
    expect(page.status).toBe(200);
    expect(page.headers["content-type"]).toBe("text/html; charset=utf-8");
    // Every link of the start screen leads to something.
    const links = [...start.text.matchAll(/(?:href|src)="([^"#]+)"/g)].map(([, link]) => new URL(link!, desk.address));
    expect(links.length).toBeGreaterThan(5);
    for (const link of links.filter(({ pathname }) => !pathname.includes("/procedures/"))) {
      expect(link.href.startsWith(desk.address), link.href).toBe(true);
      expect((await ask(link.pathname)).status, link.href).toBe(200);
    }
  }, 120_000);

  it("shows beside an entry of the platform the page of that place or fastening", async () => {
    for (const thing of ["places", "fastenings"]) {
      const { text: whole } = await ask(`${home()}form/sled/platform.yaml`);
      const id = new RegExp(`platform\\.yaml/${thing}/([\\w-]+)`).exec(whole)![1]!;
      const form = await ask(`${home()}form/sled/platform.yaml/${thing}/${id}`);
      const page = new URL(
        /iframe\s+name="live"\s+src="([^"]+)"/.exec(form.text)![1]!,
        `${desk.address}form/sled/platform.yaml/${thing}/${id}`,
      );
      expect(page.pathname.endsWith(`/site/sled/${thing}/${id}/`), page.href).toBe(true);
      expect((await ask(page.pathname)).status, page.href).toBe(200);
    }
  }, 120_000);

  it("is reached through the loopback address alone", async () => {
    const outside = Object.values(networkInterfaces())
      .flat()
      .filter((each) => each && !each.internal && each.family === "IPv4");
    for (const { address } of outside as { address: string }[])
      await expect(
        new Promise((done, fail) => connect(Number(url.port), address, () => done("reached")).on("error", fail)),
      ).rejects.toThrow(/ECONNREFUSED/);
    expect(url.hostname).toBe("127.0.0.1");
    expect(url.pathname.length).toBeGreaterThan(24);
  });

  it("gives every opening another key", async () => {
    const other = await openDesk(folder, 0);
    expect(new URL(other.address).pathname).not.toBe(home());
    await other.close();
  }, 120_000);

  it("refuses a request without its key, or with another one", async () => {
    const key = home().slice(1, -1);
    for (const path of [
      "/",
      "/site/",
      `/${key.slice(0, -1)}/`,
      `/${key}x/`,
      `/${"x".repeat(key.length)}/`,
      "/favicon.ico",
    ]) {
      const got = await ask(path);
      expect([path, got.status]).toEqual([path, 403]);
      expect(got.text).toMatch(/no key.*open the whole address/);
      expect(got.text).not.toContain(key);
    }
  });

  it("refuses another host, as a name gives that was made to lead here (DNS rebinding)", async () => {
    for (const host of [
      "rebound.example.org",
      `rebound.example.org:${url.port}`,
      "127.0.0.1",
      `localhost:${url.port}`,
    ]) {
      const got = await ask(home(), { headers: { Host: host } });
      expect([host, got.status]).toEqual([host, 403]);
      expect(got.text).toMatch(/answers only at the address that it printed/);
    }
  });

  it("refuses what pages of other origins ask for: reading, forms, scripts, frames", async () => {
    const strange: readonly Readonly<Record<string, string>>[] = [
      { Origin: "https://page.example.org" },
      { Origin: "null" },
      // Another server of this machine is the same site, and another origin.
      { Origin: "http://127.0.0.1:1" },
      { Origin: url.origin.replace("http", "https") },
      { "Sec-Fetch-Site": "cross-site" },
      { "Sec-Fetch-Site": "same-site" },
      { "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Dest": "iframe", "Sec-Fetch-Mode": "navigate" },
    ];
    for (const headers of strange) {
      const got = await ask(home(), { headers });
      expect([headers, got.status]).toEqual([headers, 403]);
      expect(got.text).toMatch(/another origin can neither read nor write/);
      expect(got.headers["access-control-allow-origin"]).toBeUndefined();
      const form = await ask(`${home()}edit`, {
        method: "POST",
        headers: { ...headers, "Content-Type": "application/x-www-form-urlencoded" },
        body: "a=1",
      });
      expect([headers, form.status]).toEqual([headers, 403]);
    }
    // What would be asked before a request that a form can't make (Fetch, CORS-preflight) is not answered with leave.
    const before = await ask(`${home()}edit`, {
      method: "OPTIONS",
      headers: { Origin: "https://page.example.org", "Access-Control-Request-Method": "POST" },
    });
    expect(before.status).toBe(403);
    expect(Object.keys(before.headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
  });

  it("refuses an event stream and a socket of another origin, and opens no socket at all", async () => {
    const stream = await ask(`${home()}events`, {
      headers: { Origin: "https://page.example.org", Accept: "text/event-stream" },
    });
    expect(stream.status).toBe(403);
    const socket = (origin: string) =>
      ask(`${home()}${origin === url.origin ? "" : "events"}`, {
        headers: {
          Origin: origin,
          Connection: "Upgrade",
          Upgrade: "websocket",
          "Sec-WebSocket-Version": "13",
          "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        },
      });
    expect((await socket("https://page.example.org")).status).toBe(403);
    // Not 101: its own pages get the page, and no socket.
    expect((await socket(url.origin)).status).toBe(200);
  });

  it("takes changes only from its own pages, as JSON or bytes", async () => {
    const post = (headers: Readonly<Record<string, string>>, body = "{}") =>
      ask(`${home()}edit`, { method: "POST", headers, body });
    const silent = await post({ "Content-Type": "application/json" });
    expect([silent.status, silent.text]).toEqual([403, expect.stringContaining("does not say its origin")]);
    // The three that a form or a plain request may carry (Fetch, CORS-safelisted request-header).
    for (const type of ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain"]) {
      const got = await post({ ...own(), "Content-Type": type });
      expect([type, got.status]).toEqual([type, 415]);
    }
  });

  it("refuses other methods, addresses that lead out of it, and what is too large", async () => {
    for (const method of ["PUT", "DELETE", "PATCH", "OPTIONS", "PROPFIND"]) {
      const got = await ask(home(), { method });
      expect([method, got.status, got.headers.allow]).toEqual([method, 405, "GET, HEAD, POST"]);
    }
    const up = [
      "../",
      "..%2f",
      "%2e%2e/",
      "site/../../package.json",
      "site/%2e%2e%2f%2e%2e%2fpackage.json",
      "site/.git/config",
    ];
    for (const path of [...up, "%00", "%E0%A4%A", "site/no-such/"]) {
      const got = await ask(home() + path);
      expect([path, [400, 404].includes(got.status)]).toEqual([path, true]);
    }
    expect((await ask(home() + "x".repeat(5_000))).status).toBe(414);
    const json = { ...own(), "Content-Type": "application/json" };
    const said = await ask(`${home()}edit`, { method: "POST", headers: { ...json, "Content-Length": "900000000" } });
    expect([said.status, said.text]).toEqual([413, expect.stringContaining("make it smaller")]);
    // Not said beforehand: refused as soon as it is too much; the connection ends while it is still being sent.
    const unsaid = await ask(`${home()}edit`, {
      method: "POST",
      headers: { ...json, "Transfer-Encoding": "chunked" },
      body: Buffer.alloc(201_000_000),
    }).catch(({ code }: NodeJS.ErrnoException) => ({ status: code }));
    expect([413, "ECONNRESET", "EPIPE"]).toContain(unsaid.status);
  });

  it("says with every answer what it may load (CSP level 3): its own, framed by itself alone", async () => {
    for (const path of [home(), `${home()}site/`, "/", `${home()}none/`]) {
      const { headers } = await ask(path),
        policy = headers["content-security-policy"] as string;
      expect(policy).toMatch(/^default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self';/);
      expect(policy).toMatch(/frame-ancestors 'self'; frame-src 'self'$/);
      expect(policy).not.toMatch(/unsafe-inline|unsafe-eval'(?<!wasm-unsafe-eval')|\*|https?:|data:|blob:/);
      expect(headers).toMatchObject({
        "referrer-policy": "no-referrer",
        "x-content-type-options": "nosniff",
        "cross-origin-resource-policy": "same-origin",
        "cross-origin-opener-policy": "same-origin",
        "cache-control": "no-store",
      });
    }
  }, 120_000);

  it("gives a page the styles that it was rendered with, also when the files have changed since", async () => {
    const platform = readFileSync(join(folder, "service.yaml"), "utf8"),
      pages = ["", "sled/procedures/", "sled/cards/", "cards/"];
    const found = new Set<string>();
    for (const address of pages)
      for (const [style] of (await ask(`${home()}site/${address}`)).text.matchAll(/assets\/page-[\w-]+\.css/g))
        found.add(style);
    writeFileSync(join(folder, "service.yaml"), platform.replace(/^name: .*/m, "name: Another"));
    await expect.poll(async () => (await ask(home())).text, { timeout: 60_000 }).toContain("<h1>Another</h1>");
    for (const style of found) {
      const { status, headers } = await ask(`${home()}site/${style}`);
      expect([style, status, headers["content-type"]]).toEqual([style, 200, "text/css; charset=utf-8"]);
    }
    expect(found.size).toBeGreaterThan(0);
  }, 120_000);

  it("never mixes what a file says with an older reading, and says which reading it shows", async () => {
    const file = join(folder, "sled/fit-oxygen.mdx"),
      screen = `${home()}procedures/sled/fit-oxygen/`;
    let last = 0;
    for (let time = 1; time <= 12; time += 1) {
      // Nobody has noticed yet that another editor wrote it: the form rests on the text, the heading on the reading.
      const text = readFileSync(file, "utf8").replace(/^title: .*$/m, `title: Title ${time}`);
      writeFileSync(file, text);
      const answers = await Promise.all([ask(screen), ask(screen)]);
      for (const answer of answers) {
        expect(answer.text).toContain(`<h1>Title ${time}</h1>`);
        expect(answer.text).toContain(`data-hash="${contentHash(text)}"`);
        const number = Number(/data-moment="(\d+)"/.exec(answer.text)![1]);
        expect(number).toBeGreaterThan(last);
        last = number - 1;
      }
      last += 1;
    }
  }, 120_000);

  it("answers after a save with the reading that has it, or with a later one, whoever writes meanwhile", async () => {
    const file = "sled/fit-oxygen.mdx",
      screen = `${home()}procedures/sled/fit-oxygen/`;
    for (let time = 1; time <= 12; time += 1) {
      const text = readFileSync(join(folder, file), "utf8"),
        title = `Saved ${time}`;
      const saving = ask(`${home()}edit`, {
        method: "POST",
        headers: { ...own(), "Content-Type": "application/json" },
        body: JSON.stringify({
          file,
          basedOn: contentHash(text),
          edits: [{ kind: "set-field", path: ["title"], value: title }],
        }),
      });
      // Other files are written, and screens asked for, before, while and after it is read.
      const others = [ask(screen), ask(home())];
      writeFileSync(join(folder, "service.yaml"), readFileSync(join(folder, "service.yaml"), "utf8") + "# again\n");
      const { number } = JSON.parse((await saving).text) as { number: number };
      const answer = await ask(screen);
      expect(answer.text).toContain(`<h1>${title}</h1>`);
      expect(Number(/data-moment="(\d+)"/.exec(answer.text)![1])).toBeGreaterThanOrEqual(number);
      for (const { status } of await Promise.all(others)) expect(status).toBe(200);
    }
  }, 120_000);

  it("says on every screen that errors stand elsewhere, as when what others name was removed", async () => {
    const file = join(folder, "sled/equipment.yaml"),
      text = readFileSync(file, "utf8"),
      screens = ["form/sled/equipment.yaml", "procedures/sled/fit-oxygen/", "text/sled/equipment.yaml"];
    const tallies = async () =>
      Promise.all(
        screens.map(async (screen) => {
          const page = await ask(`${home()}${screen}`),
            [, tally] = /<p class="tally">([\s\S]*?)<\/p>/.exec(page.text)!,
            link = /<a href="([^"]+)"/.exec(tally!)?.[1];
          return {
            says: tally!
              .replace(/<[^>]+>/g, "")
              .replace(/\s+/g, " ")
              .trim(),
            leads: link && new URL(link, `${desk.address}${screen}`).href,
          };
        }),
      );
    // Other tests have left an issued revision changed in this folder: errors there are elsewhere from the start.
    const before = await tallies();
    writeFileSync(file, text.replace("\nchild-shell:", "\nchild-shall:"));
    // Another editor wrote it: a screen of another file shows it when it has been noticed.
    await expect.poll(async () => (await tallies())[1], { timeout: 60_000 }).not.toEqual(before[1]);
    const after = await tallies();
    for (const [at, { says, leads }] of after.entries()) {
      expect(says, screens[at]).toMatch(/\d+ errors? elsewhere$/);
      expect(says).not.toBe(before[at]!.says);
      expect(leads).toBe(desk.address);
    }
    writeFileSync(file, text);
    await expect.poll(tallies, { timeout: 60_000 }).toEqual(before);
  }, 120_000);

  it("shows what was read before, and says why, while the collection can't be read; then goes on", async () => {
    const file = join(folder, "service.yaml"),
      text = readFileSync(file, "utf8");
    const before = Number(/data-moment="(\d+)"/.exec((await ask(home())).text)![1]);
    rmSync(file);
    await expect.poll(async () => (await ask(home())).text, { timeout: 60_000 }).toContain('class="trouble"');
    const lost = await ask(home());
    expect(lost.text).toContain("has no service.yaml");
    // A screen that waits hears of it as of a newer reading.
    expect(Number(/data-moment="(\d+)"/.exec(lost.text)![1])).toBeGreaterThan(before);
    writeFileSync(file, text);
    await expect.poll(async () => (await ask(home())).text, { timeout: 60_000 }).not.toContain('class="trouble"');
  }, 120_000);

  it("shows a file that another editor has saved, and says it to the pages that wait", async () => {
    const stream = await new Promise<IncomingMessage>((done, fail) => {
      const asked = { host: "127.0.0.1", port: url.port, path: `${home()}events`, headers: own() };
      request(asked, done).on("error", fail).end();
    });
    const heard: number[] = [];
    let hear = () => undefined as void;
    stream.on("data", (piece: Buffer) => {
      heard.push(...[...piece.toString().matchAll(/data: (\d+)/g)].map(([, number]) => Number(number)));
      hear();
    });
    const told = async (count: number) => {
      while (heard.length < count) await new Promise<void>((done) => (hear = done));
    };
    // First which reading is the newest: a page that was made from an older one shows it then.
    await told(1);
    expect((await ask(home())).text).toContain(`data-moment="${heard[0]}"`);
    const file = join(folder, "service.yaml");
    writeFileSync(file, readFileSync(file, "utf8").replace(/^name: .*/m, "name: Changed <elsewhere> & here"));
    await told(2);
    expect(heard[1]).toBeGreaterThan(heard[0]!);
    stream.destroy();
    const { text } = await ask(home());
    expect(text).toContain("<h1>Changed &lt;elsewhere&gt; &amp; here</h1>");
  }, 60_000);
});
