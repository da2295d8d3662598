/**
 * A temporary amendment over its life, with the clock moved: the day before, its first day, its last day, the day
 * after. On each day every output of the program either holds the amendment's words or none of them does, and what was
 * issued stays what it was. The dates and words are invented; that a temporary amendment has a number, a reason, an
 * expiry and ends by itself is common practice, no source.
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { currentCards } from "../../../src/domain/cards/cards-issued.ts";
import { packPlatform } from "../../../src/domain/device/pack.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { arrangementNamed, graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { contentOf } from "../../../src/domain/records/freeze.ts";
import { Findings } from "../../../src/findings/finding.ts";
import { changeoverCards } from "../../../src/paper/changeover-card.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import type { Collection } from "../../../src/schema/collection.ts";
import { makeSite, platformOf } from "../../../src/site/site.ts";
import { runHere } from "../../commands/run-here.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-amendment-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const AMENDMENT = `---
number: KRR-A7
title: Buckles of the batch of May
reason: Two buckles jammed in the cold
from: 2026-06-08
until: 2026-06-19
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
out: [oxygen-bottle]
---
:::warning
A jammed buckle (jam-word) is never forced.
:::

:::step{replaces=open-straps by=leader critical takes="25 s" photo=bed}
Warm both buckles with the hand (warm-word), then open both bed straps.

::turn{fastening=bed-straps to=open}
::check[Bed straps]{by=tail answer="both open"}
:::
`;

/** Each day with its stage, and whether the amendment runs on it. */
const DAYS = [
  ["the day before", "2026-06-07", false],
  ["its first day", "2026-06-08", true],
  ["its last day", "2026-06-19", true],
  ["the day after", "2026-06-20", false],
] as const;

let files: Collection;
beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../../fixtures/collections/sled"), folder, { recursive: true });
  mkdirSync(join(folder, "sled/amendments"));
  writeFileSync(join(folder, "sled/amendments/buckles.mdx"), AMENDMENT);
  expect((await runHere(["issue", "--procedures", folder], "2026-01-12")).status).toBe(0);
  const findings = new Findings();
  files = await loadCollection(folder, findings);
  expect(findings.list).toEqual([]);
});

const json = (value: unknown) =>
  JSON.stringify(value, (_key, entry: unknown) => (typeof entry === "bigint" ? String(entry) : entry)) ?? "";

/** What each output says on a day. */
function outputsOn(day: string): Readonly<Record<string, string>> {
  const { collection, proposed } = forceOn(files, day),
    platform = collection.platforms[0]!,
    model = modelOf(platform);
  const [from, to] = ["vacuum-mattress", "child-shell"].map((name) => arrangementNamed(model, name)!);
  const plan = planChangeover(model, graphFor(model, { weight: 10n ** 21n }), from!, to!)!;
  const page = platformOf(makeSite(folder, files, day), "sled").procedures.find(({ id }) => id === "change-to-shell")!;
  return {
    changeover: json(plan.procedures.map(({ sections }) => sections)),
    "changeover on paper": json(changeoverCards(collection, platform)("vacuum-mattress--child-shell")),
    "page of the procedure": json(page.sections),
    "pack of a device": json(packPlatform(platform, collection.service)),
    "what a proposal would make": json(proposed.platforms[0]!.procedures),
  };
}

describe.each(DAYS)("%s, %s", (_stage, day, runs) => {
  it("is said by every output, or by none", () => {
    for (const [name, said] of Object.entries(outputsOn(day)))
      for (const word of ["warm-word", "jam-word"])
        expect(`${name} ${word} ${said.includes(word)}`).toBe(`${name} ${word} ${runs}`);
  });

  it("stands with its number and both days at step and warning, and the step keeps number and id", () => {
    const { procedures } = forceOn(files, day).collection.platforms[0]!;
    const { steps, sections } = procedures.find(({ id }) => id === "change-to-shell")!;
    const [step] = steps;
    expect([step!.number, step!.id, step!.procedure]).toEqual([1, "open-straps", "change-to-shell"]);
    if (!runs) return expect(step!.amended).toBeUndefined();
    const alert = sections.flatMap(({ entries }) => entries).find(({ kind }) => kind === "alert");
    for (const words of [json(step!.alerts), json(alert)])
      expect(words).toContain("Temporary amendment KRR-A7. Effective from 8 Jun 2026, expires after 19 Jun 2026.");
    expect(json(step!.amended!.asIssued.instruction)).toContain("Open both bed straps.");
  });

  it("takes its item out of service, and changes no count", () => {
    const { items, out } = forceOn(files, day).collection.platforms[0]!;
    expect(out ?? new Map()).toEqual(runs ? new Map([["oxygen-bottle", 1]]) : new Map());
    expect(items).toEqual(files.platforms[0]!.items);
  });

  it("leaves what is issued as it is: contents, cards, their codes and editions", () => {
    const { collection } = forceOn(files, day),
      platform = collection.platforms[0]!,
      before = forceOn(files, "2026-06-01").collection.platforms[0]!;
    expect(currentCards(platform, printedCodes(collection))).toEqual(
      currentCards(before, printedCodes(forceOn(files, "2026-06-01").collection)),
    );
    expect(platform.procedures.map((each) => contentOf(each, platform))).toEqual(
      before.procedures.map((each) => contentOf(each, before)),
    );
  });

  it("is in the proofs while it runs: a step that can't be done so is found at its words", async () => {
    const broken = join(folder, "../", `${folder.split("/").at(-1)}-broken`);
    cpSync(folder, broken, { recursive: true });
    writeFileSync(join(broken, "sled/amendments/buckles.mdx"), AMENDMENT.replace("to=open}", "to=closed}"));
    const { stdout } = await runHere(["check", "--json", "--procedures", broken], day);
    const found = (JSON.parse(stdout) as { findings: { rule: string; file: string }[] }).findings;
    expect(found.some(({ rule, file }) => rule === "fastening/no-change" && file.endsWith("buckles.mdx"))).toBe(runs);
    rmSync(broken, { recursive: true });
  });

  it("is what the commands answer with: what it takes can't be built, and who recalls the item finds it", async () => {
    const ask = async (...words: readonly string[]) => runHere([...words, "--procedures", folder], day);
    const changeover = await ask(
      "changeover",
      "--from=vacuum-mattress",
      "--to=vacuum-mattress+oxygen",
      "--weight=80 kg",
      "--json",
    );
    const why = "oxygen bottle is out of service, temporary amendment KRR-A7, effective from 8 Jun 2026, expires after";
    expect(changeover.status).toBe(runs ? 2 : 0);
    expect(changeover.stderr.includes(why)).toBe(runs);
    const left = await ask("without", "vacuum-mattress", "--json");
    expect((JSON.parse(left.stdout) as { out: { item: string }[] }).out.map(({ item }) => item)).toEqual(
      runs ? ["vacuum-mattress", "oxygen-bottle"] : ["vacuum-mattress"],
    );
    // Who recalls an item learns of an amendment that is still to come as well.
    const isKnown = day <= "2026-06-19";
    for (const item of ["oxygen-bottle", "vacuum-mattress"]) {
      const { stdout } = await ask("recall", item);
      expect(stdout.includes("KRR-A7 Buckles of the batch of May. Effective from 8 Jun 2026")).toBe(isKnown);
    }
    expect((await ask("recall", "shell-pin")).stdout).not.toContain("KRR-A7");
    const { stdout } = await ask("folders");
    expect(/SLIP {5}temporary amendment KRR-A7, check code [0-9A-Z]{4}-[0-9A-Z]{2}, over/.test(stdout)).toBe(runs);
    expect(stdout.includes("KRR-A7")).toBe(isKnown);
  });

  it("is told to whoever is signed off for what it changes, and to nobody else", async () => {
    const register = join(folder, "../", `${folder.split("/").at(-1)}-register.csv`);
    writeFileSync(
      register,
      "person,procedure,revision,date,assessor\nA. Rider,change-to-shell,1,2026-02-01,Officer\n" +
        "B. Rider,change-to-mattress,1,2026-02-01,Officer\n",
    );
    const { stdout } = await runHere(["signoffs", register, "--procedures", folder], day);
    rmSync(register);
    const told = /To be told of a temporary amendment[^]*$/.exec(stdout)?.[0] ?? "";
    expect(told.includes("KRR-A7")).toBe(day <= "2026-06-19");
    expect(told.includes("A. Rider")).toBe(day <= "2026-06-19");
    expect(told).not.toContain("B. Rider");
  });
});

it("that is about a revision by which nobody works on the day is named where an answer leaves it out", async () => {
  const other = `${folder}-vain`;
  cpSync(folder, other, { recursive: true });
  try {
    writeFileSync(join(other, "sled/amendments/buckles.mdx"), AMENDMENT.replace("revision: 1", "revision: 2"));
    const ask = ["changeover", "--procedures", other, "--from", "vacuum-mattress", "--to", "child-shell"];
    const before = await runHere([...ask, "--on", "2026-06-07"], "2026-06-01"),
      during = await runHere([...ask, "--on", "2026-06-08"], "2026-06-01"),
      right = await runHere([...ask, "--procedures", folder, "--on", "2026-06-08"], "2026-06-01");
    expect(during.status).toBe(0);
    expect(during.stderr).toContain(
      "Amendment KRR-A7 runs on 8 Jun 2026 and changes nothing: it is about revision 2 of “Change to the child shell”",
    );
    for (const { stderr } of [before, right]) expect(stderr).not.toContain("KRR-A7");
  } finally {
    rmSync(other, { recursive: true, force: true });
  }
});
