/** `rerig load`: mass, moment and balance point of an arrangement with its patient. */
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import { parseMass } from "../../schema/quantities.ts";
import { sayArrangement } from "../../domain/parts/arrangements.ts";
import { massOf, reportLoad } from "../../domain/load/load.ts";
import { modelOf } from "../../domain/states/model.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { writeDecimal } from "../../schema/spoken.ts";
import { askedArrangement, hasArrangements } from "./asked-arrangement.ts";
import { mindPatient } from "./choose.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigLoad"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .option("--platform <id>", every.takesPlatform)
    .requiredOption("--configuration <arrangement>", say.takesConfiguration)
    .option("--patient <weight>", say.takesPatient)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
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
        const asked = await openPlatform(options, hasArrangements(options.configuration));
        if (!asked) return;
        const { opened, platform } = asked;
        const all = wordsFor(opened.collection.service),
          words = all.commands;
        const arrangement = askedArrangement(modelOf(platform), options.configuration);
        if (patient?.ok)
          mindPatient(
            platform,
            arrangement,
            { weight: patient.value.value },
            words.patientOf({ weight: options.patient! }),
          );
        const report = reportLoad(platform, arrangement, patient?.ok ? massOf(patient.value.value) : undefined);
        if (options.json) return printJson(report);
        const { mass, moment, balance, within } = report;
        const say = all.rerigLoad,
          whom = options.patient ? words.loadOf({ weight: options.patient }) : all.load.noPatient,
          what = `${sayArrangement(arrangement)}${whom}`;
        const limit = mass.limit === null ? say.noLimit : say.limit({ kg: writeDecimal(mass.limit.toFixed(1)) }),
          limits =
            balance.from === null || balance.to === null
              ? say.noLimits
              : say.limits({ from: writeDecimal(balance.from.toFixed(0)), to: writeDecimal(balance.to.toFixed(0)) });
        const lines = [
          say.mass({ kg: writeDecimal(mass.kg.toFixed(1)), limit }),
          balance.mm === null
            ? say.balanceUnknown({ limits })
            : say.balance({ mm: writeDecimal(balance.mm.toFixed(1)), limits }),
          say.moment({ kgm: writeDecimal(moment.kgm.toFixed(2)) }),
        ];
        writeTo(
          process.stdout,
          `${(within ? say.within : say.outside)({ what })}\n${lines.map((line) => `  ${line}\n`).join("")}`,
        );
        writeTo(process.stderr, `${words.documents}\n`);
      },
    );
}
