/**
 * Cards that lie in a folder before the first day of their arrangement are said alike by the order, the check and the
 * domain: they are early, and nothing is destroyed. The collection is the starter, its days are invented; that what is
 * not yet released is kept from use, and only what is obsolete is taken away, is ISO 9001:2015, 7.5.3.2, from memory.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { cardStandings } from "../../src/domain/cards/card-standing.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { printedCodes } from "../../src/paper/printed-card.ts";
import { auditFolders } from "../../src/paper/folder-audit.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "../commands/run-here.ts";
import { readCollection } from "../read-collection.ts";

const EVE = "2026-11-28",
  DAY = "2027-01-04";

describe("cards of a service that begins on a later day", () => {
  const folder = mkdtempSync(join(tmpdir(), "rerig-first-"));
  let code: string;
  beforeAll(async () => {
    cpSync(resolve(import.meta.dirname, "../../src/starter"), folder, { recursive: true });
    for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
      const file = join(folder, name);
      if (name.endsWith(".mdx") && statSync(file).isFile())
        writeFileSync(file, readFileSync(file, "utf8").replace(/^effective: .*$/m, `effective: ${DAY}`));
    }
    expect(await runHere(["issue", "--procedures", folder], EVE)).toMatchObject({ status: 0 });
    const { shown } = forceOn(await readCollection(folder), EVE);
    code = cardStandings(shown, shown.platforms[0]!, EVE, printedCodes(shown)).find(
      ({ card }) => card.configuration === "small-seat",
    )!.card.code;
    writeFileSync(
      join(folder, "folders.yaml"),
      `van:\n  name: Van folder\n  copies:\n    - { card: small-seat, copy: 1, check: ${code}, placed: ${EVE} }\n` +
        `    - { card: small-seat, copy: 2, placed: ${EVE} }\n`,
    );
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("are early on the day before, and current on the day", async () => {
    const files = await readCollection(folder);
    const statesOn = (day: string) => {
      const { collection, shown } = forceOn(files, day);
      return {
        copies: auditFolders(collection, day)[0]!.copies.map(({ state }) => state),
        page: cardStandings(shown, shown.platforms[0]!, day, printedCodes(shown)).find(({ card }) => card.code === code)
          ?.state,
      };
    };
    expect(statesOn("2027-01-03")).toEqual({ copies: ["coming", "unread"], page: "coming" });
    // Whose code nobody read by the day may be a print of before the issue.
    expect(statesOn(DAY)).toEqual({ copies: ["current", "replace"], page: "current" });
  });
  it("are ordered nowhere to be pulled: not by the order, not by their pages, not by the check", async () => {
    const { stdout } = await runHere(["folders", "--procedures", folder], EVE);
    expect(stdout).not.toContain("PULL");
    expect(stdout).toContain(`EARLY    copy 1 of Small seat: ${code} takes effect on ${DAY}`);
    expect(stdout).toMatch(
      new RegExp(
        `read +copy 2 of Small seat: its code is not written down; it should be ${code} .*from ${DAY}\\)$`,
        "m",
      ),
    );
    const out = join(folder, "..", `${basename(folder)}-site`);
    onTestFinished(() => rmSync(out, { recursive: true, force: true }));
    await buildForTest({ collectionFolder: folder, outFolder: out, on: EVE });
    const textOf = (path: string) =>
      readFileSync(join(out, path), "utf8")
        .replaceAll(/<(script|style)[\s\S]*?<\/\1>/g, " ")
        .replaceAll(/<[^>]+>/g, " ")
        .replaceAll(/\s+/g, " ");
    const card = textOf(`C/${code.replace("-", "")}/index.html`);
    expect(card).toContain("takes effect on 4 Jan 2027. Until then no card of it is in force");
    expect(card).not.toMatch(/Withdrawn|the one before it|The card in force/);
    expect(textOf("folders/van/index.html")).not.toContain("Pull it");
    // The table of bands is not merely empty.
    expect(textOf("index.html")).toContain("No arrangement of our trolley is in force. Do not build one.");
    const checked = await runHere(["check", "--procedures", folder, "--json"], EVE);
    const { findings } = JSON.parse(checked.stdout) as { findings: { rule: string }[] };
    expect(findings.filter(({ rule }) => rule === "card/folder-stale")).toEqual([]);
  }, 300_000);
});
