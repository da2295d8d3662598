/** A build swaps the site in whole, or leaves the last one as it was. */
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildSite, openPageMaker } from "../../src/build/build.ts";
import { bringBack } from "../../src/build/out-folder.ts";
import { openCollection } from "../../src/build/open-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
let work: string, source: string, out: string;
const said: string[] = [];
/** Bundles the pages once; processes that bundle them for themselves come at the end. */
const maker = openPageMaker();
const build = (collection?: Awaited<ReturnType<typeof openCollection>>) =>
  buildSite({
    collectionFolder: source,
    outFolder: out,
    log: (line) => said.push(line),
    maker,
    ...(collection ? { collection } : {}),
  });
const htmlFiles = async () => (await readdir(out, { recursive: true })).filter((name) => name.endsWith(".html"));

beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "rerig-build-"));
  [source, out] = [join(work, "collection"), join(work, "site")];
  await cp(sled, source, { recursive: true });
  const day = join(source, "sled/photos/bed.jpg"),
    of = createHash("sha256")
      .update(await readFile(day))
      .digest("hex");
  await sharp(day)
    .negate()
    .toFile(join(source, `sled/photos/bed.night-${of.slice(0, 8)}.webp`));
  await build();
}, 180_000);
afterAll(async () => {
  await maker.close();
  await rm(work, { recursive: true });
});

describe("a build", () => {
  it("says what it does and leaves nothing beside the site", async () => {
    expect(said.length).toBeGreaterThan(3);
    expect((await readdir(work)).sort()).toEqual(["collection", "site"]);
  });
  it("writes no code and no style into a page, so that the strict policy holds", async () => {
    for (const file of await htmlFiles()) {
      const html = await readFile(join(out, file), "utf8");
      expect(html, file).not.toMatch(/<[a-z][^>]*\sstyle=|<style|\son\w+="/);
      expect([...html.matchAll(/<script\b(?![^>]*\b(?:src=|type="application\/))/g)], file).toEqual([]);
    }
  });
  it("has nothing of the desk in it: no file, no script, no form of it", async () => {
    const names = await readdir(out, { recursive: true });
    expect(names.filter((name) => /desk/i.test(name))).toEqual([]);
    // What screens of the desk are made of (src/desk/screens, src/desk/browser).
    const desk = /data-(?:take|take-in|send|put|add|edits|file)=|id="elsewhere"|dataset\.(?:takeIn|edits)|data-desk/;
    for (const name of names.filter((each) => /\.(?:html|css|js|json)$/.test(each)))
      expect([name, desk.test(await readFile(join(out, name), "utf8"))]).toEqual([name, false]);
  });
  it("uses addresses relative to each page, so that the site works in any folder", async () => {
    for (const file of await htmlFiles()) {
      if (file === "404.html") continue;
      const html = await readFile(join(out, file), "utf8");
      expect(
        [...html.matchAll(/\s(?:href|src|action)="(\/[^"]*)"/g)].map(([, address]) => address),
        file,
      ).toEqual([]);
    }
  });
  it("gives dark screens the picture for the night, without a script", async () => {
    let shown = 0;
    // The same pictures stand on many pages: each is opened once.
    const means = new Map<string, Promise<number>>();
    const meanOf = (path: string) => {
      const known =
        means.get(path) ??
        sharp(path)
          .stats()
          .then(({ channels }) => channels[0]!.mean);
      means.set(path, known);
      return known;
    };
    for (const file of await htmlFiles())
      for (const [, night, image] of (await readFile(join(out, file), "utf8")).matchAll(
        /<picture><source media="screen and \(prefers-color-scheme:dark\)" srcset="([^"]+)">\s*<img ([^>]+)>/g,
      )) {
        const [, day] = /\bsrc="([^"]+)"/.exec(image!)!,
          mean = (address: string) => meanOf(resolve(out, file, "..", address));
        expect((await mean(night!)) + (await mean(day!)), file).toBeCloseTo(255, -1);
        shown += 1;
      }
    expect(shown).toBeGreaterThan(3);
  });
  it("publishes photos without camera, place or owner", async () => {
    const photos = await readdir(join(out, "photos"));
    expect(photos.length).toBeGreaterThan(0);
    for (const name of photos) {
      const { exif, xmp, iptc, icc } = await sharp(join(out, "photos", name)).metadata();
      expect([exif, xmp, iptc, icc], name).toEqual([undefined, undefined, undefined, undefined]);
    }
  });
  it("keeps a page light: under 100 kB of HTML, styles and scripts before photos and fonts", async () => {
    // Known: pages that work on the device are heavier uncompressed: practice carries its questions and the scheduler,
    // the pages of changeovers, of drills and of what is out of service the whole planner with the platform's
    // procedures, and each changeover every step of several procedures with its step-through.
    // tests/site/weights.test.ts holds them to the same limit as they are sent, compressed.
    for (const file of (await htmlFiles()).filter(
      (name) => !/\/(?:(?:practise|tonight|drills)\/index\.html$|changeovers\/)/.test(name),
    )) {
      const html = await readFile(join(out, file), "utf8");
      const assets = [
        ...new Set(
          // A sheet for print alone holds up no screen; tests/site/weights.test.ts leaves it out too.
          [...html.matchAll(/(?:href|src)="([^"]+\.(?:css|js)(?:\?[^"]*)?)"(?! media="print")/g)].map(
            ([, address]) => address!,
          ),
        ),
      ].filter((address) => !address.includes("find-list"));
      let bytes = Buffer.byteLength(html);
      for (const address of assets)
        bytes += (
          await readFile(
            address.startsWith("/")
              ? join(out, address.split("?")[0]!)
              : resolve(out, file, "..", address.split("?")[0]!),
          )
        ).length;
      expect(bytes, file).toBeLessThan(100_000);
    }
  });
  it("that fails leaves the last site as it was", async () => {
    const before = await readFile(join(out, "index.html"), "utf8"),
      collection = await openCollection(source);
    await writeFile(join(source, "sled/photos/bed.jpg"), "no picture");
    await expect(build(collection)).rejects.toThrow();
    expect(await readFile(join(out, "index.html"), "utf8")).toBe(before);
    expect((await readdir(work)).sort()).toEqual(["collection", "site"]);
  }, 180_000);
  it("takes a changed collection, in the same process too", async () => {
    await cp(join(sled, "sled/photos/bed.jpg"), join(source, "sled/photos/bed.jpg"));
    const service = await readFile(join(source, "service.yaml"), "utf8");
    await writeFile(join(source, "service.yaml"), service.replace(/^name: .*/m, "name: Another Ridge Rescue"));
    await build();
    expect(await readFile(join(out, "index.html"), "utf8")).toContain("Another Ridge Rescue");
  }, 180_000);
  it("never replaces a folder that it did not make: the collection itself, or a person's own files", async () => {
    const before = (await readdir(source, { recursive: true })).sort();
    const buildTo = (outFolder: string) => buildSite({ collectionFolder: source, outFolder, log: () => {} });
    await expect(buildTo(source)).rejects.toThrow(/this is your collection/);
    await expect(buildTo(work)).rejects.toThrow(/holds your collection/);
    await writeFile(join(out, "..", "letter.txt"), "mine");
    await expect(buildTo(join(source, "sled"))).rejects.toThrow(/lies in your collection/);
    expect((await readdir(source, { recursive: true })).sort()).toEqual(before);
    expect(await readFile(join(work, "letter.txt"), "utf8")).toBe("mine");
    await rm(join(work, "letter.txt"));
  });
  it("stopped at any moment leaves a whole site; two at once leave one", async () => {
    const start = () =>
      spawn(process.execPath, [join(root, "src/commands/rerig.mjs"), "build", "--procedures", source, "--out", out], {
        stdio: "ignore",
      });
    const ended = (child: ChildProcess) => new Promise<number | null>((done) => child.once("exit", done));
    // Every state of the exchange itself is tried in out-folder.test.ts, hundreds of kills in bench/interrupted.ts.
    const began = Date.now();
    expect(await Promise.all([start(), start()].map(ended))).toEqual([0, 0]);
    const takes = Date.now() - began,
      whole = (await readdir(out, { recursive: true })).length;
    const child = start(),
      end = ended(child);
    // Alone it takes half as long as beside another one, so this is late, and mostly while files are written.
    const timer = setTimeout(() => child.kill("SIGKILL"), takes * 0.4);
    await end;
    clearTimeout(timer);
    bringBack(out);
    expect((await readdir(out, { recursive: true })).length).toBe(whole);
    expect((await readdir(work)).sort()).toEqual(["collection", "site"]);
  }, 180_000);
});
