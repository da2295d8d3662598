/**
 * A safety-critical slip that nobody notices has its author's reason beside it wherever it is shown: on the page of the
 * procedure, in the review and in `data/`. A small site is built (invented: a gas valve behind its bottle); compared
 * with the words in the file.
 */
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { z } from "zod";
import { buildSite } from "../../src/build/build.ts";
import type { dataShapes } from "../../src/schema/results.ts";

const pod = resolve(import.meta.dirname, "../fixtures/collections/pod");
let work: string, reason: string;
const read = (file: string) => readFile(join(work, "site", file), "utf8");
beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "rerig-reasons-"));
  await buildSite({ collectionFolder: pod, outFolder: join(work, "site"), log: () => {} });
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
