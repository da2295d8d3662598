/**
 * Pages of a small site (invented: a newborn pod) against the words of its files and its own data: the reason beside a
 * slip that nobody notices, what is to spare of an item, no words of files on what a crew reads.
 */
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { z } from "zod";
import type { dataShapes } from "../../src/schema/results.ts";
import { buildForTest } from "../builder/built-site.ts";

const pod = resolve(import.meta.dirname, "../fixtures/collections/pod");
let work: string, reason: string;
const read = (file: string) => readFile(join(work, "site", file), "utf8");
beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "rerig-reasons-"));
  const folder = join(work, "pod");
  await cp(pod, folder, { recursive: true });
  const copies = ["{ card: fine-nest, copy: 1 }", "{ card: fine-nest+humid+gas, copy: 2 }"];
  await writeFile(join(folder, "folders.yaml"), `van:\n  name: Van folder\n  copies: [${copies.join(", ")}]\n`);
  await buildForTest({ collectionFolder: folder, outFolder: join(work, "site") });
  [, reason] = /unnoticed="([^"]+)"/.exec(await readFile(join(pod, "pod/gas-test.mdx"), "utf8")) as unknown as [
    string,
    string,
  ];
}, 300_000);
afterAll(() => rm(work, { recursive: true, force: true }));

describe("the reason for a silence", () => {
  it("stands in the data at each slip that is somewhere silent, and at no other", async () => {
    const [{ slips } = { slips: [] }] = JSON.parse(await read("data/slips.json")) as z.infer<
      (typeof dataShapes)["slips"]
    >;
    const isOurs = ({ procedure, step }: (typeof slips)[number]) => procedure === "gas-test" && step === 2;
    const silent = slips.filter(({ critical, outcomes }) => critical && outcomes.silent);
    expect(silent.length).toBeGreaterThan(0);
    expect(silent.map(isOurs)).toEqual(silent.map(() => true));
    expect(slips.filter(({ reason: given }) => given !== undefined)).toEqual(silent);
    for (const slip of silent) expect(slip.reason).toBe(reason);
  });

  it("stands on the procedure's page beside what nobody notices", async () => {
    const page = await read("pod/procedures/gas-test/index.html");
    const rows = page.split('<li class="slip-row').slice(1);
    const silent = rows.filter((row) => row.includes("SAFETY-CRITICAL") && row.includes("Nobody notices."));
    expect(silent).toHaveLength(1);
    expect(silent[0]).toContain(reason);
    expect(rows.filter((row) => row.includes(reason))).toEqual(silent);
  });

  it("stands in the review, which counts no slip without one", async () => {
    const page = (await read("review/index.html")).replace(/\s+/g, " ");
    expect(page).toContain("each with its reason.");
    expect(page).not.toMatch(/without a reason/);
    expect(page.slice(page.indexOf("slip-names"))).toContain(reason);
  });
});

const wordsOf = (html: string) =>
  html
    .replace(/<(style|script)[^>]*>.*?<\/\1>/gs, "")
    .replace(/<[^>]*>/g, " ")
    .replace(/\s+/g, " ");

describe("what a crew reads", () => {
  it("says on each item's page whether one may be missing, as the data do", async () => {
    const [{ items } = { items: [] }] = JSON.parse(await read("data/single-points.json")) as z.infer<
      (typeof dataShapes)["single-points"]
    >;
    expect(items.some(({ spare }) => spare === 0)).toBe(true);
    for (const { item, spare, nobodyFor } of items) {
      const page = wordsOf(await read(`pod/items/${item}/index.html`));
      if (spare === null) expect([item, page]).toEqual([item, expect.not.stringContaining("to spare")]);
      else {
        expect([item, page]).toEqual([item, expect.stringContaining(spare === 0 ? "None to spare" : "to spare: with")]);
        for (const band of nobodyFor) expect(page).toContain(band);
      }
    }
  });

  it("leads from a folder to the card of just that arrangement, and speaks of no file", async () => {
    for (const page of ["folders/index.html", "folders/van/index.html", "folders/van/swap/index.html"]) {
      const html = await read(page);
      expect(wordsOf(html)).toContain("Fine nest with humid air and gas bottle");
      expect(html).toContain("pod/cards/fine-nest/with/humid+gas/");
      expect([page, wordsOf(html)]).toEqual([page, expect.not.stringMatching(/\.yaml|\brerig\b|fine-nest/)]);
    }
    expect(wordsOf(await read("pod/cards/fine-nest/with/humid+gas/index.html"))).toContain("Water chamber");
  });
});

describe("an option that some patients are never without", () => {
  it("is headed on the checklist as on the printed card: not as one that may be left out", async () => {
    const heads = (html: string) =>
      [...html.matchAll(/<h3[^>]*>([^<]*)<\/h3>/g)]
        .map(([, head]) => head!)
        .filter((head) => /^(If fitted|Fitted always)/.test(head));
    const page = heads(await read("pod/cards/fine-nest/index.html"));
    expect(page[0]).toMatch(/^Fitted always under 1000 g, under 14 days: /);
    const paper = heads(await read("pod/cards/fine-nest/card/index.html"));
    expect(page).toEqual([...new Set(paper)]);
  });
});
