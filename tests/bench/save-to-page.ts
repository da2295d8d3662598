/**
 * `npm run bench:desk`: how long it takes from a save to the page, at the desk and by another editor, over the demo and
 * over 1,000 generated procedures. What is timed is what a screen of the desk asks for, one request beside the other:
 * the page and the form with its findings. `node tests/bench/save-to-page.ts [SAVES] [PROCEDURES]`
 */
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { join, resolve } from "node:path";
import { writeCollection } from "./generate.ts";

const root = resolve(import.meta.dirname, "../..");
const scratch = join(root, ".rerig");
/** Saves that come before those that are counted: the code is warm, and an approved text has become a proposal. */
const BEFORE = 2;

interface Case {
  readonly what: string;
  readonly folder: string;
  readonly platform: string;
  readonly id: string;
}

/** Seconds of one save: until it is said to be saved and read, until the page is there, until page and form are. */
interface Took {
  readonly saved: number;
  readonly page: number;
  readonly all: number;
}

const now = () => Number(process.hrtime.bigint()) / 1e9;

async function ask(url: URL, body?: unknown): Promise<string> {
  const sent = body === undefined ? undefined : JSON.stringify(body);
  return new Promise((done, fail) => {
    const asked = request(
      url,
      {
        method: sent === undefined ? "GET" : "POST",
        headers: { Origin: url.origin, ...(sent === undefined ? {} : { "Content-Type": "application/json" }) },
      },
      (response) => {
        let text = "";
        response.setEncoding("utf8");
        response.on("data", (piece: string) => (text += piece));
        response.on("end", () =>
          response.statusCode === 200 ? done(text) : fail(new Error(`${url.pathname}: ${response.statusCode} ${text}`)),
        );
      },
    );
    asked.on("error", fail);
    asked.end(sent);
  });
}

/** Starts `rerig write` as its user does; gives the address that it prints. */
async function startDesk(folder: string): Promise<{ readonly process: ChildProcess; readonly address: string }> {
  const desk = spawn(
    process.execPath,
    ["--max-semi-space-size=64", "src/commands/rerig.mjs", "write", "--procedures", folder, "--port", "0"],
    { cwd: root, stdio: ["ignore", "pipe", "inherit"] },
  );
  const address = await new Promise<string>((done, fail) => {
    let said = "";
    desk.stdout.on("data", (piece: Buffer) => {
      said += piece.toString();
      const found = /http:\S+/.exec(said);
      if (found) done(found[0]);
    });
    desk.once("exit", () => fail(new Error("The desk did not start")));
  });
  return { process: desk, address };
}

/** The page that stands beside the form, as the form names it. */
function pageIn(form: string, at: URL): URL {
  return new URL(/<iframe\s+name="live"\s+src="([^"]+)"/.exec(form)![1]!, at);
}

/** Until what was written is on the page: who listens hears of a newer reading, and asks for page and form at once. */
async function show(form: URL, written: string, began: number, saved: number): Promise<Took> {
  const asked = ask(form),
    // The form knows the page's address; the screen has it from the form before, and it changes once at most.
    page = pageIn(formBefore, form);
  const [first, shown] = await Promise.all([
    ask(page).then((text) => ({ text, at: now() })),
    asked.then((text) => ({ text, at: now() })),
  ]);
  formBefore = shown.text;
  for (const { text } of [first, shown])
    if (!text.includes(written)) throw new Error(`\`${written}\` is not on ${page.pathname}`);
  return { saved: saved - began, page: first.at - began, all: Math.max(first.at, shown.at) - began };
}

let formBefore = "";

async function measure({ what, folder, platform, id }: Case, saves: number): Promise<void> {
  const { process: desk, address } = await startDesk(folder);
  try {
    const form = new URL(`procedures/${platform}/${id}/`, address),
      name = `${platform}/${id}.mdx`,
      file = join(folder, name);
    const at: Took[] = [],
      elsewhere: Took[] = [];
    formBefore = await ask(form);
    await ask(pageIn(formBefore, form));
    for (let save = 0; save < saves + BEFORE; save += 1) {
      const words = `Look at the label number ${save} again.`,
        basedOn = createHash("sha256").update(readFileSync(file)).digest("hex");
      const began = now();
      const answer = JSON.parse(
        await ask(new URL("edit", address), {
          file: name,
          basedOn,
          edits: [{ kind: "set-text", step: 2, text: words }],
        }),
      ) as { readonly saved?: boolean };
      if (!answer.saved) throw new Error(JSON.stringify(answer));
      const saved = now();
      if (save === 0) {
        // The page of a text that is approved moves to the one of its proposal.
        formBefore = await ask(form);
        await ask(pageIn(formBefore, form));
      }
      at.push(await show(form, words, began, saved));
    }
    const events = await listen(new URL("events", address));
    for (let save = 0; save < saves + BEFORE; save += 1) {
      const words = `Look at the other label ${save} again.`,
        text = readFileSync(file, "utf8").replace(/Look at the (?:other label|label number) \d+ again\./, words);
      const heard = events.next(),
        began = now();
      writeFileSync(file, text);
      await heard;
      elsewhere.push(await show(form, words, began, now()));
      // Long enough that two saves are not seen as one.
      await new Promise((done) => setTimeout(done, 700));
    }
    events.end();
    say(`${what}, saved at the desk`, at.slice(BEFORE), at[0]!);
    say(`${what}, saved by another editor`, elsewhere.slice(BEFORE), elsewhere[0]!);
  } finally {
    desk.kill();
    await new Promise((done) => desk.once("exit", done));
  }
}

/** Hears of newer readings as a screen does. */
async function listen(url: URL): Promise<{ readonly next: () => Promise<void>; readonly end: () => void }> {
  let tell: (() => void) | undefined;
  return new Promise((done) => {
    const asked = request(url, (response) => {
      response.on("data", (piece: Buffer) => {
        if (piece.toString().includes("data:")) tell?.();
      });
      response.once("data", () =>
        done({ next: () => new Promise((heard) => (tell = heard)), end: () => asked.destroy() }),
      );
    });
    asked.on("error", () => undefined);
    asked.end();
  });
}

function say(what: string, took: readonly Took[], first: Took): void {
  const of = (pick: (each: Took) => number) => {
    const sorted = took.map(pick).sort((a, b) => a - b);
    const [least, middle, most] = [0, Math.floor(sorted.length / 2), sorted.length - 1].map((n) =>
      sorted[n]!.toFixed(2),
    );
    return `${middle} (${least} to ${most})`;
  };
  console.log(
    `${what}, ${took.length} saves, seconds, median (least to most): read ${of(({ saved }) => saved)}; ` +
      `on the page ${of(({ page }) => page)}; page and form with findings ${of(({ all }) => all)}; ` +
      `the first ${first.page.toFixed(2)}`,
  );
}

const [saves = 15, procedures = 1000] = process.argv.slice(2).map(Number);
mkdirSync(scratch, { recursive: true });
const folder = mkdtempSync(join(scratch, "bench-"));
try {
  const demo = join(folder, "demo");
  cpSync(join(root, "procedures"), demo, { recursive: true });
  await measure({ what: "Demo", folder: demo, platform: "tern", id: "seat-capsule" }, saves);
  if (procedures > 0) {
    const large = join(folder, "large"),
      count = await writeCollection(large, procedures);
    await measure({ what: `${count} procedures`, folder: large, platform: "platform-7", id: "fit-seat" }, saves);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
