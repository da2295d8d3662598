/**
 * Guarded saving (common practice, no source: write beside, fsync, rename, fsync the folder). What it is compared with
 * are the files themselves: byte by byte, by another process's own `writeFile`, by `ls -A`, and by the system's
 * refusals (errno(3): EFBIG by a limit of the shell, EACCES as a user who is no superuser).
 */
import { spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { node, project, work } from "./work-folder.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { historyOf, redo, saveFiles, startSaving, textOfState, undo } from "../../src/desk/disk/save.ts";

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(work, "c-"));
  mkdirSync(join(root, "cart/photos"), { recursive: true });
});

const write = (path: string, text: string | Uint8Array) => writeFileSync(join(root, path), text);
const read = (path: string) => readFileSync(join(root, path), "utf8");
const based = (path: string) => contentHash(readFileSync(join(root, path)));
const everything = () => readdirSync(root, { recursive: true, encoding: "utf8" }).sort();

describe("a save", () => {
  it("writes all files of it, keeps their mode, makes a folder that is missing, and leaves nothing beside them", () => {
    write("cart/fit.mdx", "old");
    chmodSync(join(root, "cart/fit.mdx"), 0o640);
    const result = saveFiles(root, [
      { path: "cart/fit.mdx", basedOn: based("cart/fit.mdx"), text: "\ufeffnew\r\n" },
      { path: "cart/amendments/straps.mdx", basedOn: null, text: "fresh" },
    ]);
    expect(result).toEqual({
      saved: true,
      hashes: { "cart/fit.mdx": contentHash("\ufeffnew\r\n"), "cart/amendments/straps.mdx": contentHash("fresh") },
    });
    expect(read("cart/fit.mdx")).toBe("\ufeffnew\r\n");
    expect(statSync(join(root, "cart/fit.mdx")).mode & 0o777).toBe(0o640);
    expect(everything()).toEqual([
      "cart",
      "cart/amendments",
      "cart/amendments/straps.mdx",
      "cart/fit.mdx",
      "cart/photos",
    ]);
    expect(saveFiles(root, [{ path: "cart/fit.mdx", basedOn: based("cart/fit.mdx"), text: null }])).toHaveProperty(
      "saved",
    );
    expect(existsSync(join(root, "cart/fit.mdx"))).toBe(false);
  });

  it("writes nothing where one file was changed elsewhere, and gives both texts", () => {
    write("cart/fit.mdx", "mine");
    write("cart/photos/fit.yaml", "alt: a");
    const [one, two] = [based("cart/fit.mdx"), based("cart/photos/fit.yaml")];
    write("cart/photos/fit.yaml", "alt: theirs");
    const files = [
      { path: "cart/fit.mdx", basedOn: one, text: "new" },
      { path: "cart/photos/fit.yaml", basedOn: two, text: "alt: yours" },
      { path: "cart/new.mdx", basedOn: null, text: "x" },
    ];
    expect(saveFiles(root, files)).toEqual({
      changed: [
        {
          path: "cart/photos/fit.yaml",
          theirs: "alt: theirs",
          hash: contentHash("alt: theirs"),
          yours: "alt: yours",
        },
      ],
    });
    expect(everything()).toEqual(["cart", "cart/fit.mdx", "cart/photos", "cart/photos/fit.yaml"]);
    expect(read("cart/fit.mdx")).toBe("mine");
    // A file that came, and one that is gone.
    write("cart/new.mdx", "theirs");
    rmSync(join(root, "cart/photos/fit.yaml"));
    expect(saveFiles(root, files)).toMatchObject({
      changed: [
        { path: "cart/photos/fit.yaml", theirs: null, hash: null },
        { path: "cart/new.mdx", theirs: "theirs" },
      ],
    });
  });

  it.each([
    "../out.mdx",
    "cart/../../out.mdx",
    "/etc/x.yaml",
    "cart/fit.sh",
    "cart/.fit.mdx",
    "cart/fit.mdx~",
    "cart/Copy of fit.mdx",
    "issued/cart/fit@1.json",
    "issued/cart/fit.mdx",
    "issued/platform.yaml",
    "package.json",
    "cart/photos/_drawing/draw.ts",
    "cart\\fit.mdx",
    "cart/x\0.mdx",
    "",
  ])("refuses `%s`, which no collection has", (path) => {
    expect(saveFiles(root, [{ path, basedOn: null, text: "x" }])).toHaveProperty("refused");
    expect(everything()).toEqual(["cart", "cart/photos"]);
  });

  it("refuses a link that leads out, of a file and of a folder, and writes through one that stays inside", () => {
    const out = mkdtempSync(join(work, "out-"));
    writeFileSync(join(out, "a.mdx"), "a");
    symlinkSync(join(out, "a.mdx"), join(root, "cart/a.mdx"));
    symlinkSync(join(out, "none.mdx"), join(root, "cart/none.mdx"));
    symlinkSync(out, join(root, "far"));
    for (const path of ["cart/a.mdx", "cart/none.mdx", "far/a.mdx", "far/b.mdx"])
      expect(saveFiles(root, [{ path, basedOn: null, text: "x" }]), path).toHaveProperty("refused");
    expect(readdirSync(out)).toEqual(["a.mdx"]);
    expect(readFileSync(join(out, "a.mdx"), "utf8")).toBe("a");
    write("cart/real.mdx", "old");
    symlinkSync("real.mdx", join(root, "cart/link.mdx"));
    saveFiles(root, [{ path: "cart/link.mdx", basedOn: contentHash("old"), text: "new" }]);
    expect(read("cart/real.mdx")).toBe("new");
  });

  it("says so where the collection is gone", () =>
    expect(saveFiles(join(root, "none"), [])).toMatchObject({
      refused: expect.stringMatching(/is not there any more/),
    }));
});

describe("what was saved today", () => {
  const save = (text: string, more: readonly { path: string; basedOn: string | null; text: string }[] = []) =>
    saveFiles(root, [
      { path: "cart/fit.mdx", basedOn: existsSync(join(root, "cart/fit.mdx")) ? based("cart/fit.mdx") : null, text },
      ...more,
    ]);

  const states = () =>
    historyOf(root, "cart/fit.mdx").map(({ hash }) => (hash === null ? null : textOfState(root, hash)));

  it("is taken back and done again, all files of a save at once, down to the file that was not there", () => {
    save("one");
    save("two", [{ path: "cart/other.mdx", basedOn: null, text: "other" }]);
    save("three");
    expect(undo(root, "cart/fit.mdx")).toHaveProperty("saved");
    expect(read("cart/fit.mdx")).toBe("two");
    undo(root, "cart/fit.mdx");
    expect([read("cart/fit.mdx"), existsSync(join(root, "cart/other.mdx"))]).toEqual(["one", false]);
    redo(root, "cart/fit.mdx");
    expect([read("cart/fit.mdx"), read("cart/other.mdx")]).toEqual(["two", "other"]);
    undo(root, "cart/fit.mdx");
    undo(root, "cart/fit.mdx");
    expect(existsSync(join(root, "cart/fit.mdx"))).toBe(false);
    expect(undo(root, "cart/fit.mdx")).toEqual({ refused: "There is nothing to take back today" });
    redo(root, "cart/fit.mdx");
    save("four");
    expect(redo(root, "cart/fit.mdx")).toEqual({ refused: "There is nothing to do again" });
    const texts = states();
    expect(texts).toEqual(["four", "one", null, "one", "two", "one", "two", "three", "two", "one", null]);
  });

  it("is not taken back over a change made elsewhere", () => {
    save("one");
    save("two");
    write("cart/fit.mdx", "theirs");
    expect(undo(root, "cart/fit.mdx")).toMatchObject({ changed: [{ theirs: "theirs" }] });
    expect(read("cart/fit.mdx")).toBe("theirs");
    save("after theirs");
    expect(states()).toEqual(["after theirs", "theirs", "two", "one", null]);
  });

  it("is forgotten when a day has gone", () => {
    save("one");
    vi.useFakeTimers({ now: Date.now() + 25 * 3_600_000, toFake: ["Date"] });
    expect(startSaving(root)).toBeUndefined();
    vi.useRealTimers();
    expect(historyOf(root, "cart/fit.mdx")).toEqual([]);
  });
});

describe("a disk that refuses", () => {
  const once = (files: object[], { user = "-", shell = "" } = {}) => {
    const list = join(work, "files.json");
    writeFileSync(list, JSON.stringify(files));
    const command = `${shell} exec "$0" "$@"`;
    const child = spawnSync(
      "bash",
      ["-c", command, node, join(project, "tests/fixtures/save-once.ts"), root, user, list],
      { encoding: "utf8" },
    );
    expect(child.stderr).toBe("");
    return JSON.parse(child.stdout) as object;
  };

  it("for want of room says so and changes nothing (a limit of file size, met in the middle of a write)", () => {
    write("cart/fit.mdx", "old");
    write("cart/photos/fit.yaml", "alt: a");
    const files = [
      { path: "cart/fit.mdx", basedOn: based("cart/fit.mdx"), text: "new" },
      { path: "cart/photos/fit.yaml", basedOn: based("cart/photos/fit.yaml"), text: "x".repeat(200_000) },
    ];
    const before = everything();
    // In units of 1,024 bytes.
    expect(once(files, { shell: "ulimit -f 100;" })).toEqual({
      refused: "It can't be saved, since the file would be larger than the system allows: nothing was changed",
    });
    expect([everything(), read("cart/fit.mdx"), read("cart/photos/fit.yaml")]).toEqual([before, "old", "alt: a"]);
    expect(once(files)).toHaveProperty("saved");
  });

  it("for want of a right says so and changes nothing", () => {
    write("cart/fit.mdx", "old");
    const isSuperuser = process.getuid?.() === 0;
    chmodSync(join(root, "cart"), 0o555);
    // Whoever it runs as may write the states of the day.
    mkdirSync(join(work, "cache/desk"), { recursive: true });
    for (const folder of [work, root, join(work, "cache"), join(work, "cache/desk")]) chmodSync(folder, 0o777);
    const refused = once([{ path: "cart/fit.mdx", basedOn: based("cart/fit.mdx"), text: "new" }], {
      user: isSuperuser ? "65534" : "-",
    });
    expect(refused).toEqual({
      refused: "It can't be saved, since you may not write or read there: nothing was changed",
    });
    chmodSync(join(root, "cart"), 0o755);
    expect([everything(), read("cart/fit.mdx")]).toEqual([["cart", "cart/fit.mdx", "cart/photos"], "old"]);
  });
});
