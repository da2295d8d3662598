/**
 * `rerig signoffs`: a story in which some steps change, told by a register; who must be seen again, for what, and what
 * the register never touches.
 */
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-signoffs-"));
const folder = join(work, "collection");
const register = join(work, "private", "register.csv");
afterAll(() => rmSync(work, { recursive: true, force: true }));

const rerig = (today: string, ...args: string[]) => runHere([...args, "--procedures", folder], today, work);

function edit(file: string, ...pairs: [string, string][]): void {
  const path = join(folder, file);
  let text = readFileSync(path, "utf8");
  for (const [old, now] of pairs) {
    expect(text).toContain(old);
    text = text.replace(old, now);
  }
  writeFileSync(path, text);
}

interface Result {
  readonly findings: { rule: string; line: number }[];
  readonly again: {
    person: string;
    code: string;
    from?: string;
    earliestStanding: number;
    because: { revision: number; summary: string }[];
    lines: { step?: number; text: string; why: string; critical: boolean }[];
    removed: string[];
  }[];
  readonly lapsed: { person: string; lines: { why: string }[] }[];
  readonly soon: { person: string; signed: { lapses: string } }[];
  readonly stands: { person: string; id: string }[];
}
const judge = async (today: string, ...options: string[]) =>
  JSON.parse((await rerig(today, "signoffs", register, "--json", ...options)).stdout) as Result;

beforeAll(async () => {
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
  mkdirSync(join(work, "private"));
  // Revision 1 is issued; Ann, Ben and Cleo are signed off for it.
  expect((await rerig("2026-02-01", "issue")).status).toBe(0);
  // Revision 2 rewords a reason: sign-offs stand. Dan is signed off for it.
  edit(
    "sled/change-to-shell.mdx",
    ["revision: 1", "revision: 2"],
    ["effective: 2026-01-12", "effective: 2026-03-15"],
    [
      "approved-by: Rescue lead\n",
      "approved-by: Rescue lead\nchanges:\n  - { revision: 2, date: 2026-03-01, by: Training officer, " +
        "summary: The reason says more., sign-offs: stand }\n",
    ],
    ["Why: with one pin the shell turns on the slope.", "Why: with one pin the shell turns over on a slope."],
  );
  expect((await rerig("2026-03-20", "issue")).status).toBe(0);
  // Revision 3 changes one safety-critical step: the pins are pulled on. Sign-offs again. Eve is signed off for it.
  edit(
    "sled/change-to-shell.mdx",
    ["revision: 2\n", "revision: 3\n"],
    ["effective: 2026-03-15", "effective: 2026-09-01"],
    [
      "sign-offs: stand }\n",
      "sign-offs: stand }\n  - { revision: 3, date: 2026-08-01, by: Training officer, summary: Each pin is " +
        "pulled on., reason: A pin came out on the slope., sign-offs: again }\n",
    ],
    ["Push both pins in until each one clicks.", "Push both pins in until each one clicks, and pull on each."],
  );
  expect((await rerig("2026-09-02", "issue")).status).toBe(0);
  writeFileSync(
    register,
    [
      "person,procedure,revision,date,assessor,lapses",
      "Ann,change-to-shell,1,2026-02-03,Zoe,",
      "Ben,KRR-S-01,1,2026-02-04,Zoe,2026-10-01",
      "Cleo,change-to-shell,1,2026-02-05,Zoe,",
      "Cleo,change-to-shell,3,2026-09-05,Zoe,2026-10-20",
      "Dan,change-to-shell,2,2026-04-01,Zoe,2027-04-01",
      "Eve,change-to-shell,3,2026-09-04,Zoe,2027-09-04",
      "Ann,fit-oxygen,1,2026-02-03,Zoe,",
      "Ben,child-shell,1,2026-02-04,Zoe,2026-09-30",
    ].join("\r\n"),
  );
}, 60_000);

describe("a register after a safety-critical step changed", () => {
  it("names exactly those who were signed off before it, and nobody whose sign-off stands", async () => {
    const { again, lapsed, soon, stands, findings } = await judge("2026-10-02");
    expect(findings).toEqual([]);
    expect(again.map(({ person, code }) => [person, code])).toEqual([
      ["Ann", "KRR-S-01"],
      ["Ben", "KRR-S-01"],
      ["Dan", "KRR-S-01"],
    ]);
    expect(lapsed.map(({ person }) => person)).toEqual(["Ben"]);
    expect(soon.map(({ person, signed }) => [person, signed.lapses])).toEqual([["Cleo", "2026-10-20"]]);
    expect(stands.map(({ person, id }) => [person, id])).toEqual([
      ["Eve", "change-to-shell"],
      ["Ann", "fit-oxygen"],
    ]);
  });

  it("says because of what: the change that asks for it, and not the one that did not", async () => {
    for (const { because, earliestStanding } of (await judge("2026-09-15")).again) {
      expect(because.map(({ revision, summary }) => [revision, summary])).toEqual([[3, "Each pin is pulled on."]]);
      expect(earliestStanding).toBe(3);
    }
  });

  it("lists only the changed step for those who knew the rest, and what depends on it", async () => {
    const { again } = await judge("2026-09-15");
    const dan = again.find(({ person }) => person === "Dan")!;
    expect(dan.lines.map(({ step, why, critical }) => [step, why, critical])).toEqual([[4, "changed", true]]);
    expect(dan.lines[0]!.text).toBe("Push both pins in until each one clicks, and pull on each.");
  });

  it("lists all of it for one that lapsed by date", async () => {
    const [ben] = (await judge("2026-10-02")).lapsed;
    expect(ben!.lines.length).toBeGreaterThan(1);
    expect(ben!.lines.every(({ why }) => why === "whole")).toBe(true);
  });

  it("tells from when it counts while the revision is still to come into force", async () => {
    expect((await judge("2026-09-06", "--soon", "5")).again.every(({ from }) => from === undefined)).toBe(true);
    // On that day Cleo has not been seen for revision 3 yet: hers for revision 1 counts, and not beyond.
    const ahead = ["Ann", "Ben", "Cleo", "Dan"].map((person) => [person, "2026-09-01"]);
    const told = ({ again }: Result) => again.map(({ person, from }) => [person, from]);
    expect(told(await judge("2026-09-06", "--on", "2026-08-20"))).toEqual(ahead);
  });

  it("lets no sign-off lapse because of a text that nobody has approved", async () => {
    const before = await judge("2026-09-15");
    const original = readFileSync(join(folder, "sled/change-to-shell.mdx"), "utf8");
    edit(
      "sled/change-to-shell.mdx",
      ["revision: 3", "revision: 4"],
      ["status: approved", "status: in review"],
      [
        "changes:\n",
        "changes:\n  - { revision: 4, date: 2026-09-10, by: Training officer, summary: All new., sign-offs: again }\n",
      ],
    );
    expect(await judge("2026-09-15")).toEqual(before);
    writeFileSync(join(folder, "sled/change-to-shell.mdx"), original);
  });

  it("says it in words for people, with the policy left to the service", async () => {
    const { stdout, status } = await rerig("2026-10-02", "signoffs", register);
    expect(status).toBe(0);
    expect(stdout).toMatch(
      /Dan: Change to the child shell \(KRR-S-01\), signed for revision 2, now 3\n    because  revision 3: Each pin is pulled on\.\n    see      step 4: Push both pins in/,
    );
    expect(stdout).toContain("4 to be signed off again, 1 soon, 2 stand. The service's own policy decides.");
  });

  it("makes a form with only what is to be seen again, as text whatever the names hold", async () => {
    const form = join(work, "private", "form.html");
    const odd = join(work, "private", "odd.csv");
    writeFileSync(
      odd,
      'person,procedure,revision,date,assessor\n"<script>alert(1)</script>",change-to-shell,2,2026-04-01,Zoe\n',
    );
    expect((await rerig("2026-10-02", "signoffs", odd, "--form", form)).status).toBe(0);
    const html = readFileSync(form, "utf8");
    expect(html).toContain("Push both pins in until each one clicks, and pull on each.");
    expect(html).not.toContain("Lift the mattress off the bed.");
    expect(html).not.toContain("<script");
    expect(html).toContain("&lt;script&gt;");
  });
});

describe("the register itself", () => {
  it("is refused inside the collection, the site and the collection's repository, also behind a link", async () => {
    const name = "people.csv";
    const inside = [join(folder, name), join(folder, "sled", name), join(work, "dist", name)];
    mkdirSync(join(work, "dist"));
    for (const path of inside) {
      writeFileSync(path, readFileSync(register));
      const run = await rerig("2026-10-02", "signoffs", path);
      expect(run.status, path).toBe(2);
      expect(run.stdout).toBe("");
      expect(run.stderr).toMatch(/is inside .* holds names/);
      rmSync(path);
    }
    symlinkSync(folder, join(work, "elsewhere"));
    writeFileSync(join(folder, name), readFileSync(register));
    expect((await rerig("2026-10-02", "signoffs", join(work, "elsewhere", name))).status).toBe(2);
    rmSync(join(folder, name));
    expect((await rerig("2026-10-02", "signoffs", register, "--form", join(folder, "form.html"))).status).toBe(2);
    expect(existsSync(join(folder, "form.html"))).toBe(false);
    mkdirSync(join(work, ".git"));
    expect((await rerig("2026-10-02", "signoffs", register)).stderr).toMatch(/inside the collection's repository/);
    rmSync(join(work, ".git"), { recursive: true });
  });

  it("leaves no name anywhere in the collection", async () => {
    await rerig("2026-10-02", "signoffs", register, "--json");
    const files = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name));
    expect(files.filter((file) => readFileSync(file, "utf8").includes("Cleo"))).toEqual([]);
  });

  it("gives findings for bad rows with exit code 1, and judges the good ones", async () => {
    const bad = join(work, "private", "bad.csv");
    writeFileSync(
      bad,
      "person,procedure,revision,date,assessor\n" +
        "Ann,change-to-shel,1,2026-02-03,Zoe\nDan,change-to-shell,2,2026-04-01,Zoe\n",
    );
    const run = await rerig("2026-10-02", "signoffs", bad, "--json");
    expect(run.status).toBe(1);
    const result = JSON.parse(run.stdout) as Result;
    expect(result.findings.map(({ rule, line }) => [rule, line])).toEqual([["register/unknown-document", 2]]);
    expect(result.again.map(({ person }) => person)).toEqual(["Dan"]);
  });

  it.each([["no-such.csv", /There is no register/]])("says so when it is not there: %s", async (name, why) => {
    const run = await rerig("2026-10-02", "signoffs", join(work, "private", name));
    expect([run.status, run.stdout]).toEqual([2, ""]);
    expect(run.stderr).toMatch(why);
  });

  it("asks for UTF-8 rather than spoil a name", async () => {
    const latin = join(work, "private", "latin.csv");
    writeFileSync(
      latin,
      Buffer.from("person,procedure,revision,date,assessor\nS\xf8ren,change-to-shell,2,2026-04-01,Zoe\n", "latin1"),
    );
    expect((await rerig("2026-10-02", "signoffs", latin)).stderr).toMatch(/not in UTF-8/);
  });
});

describe("a frozen issue that somebody edited", () => {
  it("is a finding, and what rests on it is still judged", async () => {
    const file = "issued/sled/change-to-shell@1.json",
      path = join(folder, file),
      before = readFileSync(path, "utf8");
    try {
      writeFileSync(path, before.replace(/"title": "[^"]*"/, '"title": "Another title"'));
      expect(readFileSync(path, "utf8")).not.toBe(before);
      const { status, stdout, stderr } = await rerig("2026-09-10", "signoffs", register);
      expect(stderr).toContain("record/issue-altered");
      expect(stderr).toContain(`${file}:`);
      expect(stderr).not.toContain("fault in Rerig");
      expect(stdout).toContain("Ann");
      expect(status).toBe(1);
    } finally {
      writeFileSync(path, before);
    }
  });
});
