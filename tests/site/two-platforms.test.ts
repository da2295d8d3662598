/**
 * Paper of a service with two platforms whose arrangements bear the same ids and names (invented: the sled, and the
 * sled again as a boat): every side of a page says at its edge whose it is. Common practice, no source.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildForTest } from "../builder/built-site.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-two-")),
  folder = join(work, "collection"),
  site = join(work, "site");
afterAll(() => rmSync(work, { recursive: true, force: true }));
beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
  cpSync(join(folder, "sled"), join(folder, "boat"), { recursive: true });
  const platform = join(folder, "boat/platform.yaml");
  writeFileSync(platform, readFileSync(platform, "utf8").replace("name: Ridge sled", "name: Ridge boat"));
  writeFileSync(join(folder, "folders.yaml"), "{}\n");
  await buildForTest({ collectionFolder: folder, outFolder: site, on: "2026-06-01" });
}, 120_000);

/** What stands at the edges of the page's paper, as its own stylesheet has it. */
function edgesOf(page: string): string {
  const html = readFileSync(join(site, page, "index.html"), "utf8"),
    [, address] = /href="[^"]*(assets\/page-\w+\.css)"/.exec(html)!;
  return readFileSync(join(site, address!), "utf8");
}

it.each([
  "changeovers/child-shell--vacuum-mattress/",
  "procedures/change-to-shell/",
  "cards/child-shell/",
  "sign-off/configurations/child-shell/",
  "ready/",
])("says on every side of %s whose it is", (page) => {
  expect(edgesOf(`boat/${page}`)).toContain("Ridge boat");
  expect(edgesOf(`boat/${page}`)).not.toContain("Ridge sled");
  expect(edgesOf(`sled/${page}`)).toContain("Ridge sled");
  expect(edgesOf(`sled/${page}`)).not.toContain("Ridge boat");
});
