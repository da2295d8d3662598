/**
 * How reading, proving and judging a collection grow with each kind of thing in it, part of `npm run bench`:
 * `node tests/bench/growth.ts [KINDS…]`. Each kind at three sizes, each twice the one before, in processor time without
 * that of the collection as it was; the exponent is that of the last doubling (1: twice as much takes twice as long,
 * 2: four times). What was grown is counted in what was read. A kind that has a bound is tried once beyond it, too.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { readRegister } from "../../src/read/register.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import type { Collection } from "../../src/schema/collection.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const ON = "2026-06-01";

/** Makes a copy of the sled grow: `n` of the kind. */
interface Kind {
  /** The smallest of the three sizes. */
  readonly from: number;
  readonly grow: (folder: string, n: number) => void;
  /** How many there are of what grows. */
  readonly count: (collection: Collection, folder: string) => number;
  /** A size that is refused, and the rule that says so. */
  readonly beyond?: readonly [n: number, rule: string];
  /** What is done besides reading and judging. */
  readonly work?: (collection: Collection, folder: string) => void;
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

const OXYGEN = "sled/fit-oxygen.mdx",
  CARD = "sled/configurations/child-shell.mdx",
  PLATFORM = "sled/platform.yaml",
  EQUIPMENT = "sled/equipment.yaml";
/** Text at the end of a procedure's purpose. */
const purpose = (text: (n: number) => string) => (folder: string, n: number) =>
  put(folder, OXYGEN, "in the same way.\n", `in the same way.\n\n${text(n)}\n`);
const platformOf = ({ platforms }: Collection) => platforms.find(({ id }) => id === "sled")!;
/** How often some text stands in what was read of the purpose. */
const inPurpose = (text: string) => (collection: Collection) =>
  JSON.stringify(platformOf(collection).procedures.find(({ id }) => id === "fit-oxygen")?.purpose ?? "").split(text)
    .length - 1;
/** For what the parser drops: how often it stands in the file. */
const inFile =
  (text: string, without = 0) =>
  (_: Collection, folder: string) =>
    readFileSync(join(folder, OXYGEN), "utf8").split(text).length - 1 - without;

const step = (at: number) =>
  `:::step{#extra-${at} by=tail takes="10 s" photo=bed}\nLook at label ${at} and point to it.\n:::\n\n`;

function procedureText(at: number, steps = step(0), head = ""): string {
  return (
    `---\ntitle: Round ${at}\ncode: KRR-R-${at}\n${head || "revision: 1\n"}status: approved\neffective: 2026-01-12\n` +
    "review-by: 2031-01-12\nowner: Training officer\napproved-by: Rescue lead\n---\nLooks around.\n\n" +
    steps
  );
}

const includes = (at: number) => (at < 0 ? "" : `\n::include{procedure=round-${at}}\n\n`);
const carry = (what: string, from: string, to: string) =>
  `:::step{by=tail takes="10 s" photo=bed}\nCarry the ${what}.\n\n::move{item=${what} from=${from} to=${to}}\n:::\n`;
const addPlaces = (folder: string, text: string) => put(folder, PLATFORM, "  hut:", `${text}  hut:`);
const addItems = (folder: string, text: string) => put(folder, EQUIPMENT, "oxygen-bottle:", `${text}oxygen-bottle:`);
const ropes = (n: number) => times(n, (at) => `rope-${at}: { name: Rope ${at}, mass: 1 kg, home: hut }\n`);
const hooks = (n: number) => times(n, (at) => `  hook-${at}: { name: Hook ${at}, kind: stowage, x: 1 m }\n`);

/** Pairs of procedures, each for a rope of its own; by way of `to`. */
function thereAndBack(folder: string, n: number, to: (at: number) => string): void {
  addItems(folder, ropes(n));
  for (let at = 0; at < n; at++) {
    writeFileSync(join(folder, `sled/hang-${at}.mdx`), procedureText(2 * at, carry(`rope-${at}`, "hut", to(at))));
    writeFileSync(join(folder, `sled/take-${at}.mdx`), procedureText(2 * at + 1, carry(`rope-${at}`, to(at), "hut")));
  }
}

const CATCH = "states: [shut, open], secure: shut, holds: bed, when-empty: shut";
const CHANGE = "date: 2026-01-12, by: Training officer, reason: It was asked., sign-offs: stand";
const copy = (number: number) => `{ card: child-shell, copy: ${number}, placed: 2026-02-01 }`;

/** The rows of a collection's register. */
const registerIn = (folder: string, collection: Collection) =>
  readRegister(readFileSync(join(folder, "register.csv"), "utf8"), {
    file: "register.csv",
    collection,
    today: ON,
    findings: new Findings(),
  });

const KINDS: Readonly<Record<string, Kind>> = {
  "words in one paragraph": {
    from: 300,
    grow: purpose((n) => times(n, (at) => `word${at % 50} `)),
    count: inPurpose("word"),
    beyond: [3000, "text/syntax"],
  },
  "paragraphs of one purpose": {
    from: 500,
    grow: purpose((n) => times(n, (at) => `Look at part ${at}.\n\n`)),
    count: inPurpose("Look at part"),
  },
  "entries of a list": {
    from: 500,
    grow: purpose((n) => times(n, (at) => `- part ${at}\n`)),
    count: inPurpose("part "),
  },
  "lists in lists": {
    from: 10,
    grow: purpose((n) => times(n, (at) => `${"  ".repeat(at)}- deep\n`)),
    count: inPurpose("deep"),
    beyond: [80, "text/syntax"],
  },
  "quotations in quotations": {
    from: 10,
    grow: purpose((n) => `${"> ".repeat(n)}deep`),
    count: inFile("> "),
    beyond: [80, "text/syntax"],
  },
  "marks of emphasis that nothing closes": {
    from: 70,
    grow: purpose((n) => times(n, () => "*a_ ")),
    count: inPurpose("*a_"),
    beyond: [1000, "text/syntax"],
  },
  "square brackets that nothing closes": {
    from: 2000,
    grow: purpose((n) => `${"[".repeat(n)}part`),
    count: inFile("[", 1),
    beyond: [20_000, "text/syntax"],
  },
  "runs of backticks, each longer": {
    from: 30,
    grow: purpose((n) => times(n, (at) => `${"`".repeat(at + 1)} a `)),
    count: inFile(" a ", 1),
    beyond: [300, "text/syntax"],
  },
  "blocks in blocks": {
    from: 6,
    grow: purpose(
      (n) => times(n, (at) => `${":".repeat(n + 3 - at)}note\nLook.\n\n`) + times(n, (at) => `${":".repeat(4 + at)}\n`),
    ),
    count: inFile(":note"),
    beyond: [60, "text/syntax"],
  },
  "rows of a table": {
    from: 200,
    grow: purpose((n) => `| part | label |\n| --- | --- |\n${times(n, (at) => `| part ${at} | white |\n`)}`),
    count: inPurpose("white"),
  },
  "things named in one paragraph": {
    from: 50,
    grow: purpose((n) => times(n, () => "the :item[bottle]{id=oxygen-bottle} and ")),
    count: inPurpose('"id":"oxygen-bottle"'),
    beyond: [1000, "text/syntax"],
  },
  "links in one paragraph": {
    from: 60,
    grow: purpose((n) => times(n, (at) => `[part](https://example.org/${at}) `)),
    count: inPurpose("example.org"),
    beyond: [1000, "text/syntax"],
  },
  "attributes of one step": {
    from: 100,
    grow: (folder, n) =>
      put(folder, OXYGEN, 'critical takes="30 s"', `critical ${times(n, (at) => `a${at}=1 `)}takes="30 s"`),
    count: inFile("=1 "),
    beyond: [3000, "text/syntax"],
  },
  "steps of one procedure": {
    from: 100,
    grow: (folder, n) => writeFileSync(join(folder, "sled/round.mdx"), procedureText(0, times(n, step))),
    count: (collection) => platformOf(collection).procedures.find(({ id }) => id === "round")?.steps.length ?? 0,
  },
  "turns of one procedure": {
    from: 50,
    grow: (folder, n) =>
      put(
        folder,
        OXYGEN,
        "::turn{fastening=bottle-latch to=raised}",
        "::turn{fastening=bottle-latch to=raised}\n" +
          times(n, () => "::turn{fastening=bottle-latch to=shut}\n::turn{fastening=bottle-latch to=raised}\n"),
      ),
    count: (collection) =>
      (platformOf(collection).procedures.find(({ id }) => id === "fit-oxygen")!.steps[0]!.operations.length - 3) / 2,
  },
  "procedures of a platform": {
    from: 50,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++) writeFileSync(join(folder, `sled/round-${at}.mdx`), procedureText(at));
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("round-")).length,
  },
  "procedures that go there and back": {
    from: 10,
    grow: (folder, n) => {
      addPlaces(folder, hooks(n));
      thereAndBack(folder, n, (at) => `hook-${at}`);
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("hang-")).length,
  },
  "the same, beside one that cannot be done": {
    from: 10,
    grow: (folder, n) => {
      addPlaces(folder, hooks(n));
      thereAndBack(folder, n, (at) => `hook-${at}`);
      writeFileSync(join(folder, "sled/round.mdx"), procedureText(999, carry("oxygen-bottle", "tail-bag", "hut")));
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("hang-")).length,
  },
  "the same, where there is room for two": {
    from: 4,
    grow: (folder, n) => {
      addPlaces(folder, "  shelf: { name: Shelf, kind: stowage, x: 1 m, room: 2 }\n");
      thereAndBack(folder, n, () => "shelf");
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("hang-")).length,
  },
  "the same, where there is room for all but one": {
    from: 3,
    grow: (folder, n) => {
      addPlaces(folder, `  shelf: { name: Shelf, kind: stowage, x: 1 m, room: ${n - 1} }\n`);
      thereAndBack(folder, n, () => "shelf");
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("hang-")).length,
  },
  "the same, in a place that changeovers use": {
    from: 3,
    grow: (folder, n) => {
      put(folder, PLATFORM, "kind: stowage, x: 1.5 m", `kind: stowage, x: 1.5 m, room: ${n + 1}`);
      thereAndBack(folder, n, () => "tail-bag");
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("hang-")).length,
  },
  "things that one changeover fits, each by itself": {
    from: 4,
    grow: (folder, n) => {
      addPlaces(folder, hooks(n));
      thereAndBack(folder, n, (at) => `hook-${at}`);
      put(folder, CARD, "fitted: {", `fitted: {${times(n, (at) => ` hook-${at}: [rope-${at}],`)}`);
    },
    count: (collection) =>
      platformOf(collection).configurations.find(({ id }) => id === "child-shell")!.fitted.length - 2,
  },
  "procedures, each included twice by the next": {
    from: 2,
    beyond: [12, "text/bad-value"],
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/round-${at}.mdx`),
          procedureText(at, `${step(at)}${includes(at - 1)}${step(1000 + at)}${includes(at - 1)}`),
        );
    },
    count: (collection) => platformOf(collection).procedures.filter(({ id }) => id.startsWith("round-")).length,
  },
  "procedures, each included by the next": {
    from: 25,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        writeFileSync(join(folder, `sled/round-${at}.mdx`), procedureText(at, `${step(at)}${includes(at - 1)}`));
    },
    count: (collection) => Math.max(...platformOf(collection).procedures.map(({ steps }) => steps.length)),
  },
  "bands that follow each other": {
    from: 8,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/configurations/part-${at}.mdx`),
          readFileSync(join(folder, CARD), "utf8")
            .replace("KRR-S-C1", `KRR-S-P${at}`)
            .replace("from 8 kg to under 30 kg", `from ${8 + at / 10} kg to under ${8 + (at + 1) / 10} kg`),
        );
    },
    count: (collection) => platformOf(collection).configurations.filter(({ id }) => id.startsWith("part-")).length,
  },
  "options of an arrangement": {
    from: 3,
    grow: (folder, n) => {
      addPlaces(
        folder,
        times(n, (at) => `  rail-${at}: { name: Rail ${at}, kind: mount, x: 1 m, room: 1 }\n`),
      );
      thereAndBack(folder, n, (at) => `rail-${at}`);
      put(folder, CARD, "options: [oxygen]", `options: [oxygen${times(n, (at) => `, rope-${at}`)}]`);
      for (let at = 0; at < n; at++)
        writeFileSync(
          join(folder, `sled/options/rope-${at}.mdx`),
          `---\ntitle: Rope ${at}\ncode: KRR-S-L${at}\nfitted: { rail-${at}: [rope-${at}] }\nstatus: approved\n` +
            "owner: Training officer\napproved-by: Rescue lead\n---\nA rope.\n",
        );
    },
    count: (collection) =>
      platformOf(collection).configurations.find(({ id }) => id === "child-shell")!.options.length - 1,
  },
  "checks of an arrangement": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        CARD,
        "::check[Bed",
        `${times(n, (at) => `::check[Label ${at}]{by=leader answer="white edge ${at}"}\n\n`)}::check[Bed`,
      ),
    count: (collection) =>
      platformOf(collection).configurations.find(({ id }) => id === "child-shell")!.checks.length - 2,
  },
  "fastenings of a platform": {
    from: 100,
    grow: (folder, n) =>
      put(
        folder,
        PLATFORM,
        "  pin-clip:",
        times(n, (at) => `  catch-${at}: { name: Catch ${at}, ${CATCH} }\n`) + "  pin-clip:",
      ),
    count: (collection) => platformOf(collection).fastenings.length - 3,
  },
  "items of a platform": {
    from: 100,
    grow: (folder, n) => addItems(folder, ropes(n)),
    count: (collection) => platformOf(collection).items.length - 4,
  },
  "places of a platform": {
    from: 200,
    grow: (folder, n) => addPlaces(folder, hooks(n)),
    count: (collection) => platformOf(collection).places.length - 5,
  },
  "roles of the crew": {
    from: 2,
    grow: (folder, n) =>
      put(folder, "service.yaml", "tail: Tail hand", `tail: Tail hand${times(n, (at) => `, hand-${at}: Hand ${at}`)}`),
    count: ({ service }) => service.crew.length - 2,
  },
  "changes in a procedure's history": {
    from: 200,
    grow: (folder, n) =>
      put(
        folder,
        OXYGEN,
        /revision: 1\n/,
        `revision: ${n + 1}\nchanges:\n` +
          times(n, (at) => `  - { revision: ${at + 2}, summary: Change ${at}., ${CHANGE} }\n`),
      ),
    count: (collection) => platformOf(collection).procedures.find(({ id }) => id === "fit-oxygen")!.changes.length,
  },
  "copies in a folder": {
    from: 200,
    grow: (folder, n) => put(folder, "folders.yaml", "copies: [", `copies: [${times(n, (at) => `${copy(at + 2)}, `)}`),
    count: ({ folders }) => folders[0]!.copies.length - 2,
  },
  "folders of a service": {
    from: 200,
    grow: (folder, n) =>
      put(
        folder,
        "folders.yaml",
        "ridge-hut:",
        times(n, (at) => `hut-${at}:\n  name: Hut ${at}\n  copies: [${copy(at + 2)}]\n`) + "ridge-hut:",
      ),
    count: ({ folders }) => folders.length - 1,
  },
  incidents: {
    from: 500,
    grow: (folder, n) =>
      put(
        folder,
        "incidents.yaml",
        "near-miss-1:",
        times(n, (at) => `near-${at}: { date: 2025-12-20, summary: A pin stayed, reference: K-${at} }\n`) +
          "near-miss-1:",
      ),
    count: (collection) => collection.incidents.length - 1,
  },
  "rows of a register": {
    from: 2000,
    grow: (folder, n) =>
      writeFileSync(
        join(folder, "register.csv"),
        `person,procedure,revision,date,assessor\n${times(n, (at) => `P${at},fit-oxygen,1,2026-02-01,A1\n`)}`,
      ),
    count: (collection, folder) => registerIn(folder, collection).length,
    work: (collection, folder) => {
      registerIn(folder, collection);
    },
  },
  "marks on a photo": {
    from: 200,
    grow: (folder, n) =>
      put(
        folder,
        "sled/photos/bed.yaml",
        "marks: [",
        `marks: [${times(n, (at) => `{ n: ${at + 10}, x: 0.5, y: 0.5, label: Part ${at} }, `)}`,
      ),
    count: (collection) => platformOf(collection).photos[0]!.marks.length - 2,
  },
  "photos of a platform": {
    from: 25,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++)
        for (const kind of ["jpg", "yaml"])
          cpSync(join(folder, `sled/photos/bed.${kind}`), join(folder, `sled/photos/bed-${at}.${kind}`));
    },
    count: (collection) => platformOf(collection).photos.length - 1,
  },
  "background pages": {
    from: 100,
    grow: (folder, n) => {
      mkdirSync(join(folder, "sled/reading"), { recursive: true });
      for (let at = 0; at < n; at++)
        writeFileSync(join(folder, `sled/reading/note-${at}.mdx`), `---\ntitle: Note ${at}\n---\nOf part ${at}.\n`);
    },
    count: (collection) => platformOf(collection).readings.length - 1,
  },
  "platforms of a service": {
    from: 4,
    grow: (folder, n) => {
      for (let at = 0; at < n; at++) cpSync(join(sled, "sled"), join(folder, `sled-${at}`), { recursive: true });
    },
    count: ({ platforms }) => platforms.length - 1,
  },
};

/** What a collection of this size comes to: seconds of processor time, how many were read, and the rules of errors. */
interface Outcome {
  readonly seconds: number;
  readonly count: number;
  readonly errors: ReadonlySet<string>;
}

async function judge(folder: string, { work, count }: Pick<Kind, "work" | "count">): Promise<Outcome> {
  const began = process.cpuUsage(),
    findings = new Findings();
  const collection = await loadCollection(folder, findings);
  const found = runRules(collection, findings, ON);
  work?.(collection, folder);
  const { user, system } = process.cpuUsage(began);
  return {
    seconds: (user + system) / 1e6,
    count: count(collection, folder),
    errors: new Set(found.filter(({ severity }) => severity === "error").map(({ rule }) => rule)),
  };
}

/** The least of some looks at a collection that has grown: other work on the machine only adds. */
async function least(runs: number, kind: Kind, n: number): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), "rerig-growth-"));
  try {
    cpSync(sled, folder, { recursive: true });
    kind.grow(folder, n);
    let best = await judge(folder, kind);
    for (let at = 1; at < runs && best.seconds < 2; at++) {
      const again = await judge(folder, kind);
      if (again.seconds < best.seconds) best = again;
    }
    return best;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Seconds from which on an exponent is said. */
const TOLD = 0.02;

/** A kind's row of the table; throws where it did not grow, or is not refused beyond its bound. */
async function measure(name: string, kind: Kind, bare: number): Promise<string> {
  const sizes = [kind.from, 2 * kind.from, 4 * kind.from],
    took: number[] = [],
    errors = new Set<string>();
  for (const n of sizes) {
    const run = await least(3, kind, n);
    if (run.count !== n) throw new Error(`${name}: ${n} were written, ${run.count} were read`);
    took.push(Math.max(run.seconds - bare, 0.001));
    for (const each of run.errors) errors.add(each);
    if (run.seconds > 20) break;
  }
  // Of less than this, more is chance than growth.
  const isTold = took.length > 1 && took.at(-2)! >= TOLD;
  const exponent = isTold ? Math.log2(took.at(-1)! / took.at(-2)!).toFixed(1) : `under ${TOLD} s`;
  let bound = "none";
  if (kind.beyond) {
    const [n, rule] = kind.beyond,
      run = await least(1, kind, n);
    if (!run.errors.has(rule)) throw new Error(`${name}: ${n} are not refused by ${rule}`);
    bound = `${n}: ${rule} after ${Math.max(0, run.seconds - bare).toFixed(2)} s`;
  }
  return (
    `| ${name} | ${sizes.slice(0, took.length).join(", ")} | ${took.map((s) => s.toFixed(3)).join(", ")} | ` +
    `${exponent} | ${bound} | ${[...errors].join(", ")} |\n`
  );
}

async function main(): Promise<void> {
  const asked = process.argv.slice(2),
    nothing: Kind = { from: 0, grow: () => {}, count: () => 0 };
  // The first checks of a process compile the program.
  const { seconds: bare } = await least(30, nothing, 0);
  process.stdout.write(
    `The collection itself: ${bare.toFixed(3)} s of processor time; what is added by\n` +
      "| kind | sizes | seconds | exponent | bound | errors at these sizes |\n| --- | --- | --- | --- | --- | --- |\n",
  );
  for (const [name, kind] of Object.entries(KINDS))
    if (!asked.length || asked.some((word) => name.includes(word)))
      process.stdout.write(await measure(name, kind, bare));
}

await main();
