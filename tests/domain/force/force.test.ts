/**
 * What is in force, told as a story over eight days: after each, every output names the same revision; and the same
 * files asked for an earlier day give the answer of that day. The eight stages are common practice, no source; that
 * obsolete documents are kept from use, and changes to come from being taken for present ones, is ISO 9001:2015, 7.5.3.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { holdsPatient } from "../../../src/domain/bands/bands.ts";
import { currentCards } from "../../../src/domain/cards/cards-issued.ts";
import { type Force, forceOn } from "../../../src/domain/force/force.ts";
import { thaw } from "../../../src/domain/force/thaw.ts";
import { arrangementNamed, graphFor, planChangeover } from "../../../src/domain/parts/changeover.ts";
import { modelOf } from "../../../src/domain/parts/model.ts";
import { contentOf, hashOf, type Issuable, kindOf } from "../../../src/domain/records/freeze.ts";
import { judgeSignOffs } from "../../../src/domain/records/signoffs.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import { Findings } from "../../../src/findings/finding.ts";
import { changeoverCards } from "../../../src/paper/changeover-card.ts";
import { auditFolders } from "../../../src/paper/folder-audit.ts";
import { requestCards } from "../../../src/paper/card-requests.ts";
import { runRules } from "../../../src/rules/run-rules.ts";
import type { Collection, Controlled } from "../../../src/schema/collection.ts";
import { contentFor } from "../../../src/site/plans/checklists.ts";
import { changesOf } from "../../../src/site/records/changes.ts";
import { reviewDates } from "../../../src/site/records/reviews.ts";
import { signOffRecord } from "../../../src/site/records/sign-off-pages.ts";
import { makeSite, platformOf } from "../../../src/site/site.ts";
import { questionsOf } from "../../../src/site/study/questions.ts";
import { runHere } from "../../commands/run-here.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-force-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const PROCEDURE = "sled/change-to-shell.mdx",
  CONFIGURATION = "sled/configurations/child-shell.mdx";

function edit(file: string, ...pairs: readonly (readonly [string | RegExp, string])[]): void {
  const path = join(folder, file);
  let text = readFileSync(path, "utf8");
  for (const [old, now] of pairs) {
    expect(text).toMatch(old);
    text = text.replace(old, now);
  }
  writeFileSync(path, text);
}

/** Sets revision, status and day of the procedure and of the configuration alike, and a word of each that is new. */
function write(revision: number, status: string, effective: string): void {
  const head = [
    [/^revision: \d+$/m, `revision: ${revision}`],
    [/^status: .*$/m, `status: ${status}`],
    [/^effective: .*$/m, `effective: ${effective}`],
  ] as const;
  const change = `{ revision: ${revision}, date: ${effective}, by: Training officer, summary: Way ${revision}. }`;
  edit(PROCEDURE, [/\n(?:changes: .*\n)?---\n/, `\nchanges: [${change}]\n---\n`]);
  edit(PROCEDURE, ...head, [/Open both bed straps.*\.$/m, `Open both bed straps, way ${revision}.`]);
  edit(CONFIGURATION, ...head, [/answer="two.*"/, `answer="two, way ${revision}"`]);
}

const load = () => loadCollection(folder, new Findings());

/** Freezes what is approved and has no frozen file, as `rerig issue` does. */
async function issue(): Promise<void> {
  for (const platform of (await load()).platforms)
    for (const record of [...platform.procedures, ...platform.configurations, ...platform.options]) {
      const content = contentOf(record, platform);
      const head = { kind: kindOf(record), platform: platform.id, id: record.id, revision: record.revision };
      const text = JSON.stringify({ form: 1, ...head, hash: hashOf(content), content });
      mkdirSync(join(folder, "issued", platform.id), { recursive: true });
      try {
        writeFileSync(join(folder, `issued/${platform.id}/${record.id}@${record.revision}.json`), text, { flag: "wx" });
      } catch (error) {
        expect((error as NodeJS.ErrnoException).code).toBe("EEXIST");
      }
    }
}

/** The revision whose words stand in something, 0 for none. */
function wayIn(value: unknown): number {
  const text = JSON.stringify(value, (_key, entry: unknown) => (typeof entry === "bigint" ? String(entry) : entry));
  return Number(/way (\d)/.exec(text ?? "")?.[1] ?? 0);
}

/** The revision that each output names, 0 for none: nothing here is written by hand. */
function outputsOn(files: Collection, day: string): Record<string, number> {
  const { collection } = forceOn(files, day);
  const site = makeSite(folder, files, day),
    own = platformOf(site, "sled");
  const inForce = (document: Controlled | undefined) => (document?.status === "approved" ? document.revision : 0);
  const page = own.procedures.find(({ id }) => id === "change-to-shell")!,
    shellPage = own.configurations.find(({ id }) => id === "child-shell")!;
  const entries = changesOf(site, page, "procedure", "x/");
  const [platform] = collection.platforms;
  const model = modelOf(platform!);
  const configuration = platform!.configurations.find(({ band }) => holdsPatient(band, { weight: 10n ** 21n }));
  const [from, to] = ["vacuum-mattress", "child-shell"].map((name) => arrangementNamed(model, name));
  const plan = from && to && planChangeover(model, graphFor(model, { weight: 10n ** 21n }), from, to);
  const printed = changeoverCards(collection, platform!)("vacuum-mattress--child-shell")[0];
  const card = requestCards(collection, { card: ["child-shell"] }, day).requests[0];
  const located = { where: { file: "folders.yaml", line: 1, column: 1 }, at: {} };
  const copies = [{ ...located, card: "child-shell", platform: "sled", copy: 1 }];
  const audited = auditFolders({ ...collection, folders: [{ ...located, id: "f", name: "F", copies }] }, day)[0];
  const procedure = platform!.procedures.find(({ id }) => id === "change-to-shell");
  const signed = procedure && { person: "A", document: procedure, revision: 1, date: "2026-01-20", assessor: "B" };
  const judged = signed && judgeSignOffs(collection, [{ ...signed, ...located } as never], day, 0, () => new Set())[0];
  return {
    chooser: configuration?.revision ?? 0,
    changeover: plan?.procedures.find(({ id }) => id === "change-to-shell")?.revision ?? 0,
    "step of the changeover": Number(/way (\d)/.exec(JSON.stringify(plan?.steps ?? []))?.[1] ?? 0),
    "changeover on paper": Number(/way (\d)/.exec(JSON.stringify(printed ?? ""))?.[1] ?? 0),
    "card in force":
      currentCards(platform!, printedCodes(collection)).find(({ configuration: id }) => id === "child-shell")?.content
        .revision ?? 0,
    "card on paper": card?.card.revision ?? 0,
    "line of the card": Number(/way (\d)/.exec(JSON.stringify(card?.card.parts ?? []))?.[1] ?? 0),
    "card of the folder": audited?.copies[0]?.now?.content.revision ?? 0,
    "sign-off": judged?.signOff.document.revision ?? 0,
    "page of the procedure": inForce(page),
    "page of the configuration": inForce(shellPage),
    "history in force": entries.find(({ state }) => state === "now")?.revision ?? 0,
    "checklist on the page": inForce(shellPage) && wayIn(contentFor(site, own, shellPage)),
    "sheet of sign-offs": inForce(page) && signOffRecord(site, own, page).revision,
    "review dates": reviewDates(site).find(({ title }) => title.includes(page.code))?.revision ?? 0,
    questions: wayIn(questionsOf(site, own).filter(({ source }) => source.id === "child-shell")),
  };
}

const allSay = (outputs: Record<string, number>, revision: number) =>
  expect(outputs).toEqual(Object.fromEntries(Object.keys(outputs).map((name) => [name, revision])));
const of = (force: Force, id: string) => force.proposals.filter((proposal) => proposal.id === id);

/** A row of `signoffs --json`. */
interface Signed {
  readonly revision: number;
  readonly from?: string;
}

describe("a change told over eight days", () => {
  /** Files as they were on each day. */
  const then = new Map<string, Collection>();
  const days = ["2026-02-02", "2026-02-09", "2026-02-16", "2026-02-23", "2026-03-15", "2026-03-16"] as const;

  beforeAll(async () => {
    cpSync(resolve(import.meta.dirname, "../../fixtures/collections/sled"), folder, { recursive: true });
    edit(CONFIGURATION, [/^code: KRR-S-C1$/m, "code: KRR-S-C1\nrevision: 1\neffective: 2026-01-12"]);
    write(1, "approved", "2026-01-12");
    await issue();
    const stages = [
      ["2026-02-02", () => write(2, "draft", "2026-03-16")],
      ["2026-02-09", () => write(2, "in review", "2026-03-16")],
      ["2026-02-16", () => write(2, "approved", "2026-03-16")],
      ["2026-02-23", issue],
      ["2026-03-15", () => undefined],
      ["2026-03-16", () => undefined],
      [
        "2026-04-20",
        () => {
          write(3, "approved", "2026-04-20");
          return issue();
        },
      ],
      ["2026-05-04", () => write(4, "withdrawn", "2026-05-04")],
    ] as const;
    for (const [day, act] of stages) {
      await act();
      then.set(day, await load());
    }
  });

  it.each([
    ["written", "2026-02-02", 1],
    ["reviewed", "2026-02-09", 1],
    ["approved", "2026-02-16", 1],
    ["issued", "2026-02-23", 1],
    ["the day before it takes effect", "2026-03-15", 1],
    ["in effect", "2026-03-16", 2],
    ["amended", "2026-04-20", 3],
    ["withdrawn", "2026-05-04", 0],
  ])("%s, %s: every output names revision %i", (_stage, day, revision) => {
    allSay(outputsOn(then.get(day)!, day), revision);
  });

  it("makes one table of outputs by days, no cell of which is written by hand", async () => {
    const days = [...then.keys()];
    const rows = days.map((day) => outputsOn(then.get(day)!, day));
    const table = Object.keys(rows[0]!).map((output) => [output, ...rows.map((row) => String(row[output] || "none"))]);
    const lines = [["output", ...days], ...table].map((row) =>
      row
        .map((cell, at) => cell.padEnd(at ? 10 : 26))
        .join("  ")
        .trimEnd(),
    );
    await expect(`${lines.join("\n")}\n`).toMatchFileSnapshot("../../fixtures/force/outputs-by-day.txt");
  });

  it("gives the same by every command with `--on`, from the files of the last day", async () => {
    const ask = async (day: string, ...args: string[]) => {
      const { stdout, status } = await runHere([...args, "--json", "--on", day, "--procedures", folder], "2026-05-04");
      return { status, json: (stdout ? JSON.parse(stdout) : {}) as Record<string, unknown> };
    };
    const register = join(folder, "..", `${basename(folder)}.csv`);
    writeFileSync(register, "person,procedure,revision,date,assessor\nAnn,change-to-shell,1,2026-01-20,Zoe\n");
    for (const [day, revision] of [
      ["2026-02-23", 1],
      ["2026-03-15", 1],
      ["2026-03-16", 2],
      ["2026-04-20", 3],
      ["2026-05-04", 0],
    ] as const) {
      const { json: folders } = await ask(day, "folders");
      const copies = (folders["folders"] as { copies: { card: string; current: { revision: number } | null }[] }[])[0]!;
      expect(copies.copies.find(({ card }) => card === "child-shell")!.current?.revision ?? 0, day).toBe(revision);
      const { json: chosen } = await ask(day, "choose", "--platform", "sled", "--weight", "10 kg");
      expect(chosen["configurations"], day).toEqual(revision ? ["child-shell"] : []);
      const signed = (await ask(day, "signoffs", register)).json as Record<string, readonly Signed[]>;
      const rows = ["again", "stands", "soon", "lapsed"].flatMap((state) => signed[state] ?? []);
      // What is asked ahead names the day on which the next revision comes; it counts until then.
      if (revision === 1)
        expect(
          rows.map((row) => row.from),
          day,
        ).toEqual(["2026-03-16"]);
      else
        expect(
          rows.map((row) => [row.revision, row.from]),
          day,
        ).toEqual(revision ? [[revision, undefined]] : []);
      const load = await ask(day, "load", "--platform", "sled", "--configuration", "child-shell");
      expect(load.status, day).toBe(revision ? 0 : 2);
      const gaps = ((await ask(day, "check")).json["findings"] as { rule: string }[]).map(({ rule }) => rule);
      expect(gaps.includes("bands/gap"), day).toBe(!revision);
    }
    rmSync(register);
  });

  it("gives the answer of an earlier day from the files of the last one", () => {
    const last = then.get("2026-05-04")!;
    for (const day of days.slice(0, 5)) allSay(outputsOn(last, day), 1);
    allSay(outputsOn(last, "2026-03-16"), 2);
    allSay(outputsOn(last, "2026-04-19"), 2);
    allSay(outputsOn(last, "2026-05-03"), 3);
    allSay(outputsOn(last, "2026-05-04"), 0);
  });

  it("has the newer text as a proposal until its day, with the status that it has", () => {
    const statuses = days.map((day) => of(forceOn(then.get(day)!, day), "change-to-shell").map(({ status }) => status));
    expect(statuses).toEqual([["draft"], ["in review"], ["approved"], ["coming"], ["coming"], []]);
  });

  it("finds no fault with what is in force because of a text in review (a proposal takes nothing away)", () => {
    const files = then.get("2026-02-09")!;
    const errors = runRules(files, new Findings(), "2026-02-09").filter(({ severity }) => severity === "error");
    expect(errors.filter(({ rule }) => /^(?:plan|parts|bands|fastening)\//.test(rule))).toEqual([]);
  });

  it("leaves the patients of a withdrawn configuration without one, and says so", () => {
    const found = runRules(then.get("2026-05-04")!, new Findings(), "2026-05-04");
    expect(found.filter(({ rule }) => rule === "bands/gap").map(({ message }) => message)).toEqual([
      "No configuration of `sled` is for a patient from 8 kg to under 30 kg",
    ]);
  });

  it("says of a fault that only comes with a proposal that it is proposed", async () => {
    const files = then.get("2026-02-02")!;
    const [platform] = files.platforms;
    const narrowed = {
      ...files,
      platforms: [
        {
          ...platform!,
          configurations: platform!.configurations.map((each) =>
            each.id === "child-shell" ? { ...each, band: platform!.configurations[1]!.band } : each,
          ),
        },
      ],
    };
    const gaps = runRules(narrowed, new Findings(), "2026-02-02").filter(({ rule }) => rule.startsWith("bands/"));
    expect(gaps.length).toBeGreaterThan(0);
    expect(gaps.every(({ proposed }) => proposed)).toBe(true);
  });
});

describe("a frozen issue as a record again", () => {
  it("freezes to the very same content", async () => {
    for (const platform of (await load()).platforms)
      for (const record of [...platform.procedures, ...platform.configurations, ...platform.options]) {
        const content = contentOf(record, platform);
        const again = contentOf(thaw(content, record.file), platform);
        const withoutPhotos = (text: string) => text.replace(/"photos":\[[^\]]*\]/g, "");
        expect(withoutPhotos(JSON.stringify(again))).toBe(withoutPhotos(JSON.stringify(content)));
      }
  });

  it("keeps what its lines are about and replace, which steps read the card, and reasons of silent slips", async () => {
    const [tern] = (await loadCollection(join(import.meta.dirname, "../../../procedures"), new Findings())).platforms;
    const again = <T extends Issuable>(record: T) => thaw(contentOf(record, tern!), record.file) as T;
    const cooling = again(tern!.options.find(({ id }) => id === "cooling-unit")!);
    expect(cooling.checks[0]).toMatchObject({ challenge: "Warmer slot", replaces: "Warming mattress" });
    const capsule = again(tern!.configurations.find(({ id }) => id === "newborn-capsule")!);
    expect(capsule.checks.flatMap(({ about }) => about ?? [])).toContain("canopy-catches");
    const dress = tern!.procedures.find(({ id }) => id === "dress-capsule")!,
      steps = dress.sections.flatMap(({ entries }) => entries.filter((entry) => entry.kind === "step"));
    const reasoned = {
      ...dress,
      sections: [{ ...dress.sections[0]!, entries: steps.map((step) => ({ ...step, unnoticed: "Because." })) }],
    };
    const thawed = again(reasoned).steps;
    expect(thawed.map(({ unnoticed }) => unnoticed)).toEqual(steps.map(() => "Because."));
    expect(thawed.map(({ readsCard }) => readsCard !== undefined)).toEqual(
      steps.map(({ readsCard }) => readsCard !== undefined),
    );
    expect(thawed.some(({ readsCard }) => readsCard)).toBe(true);
  });
});
