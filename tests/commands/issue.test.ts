/** `rerig issue`: what it freezes, what it refuses, and that it writes all or nothing. */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { mendInterrupted, writeIssues } from "../../src/issuing/write-issues.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { contentOf, contentOfIssue, hashOf } from "../../src/domain/records/freeze.ts";
import { currentCards } from "../../src/domain/cards/cards-issued.ts";
import { effectsOf } from "../../src/domain/cards/effects.ts";
import { earliestStanding } from "../../src/domain/records/revisions.ts";
import { printedCodes } from "../../src/paper/printed-card.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-issue-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(work, "collection-"));
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
});

const rerig = (...args: string[]) => runHere([...args, "--procedures", folder], "2026-06-01");

/** Changes a file of the collection; the old words must be there. */
function edit(file: string, ...pairs: [string, string][]): void {
  const path = join(folder, file);
  let text = readFileSync(path, "utf8");
  for (const [old, now] of pairs) {
    expect(text).toContain(old);
    text = text.replace(old, now);
  }
  writeFileSync(path, text);
}

/** Pictures are kept in a folder beside them. */
const isFile = (name: string) => name.endsWith(".json");
const issuedFiles = () =>
  existsSync(join(folder, "issued/sled")) ? readdirSync(join(folder, "issued/sled")).filter(isFile).sort() : [];
const revise = (revision: number, signOffs: string): [string, string][] => [
  [`revision: ${revision - 1}`, `revision: ${revision}`],
  [
    "approved-by: Rescue lead\n",
    `approved-by: Rescue lead\nchanges: [${Array.from(
      { length: revision - 1 },
      (_, at) =>
        `{ revision: ${at + 2}, date: 2026-0${at + 3}-01, by: Training officer, summary: Another way., ` +
        `sign-offs: ${signOffs} }`,
    ).join(", ")}]\n`,
  ],
  ["effective: 2026-01-12", `effective: 2026-0${revision + 1}-15`],
];
const FIT = "sled/fit-oxygen.mdx";
const SHELL = "sled/change-to-shell.mdx";

describe("rerig issue", () => {
  it(
    "freezes what a photo's file is, so that another picture of the same size under the same name is noticed " +
      "(FIPS 180-4)",
    async () => {
      expect((await rerig("issue")).status).toBe(0);
      const photo = join(folder, "sled/photos/bed.jpg"),
        bytes = readFileSync(photo);
      const frozen = issuedFiles()
        .map((name) => readFileSync(join(folder, "issued/sled", name), "utf8"))
        .join("\n");
      expect(frozen).toContain(createHash("sha256").update(bytes).digest("hex"));
      expect((await rerig("check")).status).toBe(0);
      // One more byte after the picture's end: the same size, day and words, and yet another file.
      writeFileSync(photo, Buffer.concat([bytes, Buffer.from([0])]));
      const checked = await rerig("check", "--json");
      const { findings } = JSON.parse(checked.stdout) as { findings: { rule: string; message: string }[] };
      // Each of the procedures that show it says so.
      const messages = findings
        .filter(({ rule }) => rule === "record/revision-not-raised")
        .map(({ message }) => message);
      expect([checked.status, messages.length, messages.filter((message) => !message.includes("photo"))]).toEqual([
        1,
        4,
        [],
      ]);
    },
  );

  it("leaves issues valid that were frozen without it", async () => {
    expect((await rerig("issue")).status).toBe(0);
    for (const name of issuedFiles()) {
      const path = join(folder, "issued/sled", name);
      // There were no editions of cards then.
      if (name.startsWith("card-")) {
        rmSync(path);
        continue;
      }
      const // The first form: no more in the head than what names the issue, and the hash is of the content alone.
        { content, kind, platform, id, revision } = JSON.parse(readFileSync(path, "utf8"), (key, value: unknown) =>
          key === "sha256" ? undefined : value,
        ) as Record<string, unknown>;
      const head = { form: 1, kind, platform, id, revision };
      writeFileSync(path, JSON.stringify({ ...head, hash: hashOf(content), content }));
    }
    const photo = join(folder, "sled/photos/bed.jpg");
    writeFileSync(photo, Buffer.concat([readFileSync(photo), Buffer.from([0])]));
    expect((await rerig("check")).status).toBe(0);
  });

  it("freezes every approved revision once, and what it wrote is read back as it was", async () => {
    const first = await rerig("issue", "--json");
    expect(first.status).toBe(0);
    const { issued, cards } = JSON.parse(first.stdout) as {
      issued: { id: string; file: string; hash: string }[];
      cards: { card: string; edition: number; code: string; differs: string[] }[];
    };
    expect(issued.map(({ id }) => id)).toEqual([
      "change-to-mattress",
      "change-to-shell",
      "fit-oxygen",
      "remove-oxygen",
      "child-shell",
      "vacuum-mattress",
      "oxygen",
    ]);
    expect(cards.map(({ card, edition, differs }) => [card, edition, differs])).toEqual([
      ["child-shell", 1, []],
      ["vacuum-mattress", 1, []],
    ]);
    expect((await rerig("check")).status).toBe(0);
    const findings = new Findings();
    const collection = await loadCollection(folder, findings);
    expect(collection.editions!.map(({ card, code }) => [card, code])).toEqual(
      cards.map(({ card, code }) => [card, code]),
    );
    const platform = collection.platforms[0]!;
    for (const procedure of platform.procedures)
      expect(contentOfIssue(collection.issued.find(({ id }) => id === procedure.id)!)).toEqual(
        contentOf(procedure, platform),
      );
    const again = await rerig("issue", "--json");
    expect([again.status, JSON.parse(again.stdout)]).toEqual([0, { issued: [], due: [], already: [], cards: [] }]);
  });

  it("issues only what is named, and says what was issued before", async () => {
    expect((await rerig("issue", "fit-oxygen", "sled/oxygen")).status).toBe(0);
    expect(issuedFiles()).toEqual(["fit-oxygen@1.json", "oxygen@1.json"]);
    expect((await rerig("issue", "fit-oxygen")).stdout).toBe("sled/fit-oxygen revision 1 was issued before\n");
  });

  it("leaves drafts alone, and refuses them by name", async () => {
    edit(FIT, ["status: approved", "status: draft"]);
    expect((await rerig("issue", "fit-oxygen")).status).toBe(2);
    expect(issuedFiles()).toEqual([]);
    await rerig("issue", "--dry-run");
    expect(issuedFiles()).toEqual([]);
    expect(existsSync(join(folder, "issued"))).toBe(false);
  });

  it.each([
    ["an error anywhere", "remove-oxygen.mdx", [["from=bottle-bay", "from=tail-bag"]], "parts/not-there"],
    [
      "an approver who is the author",
      "fit-oxygen.mdx",
      [["approved-by: Rescue lead", "approved-by: Training officer"]],
      "record/same-approver",
    ],
    ["a revision without a change entry", "fit-oxygen.mdx", [["revision: 1", "revision: 2"]], "record/no-change-entry"],
  ] as [string, string, [string, string][], string][])(
    "refuses %s, whatever the policy says, and writes nothing",
    async (_, file, edits, rule) => {
      edit("service.yaml", [
        'policy: { photo/none: "off", card/not-looked-at: "off", plan/silent-slip: "off" }',
        'policy: { photo/none: "off", record/same-approver: "off", record/no-change-entry: warning, ' +
          'record/revision-not-raised: "off" }',
      ]);
      edit(`sled/${file}`, ...edits);
      const { status, stdout, stderr } = await rerig("issue");
      expect(status).toBe(1);
      expect(stdout).toBe("");
      expect(stderr).toContain(rule);
      expect(existsSync(join(folder, "issued"))).toBe(false);
    },
  );

  it("refuses an edited text whose revision was not raised, and keeps the frozen one", async () => {
    await rerig("issue");
    const frozen = readFileSync(join(folder, "issued/sled/fit-oxygen@1.json"), "utf8");
    edit(FIT, ["Slide the bottle into the bay.", "Push the bottle into the bay."]);
    const { status, stderr } = await rerig("issue");
    expect([status, stderr.includes("record/revision-not-raised")]).toEqual([1, true]);
    expect(readFileSync(join(folder, "issued/sled/fit-oxygen@1.json"), "utf8")).toBe(frozen);
  });

  it("asks for no new revision when a paragraph is only wrapped anew, or a review moves its date", async () => {
    await rerig("issue");
    edit(
      FIT,
      ["Slide the bottle into the bay.", "Slide the bottle\ninto the bay."],
      ["review-by: 2031-01-12", "review-by: 2032-01-12"],
    );
    expect((await rerig("check")).status).toBe(0);
  });

  it("judges what will be once it is issued: a new fastening with all the revisions that turn it", async () => {
    await rerig("issue");
    edit("sled/platform.yaml", [
      "  pin-clip:",
      "  bay-strap: { name: Bay strap, states: [closed, open], secure: closed, holds: [bottle-bay], " +
        "when-empty: closed, rated: 900 N }\n  pin-clip:",
    ]);
    const turned = (file: string) =>
      edit(
        file,
        ...revise(2, "again"),
        ["effective: 2026-03-15", "effective: 2026-06-01"],
        [
          "::turn{fastening=bottle-latch to=raised}",
          "::turn{fastening=bay-strap to=open}\n::turn{fastening=bottle-latch to=raised}",
        ],
        [
          "::turn{fastening=bottle-latch to=shut}",
          "::turn{fastening=bottle-latch to=shut}\n::turn{fastening=bay-strap to=closed}",
        ],
      );
    turned(FIT);
    turned("sled/remove-oxygen.mdx");
    const before = issuedFiles();
    // One of the two alone would leave the bottle under a strap that nobody opens.
    const alone = await rerig("issue", "fit-oxygen");
    expect([alone.status, alone.stdout]).toEqual([1, ""]);
    expect(alone.stderr).toContain("bay-strap");
    expect(issuedFiles()).toEqual(before);
    const both = await rerig("issue");
    expect([both.status, both.stdout]).toEqual([0, expect.stringContaining("issued sled/fit-oxygen revision 2")]);
    expect(both.stdout).toContain("issued sled/remove-oxygen revision 2");
    expect((await rerig("check")).status).toBe(0);
  });

  it("never overwrites a file", () => {
    writeIssues(folder, [{ path: "sled/a@1.json", text: "1" }]);
    expect(() =>
      writeIssues(folder, [
        { path: "sled/b@1.json", text: "2" },
        { path: "sled/a@1.json", text: "3" },
      ]),
    ).toThrow(/never overwritten/);
    expect(issuedFiles()).toEqual(["a@1.json"]);
  });

  it("waits for nobody: while another run is writing, nothing is written", () => {
    mkdirSync(join(folder, ".issued-next"));
    writeFileSync(join(folder, ".issued-next/pid"), String(process.ppid));
    expect(() => writeIssues(folder, [{ path: "sled/a@1.json", text: "1" }])).toThrow(/Another `rerig issue`/);
    writeFileSync(join(folder, ".issued-next/pid"), "999999999");
    writeIssues(folder, [{ path: "sled/a@1.json", text: "1" }]);
    expect(issuedFiles()).toEqual(["a@1.json"]);
  });

  it("puts the old set back if it was killed between its two renames", () => {
    writeIssues(folder, [{ path: "sled/a@1.json", text: "1" }]);
    cpSync(join(folder, "issued"), join(folder, ".issued-last"), { recursive: true });
    rmSync(join(folder, "issued"), { recursive: true });
    mendInterrupted(folder);
    expect(issuedFiles()).toEqual(["a@1.json"]);
    expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
  });

  it("killed between its two renames still has its last issues for whoever reads next", async () => {
    writeIssues(folder, [{ path: "sled/a@1.json", text: "{}" }]);
    renameSync(join(folder, "issued"), join(folder, ".issued-last"));
    const findings = new Findings();
    await loadCollection(folder, findings);
    // Read, and found to be no issue at all: it was looked at.
    expect(findings.list.map(({ file }) => file)).toEqual([".issued-last/sled/a@1.json"]);
  });

  it("killed at random moments leaves whole sets only, loses nothing, and goes on", { timeout: 60_000 }, async () => {
    let known: string[] = [];
    let next = 1;
    for (let round = 0; round < 15; round += 1) {
      const child = spawn(
        join(root, "node_modules/.bin/node"),
        [join(root, "tests/fixtures/write-many.ts"), folder, String(next)],
        { stdio: ["ignore", "pipe", "inherit"] },
      );
      await new Promise<void>((done) => child.stdout.once("data", () => done()));
      await new Promise((done) => setTimeout(done, (round * 37) % 220));
      const gone = new Promise((done) => child.once("exit", done));
      child.kill("SIGKILL");
      await gone;
      mendInterrupted(folder);
      const files = issuedFiles();
      const sets = new Map<string, number>();
      for (const file of files) {
        expect(() => JSON.parse(readFileSync(join(folder, "issued/sled", file), "utf8")) as unknown).not.toThrow();
        const set = file.split("-file")[0]!;
        sets.set(set, (sets.get(set) ?? 0) + 1);
      }
      expect([...sets.values()].every((count) => count === 12)).toBe(true);
      expect(files).toEqual(expect.arrayContaining(known));
      expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
      known = files;
      next = sets.size + 1;
    }
    expect(known.length).toBeGreaterThan(0);
  });
});

describe("a story: two revisions and a folder", () => {
  const load = async () => {
    const findings = new Findings();
    const collection = await loadCollection(folder, findings);
    expect(findings.list).toEqual([]);
    const platform = collection.platforms[0]!;
    const chain = (id: string) =>
      collection.issued
        .filter((issue) => issue.id === id)
        .sort((a, b) => a.revision - b.revision)
        .map((issue) => contentOfIssue(issue)!);
    return {
      collection,
      platform,
      chain,
      codes: Object.fromEntries(
        currentCards(platform, printedCodes(collection)).map(({ configuration, code }) => [configuration, code]),
      ),
    };
  };
  const placeCopies = (codes: Record<string, string>) =>
    writeFileSync(
      join(folder, "folders.yaml"),
      `ridge-hut:\n  name: Ridge hut folder\n  copies:\n${Object.entries(codes)
        .map(([card, code]) => `    - { card: ${card}, copy: 1, check: ${code}, placed: 2026-02-01 }\n`)
        .join("")}`,
    );

  it("a critical hold reworded makes exactly its cards, their copies and the sign-offs on it stale", async () => {
    await rerig("issue");
    const before = await load();
    placeCopies(before.codes);
    expect((await rerig("check")).stdout).not.toContain("card/");
    edit(SHELL, ...revise(2, "again"), ["Close both bed straps.", "Close both bed straps until each buckle clicks."]);
    expect((await rerig("issue")).status).toBe(0);
    const after = await load();
    const [first, second] = after.chain("change-to-shell");
    const effects = effectsOf(after.collection, after.platform, first!, second!, printedCodes(after.collection), [
      { from: "vacuum-mattress", to: "child-shell", procedures: ["change-to-shell"] },
      { from: "child-shell", to: "vacuum-mattress", procedures: ["change-to-mattress"] },
    ]);
    // The hold is printed on the card of the shell, and on no other.
    expect(effects.cards.map(({ configuration }) => configuration)).toEqual(["child-shell"]);
    expect(effects.copies.map(({ copy }) => copy.card)).toEqual(["child-shell"]);
    expect(effects.changeovers.map(({ to }) => to)).toEqual(["child-shell"]);
    expect(effects.signOffsStand).toBe(false);
    expect(after.codes["vacuum-mattress"]).toBe(before.codes["vacuum-mattress"]);
    expect(earliestStanding(after.chain("change-to-shell"))).toBe(2);
    expect(earliestStanding(after.chain("change-to-mattress"))).toBe(1);
    const { stdout } = await rerig("check");
    expect(stdout.match(/card\/folder-stale/g)).toHaveLength(1);
    expect(stdout).toContain("Copy 1 of “Child shell”");
  });

  it("a comma in a reason leaves cards, copies and sign-offs as they are", async () => {
    await rerig("issue");
    placeCopies((await load()).codes);
    edit(SHELL, ...revise(2, "stand"), [
      "Why: with one pin the shell turns on the slope.",
      "Why: with one pin, the shell turns on the slope.",
    ]);
    expect((await rerig("issue")).status).toBe(0);
    const { collection, platform, chain } = await load();
    const [first, second] = chain("change-to-shell");
    const effects = effectsOf(collection, platform, first!, second!, printedCodes(collection));
    expect([effects.cards, effects.copies, effects.signOffsStand]).toEqual([[], [], true]);
    expect(earliestStanding(chain("change-to-shell"))).toBe(1);
    expect((await rerig("check")).stdout).not.toContain("card/");
  });

  it("refuses `sign-offs: stand` for what people do otherwise", async () => {
    await rerig("issue");
    edit(SHELL, ...revise(2, "stand"), ["Close both bed straps.", "Close both bed straps until each buckle clicks."]);
    const { status, stderr } = await rerig("issue");
    expect([status, stderr.includes("record/sign-offs-understated")]).toEqual([1, true]);
  });
});
