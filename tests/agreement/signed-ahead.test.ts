/**
 * Crews are trained for a revision before its day: their sign-offs are kept and count from then on. The collection and
 * the days are invented; that people are made competent before they work to a change is common practice, no source.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runHere } from "../commands/run-here.ts";

const BEGUN = "2026-05-04",
  WRITTEN = "2026-06-10",
  EVE = "2026-06-14",
  DAY = "2026-06-15";
const work = mkdtempSync(join(tmpdir(), "rerig-ahead-")),
  folder = join(work, "pod"),
  register = join(work, "register.csv");
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** People by what became of them on a day, with the day from which it changes. */
async function statesOn(day: string) {
  const { stdout, stderr } = await runHere(["signoffs", register, "--procedures", folder, "--on", day, "--json"], day);
  const answer = JSON.parse(stdout) as Record<string, { person: string; from?: string }[]> & {
    findings: { message: string; line: number }[];
  };
  const states = ["again", "lapsed", "soon", "stands", "ahead"].flatMap((state) =>
    answer[state]!.map(({ person, from }) => [person, from ? `${state} from ${from}` : state] as const),
  );
  return { states: Object.fromEntries(states), findings: answer.findings, stderr };
}

beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/pod"), folder, { recursive: true });
  expect(await runHere(["issue", "--procedures", folder], BEGUN)).toMatchObject({ status: 0 });
  const file = join(folder, "pod/lamp-on.mdx");
  writeFileSync(
    file,
    readFileSync(file, "utf8")
      .replace("revision: 1", "revision: 2")
      .replace(`effective: ${BEGUN}`, `effective: ${DAY}`)
      .replace(
        "owner:",
        `changes:\n  - { revision: 2, date: ${WRITTEN}, by: Practice development nurse, summary: The clip is pulled, ` +
          "reason: One gave way, sign-offs: again }\nowner:",
      )
      .replace("until its clip snaps.", "until its clip snaps, and pull it once."),
  );
  expect(await runHere(["issue", "--procedures", folder], EVE)).toMatchObject({ status: 0 });
  const rows = [
    `Old,1,${BEGUN}`,
    `Both,1,${BEGUN}`,
    `Both,2,${EVE}`,
    `New,2,${EVE}`,
    `Nobody,3,${EVE}`,
    `Early,2,${BEGUN}`,
  ];
  writeFileSync(
    register,
    `person,revision,date,procedure,assessor\n${rows.map((row) => `${row},lamp-on,A. B.\n`).join("")}`,
  );
}, 120_000);

it("who was trained for what is to come is not asked again; who was for that alone is told the day", async () => {
  const { states, findings } = await statesOn(EVE);
  expect(states).toEqual({ Old: `again from ${DAY}`, Both: "stands", New: `ahead from ${DAY}` });
  expect(findings.map(({ line, message }) => [line, message])).toEqual([
    [6, "`OS-08` has no revision 3; the latest is 2"],
    [7, expect.stringContaining(`was written on ${WRITTEN}, after ${BEGUN}`)],
  ]);
});

it("from the day on both stand, and the third is to be seen again", async () => {
  const { states } = await statesOn(DAY);
  expect(states).toEqual({ Old: "again", Both: "stands", New: "stands" });
});

it("says so in words", async () => {
  const { stdout } = await runHere(["signoffs", register, "--procedures", folder, "--on", EVE], EVE);
  expect(stdout).toContain(
    "Signed for what is still to come, and for nothing that is in force; counts from its day:\n" +
      `  New: Fit the blue lamp (OS-08), signed for revision 2, now 2; from ${DAY}\n`,
  );
});
