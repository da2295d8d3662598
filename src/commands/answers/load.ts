/** `rerig load`: mass, moment and balance point of an arrangement with its patient. */
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import { parseMass } from "../../schema/quantities.ts";
import { arrangementNamed } from "../../domain/states/changeover.ts";
import { massOf, reportLoad } from "../../domain/load/load.ts";
import { modelOf } from "../../domain/states/model.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { needOptions } from "./choose.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--platform <id>", "the platform; may be left out if there is only one")
    .requiredOption("--configuration <arrangement>", "a configuration, or an arrangement: configuration+option+option")
    .option(
      "--patient <weight>",
      'the patient\'s weight with its unit: "20 kg"; left out, the platform without a patient',
    )
    .option("--json", "print the load as JSON on standard output")
    .addHelpText(
      "after",
      "\nApproved data and the aircraft's own documents decide; this only adds up what the collection says.",
    )
    .action(
      async (options: {
        procedures?: string;
        on?: string;
        platform?: string;
        configuration: string;
        patient?: string;
        json?: boolean;
      }) => {
        const patient = options.patient === undefined ? undefined : parseMass(options.patient);
        if (patient && !patient.ok) throw new CannotRun(`--patient: ${patient.message}. ${patient.fix}`);
        const opened = await openAsked(options.procedures, { on: options.on });
        const platform = platformAsked(opened.collection, options.platform);
        if (!readWhole(opened)) return;
        const all = wordsFor(opened.collection.service),
          words = all.commands;
        const model = modelOf(platform);
        const arrangement = arrangementNamed(model, options.configuration);
        if (!arrangement)
          throw new CannotRun(
            `There is no arrangement \`${options.configuration}\`; there are ${model.arrangements
              .map(({ name }) => name)
              .slice(0, 12)
              .join(", ")}`,
          );
        if (patient?.ok)
          needOptions(arrangement, { weight: patient.value.value }, words.patientOf({ weight: options.patient! }));
        const report = reportLoad(platform, arrangement, patient?.ok ? massOf(patient.value.value) : undefined);
        if (options.json) return printJson(report);
        const { mass, moment, balance, within } = report;
        const limit = mass.limit === null ? "no limit is given" : `limit ${mass.limit.toFixed(1)} kg`,
          window =
            balance.from === null || balance.to === null
              ? "no limits are given"
              : `limits ${balance.from.toFixed(0)} to ${balance.to.toFixed(0)} mm`;
        process.stdout.write(
          `${arrangement.name}${options.patient ? words.loadOf({ weight: options.patient }) : all.load.noPatient}: ` +
            `${within ? "within" : "OUTSIDE"} the limits\n` +
            `  mass     ${mass.kg.toFixed(1)} kg (${limit})\n` +
            `  balance  ${balance.mm === null ? "not known" : `${balance.mm.toFixed(1)} mm`} (${window})\n` +
            `  moment   ${moment.kgm.toFixed(2)} kg m\n`,
        );
        process.stderr.write(`${words.documents}\n`);
      },
    );
}
