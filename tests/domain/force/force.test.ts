/**
 * What is in force, told as a story over eight days: after each, every output names the same revision; and the same
 * files asked for an earlier day give the answer of that day. The eight stages are common practice, no source; that
 * obsolete documents are kept from use, and changes to come from being taken for present ones, is ISO 9001:2015, 7.5.3.
 */
import type { Issuable } from "../../../src/schema/documents.ts";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Force, forceOn } from "../../../src/domain/force/force.ts";
import { thaw } from "../../../src/domain/force/thaw.ts";
import { contentOf } from "../../../src/domain/records/freeze.ts";
import { Findings } from "../../../src/findings/finding.ts";
import { runRules } from "../../../src/rules/run-rules.ts";
import type { Collection } from "../../../src/schema/collection.ts";
import { runHere } from "../../commands/run-here.ts";
import { DAYS, tellStory } from "./eight-days.ts";
import { outputsOn } from "./outputs.ts";
import { readCollection } from "../../read-collection.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-force-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const load = () => readCollection(folder);
const allSay = (outputs: Readonly<Record<string, number>>, revision: number) =>
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
    await tellStory(folder, async (day) => {
      then.set(day, await load());
    });
  });

  it.each(DAYS)("%s, %s: every output names revision %i", (_stage, day, revision) => {
    allSay(outputsOn(folder, then.get(day)!, day), revision);
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
    for (const day of days.slice(0, 5)) allSay(outputsOn(folder, last, day), 1);
    allSay(outputsOn(folder, last, "2026-03-16"), 2);
    allSay(outputsOn(folder, last, "2026-04-19"), 2);
    allSay(outputsOn(folder, last, "2026-05-03"), 3);
    allSay(outputsOn(folder, last, "2026-05-04"), 0);
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
    const [tern] = (await readCollection(join(import.meta.dirname, "../../../procedures"))).platforms;
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
