/**
 * One table of bands, told in several places: what `check` finds no fault with, `choose` answers, page and command the
 * same; a card is for the patients whom its check line tells; what `folders` orders, `cards` prints. Collections are
 * generated (invented) from one that is valid, by other ends of its bands.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { covers, cutsOf, divide, holds, valueIn } from "../../src/domain/bands/bands.ts";
import { choose } from "../../src/domain/bands/choose.ts";
import { readWeight } from "../../src/domain/bands/entry.ts";
import { bandCardsOf, rangeTold } from "../../src/domain/cards/band-cards.ts";
import type { ConfigurationContent } from "../../src/domain/records/content.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { auditFolders, printOrders } from "../../src/paper/folder-audit.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { parseMass } from "../../src/schema/quantities.ts";
import { MASS_PER_KG } from "../../src/schema/units.ts";
import { runHere } from "../commands/run-here.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const sled = join(root, "tests/fixtures/collections/sled");
const TODAY = "2026-11-28";
const work = mkdtempSync(join(tmpdir(), "rerig-agree-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** A collection whose service and two configurations have these weights. */
function withBands(service: string, shell: string, mattress: string): string {
  const folder = mkdtempSync(join(work, "sled-"));
  cpSync(sled, folder, { recursive: true });
  for (const [file, words] of [
    ["service.yaml", service],
    ["sled/configurations/child-shell.mdx", shell],
    ["sled/configurations/vacuum-mattress.mdx", mattress],
  ] as const) {
    const path = join(folder, file);
    writeFileSync(path, readFileSync(path, "utf8").replace(/^weight: .*$/m, `weight: ${words}`));
  }
  return folder;
}

const end = fc.integer({ min: 80, max: 1500 }).map((tenths) => tenths / 10);
/** A band between two weights; who owns an end is drawn too. */
const band = (from: number, to: number, last: boolean, first = true) =>
  `${first ? "from" : "over"} ${from} kg ${last ? "up to" : "to under"} ${to} kg`;

describe("where `check` finds no gap and no overlap", () => {
  it("`choose` names one arrangement for every patient who is carried, page and command the same", async () => {
    let clean = 0,
      faulty = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(end, { minLength: 3, maxLength: 3 }),
        fc.boolean(),
        fc.boolean(),
        fc.constantFrom(0, 0, 0, 0.1),
        async (ends, last, owned, slip) => {
          const [low, middle, high] = ends.toSorted((a, b) => a - b) as [number, number, number];
          // A band that ends where it begins is refused before anything is asked of it.
          fc.pre(low < middle && Math.round((middle + slip) * 10) < high * 10);
          // Most of these tables fit together; a gap or an overlap of 100 g is put into some.
          const folder = withBands(
            band(low, high, owned),
            band(low, middle, last),
            band(Math.round((middle + slip) * 10) / 10, high, owned, !last),
          );
          const files = await readCollection(folder);
          const found = runRules(files, new Findings(), TODAY).filter(({ rule }) =>
            /^bands\/(gap|overlap|empty)$/.test(rule),
          );
          const { collection } = forceOn(files, TODAY),
            rows = collection.platforms[0]!.configurations,
            service = collection.service.band;
          const bands = [service.weight, ...rows.map((row) => row.band.weight)];
          const pieces = divide(service.weight, cutsOf(bands), "any weight").map(valueIn);
          const asked = [
            ...pieces.map((mass) => Number(mass / (MASS_PER_KG / 1_000_000n)) / 1_000_000),
            low,
            middle,
            high,
          ];
          for (const kg of asked) {
            const text = `${kg} kg`,
              mass = parseMass(text);
            if (!mass.ok || !holds(service.weight, mass.value.value)) continue;
            const told = readWeight(text);
            if (told.kind !== "value") throw new Error(`${text} is not read`);
            const page = choose({ service, rows }, told.value);
            const onPage = page.kind === "found" ? page.rows.map(({ id }) => id) : [];
            const run = await runHere(["choose", "--procedures", folder, "--weight", text, "--json"], TODAY);
            expect([run.status, JSON.parse(run.stdout)]).toMatchObject([0, { configurations: onPage }]);
            if (found.length === 0) expect(onPage).toHaveLength(1);
          }
          if (found.length === 0) clean += 1;
          else faulty += 1;
          rmSync(folder, { recursive: true });
        },
      ),
      { numRuns: 25 },
    );
    expect(clean).toBeGreaterThan(5);
    expect(faulty).toBeGreaterThan(0);
  }, 120_000);
});

describe("a card", () => {
  it.each(COLLECTIONS)(
    "is for the patients whom its check line tells, also one that is only for some of them: %s",
    async (folder) => {
      const { collection } = forceOn(await readCollection(join(root, folder)), TODAY);
      let lines = 0;
      for (const { platform, card } of [{}, { eachBand: true }].flatMap(
        (asked) => requestCards(collection, asked, TODAY).requests,
      )) {
        const own = collection.platforms.find(({ id }) => id === platform)!;
        const configuration = own.configurations.find(({ id }) => id === card.id)!;
        for (const line of card.parts.flatMap((part) => part.lines)) {
          const told =
            line.kind === "check"
              ? rangeTold(line.answer.split(/, (?:under|from|over|up to) \d+ (?:day|week|month|year)/)[0]!)
              : undefined;
          if (!told) continue;
          lines += 1;
          const weight = card.weight!;
          expect(`${card.band}: ${covers(told, weight) && covers(weight, told)}`).toBe(`${card.band}: true`);
          expect(covers(configuration.band.weight, told)).toBe(true);
        }
      }
      if (folder === "procedures") expect(lines).toBeGreaterThan(5);
    },
  );

  it("for a part of a configuration's patients tells that part, whatever the ends (generated)", async () => {
    const { platforms } = await readCollection(join(root, "procedures"));
    const [platform] = platforms;
    const capsule = platform!.configurations.find(({ id }) => id === "newborn-capsule")!;
    const contents = [...platform!.procedures, ...platform!.options].map((record) => contentOf(record, platform!));
    const content = contentOf(capsule, platform!) as ConfigurationContent;
    const parts = bandCardsOf(content, contents);
    expect(parts.length).toBeGreaterThan(2);
    for (const { band: part, content: card } of parts) {
      const answers = card.lines.flatMap((line) =>
        line.kind === "check" && line.challenge === "Patient" ? [line.answer] : [],
      );
      expect(answers).toHaveLength(1);
      expect(answers[0]).toContain(part.weight.text);
      if (part.age.from || part.age.to) expect(answers[0]).toContain(part.age.text);
    }
  });
});

describe("what `folders` orders", () => {
  it("`cards` prints, by the same codes: a card replaced, a copy without a code, one of a changeover", async () => {
    const folder = mkdtempSync(join(work, "folders-"));
    cpSync(sled, folder, { recursive: true });
    await runHere(["issue", "--procedures", folder], TODAY);
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom("2AAA-AA", "current", undefined), { minLength: 4, maxLength: 4 }),
        async (codes) => {
          const now = new Map(
            requestCards(forceOn(await readCollection(folder), TODAY).collection, {}, TODAY).requests.map(
              ({ card }) => [card.id, card.checkCode!],
            ),
          );
          const cards = ["child-shell", "vacuum-mattress", "child-shell", "vacuum-mattress"];
          const copies = cards.map((card, at) => {
            const code = codes[at] === "current" ? now.get(card) : codes[at];
            const known = code ? `check: ${code}, ` : "";
            return `    - { card: ${card}, copy: ${Math.floor(at / 2) + 1}, ${known}placed: 2026-02-01 }`;
          });
          writeFileSync(
            join(folder, "folders.yaml"),
            `ridge-hut:\n  name: Ridge hut folder\n  copies:\n${copies.join("\n")}\n`,
          );
          const { collection } = forceOn(await readCollection(folder), TODAY);
          const ordered = printOrders(auditFolders(collection, TODAY));
          const printed = requestCards(collection, { folder: "ridge-hut" }, TODAY).requests;
          for (const { card, copies: wanted } of ordered)
            for (const { copy } of wanted)
              expect(
                printed.filter((each) => each.card.checkCode === card.code && each.copy?.number === copy.copy),
                `${card.code}, copy ${copy.copy}`,
              ).toHaveLength(1);
          const said = JSON.parse((await runHere(["folders", "--procedures", folder, "--json"], TODAY)).stdout) as {
            print: { check: string }[];
          };
          expect(said.print.map(({ check }) => check).toSorted()).toEqual(
            ordered.map(({ card }) => card.code).toSorted(),
          );
        },
      ),
      { numRuns: 25 },
    );
  }, 120_000);
});
