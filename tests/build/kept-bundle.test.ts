/**
 * Pages from a bundle that an earlier process has left are those of one that is bundled anew; by other code, settings
 * or background pages it is not found. Compared with bundling. Common practice, no source.
 */
import { createHash } from "node:crypto";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, beforeEach, expect, it } from "vitest";
import { keyOfBundle } from "../../src/build/kept/kept-bundle.ts";
import { openCollection } from "../../src/build/open-collection.ts";
import { PageMaker } from "../../src/build/render/page-maker.ts";
import { bundleIn, type BundleShelf, WORKSHOP } from "../../src/build/shelf.ts";
import { makeSite, type Site } from "../../src/site/site.ts";
import { speakFor } from "../../src/words/words.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-bundle-")),
  own = join(WORKSHOP, `test-bundle-${process.pid}`),
  folder = join(work, "sled"),
  reading = join(folder, "sled/reading/why-two-pins.mdx");
let makers = 0,
  before: unknown;
/** What was asked of the shelf: `found`, `nothing`, `kept`. */
const asked: string[] = [];

const shelfOf = (readings: string): BundleShelf => {
  const { find, put } = bundleIn(readings, join(work, "bundles"));
  return {
    find: (key) => {
      const found = find(key);
      asked.push(found ? "found" : "nothing");
      return found;
    },
    put: (key, bundle) => {
      asked.push("kept");
      put(key, bundle);
    },
  };
};

async function siteNow(of = folder): Promise<Site> {
  const files = await openCollection(of);
  speakFor(files.service);
  return makeSite(of, files, "2026-11-28");
}

/** Every address that the pages of one process have, the bytes of some of each kind, and what is no page. */
async function made(of = folder): Promise<unknown> {
  const maker = new PageMaker(join(own, String((makers += 1))), shelfOf),
    site = await siteNow(of),
    rest = join(work, `rest-${makers}`);
  try {
    const paths = await maker.paths(site),
      first = new Map(paths.map((path) => [path.component, path]));
    const pages: (readonly [string, string])[] = [];
    for (const { address } of first.values()) pages.push([address, sha256((await maker.render(site, address))!)]);
    mkdirSync(rest);
    await maker.copyRest(site, rest);
    expect(await maker.shared(site)).toMatch(/^file:/);
    const others = readdirSync(rest).map((name) => [name, sha256(readFileSync(join(rest, name)))]);
    return { paths, pages, others };
  } finally {
    await maker.close();
  }
}
const sha256 = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
  before = await made();
  expect(asked).toEqual(["nothing", "kept"]);
}, 300_000);
beforeEach(() => {
  asked.splice(0);
});
afterAll(() => {
  rmSync(own, { recursive: true, force: true });
  rmSync(work, { recursive: true, force: true });
});

it("have the same bytes as those that were bundled, and nothing is bundled", async () => {
  expect(await made()).toEqual(before);
  expect(asked).toEqual(["found"]);
}, 300_000);

it("are found by a copy of the collection elsewhere, and say the same there", async () => {
  const elsewhere = join(work, "elsewhere/sled");
  cpSync(folder, elsewhere, { recursive: true });
  expect(await made(elsewhere)).toEqual(before);
  expect(asked).toEqual(["found"]);
}, 300_000);

it("are bundled anew where a background page says something else, and then found", async () => {
  writeFileSync(reading, `${readFileSync(reading, "utf8")}\nAnd a last word.\n`);
  const after = await made();
  expect(asked[0]).toBe("found");
  expect(asked.slice(1)).toEqual(["kept"]);
  expect(after).not.toEqual(before);
  asked.splice(0);
  expect(await made()).toEqual(after);
  expect(asked).toEqual(["found"]);
}, 300_000);

it("are of no other place where a background page takes something from a file beside it", async () => {
  const text = readFileSync(reading, "utf8"),
    head = text.indexOf("---", 3) + 3;
  writeFileSync(join(folder, "sled/reading/pins.mjs"), 'export const found = "two";\n');
  writeFileSync(reading, `${text.slice(0, head)}\nimport { found } from "./pins.mjs";\n${text.slice(head)}\n{found}\n`);
  await made();
  expect(asked.at(-1)).toBe("kept");
  asked.splice(0);
  await made();
  expect(asked).toEqual(["found"]);
  const elsewhere = join(work, "beside/sled");
  cpSync(folder, elsewhere, { recursive: true });
  writeFileSync(join(elsewhere, "sled/reading/pins.mjs"), 'export const found = "three";\n');
  asked.splice(0);
  await made(elsewhere);
  expect(asked.at(-1)).toBe("kept");
}, 300_000);

it("are found by any collection without background pages, and by no other one", async () => {
  rmSync(join(folder, "sled/reading"), { recursive: true });
  await made();
  expect(asked).toEqual(["nothing", "kept"]);
  asked.splice(0);
  cpSync(folder, join(work, "copy"), { recursive: true });
  const shelves: string[] = [];
  const maker = new PageMaker(join(own, "copy"), (readings) => {
    shelves.push(readings);
    return shelfOf(readings);
  });
  try {
    await maker.render(await siteNow(join(work, "copy")), "");
  } finally {
    await maker.close();
  }
  expect(asked).toEqual(["found"]);
  expect(shelves).toEqual([""]);
}, 300_000);

it("are found by the code, the settings, what every site is given, and the mode, each by itself", () => {
  const root = join(work, "program"),
    keys = new Set<string>();
  mkdirSync(join(root, "public"), { recursive: true });
  const add = (version = "1") => keys.add(keyOfBundle(root, version)).size;
  expect(add()).toBe(1);
  expect(add()).toBe(1);
  expect(add("2")).toBe(2);
  writeFileSync(join(root, "public/icon.svg"), "<svg/>");
  expect(add()).toBe(3);
  writeFileSync(join(root, "public/icon.svg"), "<svg />");
  expect(add()).toBe(4);
  writeFileSync(join(root, ".env.local"), "PUBLIC_NAME=1");
  expect(add()).toBe(5);
  writeFileSync(join(root, "tsconfig.json"), "{}");
  expect(add()).toBe(6);
  const mode = process.env["NODE_ENV"];
  process.env["NODE_ENV"] = "other";
  expect(add()).toBe(7);
  if (mode === undefined) delete process.env["NODE_ENV"];
  else process.env["NODE_ENV"] = mode;
  expect(add()).toBe(7);
  cpSync(root, join(work, "other"), { recursive: true });
  expect(keys.has(keyOfBundle(join(work, "other"), "1"))).toBe(false);
});
