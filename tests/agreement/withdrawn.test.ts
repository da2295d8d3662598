/**
 * What is withdrawn is said alike by check, folders, register, history, feed and pages, from its day on and not
 * before: nobody is told that it is in force, and who was away is told that it is not. The collection and the days
 * are invented; that obsolete documents are taken from where they are used is ISO 9001:2015, 7.5.3.2, from memory.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { everyCard } from "../../src/domain/cards/cards-issued.ts";
import { cardStandings } from "../../src/domain/cards/card-standing.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { writeDays } from "../../src/domain/words/days.ts";
import { printedCodes } from "../../src/paper/printed-card.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "../commands/run-here.ts";
import { readCollection } from "../read-collection.ts";

const BEGUN = "2026-05-04",
  EVE = "2026-06-14",
  DAY = "2026-06-15";

/** A copy of the pod, issued on its first day. */
async function begin(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "rerig-withdrawn-"));
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/pod"), folder, { recursive: true });
  expect(await runHere(["issue", "--procedures", folder], BEGUN)).toMatchObject({ status: 0 });
  return folder;
}
const edit = (file: string, ...changes: readonly (readonly [RegExp, string])[]) =>
  writeFileSync(
    file,
    changes.reduce(
      (text, [from, to]) => {
        expect(text).toMatch(from);
        return text.replace(from, to);
      },
      readFileSync(file, "utf8"),
    ),
  );
const codeOf = async (folder: string, configuration: string, day: string) => {
  const { collection } = forceOn(await readCollection(folder), day);
  const [platform] = collection.platforms;
  return everyCard(collection, platform!, printedCodes(collection)).find(
    (card) => card.isCurrent && card.configuration === configuration,
  )!.code;
};

describe("an arrangement that is withdrawn as it stands", () => {
  let folder: string, code: string;
  beforeAll(async () => {
    folder = await begin();
    code = await codeOf(folder, "broad-nest", BEGUN);
    edit(join(folder, "pod/configurations/broad-nest.mdx"), [/^status: approved$/m, "status: withdrawn"]);
    writeFileSync(
      join(folder, "folders.yaml"),
      `van:\n  name: Van folder\n  copies:\n    - { card: broad-nest, copy: 1, check: ${code}, placed: ${BEGUN} }\n`,
    );
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("has its card known as withdrawn to a site, which shows it with its status", async () => {
    const { shown } = forceOn(await readCollection(folder), DAY);
    const standings = cardStandings(shown, shown.platforms[0]!, DAY, printedCodes(shown));
    expect(standings.find(({ card }) => card.code === code)).toMatchObject({ state: "withdrawn" });
  });
  it("leaves nothing to build for its patients, and the command says so", async () => {
    const { stdout } = await runHere(["choose", "--weight", "2 kg", "--read-back", "--procedures", folder], DAY);
    expect(stdout).toContain("Selkie pod: no arrangement in force is for this patient. Do not build one.");
  });
  it("keeps no other card of its folder from being printed, and its own copy is named", async () => {
    const { collection } = forceOn(await readCollection(folder), DAY),
      [van] = collection.folders;
    const { check: _, ...own } = van!.copies[0]!;
    const copies = [...van!.copies, { ...own, card: "fine-nest", copy: 2 }];
    const { requests, unknown, left } = requestCards(
      { ...collection, folders: [{ ...van!, copies }] },
      { folder: "van" },
      DAY,
    );
    expect(requests.map(({ card, copy }) => [card.id, copy?.number])).toEqual([["fine-nest", 2]]);
    expect(unknown).toEqual([]);
    expect(left).toEqual([
      "Not printed: copy 1 of `broad-nest` in the folder `van`, of which there is no card in force. " +
        "`rerig folders` says what to do with it",
    ]);
  });
  it("is pulled from its folder by the order and by the check, under the name that it had", async () => {
    const { stdout } = await runHere(["folders", "--procedures", folder], DAY);
    expect(stdout).toMatch(/PULL\s+copy 1 of Broad nest/);
    const checked = await runHere(["check", "--procedures", folder, "--json"], DAY);
    const { findings } = JSON.parse(checked.stdout) as { findings: { rule: string; line: number; message: string }[] };
    expect(findings.filter(({ rule }) => rule === "card/folder-stale")).toMatchObject([
      { line: 4, message: "Copy 1 of “Broad nest” in “Van folder” is no longer used: no card of it is in force" },
    ]);
  });
});

it("a platform's folder that is set aside, as the guide says how, is read by nothing", async () => {
  const folder = await begin();
  cpSync(join(folder, "pod"), join(folder, "_pod-of-before"), { recursive: true });
  const checked = await runHere(["check", "--procedures", folder, "--json"], BEGUN);
  const { findings } = JSON.parse(checked.stdout) as { findings: { file: string }[] };
  expect(findings.filter(({ file }) => file.startsWith("_"))).toEqual([]);
  expect((await readCollection(folder)).platforms.map(({ id }) => id)).toEqual(["pod"]);
  rmSync(folder, { recursive: true, force: true });
});

describe("an option and its procedures that are withdrawn from a day on", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-register-")),
    register = join(work, "register.csv");
  let folder: string, out: string, old: string;
  const textOf = (path: string) =>
    readFileSync(join(out, path), "utf8")
      .replaceAll(/<(script|style)[\s\S]*?<\/\1>/g, " ")
      .replaceAll(/<[^>]+>/g, " ")
      .replaceAll(/\s+/g, " ");
  beforeAll(async () => {
    folder = await begin();
    out = join(work, "site");
    old = await codeOf(folder, "broad-nest", BEGUN);
    const change =
      `changes:\n  - { revision: 2, date: ${EVE}, by: Practice development nurse, summary: The lamp is out of use, ` +
      "reason: Its clip cracks }\nowner:";
    for (const name of ["lamp-on", "lamp-off"])
      edit(
        join(folder, `pod/${name}.mdx`),
        [/^revision: 1$/m, "revision: 2"],
        [/^status: approved$/m, "status: withdrawn"],
        [/^effective: .*$/m, `effective: ${DAY}`],
        [/^owner:/m, change],
      );
    edit(
      join(folder, "pod/options/blue-light.mdx"),
      [/^status: approved$/m, `status: withdrawn\nrevision: 2\neffective: ${DAY}`],
      [/^owner:/m, change],
    );
    writeFileSync(
      register,
      `person,procedure,revision,date,assessor\nA. B.,lamp-on,1,${BEGUN},C. D.\nE. F.,lamp-of,1,${BEGUN},C. D.\n` +
        `G. H.,lamp-on,2,${BEGUN},C. D.\n`,
    );
    // The card without it is issued before its day, and nothing is in the way of the site on it.
    const issued = await runHere(["issue", "--procedures", folder], EVE);
    expect(issued.status).toBe(0);
    expect(issued.stdout).toMatch(
      new RegExp(`card of pod/broad-nest, edition 2, check code \\S+, in force from ${DAY}`),
    );
    await buildForTest({ collectionFolder: folder, outFolder: out, on: DAY });
  }, 300_000);
  afterAll(() => [work, folder].forEach((each) => rmSync(each, { recursive: true, force: true })));

  it("is no slip of the pen in a register: it stands until the day, then it is for what is withdrawn", async () => {
    const on = (day: string) => runHere(["signoffs", register, "--procedures", folder, "--on", day], DAY);
    const [eve, day] = [await on(EVE), await on(DAY)];
    expect(eve.stdout).toContain("1 stand.");
    expect(day.stdout).toContain("0 stand, 1 for withdrawn documents.");
    // A name that is no document's still is found out, and a day on which the revision was not written yet.
    expect(day.stderr).toMatch(/There is no procedure `lamp-of`/);
    expect(day.stderr).not.toMatch(/There is no procedure `lamp-on`/);
    expect(day.stderr).toContain(`Revision 2 of \`OS-08\` was written on ${EVE}, after ${BEGUN}`);
  });
  it.each(["pod/options/blue-light/", "pod/procedures/lamp-on/history/"])(
    "%s says from when it is withdrawn, and never that it is to be in force",
    (page) => {
      const text = textOf(`${page}index.html`);
      expect(text).toMatch(/Revision 2 , withdrawn|Revision 2, withdrawn/);
      expect(text).toContain("Withdrawn from 15 Jun 2026");
      expect(text).not.toMatch(/to be in force|not yet in force/i);
    },
  );
  it("its page announces the day before it has come, and no longer from then on", async () => {
    const eve = join(work, "eve");
    await buildForTest({ collectionFolder: folder, outFolder: eve, on: EVE });
    for (const page of ["pod/options/blue-light/", "pod/procedures/lamp-on/", "pod/procedures/lamp-off/"]) {
      const html = readFileSync(join(eve, page, "index.html"), "utf8");
      expect(html, page).toContain("It is to be withdrawn on 15 Jun 2026.");
      expect(html, page).toContain(`data-days="${writeDays([{ from: "", until: EVE }])}"`);
      expect(textOf(`${page}index.html`)).not.toContain("to be withdrawn");
    }
    expect(readFileSync(join(eve, "pod/configurations/broad-nest/index.html"), "utf8")).not.toContain(
      "It is to be withdrawn",
    );
  }, 300_000);
  it("history, what changed lately and the feed say so, too", () => {
    expect(textOf("history/index.html")).toMatch(/Blue light withdrawn from 15 Jun 2026/);
    expect(textOf("history/index.html")).not.toMatch(/to be in force/);
    expect(textOf("index.html")).toMatch(/written 14 Jun Blue light, revision 2, withdrawn/);
    const feed = readFileSync(join(out, "issues.atom"), "utf8");
    expect(feed).toMatch(/Blue light, withdrawn/);
    expect(feed).toContain(`Withdrawn from ${DAY}: it is no longer used.`);
  });
  it("who was away is told of each", () => {
    const text = textOf("pod/away/index.html");
    for (const title of ["Blue light", "Fit the blue lamp"])
      expect(text).toMatch(
        new RegExp(`${title} [^.]*withdrawn since 15 Jun 2026: it is no longer used The lamp is out of use`),
      );
  });
  it("the page of the old card's code names it as the reason, and no document that did not change", () => {
    const text = textOf(`C/${old.replace("-", "")}/index.html`);
    expect(text).toMatch(/Why Blue light, withdrawn from 15 Jun 2026/);
    expect(text).not.toMatch(/Why .*, revision 1/);
  });
});
