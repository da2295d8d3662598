/** What is kept in the cache folder: found only whole, for its own question and version. Common practice, no source. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { clearShelf, shelfIn, versionOfCode } from "../../src/build/shelf.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-shelf-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** A shelf with one answer in a folder of its own, and the file that it is in. */
function begun(name: string) {
  const folder = join(work, name),
    shelf = shelfIn(folder, "1");
  shelf.put("proof", "which pin?", "the left pin — links");
  return { folder, shelf, file: join(folder, readdirSync(folder)[0]!) };
}

describe("the shelf", () => {
  it("finds what was put there for the same question, in another run too", () => {
    const { folder, shelf } = begun("plain");
    for (const each of [shelf, shelfIn(folder, "1")])
      expect(each.find("proof", "which pin?")).toBe("the left pin — links");
  });

  it("finds nothing for another question, another name or another version of the code", () => {
    const { folder, shelf } = begun("others");
    expect(shelf.find("proof", "which pin")).toBeUndefined();
    expect(shelf.find("slips", "which pin?")).toBeUndefined();
    expect(shelfIn(folder, "2").find("proof", "which pin?")).toBeUndefined();
  });

  it("finds nothing in a file that was cut anywhere, or in which any byte is another", () => {
    const { shelf, file } = begun("damaged");
    const whole = readFileSync(file);
    for (let at = 0; at < whole.length; at++) {
      truncateSync(file, at);
      expect(shelf.find("proof", "which pin?")).toBeUndefined();
      const flipped = Buffer.from(whole);
      flipped[at]! ^= 1 << (at % 8);
      writeFileSync(file, flipped);
      expect(shelf.find("proof", "which pin?")).toBeUndefined();
      writeFileSync(file, whole);
    }
    expect(shelf.find("proof", "which pin?")).toBeDefined();
  });

  it("finds nothing in a file that was kept for another question", () => {
    const { folder, shelf, file } = begun("swapped");
    shelf.put("proof", "which strap?", "the right strap");
    const other = readdirSync(folder)
      .map((name) => join(folder, name))
      .find((name) => name !== file)!;
    renameSync(other, file);
    expect(shelf.find("proof", "which pin?")).toBeUndefined();
  });

  it("goes without a folder that can't be made or written to", () => {
    const { folder, shelf } = begun("closed");
    chmodSync(folder, 0o500);
    expect(() => shelf.put("proof", "another", "x")).not.toThrow();
    expect(shelf.find("proof", "which pin?")).toBeDefined();
    chmodSync(folder, 0o700);
    writeFileSync(join(work, "file"), "");
    const nowhere = shelfIn(join(work, "file"), "1");
    expect(() => nowhere.put("proof", "which pin?", "x")).not.toThrow();
    expect(nowhere.find("proof", "which pin?")).toBeUndefined();
  });

  it("holds no more bytes than it may: the oldest files go, and no more of them than must", () => {
    const folder = join(work, "bytes");
    mkdirSync(folder);
    for (let at = 0; at < 10; at += 1) {
      writeFileSync(join(folder, `file-${at}`), "x".repeat(100 * (at + 1)));
      utimesSync(join(folder, `file-${at}`), at, at);
    }
    const left = () => readdirSync(folder).sort();
    clearShelf(folder, { files: 10, bytes: 5500 });
    expect(left()).toHaveLength(10);
    clearShelf(folder, { files: 10, bytes: 2699 });
    expect(left()).toEqual(["file-8", "file-9"].sort());
    clearShelf(folder, { files: 1, bytes: 2699 });
    expect(left()).toEqual(["file-9"]);
    clearShelf(folder, { files: 1, bytes: 999 });
    expect(left()).toEqual([]);
  });

  it("does not grow without bound: what was not asked for longest goes", () => {
    const folder = join(work, "many"),
      shelf = shelfIn(folder, "1");
    for (let n = 0; n < 2100; n++) shelf.put("proof", String(n), "x");
    expect(readdirSync(folder).length).toBeLessThanOrEqual(2000);
    expect(shelf.find("proof", "2099")).toBe("x");
  });

  it("is written by two processes at once, and each reads only whole answers of its own", async () => {
    const folder = join(work, "two"),
      module = JSON.stringify(resolve(import.meta.dirname, "../../src/build/shelf.ts")),
      code = `const { shelfIn } = await import(${module});
        const shelf = shelfIn(${JSON.stringify(folder)}, "1");
        for (let n = 0; n < 600; n++) {
          const question = String(n % 7), answer = "x".repeat(1000 * (1 + (n % 7)));
          shelf.put("proof", question, answer);
          const found = shelf.find("proof", question);
          if (found !== undefined && found !== answer) process.exit(3);
        }`;
    const ends = [1, 2].map(async () =>
      once(spawn(process.execPath, ["--input-type=module", "-e", code], { stdio: "inherit" }), "exit"),
    );
    expect((await Promise.all(ends)).map(([status]) => status as unknown)).toEqual([0, 0]);
    expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
    expect(readdirSync(folder)).toHaveLength(7);
  });
});

describe("the version of the code", () => {
  it("is another after an edit of any source or package, and the same again when it is taken back", () => {
    const root = join(work, "code"),
      file = join(root, "src/domain/run.ts");
    mkdirSync(join(root, "src/domain"), { recursive: true });
    writeFileSync(file, "export const most = 4;\n");
    const first = versionOfCode(root);
    writeFileSync(file, "export const most = 5;\n");
    const edited = versionOfCode(root);
    writeFileSync(file, "export const most = 4;\n");
    expect(versionOfCode(root)).toBe(first);
    writeFileSync(join(root, "src/domain/table.json"), "{}");
    const added = versionOfCode(root);
    writeFileSync(join(root, "package-lock.json"), "{}");
    expect(new Set([first, edited, added, versionOfCode(root)]).size).toBe(4);
  });

  it("is what the project's shelf asks by", () => {
    const folder = join(work, "own");
    shelfIn(folder).put("proof", "which pin?", "left");
    expect(shelfIn(folder, versionOfCode()).find("proof", "which pin?")).toBe("left");
    expect(shelfIn(folder, "1").find("proof", "which pin?")).toBeUndefined();
  });
});
