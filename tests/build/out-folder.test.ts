/** A build replaces nothing but a site of its own, and a site whose replacement was stopped comes back. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { isRunning } from "../../src/build/is-running.ts";
import { bringBack, MARKER, outFolderFor, outPdfFor } from "../../src/build/out-folder.ts";
import { CannotRun, sayRefusal } from "../../src/findings/cannot-run.ts";

const program = resolve(import.meta.dirname, "../..");
let work: string, collection: string, home: string;
const ask = (out: string) => outFolderFor(out, collection, program, home);
const write = (path: string) => {
  mkdirSync(dirname(join(work, path)), { recursive: true });
  writeFileSync(join(work, path), "mine");
};

beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), "rerig-out-"));
  [collection, home] = [join(work, "home/papers/collection"), join(work, "home")];
  write("home/papers/collection/service.yaml");
});
afterEach(() => rmSync(work, { recursive: true, force: true }));

describe("the folder of a site", () => {
  it("is one that is absent, empty, or was made by a build", () => {
    expect(ask(join(work, "home/site"))).toBe(join(work, "home/site"));
    mkdirSync(join(work, "home/empty"));
    expect(ask(join(work, "home/empty"))).toBe(join(work, "home/empty"));
    write(`home/made/${MARKER}`);
    write("home/made/index.html");
    expect(ask(join(work, "home/made"))).toBe(join(work, "home/made"));
    expect(ask(join(program, "dist-of-a-test"))).toBe(join(program, "dist-of-a-test"));
  });

  it.each([
    ["the collection", "home/papers/collection", /this is your collection/],
    ["a folder that holds the collection", "home/papers", /holds your collection/],
    ["a folder in the collection", "home/papers/collection/site", /lies in your collection/],
    ["the home folder", "home", /holds your collection|home folder/],
    ["a folder with a person's files", "home/letters", /`letter\.txt` that no build made/],
    ["a folder whose page is called index.html", "home/pages", /that no build made/],
    ["a file", "home/letters/letter.txt", /there is a file of that name/],
    ["a link to the collection", "home/link", /this is your collection/],
    ["a folder behind a link into the collection", "home/link/site", /lies in your collection/],
    ["a path that steps back into the collection", "home/letters/../papers/collection", /this is your collection/],
  ])("is never %s: nothing is touched, and the sentence says why", (_, out, why) => {
    write("home/letters/letter.txt");
    write("home/pages/index.html");
    symlinkSync(collection, join(work, "home/link"));
    const before = readdirSync(work, { recursive: true }).sort();
    expect(() => ask(join(work, out))).toThrow(CannotRun);
    expect(() => ask(join(work, out))).toThrow(why);
    expect(readdirSync(work, { recursive: true }).sort()).toEqual(before);
  });

  it("is never the home folder itself, the whole disk, the program, nor one of the program's own folders", () => {
    const elsewhere = (out: string) => () => outFolderFor(out, collection, program, join(work, "other"));
    mkdirSync(join(work, "other"));
    expect(elsewhere(join(work, "other"))).toThrow(/home folder/);
    expect(elsewhere("/")).toThrow(/whole disk/);
    expect(elsewhere(program)).toThrow(/program's folder/);
    expect(elsewhere(join(program, ".."))).toThrow(/holds the program|home folder/);
    for (const name of ["src", "node_modules/.cache", "tests/site", ".git"])
      expect(elsewhere(join(program, name)), name).toThrow(/folder of the program/);
  });

  it("behind a link is the folder itself, so that the link stays", () => {
    write(`disk/site/${MARKER}`);
    symlinkSync(join(work, "disk/site"), join(work, "home/site"));
    expect(ask(join(work, "home/site"))).toBe(join(work, "disk/site"));
  });
});

describe("the file of a pack of cards", () => {
  it("is a PDF that is absent, empty, or was one before", () => {
    expect(outPdfFor(join(work, "cards.pdf"))).toBe(join(work, "cards.pdf"));
    writeFileSync(join(work, "empty.pdf"), "");
    expect(outPdfFor(join(work, "empty.pdf"))).toBe(join(work, "empty.pdf"));
    writeFileSync(join(work, "OLD.PDF"), "%PDF-1.4\n");
    expect(outPdfFor(join(work, "OLD.PDF"))).toBe(join(work, "OLD.PDF"));
  });

  it.each([
    ["a file of the collection", "home/papers/collection/service.yaml", /which is no PDF/],
    ["a letter that is called a PDF", "home/letter.pdf", /which is no PDF/],
    ["a folder", "home", /it is a folder/],
    ["a file in a folder that is not there", "home/none/cards.pdf", /there is no folder/],
    ["a file of another kind", "home/cards.docx", /does not end in `\.pdf`/],
  ])("is never %s", (_, out, why) => {
    write("home/letter.pdf");
    expect(() => outPdfFor(join(work, out))).toThrow(CannotRun);
    expect(() => outPdfFor(join(work, out))).toThrow(why);
  });
});

describe("a site whose replacement was stopped", () => {
  // A number that no process has: Linux gives at most 4,194,304 (proc(5), pid_max).
  const gone = 4_194_305;

  it("comes back if it had been set aside and the new one was not yet in its place", () => {
    write(`site/${MARKER}`);
    write("site/index.html");
    renameSync(join(work, "site"), join(work, `.site.old-${gone}`));
    write(`.site.new-${gone}/${MARKER}`);
    bringBack(join(work, "site"));
    expect(readdirSync(join(work, "site")).sort()).toEqual([MARKER, "index.html"]);
    expect(readdirSync(work).filter((name) => name.startsWith(".site"))).toEqual([]);
  });

  it("stays as it is if the new one is in its place", () => {
    write(`site/${MARKER}`);
    write(`.site.old-${gone}/${MARKER}`);
    write(`.site.new-${gone}/letter.txt`);
    bringBack(join(work, "site"));
    // A folder of such a name that no build made is left alone.
    expect(readdirSync(work).sort()).toEqual([`.site.new-${gone}`, "home", "site"]);
  });

  it("is left to a build that still runs, also one of another user", () => {
    write(`.site.old-${process.ppid}/${MARKER}`);
    bringBack(join(work, "site"));
    expect(existsSync(join(work, `.site.old-${process.ppid}`))).toBe(true);
  });
});

describe("a process", () => {
  it("runs, or has gone", () => {
    expect(isRunning(process.pid)).toBe(true);
    expect(isRunning(4_194_305)).toBe(false);
    expect(isRunning(0)).toBe(false);
    expect(isRunning(Number.NaN)).toBe(false);
  });

  it("of another user is there, though it may not be signalled (kill(2), EPERM)", () => {
    const kill = process.kill;
    process.kill = () => {
      throw Object.assign(new Error("kill EPERM"), { code: "EPERM" });
    };
    try {
      expect(isRunning(1)).toBe(true);
    } finally {
      process.kill = kill;
    }
  });
});

describe("what a disk refuses (errno(3), POSIX.1-2017)", () => {
  it("is told as a sentence that names the folder and what to do", () => {
    const error = Object.assign(new Error("ENOSPC: no space left on device"), { code: "ENOSPC", path: "/x/site" });
    expect(sayRefusal(error)).toBe(
      "Can't go on at /x/site: the disk is full. Make room on it, or name a folder on another disk, " +
        "and run the command again.",
    );
    expect(sayRefusal(new Error("something else"))).toBeUndefined();
    expect(sayRefusal(undefined)).toBeUndefined();
  });

  it("is met for real: a folder in a file", () => {
    write("home/letter.txt");
    try {
      mkdirSync(join(work, "home/letter.txt/site"), { recursive: true });
      expect.unreachable();
    } catch (error) {
      expect(sayRefusal(error)).toMatch(/a part of the path is a file/);
    }
    chmodSync(work, 0o700);
  });
});
