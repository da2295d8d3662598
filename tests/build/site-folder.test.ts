/**
 * A site that is built again takes what is alike from the site before it, which nothing that happens to the new one may
 * change: link(2), a file has as many names as links and one content.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { SiteFolder } from "../../src/site/site-folder.ts";

let root: string, earlier: string, fresh: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "rerig-folder-"));
  earlier = join(root, "earlier");
  fresh = join(root, "fresh");
  mkdirSync(join(earlier, "a/b"), { recursive: true });
  mkdirSync(fresh);
  writeFileSync(join(earlier, "a/b/same.html"), "as it was");
  writeFileSync(join(earlier, "a/other.html"), "before");
});
afterEach(() => {
  rmSync(root, { recursive: true, force: true });
});

const inode = (...path: string[]) => statSync(join(...path)).ino;
const text = (...path: string[]) => readFileSync(join(...path), "utf8");

describe("a site over an earlier one", () => {
  test("takes from it what says the same, as the same file on the disk", async () => {
    await new SiteFolder(fresh, earlier).write("a/b/same.html", "as it was");
    expect(inode(fresh, "a/b/same.html")).toBe(inode(earlier, "a/b/same.html"));
  });

  test("writes what says something else, of the same length too, and leaves the earlier site as it is", async () => {
    const site = new SiteFolder(fresh, earlier);
    await site.write("a/other.html", "beyond");
    await site.write("a/b/same.html", Buffer.from("as it is, now and later"));
    expect([text(fresh, "a/other.html"), text(fresh, "a/b/same.html")]).toEqual(["beyond", "as it is, now and later"]);
    expect([text(earlier, "a/other.html"), text(earlier, "a/b/same.html")]).toEqual(["before", "as it was"]);
  });

  test("is written over where it has the file already, and the earlier site is not", async () => {
    const site = new SiteFolder(fresh, earlier);
    await site.write("a/b/same.html", "as it was");
    await site.write("a/b/same.html", "otherwise");
    expect([text(fresh, "a/b/same.html"), text(earlier, "a/b/same.html")]).toEqual(["otherwise", "as it was"]);
  });

  test("copies what is not alike, takes what is, and says which file is not there", async () => {
    const [alike, unlike] = [join(root, "alike"), join(root, "unlike")];
    writeFileSync(alike, "as it was");
    writeFileSync(unlike, "as it wax");
    const site = new SiteFolder(fresh, earlier);
    await site.copy(unlike, "a/other.html");
    await site.copy(alike, "a/b/same.html");
    expect(text(fresh, "a/other.html")).toBe("as it wax");
    expect(inode(fresh, "a/b/same.html")).toBe(inode(earlier, "a/b/same.html"));
    expect(inode(fresh, "a/b/same.html")).not.toBe(inode(alike));
    const nothing = new SiteFolder(join(root, "another"), earlier);
    await expect(nothing.copy(join(root, "nowhere"), "a/b/same.html")).rejects.toThrow("nowhere");
    expect(existsSync(join(root, "another/a/b/same.html"))).toBe(false);
  });

  test("is written alike where there is no earlier one, or a folder has the file's name", async () => {
    const alone = new SiteFolder(fresh, join(root, "never"));
    await alone.write("x/y.html", "new");
    expect(text(fresh, "x/y.html")).toBe("new");
    mkdirSync(join(earlier, "a/folder.html"));
    await new SiteFolder(fresh, earlier).write("a/folder.html", "a file now");
    expect(text(fresh, "a/folder.html")).toBe("a file now");
  });

  test("stays when the earlier site is removed", async () => {
    await new SiteFolder(fresh, earlier).write("a/b/same.html", "as it was");
    rmSync(earlier, { recursive: true });
    expect(text(fresh, "a/b/same.html")).toBe("as it was");
  });

  test("asks nobody for what it has written from the same, unless somebody else has written it since", async () => {
    const first = new SiteFolder(fresh, join(root, "never")),
      [a, b] = [{}, {}];
    await first.writeAs("a/known.html", [a, b], () => "as it was");
    let asked = 0;
    const say = (text: string) => () => {
      asked += 1;
      return text;
    };
    const next = (name: string) => new SiteFolder(join(root, name), fresh, first.written);
    const second = next("second");
    await second.writeAs("a/known.html", [a, b], say("as it was"));
    expect([asked, inode(root, "second/a/known.html")]).toEqual([0, inode(fresh, "a/known.html")]);
    // FIPS 180-4, by another program: printf 'as it was' | sha256sum
    expect(await second.digest("a/known.html")).toEqual({
      bytes: 9,
      hash: "369b74f2003ce39f5829ec7a2f84852b72b610d0312c8951d5d8f7316c9902ba",
    });
    await next("third").writeAs("a/known.html", [a, {}], say("otherwise"));
    expect([asked, text(root, "third/a/known.html")]).toEqual([1, "otherwise"]);
    writeFileSync(join(fresh, "a/known.html"), "as it isn");
    await next("fourth").writeAs("a/known.html", [a, b], say("as it was"));
    expect([asked, text(root, "fourth/a/known.html")]).toEqual([2, "as it was"]);
    expect(text(fresh, "a/known.html")).toBe("as it isn");
  });
});
