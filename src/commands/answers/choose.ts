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
import {
  type Arrangement,
  fittedIn,
  isFor,
  optionsMissing,
  requirementsFor,
  sayArrangement,
} from "../../domain/parts/arrangements.ts";
import { confirmingOf, sayConfirming, stepsToConfirm } from "../../domain/parts/confirming.ts";
import { whyOut } from "../../domain/tonight/amended-out.ts";
import { capital, sayOptionTitles } from "../../domain/words/say.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

/** The patient that the words describe; throws `CannotRun` if a word can't be read or has no unit. */
export function patientAsked(weight: string | undefined, age: string | undefined): Patient {
  return {
    weight: weight === undefined ? undefined : readMass(weight),
    age: age === undefined ? undefined : read(parseAge(age), "--age"),
  };
}

/**
 * For every command that is asked about an arrangement with a patient (`who`, in words): throws `CannotRun` where the
 * patient needs an option that is not in it, and cautions on standard error where it is for others.
 */
export function mindPatient(platform: Platform, arrangement: Arrangement, patient: Patient, who: string): void {
  needOptions(platform, arrangement, patient, who);
  if (isFor(arrangement, patient)) return;
  writeTo(
    process.stderr,
    `${heard("commands").isFor({
      arrangement: sayArrangement(arrangement),
      weight: sayRange(arrangement.band.weight),
      age: sayRange(arrangement.band.age),
    })}\n`,
  );
}

function needOptions(
  { options }: Pick<Platform, "options">,
  arrangement: Arrangement,
  patient: Patient,
  who: string,
): void {
  const missing = optionsMissing(arrangement, patient);
  if (missing.length > 0)
    throw new CannotRun(
      heard("everyCommand").needsOption({
        arrangement: sayArrangement(arrangement),
        who,
        options: sayOptionTitles(options.filter(({ id }) => missing.includes(id))),
        other: [arrangement.name, ...missing].join("+"),
      }),
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
  const usual = sayUsual({ age, text }) ?? "",
    say = heard("rerigChoose").doesNotFit({ age: text, weight: told.weight!.trim(), usual });
  return [{ say, fetch: [] }];
}

/** Names what would be for the patient and is not chosen, because it is not in force. */
function sayNotInForce({ proposals }: Force, platform: string, patient: Patient): void {
  for (const { platform: on, kind, revision, status, record } of proposals)
    if (on === platform && kind === "configuration" && holdsPatient(record.band, patient))
      writeTo(
        process.stderr,
        `${heard("rerigChoose").notInForce({
          which: record.title,
          revision: String(revision),
          status: sayHowFar(status),
        })}\n`,
      );
}

function sayHowFar(status: Status): string {
  const say = heard("rerigChoose");
  return {
    draft: say.draft,
    "in review": say.inReview,
    approved: say.approved,
    coming: say.coming,
    withdrawn: say.withdrawn,
  }[status];
}

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
  const say = heard("rerigChoose"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .option("--platform <id>", every.takesPlatform)
    .option("--weight <weight>", say.takesWeight)
    .option("--age <age>", say.takesAge)
    .option("--read-back", say.takesReadBack)
    .option("--json", every.printsAnswerAsJson)
    .addHelpText("after", `\n${say.more}`)
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
          throw new CannotRun(heard("rerigChoose").nothingKnown);
        const patient = patientAsked(options.weight, options.age);
        const open = await openPlatform(options);
        if (!open) return;
        const { opened, platform } = open;
        const say = heard("rerigChoose"),
          { service } = opened.collection,
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
        const refused = chosen.flatMap(({ configuration, added, name }) => {
          const why = whyOut(platform, name, opened.day);
          return why ? [{ arrangement: name, title: sayArrangement({ configuration, options: added }), why }] : [];
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
            ...(refused.length > 0
              ? { outOfService: refused.map(({ arrangement, why }) => ({ arrangement, why })) }
              : {}),
            ...(confirming ? { confirm: stepsToConfirm(confirming) } : {}),
            ...(questions.length > 0
              ? { ask: questions.map(({ say, fetch }) => ({ say, fetch: fetch.map(({ id }) => id) })) }
              : {}),
          });
        for (const question of questions)
          writeTo(process.stdout, `${say.first({ question: sayFirstQuestion(question) })}\n`);
        if (isOpen) {
          if (confirming) writeTo(process.stdout, `${sayConfirming(confirming).join("\n")}\n`);
          writeTo(process.stderr, `${say.readBackFirst}\n`);
          return;
        }
        if (asked.kind === "outside")
          writeTo(process.stdout, `${wordsFor(service).commands.notCarried({ band: service.band[asked.of].text })}\n`);
        if (asked.kind === "rows" && asked.rows.length === 0)
          writeTo(process.stdout, `${say.none({ which: platform.name })}\n`);
        if (options.weight === undefined && rows.length > 0) {
          const usual = sayUsual({ age: patient.age!, text: options.age!.trim() });
          writeTo(
            process.stdout,
            `${say.atAge({ age: options.age!.trim() })}\n` +
              rows.map(({ id, title, band }) => `  ${title} (${id}): ${sayRange(band.weight)}\n`).join("") +
              `${say.ageChoosesNone}\n` +
              (usual ? `${say.usual({ usual })}\n` : ""),
          );
        }
        if (chosen.length > 0) writeTo(process.stdout, `${sayPatient(options, wordsFor(service).commands)}:\n`);
        for (const { configuration, needed, added } of chosen) {
          const { id, title, band } = configuration;
          writeTo(process.stdout, `${title} (${id}): ${sayRange(band.weight)}, ${sayRange(band.age)}\n`);
          for (const { option, band } of needed) {
            const title = added.find((each) => each.id === option)?.title ?? option;
            writeTo(process.stdout, `  ${say.withOption({ option: title, id: option, band: sayBand(band) })}\n`);
          }
        }
        for (const { title, why } of refused)
          writeTo(process.stdout, `${say.notNow({ arrangement: title, why: capital(why) })}\n`);
        if (confirming) writeTo(process.stdout, `${sayConfirming(confirming).join("\n")}\n`);
        if (pieces.size) writeTo(process.stdout, `${say.fitted({ pieces: sayPieces(pieces, platform) })}\n`);
        writeTo(process.stderr, `${say.tableDecides}\n`);
      },
    );
}
