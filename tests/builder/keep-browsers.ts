/**
 * Keeps one browser of each sort for each lane of test files, from the first file that asks for it to the end of the
 * run: to start one takes two to three seconds of processor time (tests/bench/MEASURED.md), and some forty files open
 * one. `openBrowser` asks here; it puts back what a file has left in it.
 */
import type { ChildProcess } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer from "puppeteer-core";
import type { WantedBrowser } from "../site/find-browser.ts";

interface Kept {
  /** Where a test connects (`ws:`). */
  readonly address: string;
}

const kept = new Map<string, Promise<Kept>>();
/** All that were started, with the folder of each. */
const started: { readonly child: ChildProcess; readonly profile: string }[] = [];
let server: Server | undefined;

async function start({ executablePath, args }: WantedBrowser): Promise<Kept> {
  const profile = mkdtempSync(join(tmpdir(), "rerig-browser-")),
    browser = await puppeteer.launch({ executablePath, args: [...args], userDataDir: profile }),
    address = browser.wsEndpoint();
  started.push({ child: browser.process()!, profile });
  // Nobody but the test follows what happens in it: who does is asked before each page begins.
  await browser.disconnect();
  return { address };
}

const answers = ({ address }: Kept): Promise<boolean> =>
  fetch(`http://${new URL(address).host}/json/version`).then(
    ({ ok }) => ok,
    () => false,
  );

/** The browser of a lane; a new one where a test has brought it down. */
async function browserFor(wanted: WantedBrowser): Promise<Kept> {
  const key = JSON.stringify(wanted),
    before = await kept.get(key)?.catch(() => undefined);
  if (before && (await answers(before))) return before;
  const next = start(wanted);
  kept.set(key, next);
  return next;
}

export async function setup(): Promise<void> {
  if (server) return;
  server = createServer((request, response) => {
    let text = "";
    request.on("data", (piece: Buffer) => (text += piece.toString()));
    request.on("end", () => {
      browserFor(JSON.parse(text) as WantedBrowser).then(
        ({ address }) => response.writeHead(200).end(address),
        (error: unknown) => response.writeHead(500).end(error instanceof Error ? error.stack : String(error)),
      );
    });
  });
  await new Promise<void>((done) => server!.listen(0, "127.0.0.1", done));
  process.env["RERIG_BROWSERS"] = String((server.address() as AddressInfo).port);
}

export async function teardown(): Promise<void> {
  server?.close();
  server?.closeAllConnections();
  server = undefined;
  delete process.env["RERIG_BROWSERS"];
  kept.clear();
  for (const { child, profile } of started.splice(0)) {
    if (child.exitCode === null && child.signalCode === null) {
      const ended = once(child, "exit");
      // The whole group: what is started may be a script that starts the browser. Nothing in it is worth saving.
      process.kill(-child.pid!, "SIGKILL");
      await ended;
    }
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}
