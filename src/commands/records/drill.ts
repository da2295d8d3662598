/** `rerig drill --seed N`: a scenario to practise, and its key. */
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import { firstQuestionsOn } from "../../domain/bands/doubts.ts";
import { type Drill, type DrillLeg, drillOf } from "../../domain/after/drill.ts";
import { missedTold } from "../../domain/after/missed.ts";
import { sayDrill } from "../../domain/after/say-drill.ts";
import { countParts } from "../../domain/states/counts.ts";
import type { Platform } from "../../schema/collection.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly platform?: string;
  readonly seed: string;
  readonly crew?: boolean;
  readonly json?: boolean;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigDrill"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .requiredOption("--seed <number>", say.takesSeed)
    .option("--platform <id>", every.takesPlatform)
    .option("--crew", say.takesCrew)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(async (options: Options) => {
      if (!/^\d{1,9}$/.test(options.seed)) throw new CannotRun(heard("rerigDrill").noSeed({ given: options.seed }));
      const asked = await openPlatform(options);
      if (!asked) return;
      const { opened, platform } = asked,
        { service } = opened.collection;
      const questions = firstQuestionsOn(opened.collection, platform);
      const drill = drillOf(platform, { ...service, questions }, Number(options.seed));
      if (!drill) {
        writeTo(process.stderr, `${wordsFor(service).commands.noDrill({ which: platform.name })}\n`);
        process.exitCode = 1;
        return;
      }
      if (options.json) return printJson(resultOf(drill, platform));
      const { title, crew, key } = sayDrill(
        drill,
        platform,
        service.crew,
        wordsFor(service).drill,
        options.crew ? {} : missedTold(platform, service),
      );
      const blocks = (options.crew ? crew : key).map(
        ({ heading, lines }) => `${heading}\n${lines.map((line) => `  ${line}\n`).join("")}`,
      );
      writeTo(process.stdout, `${title}\n\n${blocks.join("\n")}`);
    });
}

function resultOf({ seed, from, patient, asked, missing, signal, key }: Drill, platform: Platform) {
  const scenario = {
    seed,
    platform: platform.id,
    from: from.name,
    weight: patient.said.weight,
    age: patient.said.age,
    asked,
    missing: missing ? { item: missing.id, count: 1 } : null,
    signal,
    ask: key.questions.map(({ say }) => say),
  };
  if (key.kind === "nobody") return { ...scenario, key: null };
  const { refused, change } = key;
  return {
    ...scenario,
    key: {
      ...legOf(key, platform),
      refused,
      change: change
        ? {
            after: change.after,
            weight: change.patient?.said.weight ?? null,
            age: change.patient?.said.age ?? null,
            ...legOf(change, platform),
          }
        : null,
    },
  };
}

function legOf({ to, changeover, timeline }: DrillLeg, platform: Platform) {
  const { out, into, moved } = countParts(changeover, platform);
  const row = ({ item, count, to: place }: (typeof out)[number]) => ({ item, count, place });
  return {
    to: to.name,
    card: to.configuration.code,
    elapsed: timeline.elapsed,
    seconds: changeover.seconds,
    steps: changeover.steps.map(({ procedure, step }) => ({ procedure: procedure.id, step: step.number })),
    count: { out: out.map(row), in: into.map(row), moved: moved.map(row) },
  };
}
