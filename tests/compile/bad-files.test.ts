/**
 * Files that are no text, no picture or no file: each is one finding, or the answer that there is no collection, and
 * never a crash.
 */
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { loadCollection, NoCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";

const base = resolve(import.meta.dirname, "../fixtures/collections/sled"),
  work = mkdtempSync(join(tmpdir(), "rerig-bad-files-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

async function judge(file: string, content: Buffer | string | ((path: string) => void)): Promise<string[]> {
  const folder = mkdtempSync(join(work, "c-"));
  cpSync(base, folder, { recursive: true });
  rmSync(join(folder, file));
  if (typeof content === "function") content(join(folder, file));
  else writeFileSync(join(folder, file), content);
  const read = new Findings();
  const collection = await loadCollection(folder, read);
  return runRules(collection, read, "2026-06-01").map((finding) => `${finding.file}:${finding.line} ${finding.rule}`);
}

const texts = [
  "service.yaml",
  "incidents.yaml",
  "folders.yaml",
  "sled/platform.yaml",
  "sled/equipment.yaml",
  "sled/photos/bed.yaml",
  "sled/fit-oxygen.mdx",
  "sled/options/oxygen.mdx",
  "sled/configurations/child-shell.mdx",
  "sled/reading/why-two-pins.mdx",
];

describe.each(texts)("%s", (file) => {
  it("as UTF-16 text is one finding", async () => {
    expect(await judge(file, Buffer.from("\ufeffname: x\n", "utf16le"))).toEqual([`${file}:1 text/syntax`]);
  });

  it("with a zero byte is one finding, in its line", async () => {
    expect(await judge(file, "name: x\ntitle: \0 y\n")).toEqual([`${file}:2 text/syntax`]);
  });

  it("of ten megabytes is one finding", async () => {
    expect(await judge(file, Buffer.alloc(10_000_000, "a: b\n"))).toEqual([`${file}:1 text/bad-value`]);
  });
});

describe("a text nested without end", () => {
  it.each(["> ".repeat(3000), "- ".repeat(3000), "[".repeat(20_000)])(
    "is read or refused in words: %.6s",
    async (words) => {
      const found = await judge("sled/reading/why-two-pins.mdx", `---\ntitle: x\n---\n${words}x\n`);
      expect(found.filter((finding) => finding !== "sled/reading/why-two-pins.mdx:4 text/syntax")).toEqual([]);
    },
  );
});

describe("a picture for the night", () => {
  const beside = (name: string) =>
    judge("sled/photos/bed.jpg", (path) => {
      cpSync(join(base, "sled/photos/bed.jpg"), path);
      cpSync(path, join(dirname(path), name));
    });
  const of = createHash("sha256")
    .update(readFileSync(join(base, "sled/photos/bed.jpg")))
    .digest("hex")
    .slice(0, 8);

  it("belongs to the picture whose hash it names", async () => expect(await beside(`bed.night-${of}.jpg`)).toEqual([]));
  it.each(["bed.night-00000000.jpg", `chair.night-${of}.jpg`])("is said to be unread as %s", async (name) =>
    expect(await beside(name)).toEqual([`sled/photos/${name}:1 text/not-read`]),
  );
});

describe("a picture", () => {
  it.each([
    [
      "drawn as SVG",
      '<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="2000"><script>alert(1)</script></svg>',
    ],
    ["that is a GIF", Buffer.from("R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw==", "base64")],
    ["without a byte", ""],
  ])("%s is unreadable under the name of a JPEG", async (_, content) => {
    expect(await judge("sled/photos/bed.jpg", content)).toEqual(["sled/photos/bed.jpg:1 photo/unreadable"]);
  });
});

it("says that there is no collection when service.yaml is a link to itself", async () => {
  await expect(judge("service.yaml", (path) => symlinkSync(path, path))).rejects.toBeInstanceOf(NoCollection);
});
