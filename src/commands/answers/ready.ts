/**
 * `rerig ready`: the readiness sheet; or the restock sheet after a run, how long gas and batteries last, the time from
 * the call to ready, the dates of expiry and service.
 */
import { wordsFor } from "../../words/words.ts";
import { type Command, Option } from "commander";
import { type Arrangement, sayArrangement } from "../../domain/parts/arrangements.ts";
import { namePlace, standingArrangement } from "../../domain/parts/lookup.ts";
import { modelOf } from "../../domain/states/model.ts";
import { callToReady } from "../../domain/ready/call.ts";
import { enduranceTable } from "../../domain/ready/endurance.ts";
import { EVERY, readinessOf, readyDates } from "../../domain/ready/readiness.ts";
import { readyCalendar } from "../../domain/ready/ready-calendar.ts";
import {
  callResult,
  datesResult,
  enduranceResult,
  restockResult,
  sheetResult,
} from "../../domain/ready/ready-result.ts";
import { restockOf } from "../../domain/ready/restock.ts";
import {
  sayEnduranceCaution,
  sayActs,
  sayEvery,
  sayPieces,
  sayReasons,
  sayStage,
  sayStands,
  sayUntil,
  sayUnwalked,
} from "../../domain/ready/say-ready.ts";
import { planFor } from "../../domain/time/plans.ts";
import { sayDate, sayMinutes } from "../../domain/words/say.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import type { Every, Platform, Service } from "../../schema/collection.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";
import { askedArrangement, hasArrangements } from "./asked-arrangement.ts";
import { mindPatient, patientAsked } from "./choose.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly platform?: string;
  readonly every?: Every;
  readonly from?: string;
  readonly to?: string;
  readonly weight?: string;
  readonly age?: string;
  readonly ics?: boolean;
  readonly json?: boolean;
}

const SHEETS = ["sheet", "restock", "endurance", "call", "dates"] as const;

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const takes = heard("rerigReady"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .argument("[what]", takes.takesWhat({ sheets: sayList(SHEETS, "or") }), "sheet")
    .option("--platform <id>", every.takesPlatform)
    .addOption(new Option("--every <often>", takes.takesEvery).choices([...EVERY]))
    .option("--from <arrangement>", takes.takesFrom)
    .option("--to <arrangement>", takes.takesTo)
    .option("--weight <weight>", takes.takesWeight)
    .option("--age <age>", takes.takesAge)
    .option("--ics", takes.takesIcs)
    .option("--json", every.printsAnswerAsJson)
    .addHelpText("after", `\n${heard("ready").caution}`)
    .action(async (what: string, options: Options) => {
      const sheet = SHEETS.find((each) => each === what);
      if (!sheet) throw new CannotRun(heard("rerigReady").noSheet({ what, sheets: sayList(SHEETS) }));
      const patient = patientAsked(options.weight, options.age);
      const asked = await openPlatform(
        options,
        hasArrangements(...[options.from, options.to].flatMap((name) => name ?? [])),
      );
      if (!asked) return;
      const { opened, platform } = asked,
        { collection } = opened,
        { service } = collection;
      if (sheet === "dates") {
        if (options.ics) process.stdout.write(readyCalendar({ service, platforms: [platform] }));
        else if (options.json) printJson({ platform: platform.id, dates: datesResult(platform) });
        else say(sayDates(platform), service);
        return;
      }
      if (sheet === "endurance") {
        if (options.json) return printJson({ platform: platform.id, endurance: enduranceResult(platform, service) });
        return say([...sayEndurance(platform, service), "", sayEnduranceCaution()], service);
      }
      const from = named(platform, options.from);
      if (sheet === "sheet") {
        const { every } = options;
        if (options.json) {
          const rows = sheetResult(platform, from);
          return printJson({
            platform: platform.id,
            sheet: every
              ? rows.map((row) => ({ ...row, looks: row.looks.filter((look) => look.every === every) }))
              : rows,
          });
        }
        return say(saySheet(platform, from, every), service);
      }
      const to = named(platform, options.to);
      if (sheet === "restock") {
        if (options.json)
          return printJson({ platform: platform.id, restock: restockResult(platform, service, from, to) });
        return say(sayRestock(platform, service, from, to), service);
      }
      const words = wordsFor(service).commands;
      mindPatient(platform, to, patient, words.thisPatient);
      const way = planFor(modelOf(platform), service, from, to, patient);
      if (!way) {
        writeTo(
          process.stderr,
          `${words.noWay({ from: words.named({ name: sayArrangement(from) }), to: sayArrangement(to) })}\n`,
        );
        process.exitCode = 1;
        return;
      }
      const call = callToReady(platform, service, way);
      if (options.json)
        return printJson({ platform: platform.id, call: { from: from.name, to: to.name, ...callResult(call) } });
      say(sayCall(platform, from, to, call), service);
    });
}

function say(lines: readonly string[], service: Service): void {
  writeTo(process.stdout, `${lines.filter((line, at) => line !== "" || lines[at - 1] !== "").join("\n")}\n`);
  writeTo(process.stderr, `${wordsFor(service).ready.caution}\n`);
}

/** The arrangement asked for, else the standing one; throws `CannotRun` if there is none. */
function named(platform: Platform, name: string | undefined): Arrangement {
  if (name !== undefined) return askedArrangement(modelOf(platform), name);
  const standing = standingArrangement(platform);
  if (!standing) throw new CannotRun(heard("rerigReady").noStanding({ which: platform.name }));
  return standing;
}

/** An arrangement as it is called within a sentence. */
const sayInside = (arrangement: Arrangement): string => lowerFirst(sayArrangement(arrangement));

function saySheet(platform: Platform, arrangement: Arrangement, every: Every | undefined): string[] {
  const rows = readinessOf(platform, arrangement)
    .map((row) => ({ ...row, looks: row.looks.filter(({ line }) => every === undefined || line.every === every) }))
    .filter(({ looks }) => every === undefined || looks.length > 0);
  return [
    heard("rerigReady").sheetHead({ which: platform.name, arrangement: sayInside(arrangement) }),
    ...rows.flatMap((row) => [
      `${"  ".repeat(row.depth)}${row.place.name}: ${sayStands(row)}`,
      ...row.looks.map(({ line, of }) => {
        const when = [sayEvery(line.every), sayUntil(line)].filter(Boolean).join(", ");
        return `${"  ".repeat(row.depth)}    [ ] ${of.name}: ${line.look} (${when})`;
      }),
    ]),
  ];
}

function sayRestock(platform: Platform, service: Service, from: Arrangement, to: Arrangement): string[] {
  const { rows, unsaid } = restockOf(platform, service, from, to),
    { ready: words, rerigReady: own } = wordsFor(service);
  return [
    from.name === to.name
      ? own.afterRun({ arrangement: sayInside(to) })
      : own.afterRunFrom({ arrangement: sayInside(to), from: sayInside(from) }),
    ...rows.map(
      (row) =>
        `  [ ] ${namePlace(platform, row.at)}: ${sayPieces(row.of, row.count)}. ${sayActs(row)}. ` +
        `(${sayReasons(row, words)})`,
    ),
    ...(unsaid.length ? ["", own.mountedUnsaid({ items: sayList(unsaid.map(({ name }) => name)) })] : []),
  ];
}

function sayEndurance(platform: Platform, service: Service): string[] {
  const rows = enduranceTable(platform, service),
    words = heard("rerigReady");
  if (rows.length === 0) return [words.nothingHolds];
  return rows.map(
    ({ item, pieces, demand, minutes, arithmetic }) =>
      `${String(minutes).padStart(5)} min  ${sayPieces(item, pieces)}${demand ? `, ${demand}` : words.onBattery}\n` +
      `           ${arithmetic}`,
  );
}

function sayCall(
  platform: Platform,
  from: Arrangement,
  to: Arrangement,
  call: ReturnType<typeof callToReady>,
): string[] {
  const words = heard("rerigReady");
  return [
    words.fromTheCall({ time: sayMinutes(call.seconds), from: sayInside(from), to: sayInside(to) }),
    ...call.stages.map(({ stage, start, end }) => {
      const span = words.startToEnd({ start: sayMinutes(start).padStart(6), end: sayMinutes(end).padStart(6) });
      return `  ${span}  ${sayStage(stage)}`;
    }),
    ...call.walks.flatMap(({ store, walkSeconds }) =>
      walkSeconds === undefined
        ? []
        : [`  ${words.walk({ place: namePlace(platform, store), time: sayMinutes(walkSeconds) })}`],
    ),
    sayUnwalked(platform, call.walks),
  ];
}

function sayDates(platform: Platform): string[] {
  const dates = readyDates([platform]);
  if (dates.length === 0) return [heard("rerigReady").noDates];
  return dates.map(({ of, line }) => `${sayDate(line.until).padStart(11)}  ${of.name}: ${line.look}`);
}
