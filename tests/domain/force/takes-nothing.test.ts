/**
 * A proposal takes nothing away: whatever is written into the files without being issued, what is in force stays as it
 * was, its cards, its changeovers and its choice of configurations included. Generated edits (invented) of the sled,
 * all of which is issued; that obsolete and coming texts are kept from use is ISO 9001:2015, 7.5.3.2.
 */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentsInForce, currentCards } from "../../../src/domain/cards/cards-issued.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { arrangementNamed, graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import type { Collection, Configuration, Option, Platform, Procedure } from "../../../src/schema/collection.ts";
import { runHere } from "../../commands/run-here.ts";
import { readCollection } from "../../read-collection.ts";

const folder = mkdtempSync(join(tmpdir(), "rerig-nothing-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const DAY = "2026-06-01";
let files: Collection;
beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../../fixtures/collections/sled"), folder, { recursive: true });
  expect((await runHere(["issue", "--procedures", folder], "2026-02-01")).status).toBe(0);
  files = await readCollection(folder);
});

/** What people act on. */
function answers(collection: Collection) {
  return collection.platforms.map((platform) => {
    const model = modelOf(platform),
      patient = { weight: 10n ** 21n };
    const [from, to] = ["vacuum-mattress", "child-shell"].map((name) => arrangementNamed(model, name));
    const plan = from && to && planChangeover(model, graphFor(model, patient), from, to);
    return {
      documents: contentsInForce(platform).sort((a, b) => (`${a.kind} ${a.id}` < `${b.kind} ${b.id}` ? -1 : 1)),
      cards: currentCards(platform, printedCodes(collection)).map(
        ({ configuration, code }) => `${configuration} ${code}`,
      ),
      bands: platform.configurations.map(({ id, band }) => `${id} ${band.weight.text} ${band.age.text}`),
      changeover: plan?.steps.map(({ procedure, step }) => `${procedure.id}@${procedure.revision} ${step.number}`),
    };
  });
}

type Document = Procedure | Configuration | Option;
const EDITS: Readonly<Record<string, (document: Document) => object>> = {
  "another title": ({ title }) => ({ title: `${title} now` }),
  "another band": () => ({ band: { weight: { text: "any weight" }, age: { text: "any age" } } }),
  "no checks": () => ({ checks: [] }),
  "nothing fitted": () => ({ fitted: [] }),
  "no options": () => ({ options: [] }),
  "no steps": (document) => ("steps" in document ? { steps: [], sections: [] } : {}),
  "half of the steps": (document) =>
    "steps" in document
      ? {
          steps: document.steps.slice(0, 1),
          sections: document.sections.map((section) => ({ ...section, entries: section.entries.slice(0, 2) })),
        }
      : {},
  "another owner and review": () => ({ owner: "Nobody", reviewBy: "2020-01-01" }),
};

const pick = fc.record({
  at: fc.nat(),
  edits: fc.subarray(Object.keys(EDITS), { minLength: 1 }),
  status: fc.constantFrom("draft" as const, "in review" as const, "approved" as const),
  raise: fc.integer({ min: 1, max: 5 }),
  effective: fc.option(fc.constantFrom("2026-01-01", DAY, "2027-01-01"), { nil: undefined }),
});

describe("what is written and not issued", () => {
  it("leaves what is in force as it was (400 generated sets of edits)", () => {
    const before = answers(forceOn(files, DAY).collection);
    fc.assert(
      fc.property(fc.array(pick, { minLength: 1, maxLength: 3 }), (picks) => {
        const [platform] = files.platforms;
        const all: Document[] = [...platform!.procedures, ...platform!.configurations, ...platform!.options];
        const edited = new Map<Document, Document>();
        for (const { at, edits, status, raise, effective } of picks) {
          const document = all[at % all.length]!;
          const changes = Object.assign({}, ...edits.map((name) => EDITS[name]!(document))) as object;
          edited.set(document, {
            ...document,
            ...changes,
            status,
            revision: document.revision + raise,
            ...(effective ? { effective } : {}),
          });
        }
        const swap = <T extends Document>(list: readonly T[]) => list.map((each) => (edited.get(each) ?? each) as T);
        const written: Platform = {
          ...platform!,
          procedures: swap(platform!.procedures),
          configurations: swap(platform!.configurations),
          options: swap(platform!.options),
        };
        const force = forceOn({ ...files, platforms: [written] }, DAY);
        expect(answers(force.collection)).toEqual(before);
        expect(force.proposals.map(({ id, status, revision }) => `${id} ${status} ${revision}`).sort()).toEqual(
          [...edited.values()].map(({ id, status, revision }) => `${id} ${status} ${revision}`).sort(),
        );
      }),
      { numRuns: 400 },
    );
  });
});
