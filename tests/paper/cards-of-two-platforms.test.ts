/**
 * Copies in folders where two platforms have a configuration of the same id (invented: the sled, and the sled again as
 * a boat): each copy is compared with the card of its own platform, and a name that does not say which is an error.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { currentCards } from "../../src/domain/cards/cards-issued.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { auditFolders, titleOfCopy } from "../../src/paper/folder-audit.ts";
import { printedCodes } from "../../src/paper/printed-card.ts";
import { runHere } from "../commands/run-here.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-two-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
cpSync(join(folder, "sled"), join(folder, "boat"), { recursive: true });
const shell = join(folder, "boat/configurations/child-shell.mdx");
writeFileSync(shell, readFileSync(shell, "utf8").replace("both buckles closed", "both buckles shut"));

/** The collection in force with these copies in its folder, and what reading found in folders.yaml. */
async function withCopies(...copies: readonly string[]) {
  const list = copies.map((copy) => `    - { ${copy} }\n`).join("");
  writeFileSync(join(folder, "folders.yaml"), `ridge-hut:\n  name: Ridge hut\n  copies:\n${list}`);
  const findings = new Findings();
  const files = await loadCollection(folder, findings);
  return {
    collection: forceOn(files, "2026-06-01").collection,
    found: findings.list.filter(({ file }) => file === "folders.yaml"),
  };
}

it("are compared with the card of their own platform", async () => {
  const { collection } = await withCopies("card: sled/child-shell, copy: 1");
  const codes = Object.fromEntries(
    collection.platforms.map((platform) => [
      platform.id,
      currentCards(platform, printedCodes(collection)).find(({ configuration }) => configuration === "child-shell")!
        .code,
    ]),
  );
  expect(codes["boat"]).not.toBe(codes["sled"]);
  const read = await withCopies(
    `card: sled/child-shell, copy: 1, check: ${codes["sled"]}`,
    `card: boat/child-shell, copy: 2, check: ${codes["boat"]}`,
    `card: boat/child-shell, copy: 3, check: ${codes["sled"]}`,
  );
  expect(read.found).toEqual([]);
  const [audited] = auditFolders(read.collection, "2026-06-01");
  expect(audited!.copies.map(({ state, now }) => [state, now?.platform])).toEqual([
    ["current", "sled"],
    ["current", "boat"],
    ["wrong-code", "boat"],
  ]);
  expect(audited!.absent.map(({ platform, configuration }) => `${platform}/${configuration}`).sort()).toEqual([
    "boat/vacuum-mattress",
    "sled/vacuum-mattress",
  ]);
  const { requests } = requestCards(read.collection, { folder: "ridge-hut" }, "2026-06-01");
  expect(requests.map(({ platform }) => platform)).toEqual(["sled", "boat", "boat"]);
});

it("have an error while they do not say which platform's card they are", async () => {
  const { found, collection } = await withCopies("card: child-shell, copy: 1", "card: child-shell+oxygen, copy: 2");
  expect(found.map(({ rule, line, message, fix }) => [rule, line, message, fix])).toEqual([
    [
      "text/bad-value",
      4,
      "`child-shell` is a card of 2 platforms: `boat`, `sled`",
      "Write which one: `boat/child-shell` or `sled/child-shell`",
    ],
    [
      "text/bad-value",
      5,
      "`child-shell+oxygen` is a card of 2 platforms: `boat`, `sled`",
      "Write which one: `boat/child-shell+oxygen` or `sled/child-shell+oxygen`",
    ],
  ]);
  // Nothing is compared with the card of the other platform meanwhile.
  expect(auditFolders(collection, "2026-06-01")[0]!.copies.map(({ state, now }) => [state, now])).toEqual([
    ["not-tracked", undefined],
    ["not-tracked", undefined],
  ]);
});

it("name a platform that there is", async () => {
  const { found } = await withCopies("card: sledd/child-shell, copy: 1");
  expect(found.map(({ rule, message }) => [rule, message])).toEqual([
    ["text/unknown-id", "There is no platform `sledd`, expected `sled`"],
  ]);
});

it("say on paper whose they are, and a changeover of two platforms is asked for by its own", async () => {
  const { collection } = await withCopies("card: sled/child-shell, copy: 1"),
    names = new Map(collection.platforms.map(({ id, name }) => [id, name]));
  const { requests } = requestCards(collection, { card: ["child-shell"] }, "2026-06-01");
  expect(requests.map(({ platform, card }) => [platform, card.title])).toEqual(
    [...names].map(([id, name]) => [id, `Child shell · ${name}`]),
  );
  expect(titleOfCopy(collection, { card: "child-shell", platform: "boat" })).toBe(`Child shell · ${names.get("boat")}`);
  const changeover = ["child-shell--vacuum-mattress"];
  expect(requestCards(collection, { changeover }).requests).toEqual([]);
  expect(requestCards(collection, { changeover }).unknown[0]).toMatch(/with `--platform`: boat, sled$/);
  const asked = requestCards(collection, { changeover, platform: "boat" });
  expect(asked.requests.map(({ platform }) => platform)).toContain("boat");
  for (const { platform, card } of asked.requests) {
    expect(platform).toBe("boat");
    expect(card.title).toMatch(new RegExp(` · ${names.get("boat")}$`));
  }
});

it("are asked for by the platform and a stroke before the name, a changeover too", async () => {
  const { collection } = await withCopies();
  const asked = (changeover: string) => requestCards(collection, { changeover: [changeover] }, "2026-06-01");
  const named = asked("boat/vacuum-mattress--child-shell");
  expect(named.unknown).toEqual([]);
  expect(named.requests.map(({ platform }) => platform)).toEqual(named.requests.map(() => "boat"));
  expect(named.requests.length).toBeGreaterThan(0);
  const twice = asked("boat/vacuum-mattress--boat/child-shell");
  expect(twice.requests.map(({ card }) => card.id)).toEqual(named.requests.map(({ card }) => card.id));
  // Two platforms in one name, or one that there is not, are no changeover.
  for (const wrong of ["boat/vacuum-mattress--sled/child-shell", "raft/vacuum-mattress--child-shell"])
    expect(asked(wrong).unknown).toHaveLength(1);
});

it("say of a folder without copies that it has none, and not that nothing is approved", async () => {
  const alone = join(folder, "_alone");
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), alone, { recursive: true });
  writeFileSync(join(alone, "folders.yaml"), "ridge-hut:\n  name: Ridge hut\n  copies: []\n");
  const { status, stderr } = await runHere(["cards", "--folder=ridge-hut", "--procedures", alone], "2026-06-01");
  expect(status).toBe(2);
  expect(stderr).toContain("`ridge-hut` in folders.yaml names no copy of a card that is in force");
  expect(stderr).not.toContain("no configuration here is approved");
});
