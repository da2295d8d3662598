/**
 * Collections that put rows under strain: eight arrangements with titles of 60 letters, compound words and a crew of
 * four; a single arrangement; one before any procedure. Each is the starter written over, and invented.
 */
import { cp, mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";

const starter = resolve(import.meta.dirname, "../../src/starter");

/** Bands that meet, and titles of 60 letters for what carries their patients. */
const EIGHT = [
  ["from 2 kg to under 2.5 kg", "Frühgeborenenrückhaltesystembefestigungsschale mit Wärmebett"],
  ["from 2.5 kg to under 3 kg", "Neugeborenentransportschale with the padded insert, sideways"],
  ["from 3 kg to under 5 kg", "Säuglingstransportwannenhaltegurtverriegelung, high position"],
  ["from 5 kg to under 8 kg", "CPAP rig on the short seat with its own head support and bar"],
  ["from 8 kg to under 15 kg", "Kleinkinderschultergurtsystem and the seat that faces behind"],
  ["from 15 kg to under 30 kg", "Kindersitzerhöhungsbefestigungsplatte on the foot end anchor"],
  ["from 30 kg to under 60 kg", "Long mattress for patients who cannot bend a hip or two legs"],
  ["from 60 kg to under 120 kg", "Schwerlasttragenlagerungsmatratze over the whole of the deck"],
] as const;
const ROLES = {
  lead: "Kinderintensivpflegefachkraft in charge",
  second: "Rettungshubschrauberbesatzungsmitglied",
  third: "Driver",
  fourth: "Medizintechnikbereitschaftsdienst",
};
const LEVER =
  '::check[Deckhebelverriegelungsanzeige]{about="deck-lever" by=second ' +
  'answer="Handhebel flach, rote Markierung verdeckt"}\n';

/** Files of a platform by their names. */
type Files = Readonly<Record<string, string>>;

function file(fields: Readonly<Record<string, string>>, text: string): string {
  const all = {
    ...fields,
    status: "approved",
    effective: "2026-01-05",
    owner: "Clinical educator",
    "approved-by": "Lead nurse",
  };
  const lines = Object.entries(all).map(([name, value]) => `${name}: ${value}`);
  return `---\n${lines.join("\n")}\n---\n${text}`;
}

/** A procedure that moves one thing between two places, the deck lever released before and locked after. */
function moving(title: string, code: string, move: string): string {
  const step = (attributes: string, text: string) => `\n:::step{${attributes}}\n${text}:::\n`;
  return file(
    { title: JSON.stringify(title), code, revision: "1", "review-by": "2028-01-05" },
    "Changes what stands on the trolley.\n\n## Steps\n" +
      step(
        'by=lead takes="15 s"',
        "Turn the deck lever up until the red mark shows.\n\n::turn{fastening=deck-lever to=released}\n",
      ) +
      step('by=all hold takes="40 s"', `Lift it by its two grips, all four of you.\n\n::move{${move}}\n`) +
      step(
        'by=third critical takes="15 s"',
        "Turn the deck lever down until it stops.\n\nWhy: the deck lever is all that holds what stands on it.\n\n" +
          `::turn{fastening=deck-lever to=locked}\n${LEVER}`,
      ),
  );
}

function carrier(title: string, weight: string, n: number): Files {
  const id = `carrier-${n}`;
  return {
    [`configurations/${id}.mdx`]: file(
      {
        title: JSON.stringify(title),
        code: `KRS-C${n}`,
        weight,
        fitted: `{ deck: [${id}] }`,
        options: "[ventilation]",
        ...(n === 1 ? { standing: "true" } : {}),
      },
      `For patients of one band.\n\n${LEVER}` +
        `::check[Carrier]{about="${id}" by=fourth answer="flat on the deck, no gap"}\n`,
    ),
    [`fit-${id}.mdx`]: moving(`Fit ${title}`, `KRS-F-${n}`, `item=${id} from=store to=deck`),
    [`remove-${id}.mdx`]: moving(`Remove ${title}`, `KRS-R-${n}`, `item=${id} from=deck to=store`),
  };
}

const VENTILATION: Files = {
  "options/ventilation.mdx": file(
    {
      title: "Ersatzbeatmungsgerätehalterung with its own battery and hose",
      code: "KRS-A1",
      fitted: "{ rail: [ventilation] }",
    },
    "A second ventilator at the foot end.\n",
  ),
  "fit-ventilation.mdx": moving(
    "Fit the Ersatzbeatmungsgerätehalterung at the foot end, by two",
    "KRS-F-9",
    "item=ventilation from=store to=rail",
  ),
  "remove-ventilation.mdx": moving(
    "Remove the Ersatzbeatmungsgerätehalterung, the battery last",
    "KRS-R-9",
    "item=ventilation from=rail to=store",
  ),
};

async function change(path: string, by: (text: string) => string): Promise<void> {
  const text = await readFile(path, "utf8"),
    changed = by(text);
  if (changed === text) throw new Error(`${path} has nothing of what is to be changed`);
  await writeFile(path, changed);
}

/** The starter without a procedure or an arrangement. */
async function writeBare(folder: string): Promise<string> {
  await cp(starter, folder, { recursive: true });
  const platform = join(folder, "trolley");
  for (const name of await readdir(platform, { recursive: true }))
    if (name.endsWith(".mdx")) await rm(join(platform, name));
  return platform;
}

/** Eight arrangements with an option, in long and compound words, for a crew of four. */
export async function writeEight(folder: string): Promise<void> {
  const platform = await writeBare(folder);
  const files = Object.assign(
    { ...VENTILATION },
    ...EIGHT.map(([weight, title], at) => carrier(title, weight, at + 1)),
  ) as Files;
  for (const [name, text] of Object.entries(files)) {
    await mkdir(dirname(join(platform, name)), { recursive: true });
    await writeFile(join(platform, name), text);
  }
  await writeFile(
    join(platform, "equipment.yaml"),
    EIGHT.map(
      ([band, title], at) =>
        `carrier-${at + 1}: { name: ${JSON.stringify(title)}, mass: 9 kg, home: store, restrains: ${band} }\n`,
    ).join("") + "ventilation: { name: Ersatzbeatmungsgerät, mass: 4 kg, home: store }\n",
  );
  await change(join(folder, "service.yaml"), (text) =>
    text
      .replace(/^name: .*$/m, "name: Kinderintensivtransportdienst of the northern and the western valleys")
      .replace(/^crew: .*$/m, `crew: ${JSON.stringify(ROLES)}`),
  );
  await change(join(platform, "platform.yaml"), (text) =>
    text
      .replace("name: Our trolley", "name: Kinderrückhaltesystemtransporttrage, northern pattern")
      .replace("Kit room", "Medizinproduktebereitstellungsraum")
      .replace(
        "  store:",
        "  rail: { name: Beatmungsgerätehalterungsschiene, kind: mount, x: 1600 mm, y: 100 mm, room: 1 }\n  store:",
      ),
  );
}

/** A single arrangement for everybody whom the service carries. */
export async function writeOne(folder: string): Promise<void> {
  await cp(starter, folder, { recursive: true });
  const platform = join(folder, "trolley");
  for (const name of ["fit-large-mattress", "remove-large-mattress", "configurations/large-mattress"])
    await rm(join(platform, `${name}.mdx`));
  await change(join(folder, "service.yaml"), (text) => text.replace("under 120 kg", "under 30 kg"));
}

/** What is there on the first evening: a platform with its places and its equipment, and nothing to do with it. */
export async function writeEmpty(folder: string): Promise<void> {
  await writeBare(folder);
}
