/** Writes valid collections of a given size for the benchmark: twenty procedures of fourteen steps on each platform. */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";

const RESTRAINTS = ["cot", "seat", "mat"] as const;
const BANDS = ["from 2 kg to under 10 kg", "from 10 kg to under 40 kg", "from 40 kg to under 120 kg"] as const;
const OPTIONS = ["shelf", "rack", "lamp", "pump"] as const;
/** What a configuration or an option says of its approval. */
const APPROVAL = "status: approved\nowner: Clinical educator\napproved-by: Lead nurse\n";
const STEPS = 14;
const PER_PLATFORM = 20;

/**
 * Writes a collection of `procedures` procedures (rounded up to whole platforms) into an empty folder; gives how many
 * there are. `checks`: of each configuration.
 */
export async function writeCollection(folder: string, procedures: number, { checks = 1 } = {}): Promise<number> {
  await mkdir(folder, { recursive: true });
  await writeFile(
    join(folder, "service.yaml"),
    "name: Benchmark service\nlanguage: en-GB\nweight: from 2 kg to under 120 kg\ncrew: { lead: Lead, second: " +
      "Second }\npolicy: { photo/none: off, record/no-authority: off }\n",
  );
  const platforms = Math.ceil(procedures / PER_PLATFORM);
  for (let at = 0; at < platforms; at++) await writePlatform(join(folder, `platform-${at + 1}`), at + 1, checks);
  return platforms * PER_PLATFORM;
}

async function writePlatform(folder: string, number: number, checks: number): Promise<void> {
  const further = Array.from(
    { length: checks - 1 },
    (_, at) =>
      `\n::check[Label ${at + 1} on the part]{by=${at % 2 ? "lead" : "second"} answer="white edge ${at + 1}, ` +
      `no tear"}\n`,
  ).join("");
  await mkdir(join(folder, "configurations"), { recursive: true });
  await mkdir(join(folder, "options"), { recursive: true });
  const rails = OPTIONS.map(
    (option, at) => `  ${option}-rail: { name: ${option} rail, kind: mount, x: ${200 + 400 * at} mm, room: 1 }\n`,
  ).join("");
  const clamps = OPTIONS.map(
    (option) =>
      `  ${option}-clamp: { name: ${option} clamp, states: [closed, open], secure: closed, ` +
      `holds: ${option}-rail, when-empty: open }\n`,
  ).join("");
  await writeFile(
    join(folder, "platform.yaml"),
    `name: Trolley ${number}\npatient: { x: 800 mm }\nown: { mass: 50 kg, x: 900 mm }\nplaces:\n  deck: { ` +
      `name: Deck, kind: mount, x: 900 mm, room: 1 }\n${rails}  tray: { name: Tray, kind: stowage, x: 100 mm }\n ` +
      ` store: { name: Store, kind: store }\nfastenings:\n  lever: { name: Lever, states: [locked, released], ` +
      `secure: locked, holds: deck, when-empty: locked }\n${clamps}limits: { mass: 300 kg, balance: { from: 500 ` +
      `mm, to: 1500 mm } }\n`,
  );
  const items = [
    ...RESTRAINTS.map(
      (name, at) => `${name}: { name: ${name}, mass: ${6 + at} kg, home: store, restrains: ${BANDS[at]} }\n`,
    ),
    ...OPTIONS.map((name) => `${name}: { name: ${name}, mass: 2.5 kg, home: store }\n`),
    "pin: { name: Pin, count: 8, mass: 0.05 kg, home: tray }\n",
  ];
  await writeFile(join(folder, "equipment.yaml"), items.join(""));
  for (const [at, name] of RESTRAINTS.entries())
    await writeFile(
      join(folder, "configurations", `${name}.mdx`),
      `---\ntitle: The ${name}\n${APPROVAL}code: ` +
        `B-${number}-C${at + 1}\nweight: ${BANDS[at]}\n${at === 0 ? "standing: true\n" : ""}fitted: { deck: ` +
        `[${name}] }\noptions: [${OPTIONS.join(", ")}]\n---\nFor ` +
        `patients ${BANDS[at]!.includes("under 10") ? "in arms" : "who sit or lie"}.\n\n::check[Lever]{by=second ` +
        `answer="flat, red mark hidden"}\n${further}`,
    );
  for (const option of OPTIONS)
    await writeFile(
      join(folder, "options", `${option}.mdx`),
      `---\ntitle: With the ${option}\n${APPROVAL}fitted: { ${option}-rail: [${option}] }\n---\nOne ${option}.\n`,
    );
  let code = 0;
  const write = (id: string, title: string, acts: readonly string[]) =>
    writeFile(join(folder, `${id}.mdx`), procedureText(`B-${number}-${++code}`, title, acts));
  for (const name of RESTRAINTS) {
    await write(`fit-${name}`, `Fit the ${name}`, [
      "::turn{fastening=lever to=released}",
      `::move{item=${name} from=store to=deck}`,
      "::turn{fastening=lever to=locked}",
    ]);
    await write(`remove-${name}`, `Remove the ${name}`, [
      "::turn{fastening=lever to=released}",
      `::move{item=${name} from=deck to=store}`,
      "::turn{fastening=lever to=locked}",
    ]);
  }
  for (const name of OPTIONS) {
    await write(`fit-${name}`, `Fit the ${name}`, [
      `::move{item=${name} from=store to=${name}-rail}`,
      `::turn{fastening=${name}-clamp to=closed}`,
    ]);
    await write(`remove-${name}`, `Remove the ${name}`, [
      `::turn{fastening=${name}-clamp to=open}`,
      `::move{item=${name} from=${name}-rail to=store}`,
    ]);
  }
  for (let round = 1; round <= 6; round++)
    await write(`round-${round}`, `Daily round ${round}`, [
      "::move{item=pin count=8 from=tray to=aside}",
      "::move{item=pin count=8 from=aside to=tray}",
    ]);
}

function procedureText(code: string, title: string, acts: readonly string[]): string {
  const steps = Array.from({ length: STEPS }, (_, at) => {
    const act = acts[at] ?? "";
    const critical = act.startsWith("::turn");
    return (
      `:::step{#s${at + 1} by=${["lead", "second", "both"][at % 3]}${critical ? " critical" : ""} ` +
      `takes="${15 + (at % 4) * 5} s"}\nLook at part ${at + 1} and point to its label.\n\nWhy: a label that is ` +
      `seen by two people is read by one of them.\n\nThe label faces the foot end and has a white ` +
      `edge.\n${act ? `\n${act}\n` : ""}` +
      `${critical ? `::check[Label ${at + 1}]{by=second answer="white edge, no tear"}\n` : ""}:::\n`
    );
  });
  return (
    `---\ntitle: ${title}\ncode: ${code}\nrevision: 2\nstatus: approved\neffective: 2026-02-01\nreview-by: ` +
    `2028-02-01\nowner: Clinical educator\napproved-by: Lead nurse\nchanges:\n  - { revision: 2, date: ` +
    "2026-01-20, by: Clinical educator, summary: Labels are pointed to, reason: One was read from memory, " +
    `sign-offs: stand }\n---\nWhat this is for, in a sentence with **strong words** and a ` +
    `[link](https://example.org/).\n\n## Before you start\n\n:::warning\nTwo people do this. Keep your fingers ` +
    `out of the gap.\n:::\n\n## Steps\n\n${steps.join("\n")}`
  );
}
