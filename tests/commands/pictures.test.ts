/**
 * The small pictures that an issue keeps of the photos it shows: bounds, metadata, sharing, what is shown of them, and
 * what is said when one is gone. Measured with sharp (libvips), a reader of its own; that published images carry no
 * camera, place or owner is the format's own promise, and that a record is protected from loss and alteration is
 * ISO 9001:2015, 7.5.3. Pictures are generated, the collection is invented.
 */
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { keepPictures, MOST_BYTES } from "../../src/build/kept/keep-pictures.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
import { photosIn, pictureOf } from "../../src/domain/records/pictures.ts";
import { Findings } from "../../src/findings/finding.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-pictures-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const folder = join(work, "collection"),
  site = join(work, "site"),
  kept = join(folder, "issued/sled/photos");
const SHELL = join(folder, "sled/change-to-shell.mdx");
const rerig = (today: string, ...args: string[]) => runHere([...args, "--procedures", folder], today);
const issue = async (today: string) => {
  const { status, stderr } = await rerig(today, "issue");
  expect(status, stderr).toBe(0);
};
const frozen = (id: string) =>
  JSON.parse(readFileSync(join(folder, `issued/sled/${id}.json`), "utf8")) as {
    pictures?: { bed: { sha256: string; width: number; height: number } };
  };
interface Said {
  readonly rule: string;
  readonly severity: string;
  readonly message: string;
}
const findings = async (): Promise<Said[]> =>
  (JSON.parse((await rerig("2026-07-01", "check", "--json")).stdout) as { findings: Said[] }).findings.filter(
    ({ rule }) => /^record\/issue|not-read/.test(rule),
  );

/** A photo as a camera makes it: noise, which packs worst, in one colour, lying on its side, with its owner in it. */
async function takePhoto(colour: { r: number; g: number; b: number }): Promise<void> {
  const [width, height] = [1600, 2400];
  const noise = Buffer.from(Array.from({ length: width * height }, (_, at) => (at * 2654435761) >>> 24));
  const grey = await sharp(noise, { raw: { width, height, channels: 1 } })
    .toColourspace("srgb")
    .png()
    .toBuffer();
  await sharp({ create: { width, height, channels: 3, background: colour } })
    .composite([{ input: await sharp(grey).ensureAlpha(0.25).png().toBuffer() }])
    .withExif({ IFD0: { Copyright: "Somebody", Make: "A camera" }, IFD3: { GPSLatitude: "51/1 30/1 0/1" } })
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 95 })
    .toFile(join(folder, "sled/photos/bed.jpg"));
}

let first = "";
beforeAll(async () => {
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
  writeFileSync(
    join(folder, "sled/photos/bed.yaml"),
    "alt: The bed from the head end\ntaken: 2026-01-10\nshows: []\n" +
      "marks: [{ n: 1, x: 0.5, y: 0.5, label: Buckle }]\ncrop: { x: 0.25, y: 0.25, width: 0.5, height: 0.5 }\n",
  );
  await takePhoto({ r: 220, g: 30, b: 30 });
  await issue("2026-06-01");
  first = readdirSync(kept)[0]!;
}, 120_000);

describe("a kept picture", () => {
  it("is one for all that show the photo, at most 60,000 bytes, under the hash of its bytes (FIPS 180-4)", () => {
    expect(readdirSync(kept)).toHaveLength(1);
    const bytes = readFileSync(join(kept, first));
    expect(first).toBe(`${createHash("sha256").update(bytes).digest("hex")}.jpg`);
    expect(bytes.length).toBeLessThanOrEqual(60_000);
    for (const id of ["change-to-shell@1", "change-to-mattress@1"])
      expect(frozen(id).pictures!.bed.sha256, id).toBe(first.replace(".jpg", ""));
  });

  it("stands upright, is the crop alone, and says nothing of camera, place or owner", async () => {
    const { format, width, height, orientation, exif, icc, xmp, iptc } = await sharp(join(kept, first)).metadata();
    expect({ format, orientation, exif, icc, xmp, iptc }).toEqual({ format: "jpeg" });
    // 1600 x 2400 turned by a quarter is 2400 x 1600, and half of each.
    expect(width / height).toBeCloseTo(1200 / 800, 1);
    expect(frozen("change-to-shell@1").pictures!.bed).toMatchObject({ width, height });
    expect(readFileSync(join(kept, first)).toString("latin1")).not.toMatch(/Somebody|A camera|Exif/);
  });

  it("is not made again for a later issue that shows the same photo", async () => {
    const text = readFileSync(SHELL, "utf8");
    const revised = text
      .replace("revision: 1", "revision: 2")
      .replace("effective: 2026-01-12", "effective: 2026-06-05")
      .replace(
        "approved-by: Rescue lead\n",
        "approved-by: Rescue lead\nchanges:\n" +
          "  - { revision: 2, date: 2026-06-02, by: Training officer, summary: Other words. }\n",
      )
      .replace("Open both bed straps.", "Open both bed straps wide.");
    expect(revised).toContain("straps wide");
    writeFileSync(SHELL, revised);
    await issue("2026-06-05");
    expect(readdirSync(kept)).toEqual([first]);
    expect(frozen("change-to-shell@2").pictures!.bed.sha256).toBe(first.replace(".jpg", ""));
  });

  it("of any photo is within the bound, and so are those of the demo", async () => {
    const demo = join(root, "procedures"),
      collection = await loadCollection(demo, new Findings(), { hashPhotos: true });
    const sizes = [];
    for (const platform of collection.platforms)
      for (const record of platform.procedures.slice(0, 4))
        for (const { file } of await keepPictures(demo, { ...collection, issued: [] }, platform, record))
          sizes.push(file!.text.length);
    expect(sizes.length).toBeGreaterThan(5);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(MOST_BYTES);
  }, 120_000);
});

describe("another photo under the same name", () => {
  const page = (address: string) => readFileSync(join(site, address, "index.html"), "utf8");
  const COMPARISON = "sled/procedures/change-to-shell/revisions/3",
    NOTICE = "sled/procedures/change-to-shell/notices/3";

  beforeAll(async () => {
    await takePhoto({ r: 30, g: 30, b: 220 });
    for (const name of readdirSync(join(folder, "sled")).filter((each) => each.endsWith(".mdx"))) {
      const path = join(folder, "sled", name),
        text = readFileSync(path, "utf8");
      const revision = Number(/^revision: (\d+)/m.exec(text)![1]) + 1;
      const entry =
        `  - { revision: ${revision}, date: 2026-06-10, by: Training officer, ` + "summary: Another picture. }\n";
      writeFileSync(
        path,
        text
          .replace(/^revision: \d+/m, `revision: ${revision}`)
          .replace(/^effective: .*$/m, "effective: 2026-06-12")
          .replace(/^(changes:\n(?: {2}- .*\n)*)?---\n\n?(?=[A-Z:])/m, (all, changes: string | undefined) =>
            changes ? all.replace(changes, changes + entry) : `changes:\n${entry}${all}`,
          ),
      );
    }
    await issue("2026-06-12");
    await buildForTest({ collectionFolder: folder, outFolder: site, on: "2026-07-01", checked: true });
  }, 300_000);

  it("is kept beside the first", () => {
    expect(readdirSync(kept)).toHaveLength(2);
    expect(readdirSync(kept)).toContain(first);
  });

  it.each([COMPARISON, NOTICE])("is shown at %s beside the one before it, both with their marks", async (address) => {
    const html = page(address);
    const cells = [...html.matchAll(/<td data-is="(Was|Is)">([\s\S]*?)<\/td>/g)].filter(([, , cell]) =>
      cell!.includes("<img"),
    );
    expect(cells.map(([, side]) => side)).toContain("Was");
    for (const [, side, cell] of cells) {
      const file = /<img (?!class="on-paper")[^>]*? src="(?:\.\.\/)*([^"]+)"/.exec(cell!)![1]!;
      const { channels } = await sharp(join(site, file)).stats();
      const [red, , blue] = channels.map(({ mean }) => mean) as [number, number, number];
      expect(side === "Was" ? red - blue : blue - red, `${side} ${file}`).toBeGreaterThan(50);
      expect(cell, side).toContain('<g class="mark">');
      expect(cell!.includes("Kept small when it was issued"), side).toBe(side === "Was");
    }
  });

  it("is said not to have been kept where its issue is of an earlier time", async () => {
    const collection = await loadCollection(folder, new Findings());
    const photo = photosIn(contentOf(collection.platforms[0]!.procedures[0]!, collection.platforms[0]!))[0]!;
    expect(pictureOf(collection, "sled", photo)).toBeDefined();
    const before = {
      ...collection,
      issued: collection.issued.map(({ head, ...rest }) => ({ ...rest, head: { ...head, pictures: undefined } })),
    };
    expect(pictureOf(before as never, "sled", photo)).toBeUndefined();
  });
});

describe("a kept picture that", () => {
  const messages = async () => (await findings()).map(({ rule, severity, message }) => [rule, severity, message]);
  const expected = (what: string) => [
    ["record/issue-altered", "error", `The small picture of \`bed\` that this frozen issue keeps ${what}`],
  ];

  it("is as it was kept is no finding", async () => {
    expect(await messages()).toEqual([]);
  });

  it("was exchanged is an error, once, and nobody is shown it", async () => {
    const path = join(kept, first),
      bytes = readFileSync(path);
    writeFileSync(path, Buffer.concat([bytes, Buffer.from([0])]));
    expect(await messages()).toEqual(expected("is another one now"));
    rmSync(path);
    expect(await messages()).toEqual(expected("is gone"));
    writeFileSync(path, bytes);
    expect(await messages()).toEqual([]);
  });

  it("nobody kept is not read, and said so", async () => {
    writeFileSync(join(kept, "holiday.jpg"), "x");
    expect((await findings()).map(({ rule }) => rule)).toEqual(["text/not-read"]);
    rmSync(join(kept, "holiday.jpg"));
  });
});
