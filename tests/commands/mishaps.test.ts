/**
 * What goes wrong with records in a shared folder or a repository: a lost frozen file, two machines that issue the same
 * number, files put back to an older state, a clock that is a year off. Each ends in a finding or a refusal. Common
 * practice, no source.
 */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { runHere } from "./run-here.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-mishaps-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
let folder = "",
  runs = 0;

const rerig = (today: string, ...args: string[]) => runHere([...args, "--procedures", folder], today);
const path = (file: string) => join(folder, file);
function edit(file: string, ...pairs: readonly (readonly [RegExp, string])[]): void {
  let text = readFileSync(path(file), "utf8");
  for (const [old, now] of pairs) {
    expect(text).toMatch(old);
    text = text.replace(old, now);
  }
  writeFileSync(path(file), text);
}
/** Raises the procedure's revision to 2, with other words, and issues it. */
const raise = (words = "Open both bed straps wide.") =>
  edit(
    "sled/change-to-shell.mdx",
    [/^revision: 1$/m, "revision: 2"],
    [/^effective: .*$/m, "effective: 2026-03-16"],
    [/\n---\n/, "\nchanges: [{ revision: 2, date: 2026-03-01, by: Training officer, summary: Wider. }]\n---\n"],
    [/Open both bed straps.*\.$/m, words],
  );
interface Said {
  readonly rule: string;
  readonly severity: string;
  readonly file: string;
  readonly message: string;
}
const check = async (today: string, ...args: string[]): Promise<Said[]> =>
  (JSON.parse((await rerig(today, "check", "--json", ...args)).stdout) as { findings: Said[] }).findings;
const records = async (today: string) => (await check(today)).filter(({ rule }) => /^(?:record|text)\//.test(rule));

beforeEach(async () => {
  folder = join(work, String((runs += 1)));
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
  expect((await rerig("2026-02-01", "issue")).status).toBe(0);
});

describe("a frozen file that is gone", () => {
  const lost = async (id: string, today: string) => {
    rmSync(path(`issued/sled/${id}.json`));
    return (await records(today)).map(({ rule, severity, message }) => [rule, severity, message]);
  };

  it("is an error if others were issued in the same run", async () => {
    expect(await lost("fit-oxygen@1", "2026-04-01")).toEqual([
      ["record/issue-lost", "error", expect.stringContaining("`sled/fit-oxygen@1` was issued together with this one")],
    ]);
  });

  it("is an error if a later revision is there", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    expect((await lost("change-to-shell@1", "2026-04-01")).map(([rule]) => rule)).toContain("record/issue-lost");
  });

  it("is an error if anything was issued after it", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    edit(
      "sled/options/oxygen.mdx",
      [
        /\n---\n/,
        "\nrevision: 2\nchanges: [{ revision: 2, date: 2026-03-11, by: Training officer, summary: Yellow. }]\n---\n",
      ],
      [/shut, no yellow/, "shut, no yellow seen"],
    );
    expect((await rerig("2026-03-12", "issue")).status).toBe(0);
    expect(await lost("change-to-shell@2", "2026-04-01")).toEqual([
      ["record/issue-lost", "error", expect.stringContaining("`sled/change-to-shell@2` was there when this one")],
      ["record/not-issued", "warning", expect.stringContaining("revision 1 counts")],
    ]);
  });

  it("is an error if it was issued alone and a card's edition says that it was in force with it", async () => {
    edit(
      "sled/configurations/child-shell.mdx",
      [
        /\n---\n/,
        "\nrevision: 2\nchanges: [{ revision: 2, date: 2026-03-09, by: Training officer, summary: Down. }]\n---\n",
      ],
      [/two, clip across/, "two, clip across and down"],
    );
    expect((await rerig("2026-03-10", "issue", "child-shell")).status).toBe(0);
    expect((await lost("child-shell@2", "2026-04-01")).filter(([rule]) => rule === "record/issue-lost")).toEqual([
      [
        "record/issue-lost",
        "error",
        "The frozen issue `sled/child-shell@2` was in force with this card and is missing",
      ],
    ]);
  });

  it("is an error if it is a card's newest edition and anything was issued after it", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    expect((await lost("card-vacuum-mattress@1", "2026-04-01")).map(([, , message]) => message)).toContain(
      "The frozen issue `sled/card-vacuum-mattress@1` was there when this one was issued and is missing",
    );
  });

  it("is said of the very last one by its file, which is not issued any more", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    expect(await lost("change-to-shell@2", "2026-04-01")).toEqual([
      ["record/not-issued", "warning", "Revision 2 is approved for 2026-03-16 and is not issued: revision 1 counts"],
    ]);
  });
});

describe("two machines that issue the same number", () => {
  it("in one folder: the second is refused, and what the first wrote stays", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    const first = readFileSync(path("issued/sled/change-to-shell@2.json"), "utf8");
    edit("sled/change-to-shell.mdx", [/straps wide/, "straps very wide"]);
    const second = await rerig("2026-03-10", "issue", "change-to-shell");
    expect(second.status).toBe(1);
    expect(second.stderr).toContain("no longer what was issued");
    expect(readFileSync(path("issued/sled/change-to-shell@2.json"), "utf8")).toBe(first);
  });

  it("in two copies, of which one keeps its issue and the other its text: an error", async () => {
    const other = `${folder}-other`;
    raise("Open both bed straps, first way.");
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    const own = folder;
    cpSync(own, other, { recursive: true });
    folder = other;
    rmSync(path("issued/sled/change-to-shell@2.json"));
    edit("sled/change-to-shell.mdx", [/first way/, "second way"]);
    expect((await rerig("2026-03-10", "issue", "change-to-shell")).status).toBe(0);
    const [one, two] = [own, other].map((each) => join(each, "issued/sled/change-to-shell@2.json"));
    expect(readFileSync(one!, "utf8")).not.toBe(readFileSync(two!, "utf8"));
    cpSync(one!, two!);
    expect((await records("2026-04-01")).map(({ rule, severity }) => [rule, severity])).toEqual([
      ["record/revision-not-raised", "error"],
    ]);
  });

  it("whose issues were merged with marks of a conflict, or kept under another name: a finding", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    const text = readFileSync(path("issued/sled/change-to-shell@2.json"), "utf8");
    writeFileSync(path("issued/sled/change-to-shell@2.json"), `<<<<<<< here\n${text}=======\n${text}>>>>>>> there\n`);
    expect((await records("2026-04-01")).map(({ rule, severity }) => [rule, severity])).toContainEqual([
      "text/syntax",
      "error",
    ]);
    writeFileSync(path("issued/sled/change-to-shell@2.json"), text);
    writeFileSync(path("issued/sled/change-to-shell@2 (conflicted copy).json"), text);
    expect((await records("2026-04-01")).map(({ file }) => file)).toEqual([
      "issued/sled/change-to-shell@2 (conflicted copy).json",
    ]);
  });

  it("and one renamed its issue to the next number: an error", async () => {
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
    renameSync(path("issued/sled/change-to-shell@2.json"), path("issued/sled/change-to-shell@3.json"));
    const errors = (await records("2026-04-01")).filter(({ severity }) => severity === "error");
    expect(errors.map(({ rule }) => rule)).toContain("record/issue-altered");
  });
});

it("a text put back to the state before its issue is an error, and what was issued counts", async () => {
  const old = readFileSync(path("sled/change-to-shell.mdx"), "utf8");
  raise();
  expect((await rerig("2026-03-10", "issue")).status).toBe(0);
  writeFileSync(path("sled/change-to-shell.mdx"), old);
  expect((await records("2026-04-01")).map(({ rule, message }) => [rule, message])).toEqual([
    ["record/revision-not-raised", "`revision` is 1, but revision 2 was issued"],
  ]);
  const changeover = await rerig(
    "2026-04-01",
    ...["changeover", "--from", "vacuum-mattress", "--to", "child-shell", "--weight", "10 kg"],
  );
  expect(changeover.stdout).toContain("straps wide");
});

describe("`git stash`", () => {
  const git = (...args: string[]) => {
    const who = ["-c", "user.name=Training officer", "-c", "user.email=officer@example.org"];
    const { status, stderr } = spawnSync("git", [...who, ...args], { cwd: folder, encoding: "utf8" });
    expect([args, status, stderr]).toEqual([args, 0, expect.any(String)]);
  };
  const asked = async () => (await rerig("2026-04-01", ...WAY)).stdout;
  const WAY = ["changeover", "--from", "vacuum-mattress", "--to", "child-shell", "--weight", "10 kg"];
  beforeEach(async () => {
    git("init", "--quiet");
    git("add", "--all");
    git("commit", "--quiet", "--message", "Revision 1");
    raise();
    expect((await rerig("2026-03-10", "issue")).status).toBe(0);
  });

  it("takes the text away and leaves the new issue: an error, and what was issued counts", async () => {
    const before = await asked();
    git("stash", "--quiet");
    expect((await records("2026-04-01")).map(({ rule, severity }) => [rule, severity])).toEqual([
      ["record/revision-not-raised", "error"],
    ]);
    expect(await asked()).toBe(before);
    expect((await rerig("2026-04-01", "build", "--out", join(work, "never"))).status).toBe(1);
    expect((await rerig("2026-04-01", "issue")).status).toBe(1);
    git("stash", "pop", "--quiet");
    expect([await records("2026-04-01"), await asked()]).toEqual([[], before]);
  });

  it("takes text and issue away: all is as it was before, and back again", async () => {
    const before = await asked();
    git("stash", "--quiet", "--include-untracked");
    expect(await records("2026-04-01")).toEqual([]);
    expect(await asked()).not.toContain("straps wide");
    git("stash", "pop", "--quiet");
    expect([await records("2026-04-01"), await asked()]).toEqual([[], before]);
  });

  it("takes only the issue away: its text says that it is not issued, and what was issued before counts", async () => {
    git("stash", "push", "--quiet", "--include-untracked", "--", "issued");
    expect((await records("2026-04-01")).map(({ rule, message }) => [rule, message])).toEqual([
      ["record/not-issued", "Revision 2 is approved for 2026-03-16 and is not issued: revision 1 counts"],
    ]);
    expect(await asked()).not.toContain("straps wide");
  });
});

describe("a clock that is a year off", () => {
  it.each([
    ["check"],
    ["choose", "--weight", "10 kg"],
    ["changeover", "--from", "vacuum-mattress", "--to", "child-shell"],
    ["load", "--configuration", "child-shell"],
    ["folders"],
    ["issue"],
    ["build"],
  ])("and behind: `%s` answers nothing", async (...args) => {
    const { status, stdout, stderr } = await rerig("2025-02-01", ...args);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toContain("it is 2025-02-01, but issued/sled/");
    expect(stderr).toContain("the clock is behind, or was ahead on that day");
  });

  it("and behind what only a card's edition says: it answers nothing either", async () => {
    edit(
      "sled/equipment.yaml",
      [/name: Oxygen bottle/, "name: Small oxygen bottle"],
      [/name: Child shell/, "name: Shell"],
    );
    const issued = await rerig("2026-06-01", "issue");
    expect(issued.stderr).toContain("edition");
    const { status, stdout, stderr } = await rerig("2026-03-01", "choose", "--weight", "10 kg");
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/issued\/sled\/card-(?:child-shell|vacuum-mattress)@2\.json was issued on 2026-06-01/);
  });

  it("and behind is no matter for a day that is asked for", async () => {
    const { status, stdout } = await rerig("2025-02-01", "choose", "--weight", "10 kg", "--on", "2026-02-01", "--json");
    expect([status, (JSON.parse(stdout) as { configurations: string[] }).configurations]).toEqual([0, ["child-shell"]]);
  });

  it("lets a day pass that has begun elsewhere", async () => {
    expect((await rerig("2026-01-31", "choose", "--weight", "10 kg")).status).toBe(0);
  });

  it("and ahead: every review that its day leaves behind is a finding", async () => {
    const overdue = async (today: string) =>
      (await check(today)).filter(({ rule }) => rule === "record/review-overdue").map(({ file }) => file);
    expect(await overdue("2026-02-01")).toEqual([]);
    expect((await overdue("2032-02-01")).length).toBeGreaterThan(2);
  });
});

describe("a procedure that is withdrawn and still included", () => {
  const FIT = "sled/fit-oxygen.mdx";
  const included = async (today: string) =>
    (await check(today)).filter(({ rule }) => rule === "record/withdrawn-included").map(({ file }) => file);
  beforeEach(async () => {
    folder = join(work, `${runs}-included`);
    const fixtures = resolve(import.meta.dirname, "../fixtures");
    cpSync(join(fixtures, "collections/sled"), folder, { recursive: true });
    cpSync(join(fixtures, "rules/record/withdrawn-included/ok"), folder, { recursive: true });
    expect((await rerig("2026-02-01", "issue")).status).toBe(0);
    edit(
      "sled/look-at-bottle.mdx",
      [/^revision: 1$/m, "revision: 2"],
      [/^status: approved$/m, "status: withdrawn"],
      [/^effective: .*$/m, "effective: 2026-06-01"],
    );
  });

  it("is said from the day on which it is withdrawn, not from the day on which that was written", async () => {
    expect(await included("2026-05-31")).toEqual([]);
    expect(await included("2026-06-01")).toEqual([FIT]);
  });

  it("is said while what is in force includes it, whatever a draft says", async () => {
    edit(
      FIT,
      [/^revision: 1$/m, "revision: 2"],
      [/^status: approved$/m, "status: draft"],
      [/^::include.*$/m, "Look at it."],
      [/\n---\n/, "\nchanges: [{ revision: 2, date: 2026-03-01, by: Training officer, summary: No look. }]\n---\n"],
    );
    expect(await included("2026-06-01")).toEqual([FIT]);
  });
});
