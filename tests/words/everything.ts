/**
 * A small collection that has something of everything: two platforms, a crew of three, an option, gas and how long it
 * lasts, folders, incidents, an amendment in force, a reading, a photo with marks, remarks of a review, a step for some
 * patients only, and documents that were issued, one of them twice and with a third revision in review. It is the
 * sled's of the fixtures with what that lacks, in any language. All of it is invented.
 */
import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { runHere } from "../commands/run-here.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");

/** The day that the collection is about. */
export const DAY = "2026-11-28";

const MORE: Readonly<Record<string, string>> = {
  "tender/platform.yaml":
    "name: Tender\nplaces: { thwart: { name: Thwart, kind: mount, room: 1 }, shed: { name: Shed, kind: store } }\n",
  "tender/equipment.yaml": "cushion: { name: Cushion, home: shed }\n",
  "tender/configurations/bare.mdx": `---
title: Bare tender
code: KRR-T-B1
weight: from 8 kg to under 150 kg
standing: true
fitted: {}
options: []
status: approved
owner: Training officer
approved-by: Rescue lead
---
As it lies.
`,
  "tender/look-over.mdx": `---
title: Look the tender over
code: KRR-T-01
revision: 1
status: in review
owner: Training officer
---
Look the tender over, as it is done here.

:::step{by=third takes="20 s"}
Look for water under the thwart.

::check[Water]{by=leader answer="none under the thwart"}
:::
`,
  "reviews/look-over.yaml": `document: tender/look-over
revision: 1
remarks:
  - { by: Tail hand, date: 2026-11-26, text: Say which thwart }
`,
  "sled/amendments/strap.mdx": `---
number: KRR-A1
title: Bed straps with a blue thread are withdrawn
reason: Two straps slipped at the yearly pull test
from: 2026-11-20
until: 2026-12-11
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
---
:::warning
A bed strap with a blue thread slips under load.
:::

:::step{replaces=open-straps by=leader critical takes="25 s" photo=bed}
Open both bed straps and look along their seams.

::turn{fastening=bed-straps to=open}
::check[Seams]{by=tail answer="no blue thread"}
:::
`,
};

const FOR_SOME = `
:::step{by=third takes="20 s" weight="under 15 kg"}
Push the cushion under the head.

::check[Head cushion]{by=leader answer="flat"}
:::
`;

/** What is issued twice: of its steps one is new, one gone, one moved, and others say something else. */
const MATTRESS = "sled/change-to-mattress",
  CHANGE = "by: Training officer, sign-offs: again",
  SECOND: readonly (readonly [from: RegExp, to: string])[] = [
    [/revision: 1\n/, "revision: 2\n"],
    [/effective: .*/, `effective: ${DAY}`],
    [
      /(approved-by: .*)/,
      `$1\nchanges:\n  - { revision: 2, date: ${DAY}, ${CHANGE}, summary: Pins are counted., reason: One was left. }`,
    ],
    [/by=leader critical takes="15 s"/, 'by="leader third" takes="25 s"'],
    [/(Pull both pins out of the shell\.)/, "Pull both pins and count them aloud.\n\nWhy: one was left in its hole."],
    [
      /(:::step\{by=all takes="40 s" photo=bed\}\nLift)/,
      ":::warning\nKeep your back straight.\n:::\n\n:::step{by=third hold}\nLook under the shell.\n:::\n\n$1",
    ],
    [/answer="both buckles closed"/, 'answer="both buckles shut, tails stowed"'],
  ],
  THIRD: typeof SECOND = [
    [/revision: 2\n/, "revision: 3\n"],
    [/status: approved/, "status: in review"],
    [/effective: .*\n/, ""],
    [/approved-by: .*\n/, ""],
    [
      /(changes:\n)/,
      `$1  - { revision: 3, date: ${DAY}, ${CHANGE}, summary: The straps are pulled., reason: A strap slipped. }\n`,
    ],
    [/Close both bed straps\./, "Close both bed straps and pull each tail once."],
    [/:::step\{by=third hold\}[^:]*:::\n\n/, ""],
  ];

/** Writes it into a folder that is not there yet, in that language (BCP 47), and issues one of its documents. */
export async function writeEverything(folder: string, language: string): Promise<void> {
  cpSync(sled, folder, { recursive: true });
  for (const [file, text] of Object.entries(MORE)) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), text);
  }
  const change = (file: string, from: RegExp, to: string) => {
    const text = readFileSync(join(folder, file), "utf8");
    if (!from.test(text)) throw new Error(`${file} has nothing like ${String(from)}`);
    writeFileSync(join(folder, file), text.replace(from, to));
  };
  change("service.yaml", /^language: .*$/m, `language: ${language}`);
  change("service.yaml", /^crew: .*$/m, "crew: { leader: Sled leader, tail: Tail hand, third: Rope hand }");
  change("service.yaml", /\n$/, "\ndemands: [{ name: Oxygen 5 l/min, litres: 5 }]\nreserve: 2\n");
  change("sled/equipment.yaml", /(oxygen-bottle: .*) \}/, "$1, contents: 400 l }");
  change("sled/change-to-shell.mdx", /$/, FOR_SOME);
  // The word for two is that of a crew of two.
  for (const file of ["change-to-shell", "change-to-mattress"]) change(`sled/${file}.mdx`, /by=both/g, "by=all");
  const issue = async (...documents: string[]) => {
    const { status, stdout, stderr } = await runHere(["issue", ...documents, "--procedures", folder], DAY);
    if (status !== 0) throw new Error(stdout + stderr);
  };
  await issue("sled/fit-oxygen", MATTRESS);
  for (const [from, to] of SECOND) change(`${MATTRESS}.mdx`, from, to);
  await issue(MATTRESS);
  for (const [from, to] of THIRD) change(`${MATTRESS}.mdx`, from, to);
}
