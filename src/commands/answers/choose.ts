/**
 * `rerig choose`: which configuration a weight and an age ask for. A reading aid to the table of bands; the table
 * decides.
 */
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import { parseAge, parseMass } from "../../schema/quantities.ts";
import { holdsPatient, type Patient, sayBand, sayRange } from "../../domain/bands/bands.ts";
import { rowsFor, sayUsual } from "../../domain/bands/choose.ts";
import {
  type FirstQuestion,
  firstQuestionsFor,
  firstQuestionsOn,
  sayFirstQuestion,
} from "../../domain/bands/doubts.ts";
import { readWeight } from "../../domain/bands/entry.ts";
import { isUnusual } from "../../domain/bands/growth.ts";
import type { Force } from "../../domain/force/force.ts";
import type { Platform, Status } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { type Arrangement, fittedIn, optionsMissing, requirementsFor } from "../../domain/parts/arrangements.ts";
import { confirmingOf, sayConfirming, stepsToConfirm } from "../../domain/parts/confirming.ts";
import { whyOut } from "../../domain/tonight/amended-out.ts";
import { capital } from "../../domain/words/say.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";

/** The patient that the words describe; throws `CannotRun` if a word can't be read or has no unit. */
export function patientAsked(weight: string | undefined, age: string | undefined): Patient {
  return {
    weight: weight === undefined ? undefined : readMass(weight),
    age: age === undefined ? undefined : read(parseAge(age), "--age"),
  };
}

/** Throws `CannotRun` where the patient (`who`, in words) needs an option that is not in the arrangement. */
export function needOptions(arrangement: Arrangement, patient: Patient, who: string): void {
  const missing = optionsMissing(arrangement, patient);
  if (missing.length > 0)
    throw new CannotRun(
      `\`${arrangement.name}\` is not for ${who}, who needs ${sayList(missing.map((id) => `\`${id}\``))} with it: ` +
        `ask for \`${[arrangement.name, ...missing].join("+")}\``,
    );
}

/** Pounds and ounces as a person tells them; anything else as the files have it. */
function readMass(text: string): bigint {
  const told = /\d\s*(?:lb|pound).*\d\s*(?:oz|ounce)/i.test(text) ? readWeight(text) : undefined;
  if (told?.kind === "ask") throw new CannotRun(`--weight: ${told.question}`);
  return told?.kind === "value" ? told.value.mass : read(parseMass(text), "--weight");
}

function read(parsed: ReturnType<typeof parseMass>, option: string): bigint {
  if (!parsed.ok) throw new CannotRun(`${option}: ${parsed.message}. ${parsed.fix}`);
  return parsed.value.value;
}

/** What is asked back of an age that does not fit the weight; empty where it does, or one of them is not known. */
function misfit(
  { weight, age }: Patient,
  told: { readonly weight?: string; readonly age?: string },
): Pick<FirstQuestion, "say" | "fetch">[] {
  if (weight === undefined || age === undefined || !isUnusual(weight, age)) return [];
  const text = told.age!.trim();
  const say =
    `${text} does not fit ${told.weight!.trim()}. Usual at ${sayUsual({ age, text })}. Ask again for both: is it ` +
    "days, weeks, months or years?";
  return [{ say, fetch: [] }];
}

/** Names what would be for the patient and is not chosen, because it is not in force. */
function sayNotInForce({ proposals }: Force, platform: string, patient: Patient): void {
  for (const { platform: on, kind, id, revision, status, record } of proposals)
    if (on === platform && kind === "configuration" && holdsPatient(record.band, patient))
      process.stderr.write(`Not chosen: \`${id}\`, revision ${revision}, is ${SAID[status]} and not in force.\n`);
}

const SAID: Readonly<Record<Status, string>> = {
  draft: "a draft",
  "in review": "in review",
  approved: "approved",
  coming: "issued for a later day",
  withdrawn: "withdrawn",
};

/** How many pieces of each item stand in an arrangement, over all its places. */
function piecesOf(contents: readonly { readonly item: string; readonly count: number }[]) {
  return [...Map.groupBy(contents, ({ item }) => item)].map(([item, all]) => ({
    item,
    count: all.reduce((sum, { count }) => sum + count, 0),
  }));
}

/** `Child cradle, 4 Cradle strap`: by their names, with a count where there are several. */
function sayPieces(pieces: ReadonlyMap<string, number>, { items }: Platform): string {
  const names = new Map(items.map(({ id, name }) => [id, name]));
  return [...pieces].map(([id, count]) => `${count > 1 ? `${count} ` : ""}${names.get(id) ?? id}`).join(", ");
}

/** What was asked for, read back as it was understood. */
const sayPatient = (
  { weight, age }: { readonly weight?: string; readonly age?: string },
  words: Words["commands"],
): string =>
  words.forPatient({ told: [weight, age].flatMap((each) => (each === undefined ? [] : [each.trim()])).join(", ") });

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--platform <id>", "the platform; may be left out if there is only one")
    .option("--weight <weight>", 'the patient\'s weight with its unit: "7.2 kg", "950 g", "11 lb", "8 lb 9 oz"')
    .option("--age <age>", 'the patient\'s age with its unit: "8 months"; left out, no arrangement is ruled out by age')
    .option("--read-back", "what the service asks about this patient has been read back: answer")
    .option("--json", "print the answer as JSON on standard output")
    .addHelpText("after", "\nThe table of bands decides; this only reads it. It is no medical device.")
    .action(
      async (options: {
        procedures?: string;
        on?: string;
        platform?: string;
        weight?: string;
        age?: string;
        readBack?: boolean;
        json?: boolean;
      }) => {
        if (options.weight === undefined && options.age === undefined)
          throw new CannotRun("Nothing is known of the patient: give --weight, --age or both");
        const patient = patientAsked(options.weight, options.age);
        const opened = await openAsked(options.procedures, { on: options.on });
        const platform = platformAsked(opened.collection, options.platform);
        if (!readWhole(opened)) return;
        const { service } = opened.collection,
          asked = rowsFor({ service: service.band, rows: platform.configurations }, patient);
        const known = firstQuestionsFor(firstQuestionsOn(opened.collection, platform), patient);
        // An age alone leaves every weight open: only what is asked of all of them is asked of it.
        const own = known.filter(({ band: { weight } }) => options.weight !== undefined || !(weight.from ?? weight.to));
        const questions = asked.kind === "rows" ? [...misfit(patient, options), ...own] : [];
        const isOpen = questions.length > 0 && !options.readBack;
        const rows = asked.kind === "rows" && !isOpen ? asked.rows : [],
          configurations = options.weight === undefined ? [] : rows;
        if (!isOpen) sayNotInForce(opened.force, platform.id, patient);
        const chosen = configurations.map((configuration) => {
          const needed = requirementsFor(configuration, patient),
            added = platform.options.filter(({ id }) => needed.some(({ option }) => option === id));
          return {
            configuration,
            needed,
            name: [configuration.id, ...needed.map(({ option }) => option)].join("+"),
            added,
          };
        });
        const refused = chosen.flatMap(({ name }) => {
          const why = whyOut(platform, name, opened.day);
          return why ? [{ arrangement: name, why }] : [];
        });
        const pieces = new Map<string, number>();
        for (const { configuration, added } of chosen)
          for (const { item, count } of piecesOf(fittedIn(configuration, added)))
            pieces.set(item, Math.max(count, pieces.get(item) ?? 0));
        const items = [...pieces.keys()];
        const confirming = asked.kind === "rows" ? confirmingOf(platform, service.crew, patient) : undefined;
        if (options.json)
          return printJson({
            ...(options.weight === undefined ? { age: options.age!.trim() } : { weight: options.weight.trim() }),
            configurations: configurations.map(({ id }) => id),
            items,
            ...(chosen.some(({ needed }) => needed.length > 0) ? { arrangements: chosen.map(({ name }) => name) } : {}),
            ...(options.weight === undefined ? { open: rows.map(({ id }) => id) } : {}),
            ...(refused.length > 0 ? { outOfService: refused } : {}),
            ...(confirming ? { confirm: stepsToConfirm(confirming) } : {}),
            ...(questions.length > 0
              ? { ask: questions.map(({ say, fetch }) => ({ say, fetch: fetch.map(({ id }) => id) })) }
              : {}),
          });
        for (const question of questions) process.stdout.write(`First: ${sayFirstQuestion(question)}\n`);
        if (isOpen) {
          if (confirming) process.stdout.write(`${sayConfirming(confirming).join("\n")}\n`);
          process.stderr.write("Nothing is chosen until this is read back: then ask again with --read-back.\n");
          return;
        }
        if (asked.kind === "outside")
          process.stdout.write(`${wordsFor(service).commands.notCarried({ band: service.band[asked.of].text })}\n`);
        if (options.weight === undefined && rows.length > 0) {
          const usual = sayUsual({ age: patient.age!, text: options.age!.trim() });
          process.stdout.write(
            `At ${options.age!.trim()} it may be:\n` +
              rows.map(({ id, title, band }) => `  ${title} (${id}): ${sayRange(band.weight)}\n`).join("") +
              "An age chooses none of them: ask for a weight of today.\n" +
              (usual ? `Usual at ${usual}: it is no weight to go by.\n` : ""),
          );
        }
        if (chosen.length > 0) process.stdout.write(`${sayPatient(options, wordsFor(service).commands)}:\n`);
        for (const { configuration, needed, added } of chosen) {
          const { id, title, band } = configuration;
          process.stdout.write(`${title} (${id}): ${sayRange(band.weight)}, ${sayRange(band.age)}\n`);
          for (const each of needed)
            process.stdout.write(
              `  with ${added.find((option) => option.id === each.option)?.title ?? each.option} (${each.option}): ` +
                `always ${sayBand(each.band)}\n`,
            );
        }
        for (const { arrangement, why } of refused)
          process.stdout.write(`Can't be built now: ${arrangement}. ${capital(why)}.\n`);
        if (confirming) process.stdout.write(`${sayConfirming(confirming).join("\n")}\n`);
        if (pieces.size) process.stdout.write(`Fitted: ${sayPieces(pieces, platform)}\n`);
        process.stderr.write("The table of bands decides; this only reads it.\n");
      },
    );
}
