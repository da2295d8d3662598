/**
 * Pictures that are sent to the desk: a picture, its sidecar and the procedure that shows it come together or not at
 * all. Pictures are made by sharp; what comes of them is read by sharp again, and compared by bytes with `ls` and the
 * files. Signatures of files: ISO/IEC 10918-1 (JPEG), W3C PNG, RFC 9649 (WebP), ISO/IEC 23008-12 (HEIC).
 */
import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { beforeEach, describe, expect, it } from "vitest";
import { node, project, work } from "./work-folder.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { takePicture } from "../../src/desk/changes/photos.ts";
import type { CollectionReader } from "../../src/desk/reader.ts";
import { startSaving, undo } from "../../src/desk/disk/save.ts";
import { phonePicture } from "./stories/photo-acts.ts";

const file = "cart/fit.mdx",
  PROCEDURE = "\ufeff---\r\ntitle: Fit\r\n---\r\n:::step{by=lead} \r\nPush the pins in.\r\n:::\r\n";

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(work, "c-"));
  mkdirSync(join(root, "cart/photos"), { recursive: true });
  writeFileSync(join(root, file), PROCEDURE);
});

const read = (path: string) => readFileSync(join(root, path), "utf8");
const everything = (folder = root) => readdirSync(folder, { recursive: true, encoding: "utf8" }).sort();
const NOTHING = ["cart", "cart/fit.mdx", "cart/photos"];

/** The collection as the desk has read it; photos are those whose files are there. */
const readerOf = () => {
  const names = readdirSync(join(root, "cart/photos")),
    images = names.filter((name) => !name.endsWith(".yaml") && !name.includes(".night-"));
  const photos = images.map((name) => {
    const id = name.replace(/\..*$/, ""),
      night = names.find((other) => other.startsWith(`${id}.night-`));
    return {
      id,
      ...(night ? { night: `cart/photos/${night}` } : {}),
      file: `cart/photos/${name}`,
      ...(names.includes(`${id}.yaml`) ? { sidecar: `cart/photos/${id}.yaml` } : {}),
    };
  });
  const files = { platforms: [{ id: "cart", procedures: [{ file }], photos }] };
  return { folder: root, now: () => Promise.resolve({ files }) } as unknown as CollectionReader;
};
const send = (address: string, head: object, bytes: Buffer = Buffer.alloc(0)) =>
  takePicture(readerOf(), address, Buffer.concat([Buffer.from(`${JSON.stringify(head)}\n`), bytes]));
const take = (bytes: Buffer, { fileName = "IMG_1.JPG", alt = "Pins: in", number = 1 } = {}) =>
  send(
    "take-photo",
    { platform: "cart", fileName, alt, step: { file, basedOn: contentHash(readFileSync(join(root, file))), number } },
    bytes,
  );
const hashes = (id: string) => ({
  image: contentHash(readFileSync(join(root, `cart/photos/${id}.jpg`))),
  sidecar: contentHash(readFileSync(join(root, `cart/photos/${id}.yaml`))),
});

describe("a picture that is taken in", () => {
  it("is upright, without metadata, with its day; the step shows it, and no other byte is another", async () => {
    expect(await take(await phonePicture(40))).toMatchObject({ file, result: { saved: true } });
    expect(everything()).toEqual([...NOTHING, "cart/photos/fit-1.jpg", "cart/photos/fit-1.yaml"]);
    expect(read(file)).toBe(PROCEDURE.replace("{by=lead}", "{by=lead photo=fit-1}"));
    expect(read("cart/photos/fit-1.yaml")).toBe('alt: "Pins: in"\ntaken: 2026-05-07\n');
    const { width, height, exif, orientation } = await sharp(join(root, "cart/photos/fit-1.jpg")).metadata();
    expect([width, height, exif, orientation]).toEqual([1200, 1600, undefined, undefined]);
    await take(
      await sharp(await phonePicture(90))
        .png()
        .toBuffer(),
    );
    await take(
      await sharp(await phonePicture(90))
        .webp()
        .toBuffer(),
    );
    expect(read(file)).toBe(PROCEDURE.replace("{by=lead}", '{by=lead photo="fit-1 fit-2 fit-3"}'));
    // All three files of a save are taken back with one press.
    undo(root, file);
    undo(root, file);
    undo(root, file);
    expect([everything(), read(file)]).toEqual([NOTHING, PROCEDURE]);
  });

  it("takes no name that another file has, whatever its ending", async () => {
    writeFileSync(join(root, "cart/photos/fit-1.heic"), "");
    writeFileSync(join(root, "cart/photos/FIT-2.PNG"), "");
    await take(await phonePicture(40));
    expect(read(file)).toContain("photo=fit-3");
  });

  const refused = async (bytes: Buffer, what: RegExp, more = {}) => {
    expect(await take(bytes, more)).toEqual({ refused: expect.stringMatching(what) });
    expect([everything(), read(file)]).toEqual([NOTHING, PROCEDURE]);
  };

  it("is refused in a sentence, with nothing written: no picture, empty, HEIC, too many pixels", async () => {
    await refused(
      Buffer.from("A list of pins"),
      /^“IMG_1.JPG” is no picture that can be read here.*Nothing was written/,
    );
    await refused(Buffer.from("<svg xmlns='http://www.w3.org/2000/svg'/>"), /is no picture that can be read/);
    await refused(Buffer.alloc(0), /“IMG_1.JPG” is empty\. .*choose it anew/);
    await refused(Buffer.from("\0\0\0\x18ftypheic\0\0\0\0mif1heic", "latin1"), /newer phones \(HEIC\).*JPEG or PNG/);
    const large = sharp({ create: { width: 9_000, height: 7_000, channels: 3, background: "#888" } });
    await refused(await large.png().toBuffer(), /more than 60 million pixels\. Save it smaller/);
    await refused(await phonePicture(1), /Say first what the photo shows/, { alt: " \n " });
    await refused(await phonePicture(1), /There is no step 7/, { number: 7 });
  }, 60_000);

  /** 64 × 48 pixels, HEVC in HEIF (ISO/IEC 23008-12), made with `heif-enc` of libheif 1.15 (Debian) and its x265. */
  it("is refused as HEIC, whole or broken off, with what to do at the desk and at the phone", async () => {
    const whole = readFileSync(join(project, "tests/fixtures/pictures/phone.heic"));
    expect(await sharp(whole).metadata()).toMatchObject({ format: "heif", compression: "hevc", width: 64, height: 48 });
    for (const share of [1, 0.7, 0.3])
      await refused(
        whole.subarray(0, Math.floor(whole.length * share)),
        /^“IMG_1.JPG” is of a form of newer phones \(HEIC\).*choose that\. .*set the phone's camera to JPEG\. Nothing/,
      );
  }, 60_000);

  it("is refused wherever it breaks off, as JPEG, PNG and WebP", async () => {
    const noise = sharp({
      create: {
        width: 640,
        height: 480,
        channels: 3,
        background: "#888",
        noise: { type: "gaussian", mean: 128, sigma: 40 },
      },
    });
    for (const whole of [await noise.jpeg().toBuffer(), await noise.png().toBuffer(), await noise.webp().toBuffer()])
      for (const share of [0.02, 0.2, 0.5, 0.9, 0.99])
        await refused(
          whole.subarray(0, Math.floor(whole.length * share)),
          /breaks off or is damaged.*Take it from the camera/,
        );
  }, 60_000);

  it("is not written where the procedure was changed elsewhere: what it says now is given", async () => {
    const head = { platform: "cart", fileName: "a", alt: "b", step: { file, basedOn: contentHash("old"), number: 1 } };
    expect(await send("take-photo", head, await phonePicture(4))).toMatchObject({
      result: { changed: [{ path: file, theirs: PROCEDURE.slice(0), hash: contentHash(PROCEDURE) }] },
    });
    expect(everything()).toEqual(NOTHING);
    // Nor is anything read that is no procedure of the collection.
    const other = { ...head, step: { ...head.step, file: "../../../etc/passwd" } };
    expect(await send("take-photo", other, await phonePicture(4))).toEqual({
      refused: expect.stringMatching(/no such procedure/),
    });
  });

  it("takes another's place with marks and crop kept or begun anew; the rest of the sidecar stays", async () => {
    await take(await phonePicture(40));
    const beside =
      "# of the foot end\nalt: Pins\ntaken: 2026-05-07\nshows: [pin]\nmarks: [{ n: 1, x: 0.3, y: 0.4, label: Pin }]\n";
    writeFileSync(join(root, "cart/photos/fit-1.yaml"), beside);
    const png = await sharp({ create: { width: 80, height: 60, channels: 3, background: "#123" } })
      .png()
      .toBuffer();
    const head = { platform: "cart", id: "fit-1", fileName: "new.png", alt: "Pins, all in" };
    // Its picture for dark screens would show what was there before.
    const putNight = () => {
      const of = createHash("sha256")
        .update(readFileSync(join(root, "cart/photos/fit-1.jpg")))
        .digest("hex");
      writeFileSync(join(root, `cart/photos/fit-1.night-${of.slice(0, 8)}.webp`), "dark");
    };
    const nights = () => everything().filter((path) => path.includes(".night-"));
    putNight();
    expect(nights()).toHaveLength(1);
    await send("replace-photo", { ...head, basedOn: hashes("fit-1"), marks: "keep" }, png);
    expect(nights()).toEqual([]);
    const kept = beside.replace("alt: Pins", "alt: Pins, all in").replace("taken: 2026-05-07\n", "");
    expect(read("cart/photos/fit-1.yaml")).toBe(kept);
    expect((await sharp(join(root, "cart/photos/fit-1.jpg")).metadata()).width).toBe(80);
    await send("replace-photo", { ...head, basedOn: hashes("fit-1"), marks: "drop" }, png);
    expect(read("cart/photos/fit-1.yaml")).toBe(kept.replace(/marks:.*\n/, ""));
    // A picture that somebody else has put there meanwhile stays.
    const stale = hashes("fit-1");
    writeFileSync(join(root, "cart/photos/fit-1.jpg"), "theirs");
    expect(await send("replace-photo", { ...head, basedOn: stale, marks: "keep" }, png)).toEqual({
      refused: expect.stringMatching(/changed elsewhere meanwhile/),
    });
    expect(read("cart/photos/fit-1.jpg")).toBe("theirs");
    putNight();
    await send("remove-photo", { platform: "cart", id: "fit-1", basedOn: hashes("fit-1") });
    expect(everything()).toEqual(NOTHING);
  });
});

describe("a disk or a kill in the way", () => {
  const taker = join(project, "tests/fixtures/take-photos.ts"),
    picture = join(work, "phone.jpg");

  it("is a sentence where the folder may not be written, with nothing changed", async () => {
    writeFileSync(picture, await phonePicture(9));
    const isSuperuser = process.getuid?.() === 0;
    // Whoever it runs as may write the states of the day.
    mkdirSync(join(work, "cache/desk"), { recursive: true });
    for (const folder of [work, root, join(work, "cache"), join(work, "cache/desk")]) chmodSync(folder, 0o777);
    chmodSync(join(root, "cart/photos"), 0o555);
    const { stdout, stderr } = spawnSync(node, [taker, root, picture, isSuperuser ? "65534" : "-", "once"], {
      encoding: "utf8",
    });
    expect(stderr).toBe("");
    expect(JSON.parse(stdout)).toEqual({
      refused: "It can't be saved, since you may not write or read there: nothing was changed",
    });
    expect([everything(), read(file)]).toEqual([NOTHING, PROCEDURE]);
  }, 60_000);

  it("leaves picture, sidecar and procedure together, killed at a dozen moments while it takes them in", async () => {
    writeFileSync(
      picture,
      await sharp({ create: { width: 300, height: 200, channels: 3, background: "#345" } })
        .jpeg()
        .toBuffer(),
    );
    let littered = 0,
      taken = 0;
    // A busy machine may miss the middle of a save twelve times: until it was met, within reason.
    for (let round = 0; round < 12 || (littered === 0 && round < 60); round += 1) {
      const child = spawn(node, [taker, root, picture, "-", "on"], { stdio: ["ignore", "pipe", "inherit"] });
      // It says a dot before each; the first takes longer.
      let dots = 0;
      await new Promise<void>((done) => child.stdout.on("data", (said: Buffer) => (dots += said.length) > 2 && done()));
      await new Promise((done) => setTimeout(done, (round * 37) % 101));
      const gone = new Promise((done) => child.once("exit", done));
      child.kill("SIGKILL");
      await gone;
      if (everything().some((name) => /\.(?:part|old)$/.test(name))) littered += 1;
      expect(startSaving(root)).toBeUndefined();
      const ids = (ending: string) =>
        everything(join(root, "cart/photos"))
          .filter((name) => name.endsWith(ending))
          .map((name) => name.slice(0, -ending.length));
      const shown = (/photo="?([^"}]*)/.exec(read(file))?.[1] ?? "").split(" ").filter(Boolean).sort();
      expect(ids(".jpg")).toEqual(shown);
      expect(ids(".yaml")).toEqual(shown);
      expect(everything().filter((name) => /(^|\/)\./.test(name))).toEqual([]);
      for (const id of shown) {
        expect(read(`cart/photos/${id}.yaml`)).toBe('alt: "Pins: in"\n');
        await sharp(join(root, `cart/photos/${id}.jpg`), { failOn: "error" }).stats();
      }
      taken = shown.length;
    }
    // It did take some, and was killed in the middle of a save: otherwise this shows nothing.
    expect(taken).toBeGreaterThan(10);
    expect(littered).toBeGreaterThan(0);
  }, 300_000);
});
