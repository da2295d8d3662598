/**
 * Frozen issues of the first form, which hold neither equipment nor, for some, an approver: the demo's give the same
 * history and the same standing of sign-offs as they gave before anything asked what is in force on a day. Compared
 * with `fixtures/force/demo-before.json`, which the program as it was then (commit 4c222e6) made of the same files on
 * 27 November 2026.
 */
import { documentsOf } from "../../src/schema/documents.ts";
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type Force, forceOn } from "../../src/domain/force/force.ts";
import { nameOf } from "../../src/domain/records/issues.ts";
import { kindOf } from "../../src/domain/records/freeze.ts";
import { earliestStanding } from "../../src/domain/records/revisions.ts";
import { chainOf, judgeSignOffs } from "../../src/domain/records/signoffs.ts";
import type { Procedure } from "../../src/schema/collection.ts";
import { revisionsOf } from "../../src/site/records/revisions.ts";
import { makeSite } from "../../src/site/site.ts";
import { readCollection } from "../read-collection.ts";

interface Before {
  /** `2 from 2026-02-09: what changed`, in rising order. */
  readonly revisions: readonly string[];
  readonly earliestStanding: number;
  /** What becomes of a sign-off made at each revision: `1 again`. Options have none. */
  readonly signOffs?: readonly string[];
}
const before = JSON.parse(
  readFileSync(resolve(import.meta.dirname, "../fixtures/force/demo-before.json"), "utf8"),
) as Readonly<Record<string, Before>>;
const DAY = "2026-11-27";
const located = { where: { file: "register.csv", line: 1, column: 1 }, at: {} };

describe("the demo's issues of the first form", () => {
  let force: Force;
  const now: Record<string, Before> = {};
  beforeAll(async () => {
    const demo = resolve(import.meta.dirname, "../../procedures"),
      read = await readCollection(demo);
    // What was issued in the second form since did not exist then.
    const files = { ...read, issued: read.issued.filter(({ form = 1 }) => form === 1) };
    force = forceOn(files, DAY);
    const site = makeSite(demo, files, DAY);
    for (const platform of force.collection.platforms)
      for (const document of documentsOf(platform)) {
        const known = revisionsOf(site, platform, document).filter(({ proposal }) => !proposal);
        const signedAt = (revision: number) => {
          const signOff = { person: "A", document, revision, date: "2026-11-01", assessor: "B", ...located } as never;
          return `${revision} ${judgeSignOffs(force.collection, [signOff], DAY, 0, () => new Set())[0]!.state}`;
        };
        now[nameOf(document, kindOf(document))] = {
          revisions: known.map(
            ({ number, after: { effective, record } }) =>
              `${number} from ${effective}: ${record.changes.at(-1)?.summary ?? ""}`,
          ),
          earliestStanding: earliestStanding(chainOf(force.collection, document as Procedure)),
          ...(kindOf(document) === "option" ? {} : { signOffs: known.map(({ number }) => signedAt(number)) }),
        };
      }
  });

  it("are there", () => expect(Object.keys(before).length).toBeGreaterThan(35));

  it.each(Object.keys(before))("give the history and the sign-offs of %s as before", (name) => {
    expect(now[name]).toEqual(before[name]);
  });

  it("take the owner and the approver that they lack from today's files, which is said", () => {
    for (const platform of force.collection.platforms)
      for (const document of [...platform.configurations, ...platform.options]) {
        expect(document.owner, document.id).toBeDefined();
        expect(document.approvedBy, document.id).toBeDefined();
        expect(force.filled.has(nameOf(document, kindOf(document))), document.id).toBe(true);
      }
  });
});
