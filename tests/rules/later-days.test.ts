/**
 * What comes on a later day is seen today: an amendment of a revision that is replaced while it runs, and a procedure
 * that counts only from a later day than what needs it. Dates and words are invented; each piece of advice is followed,
 * and nothing is then found.
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runHere } from "../commands/run-here.ts";
import { edit } from "../domain/force/eight-days.ts";
import { judgeFolder } from "./judge.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-later-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const base = resolve(import.meta.dirname, "../fixtures/collections/sled");
const SHELL = "sled/change-to-shell.mdx";

function copyOf(name: string): string {
  const folder = join(work, name);
  cpSync(base, folder, { recursive: true });
  return folder;
}

async function issue(folder: string, day: string): Promise<void> {
  const { status, stderr } = await runHere(["issue", "--procedures", folder], day);
  expect(status, stderr).toBe(0);
}

function amend(folder: string, number: string, revision: number, from: string, until: string): void {
  mkdirSync(join(folder, "sled/amendments"), { recursive: true });
  writeFileSync(
    join(folder, `sled/amendments/${number.toLowerCase()}.mdx`),
    `---
number: ${number}
title: Latches of the batch of May
reason: Two latches sprang open in the workshop
from: ${from}
until: ${until}
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: ${revision} }]
---

:::warning
Look at the latch twice.
:::
`,
  );
}

const TODAY = "2026-05-30";
const amendmentsFound = async (folder: string, today = TODAY) =>
  (await judgeFolder(folder, today)).findings.filter(({ rule }) => rule === "record/amendment-unknown-revision");

describe("an amendment of a revision that is replaced while it runs", () => {
  let folder: string;
  const raise = () =>
    edit(
      folder,
      SHELL,
      [/^revision: 1$/m, "revision: 2"],
      [/^effective: .*$/m, "effective: 2026-06-14"],
      [
        /\n---\n/,
        "\nchanges: [{ revision: 1, date: 2026-01-12, by: Training officer, summary: First. }, " +
          "{ revision: 2, date: 2026-05-28, by: Training officer, summary: Shorter. }]\n---\n",
      ],
      [/Open both bed straps\./, "Open both bed straps, one after the other."],
    );

  beforeAll(async () => {
    folder = copyOf("amended");
    await issue(folder, "2026-01-12");
    raise();
  }, 120_000);

  // Approved first: who issues it while the amendment runs on is told before, and can do what is advised.
  it.each(["approved", "issued"])(
    "is found today, and says both amendments, which stand: revision 2 is %s",
    async (stage) => {
      rmSync(join(folder, "sled/amendments"), { recursive: true, force: true });
      if (stage === "issued") await issue(folder, TODAY);
      amend(folder, "KRR-A1", 1, "2026-05-30", "2026-06-20");
      const [found, ...more] = await amendmentsFound(folder);
      expect(more).toEqual([]);
      expect(found?.message).toBe(
        "Amendment `KRR-A1` is about revision 1 of `change-to-shell` and runs until 20 Jun 2026, and revision 2 " +
          "takes its place on 14 Jun 2026",
      );
      expect(found?.fix).toBe(
        "End this one on 13 Jun 2026 (`until: 2026-06-13`), and if revision 2 still needs it, write another that " +
          "begins on 14 Jun 2026 for revision 2",
      );
      amend(folder, "KRR-A1", 1, "2026-05-30", "2026-06-13");
      amend(folder, "KRR-A2", 2, "2026-06-14", "2026-06-20");
      expect(await amendmentsFound(folder)).toEqual([]);
    },
  );

  it("followed and issued, nothing is found on any day of the two", async () => {
    for (const day of [TODAY, "2026-06-13", "2026-06-14", "2026-06-20"])
      expect(await amendmentsFound(folder, day), day).toEqual([]);
  });

  it("of the later revision it is told when to begin", async () => {
    amend(folder, "KRR-A1", 1, "2026-05-30", "2026-06-13");
    amend(folder, "KRR-A2", 2, "2026-05-30", "2026-06-20");
    expect((await amendmentsFound(folder)).map(({ fix }) => fix)).toEqual([
      "Begin this one on 14 Jun 2026, when revision 2 does, and if revision 1 needs it until then, write another for " +
        "revision 1 that ends on 13 Jun 2026",
    ]);
  });
});

describe("a first issue of which one procedure counts only from a later day", () => {
  it.each(["2026-06-02", "2062-06-01"])("is told which one, and from when: %s", async (day) => {
    const folder = copyOf(`first-${day}`);
    edit(folder, SHELL, [/^effective: .*$/m, `effective: ${day}`]);
    const plan = (await judgeFolder(folder, "2026-06-01")).findings.filter(({ rule }) => rule.startsWith("plan/"));
    expect(plan.length).toBeGreaterThan(0);
    const said = day === "2026-06-02" ? "2 Jun 2026" : "1 Jun 2062";
    for (const { fix, message } of plan) {
      expect(message).toContain(`; \`change-to-shell\` does, from ${said}`);
      expect(fix).toBe(
        `\`change-to-shell\` does this, but counts only from ${said}: give it the same day, or give the others its day`,
      );
    }
    edit(folder, SHELL, [/^effective: .*$/m, "effective: 2026-01-12"]);
    expect((await judgeFolder(folder, "2026-06-01")).findings.filter(({ rule }) => rule.startsWith("plan/"))).toEqual(
      [],
    );
  });

  it("no weight is offered to be widened where no procedure has one", async () => {
    const folder = copyOf("none");
    rmSync(join(folder, SHELL));
    const plan = (await judgeFolder(folder, "2026-06-01")).findings.filter(({ rule }) => rule.startsWith("plan/"));
    expect(plan.length).toBeGreaterThan(0);
    for (const { fix } of plan) expect(fix).toBe("Write or approve a procedure that makes the missing moves");
  });
});
