/**
 * A disk that is full while a file is saved (errno(3), ENOSPC): a plain sentence, the file as it was, nothing left
 * beside it. The disk is a real one of 128 kB in memory, where the machine lets a test mount it.
 */
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, readdirSync, readFileSync, statfsSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { project, work } from "./work-folder.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { saveFiles, startSaving } from "../../src/desk/disk/save.ts";

const disk = join(work, "disk"),
  folder = join(disk, "ours"),
  path = "trolley/equipment.yaml";
mkdirSync(disk);
const isMounted = mounts();
afterAll(() => {
  if (isMounted) execFileSync("umount", [disk]);
});

/** Whether a small disk could be mounted: only some machines let a test do that. */
function mounts(): boolean {
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=128k", "tmpfs", disk], { stdio: "ignore" });
    return true;
  } catch {
    console.warn("Not tried: this machine mounts no disk for a test, so none can be filled.");
    return false;
  }
}

describe.skipIf(!isMounted)("a full disk", () => {
  it("is said in a sentence; the files are as they were, and what fits is saved afterwards", () => {
    cpSync(join(project, "src/starter"), folder, { recursive: true });
    expect(startSaving(folder)).toBeUndefined();
    const before = readFileSync(join(folder, path), "utf8"),
      beside = readdirSync(join(folder, "trolley")),
      left = statfsSync(disk).bavail * statfsSync(disk).bsize;
    const tooLong = `${before}# ${"x".repeat(left)}\n`;
    const other = {
      path: "service.yaml",
      basedOn: contentHash(readFileSync(join(folder, "service.yaml"))),
      text: "name: X\n",
    };
    expect(saveFiles(folder, [other, { path, basedOn: contentHash(before), text: tooLong }])).toEqual({
      refused: "It can't be saved, since the disk is full: nothing was changed",
    });
    expect(readFileSync(join(folder, path), "utf8")).toBe(before);
    expect(contentHash(readFileSync(join(folder, "service.yaml")))).toBe(other.basedOn);
    expect(readdirSync(join(folder, "trolley"))).toEqual(beside);
    expect(readdirSync(folder).filter((name) => /part|old|~/.test(name))).toEqual([]);
    const text = `${before}# A little more.\n`;
    expect(saveFiles(folder, [{ path, basedOn: contentHash(before), text }])).toMatchObject({ saved: true });
    expect(readFileSync(join(folder, path), "utf8")).toBe(text);
  });
});
