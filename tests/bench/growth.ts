/**
 * How reading, proving and judging a collection grow with each kind of thing in it: `node tests/bench/growth.ts
 * [KINDS…]`. Each kind at three sizes, each twice the one before, in processor time without that of the collection as
 * it was; the exponent is that of the last doubling (1: twice as much takes twice as long, 2: four times).
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const ON = "2026-06-01";

/** Makes a copy of the sled grow: `n` of the kind. */
interface Kind {
  /** The smallest of the three sizes. */
  readonly from: number;
  readonly grow: (folder: string, n: number) => void;
}

const times = (n: number, say: (at: number) => string) => Array.from({ length: n }, (_, at) => say(at)).join("");

/** Writes something else into the place of some words of a file; throws if they are not there. */
function put(folder: string, file: string, words: string | RegExp, instead: string): void {
  const path = join(folder, file),
    before = readFileSync(path, "utf8"),
    after = before.replace(words, () => instead);
  if (after === before) throw new Error(`${file} does not say ${String(words)}`);
  writeFileSync(path, after);
}

const OXYGEN = "sled/fit-oxygen.mdx";
/** Text at the end of a procedure's purpose. */
const purpose = (text: (n: number) => string) => (folder: string, n: number) =>
  put(folder, OXYGEN, "in the same way.\n", `in the same way.\n\n${text(n)}\n`);

const step = (at: number) =>
  `:::step{#extra-${at} by=tail takes="10 s" photo=bed}\nLook at label ${at} and point to it.\n:::\n\n`;

function procedureText(at: number, steps = step(0)): string {
  return (
    `---\ntitle: Round ${at}\ncode: KRR-R-${at}\nrevision: 1\nstatus: approved\neffective: 2026-01-12\n` +
    `review-by: 2031-01-12\nowner: Training officer\napproved-by: Rescue lead\n---\nLooks around.\n\n${steps}`
  );
}

const KINDS: Readonly<Record<string, Kind>> = {
  "words in one line": { from: 4000, grow: purpose((n) => times(n, (at) => `word${at % 50} `)) },
  "paragraphs of one purpose": { from: 500, grow: purpose((n) => times(n, (at) => `Look at part ${at}.\n\n`)) },
  "entries of a list": { from: 500, grow: purpose((n) => times(n, (at) => `- part ${at}\n`)) },
  "lists in lists": { from: 50, grow: purpose((n) => times(n, (at) => `${"  ".repeat(at)}- part\n`)) },
  "quotations in quotations": { from: 50, grow: purpose((n) => `${"> ".repeat(n)}part`) },
  "marks of emphasis that nothing closes": { from: 1000, grow: purpose((n) => times(n, () => "*a_ ")) },
  "square brackets that nothing closes": { from: 1000, grow: purpose((n) => `${"[".repeat(n)}part`) },
  "runs of backticks, each longer": { from: 40, grow: purpose((n) => times(n, (at) => `${"`".repeat(at + 1)} a `)) },
  "fences that nothing closes": { from: 40, grow: purpose((n) => times(n, () => ":::note\nLook.\n\n")) },
  "rows of a table": {
    from: 250,
    grow: purpose((n) => `| part | label |\n| --- | --- |\n${times(n, (at) => `| part ${at} | white |\n`)}`),
  },
  "things named in one paragraph": {
    from: 200,
    grow: purpose((n) => times(n, () => "the :item[bottle]{id=oxygen-bottle} and ")),
  },
  "links in one paragraph": { from: 200, grow: purpose((n) => times(n, (at) => `[part](https://example.org/${at}) `)) },
  "attributes of one step": {
    from: 200,
    grow: (folder, n) =>
      put(folder, OXYGEN, 'critical takes="30 s"', `critical ${times(n, (at) => `a${at}=1 `)}takes="30 s"`),
  },
  "steps of one procedure": {
    from: 100,
    grow: (folder, n) => writeFileSync(join(folder, "sled/round.mdx"), procedureText(0, times(n, step))),
  },
  "procedures of a platform": {
    from: 50,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++) writeFileSync(join(folder, `sled/round-${at}.mdx`), procedureText(at));
    },
  },
  "procedures that go there and back": {
    from: 3,
    grow: (folder, n) => {
      put(
        folder,
        "sled/platform.yaml",
        "  hut:",
        `${times(n, (at) => `  hook-${at}: { name: Hook ${at}, kind: stowage, x: 1 m }\n`)}  hut:`,
      );
      put(
        folder,
        "sled/equipment.yaml",
        "oxygen-bottle:",
        `${times(n, (at) => `rope-${at}: { name: Rope ${at}, mass: 1 kg, home: hut }\n`)}oxygen-bottle:`,
      );
      const act = (at: number, from: string, to: string) =>
        `:::step{by=tail takes="10 s" photo=bed}\nCarry rope ${at}.\n\n::move{item=rope-${at} from=${from} to=${to}}\n:::\n`;
      for (let at = 0; at < n; at++) {
        writeFileSync(join(folder, `sled/hang-${at}.mdx`), procedureText(2 * at, act(at, "hut", `hook-${at}`)));
        writeFileSync(join(folder, `sled/take-${at}.mdx`), procedureText(2 * at + 1, act(at, `hook-${at}`, "hut")));
      }
    },
  },
  "procedures, each included by the next": {
    from: 25,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/round-${at}.mdx`),
          procedureText(at, `${step(at)}${at > 0 ? `::include{procedure=round-${at - 1}}\n` : ""}`),
        );
    },
  },
  "bands that follow each other": {
    from: 10,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/configurations/part-${at}.mdx`),
          readFileSync(join(folder, "sled/configurations/child-shell.mdx"), "utf8")
            .replace("KRR-S-C1", `KRR-S-P${at}`)
            .replace("from 8 kg to under 30 kg", `from ${8 + at / 10} kg to under ${8 + (at + 1) / 10} kg`),
        );
    },
  },
  "options of an arrangement": {
    from: 2,
    grow: (folder, n) => {
      put(
        folder,
        "sled/platform.yaml",
        "  hut:",
        `${times(n, (at) => `  rail-${at}: { name: Rail ${at}, kind: mount, x: 1 m, room: 1 }\n`)}  hut:`,
      );
      put(
        folder,
        "sled/equipment.yaml",
        "oxygen-bottle:",
        `${times(n, (at) => `lamp-${at}: { name: Lamp ${at}, mass: 1 kg, home: hut }\n`)}oxygen-bottle:`,
      );
      put(
        folder,
        "sled/configurations/child-shell.mdx",
        "options: [oxygen]",
        `options: [oxygen${times(n, (at) => `, lamp-${at}`)}]`,
      );
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/options/lamp-${at}.mdx`),
          `---\ntitle: Lamp ${at}\ncode: KRR-S-L${at}\nfitted: { rail-${at}: [lamp-${at}] }\nstatus: approved\n` +
            "owner: Training officer\napproved-by: Rescue lead\n---\nA lamp.\n",
        );
    },
  },
  "checks of an arrangement": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        "sled/configurations/child-shell.mdx",
        "::check[Bed",
        `${times(n, (at) => `::check[Label ${at}]{by=leader answer="white edge ${at}"}\n`)}::check[Bed`,
      ),
  },
  "fastenings of a platform": {
    from: 50,
    grow: (folder, n) =>
      put(
        folder,
        "sled/platform.yaml",
        "  pin-clip:",
        `${times(n, (at) => `  catch-${at}: { name: Catch ${at}, states: [shut, open], secure: shut, when-empty: shut }\n`)}  pin-clip:`,
      ),
  },
  "items of a platform": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        "sled/equipment.yaml",
        "oxygen-bottle:",
        `${times(n, (at) => `rope-${at}: { name: Rope ${at}, mass: 1 kg, home: hut }\n`)}oxygen-bottle:`,
      ),
  },
  "places of a platform": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        "sled/platform.yaml",
        "  hut:",
        `${times(n, (at) => `  hook-${at}: { name: Hook ${at}, kind: stowage, x: 1 m }\n`)}  hut:`,
      ),
  },
  "changes in a procedure's history": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        OXYGEN,
        /revision: 1\n/,
        `revision: ${n + 1}\nchanges:\n${times(n, (at) => `  - { revision: ${at + 2}, date: 2026-01-12, by: Training officer, summary: Change ${at}., reason: It was asked., sign-offs: stand }\n`)}`,
      ),
  },
  "copies in a folder": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        "folders.yaml",
        "copies: [",
        `copies: [${times(n, (at) => `{ card: child-shell, copy: ${at + 2}, placed: 2026-02-01 }, `)}`,
      ),
  },
  incidents: {
    from: 200,
    grow: (folder, n) =>
      put(
        folder,
        "incidents.yaml",
        "near-miss-1:",
        `${times(n, (at) => `near-${at}: { date: 2025-12-20, summary: A pin stayed there., reference: K-${at} }\n`)}near-miss-1:`,
      ),
  },
  "marks on a photo": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        "sled/photos/bed.yaml",
        "marks: [",
        `marks: [${times(n, (at) => `{ n: ${at + 10}, x: 0.5, y: 0.5, label: Part ${at} }, `)}`,
      ),
  },
  "photos of a platform": {
    from: 50,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        cpSync(join(folder, "sled/photos/bed.jpg"), join(folder, `sled/photos/bed-${at}.jpg`));
    },
  },
  "background pages": {
    from: 50,
    grow: (folder, n) => {
      mkdirSync(join(folder, "sled/reading"), { recursive: true });
      for (let at = 0; at < n; at++)
        writeFileSync(join(folder, `sled/reading/note-${at}.mdx`), `---\ntitle: Note ${at}\n---\nOf part ${at}.\n`);
    },
  },
  "platforms of a service": {
    from: 5,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++) cpSync(join(sled, "sled"), join(folder, `sled-${at}`), { recursive: true });
    },
  },
};

/** Seconds of processor time of one check, and what it found wrong, by rule. */
async function check(folder: string): Promise<{ readonly seconds: number; readonly errors: readonly string[] }> {
  const began = process.cpuUsage(),
    findings = new Findings();
  const collection = await loadCollection(folder, findings);
  const found = runRules(collection, findings, ON),
    { user, system } = process.cpuUsage(began);
  const errors = found.filter(({ severity }) => severity === "error").map(({ rule }) => rule);
  return { seconds: (user + system) / 1e6, errors: [...new Set(errors)] };
}

/** The least of some checks of a collection that has grown: other work on the machine only adds. */
async function least(runs: number, grow: (folder: string) => void) {
  const folder = mkdtempSync(join(tmpdir(), "rerig-growth-"));
  try {
    cpSync(sled, folder, { recursive: true });
    grow(folder);
    let best = await check(folder);
    for (let at = 1; at < runs && best.seconds < 4; at++) {
      const again = await check(folder);
      if (again.seconds < best.seconds) best = again;
    }
    return best;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function main(): Promise<void> {
  const asked = process.argv.slice(2);
  // The first checks of a process compile the program.
  const bare = (await least(6, () => {})).seconds;
  process.stdout.write(`The collection itself: ${bare.toFixed(3)} s\n`);
  for (const [name, { from, grow }] of Object.entries(KINDS)) {
    if (asked.length && !asked.some((word) => name.includes(word))) continue;
    const sizes = [from, 2 * from, 4 * from],
      took: number[] = [],
      errors = new Set<string>();
    for (const n of sizes) {
      const run = await least(3, (folder) => grow(folder, n));
      took.push(Math.max(run.seconds - bare, 0.001));
      for (const each of run.errors) errors.add(each);
      if (run.seconds > 20) break;
    }
    const exponent = took.length > 1 ? Math.log2(took.at(-1)! / took.at(-2)!).toFixed(1) : "?";
    process.stdout.write(
      `| ${name} | ${sizes.slice(0, took.length).join(", ")} | ${took.map((s) => s.toFixed(2)).join(", ")} | ` +
        `${exponent} | ${[...errors].join(", ")} |\n`,
    );
  }
}

await main();
