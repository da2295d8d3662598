/** `rerig times FILE…`: what runs took against what procedures give, step by step, and where they were interrupted. */
import type { Command } from "commander";
import { type StepTimes, stepTimes } from "../../domain/after/medians.ts";
import { sayDate, sayInstruction, sayMinutes } from "../../domain/words/say.ts";
import type { Collection } from "../../schema/collection.ts";
import type { TimedRun } from "../../schema/times/times.ts";
import { heard } from "../../words/heard.ts";
import { openAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { gatherTimes, placeOf } from "./times-files.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const say = heard("rerigTimes"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .argument("<files...>", say.takesFiles)
    .option("--json", every.printsResultAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(async (paths: readonly string[], options: { procedures?: string; on?: string; json?: boolean }) => {
      const opened = await openAsked(options.procedures, { on: options.on });
      if (!readWhole(opened)) return;
      const { collection } = opened,
        { runs, files } = await gatherTimes(paths, collection),
        steps = stepTimes(runs);
      if (options.json)
        return printJson({
          runs: runs.length,
          drills: runs.filter(({ drill }) => drill !== undefined).length,
          halfBuilt: runs.filter(({ begun }) => begun !== undefined).length,
          steps: steps.map((each) => ({ ...each, inForce: placeOf(collection, each).current !== undefined })),
        });
      writeTo(process.stdout, `${sayRuns(runs, files)}\n${sayTimes(steps, collection)}`);
    });
}

function sayRuns(runs: readonly TimedRun[], files: number): string {
  const days = runs.map(({ day }) => day).sort(),
    drills = runs.filter(({ drill }) => drill !== undefined).length;
  const say = heard("rerigTimes");
  if (!days.length) return say.noRun({ files });
  const [from, to] = [days[0]!, days.at(-1)!].map(sayDate) as [string, string],
    told = { runs: runs.length, files, days: from === to ? from : say.toDay({ from, to }) };
  return drills ? say.runsWithDrills({ ...told, drills }) : say.runs(told);
}

const WIDTH = 8;

function sayTimes(steps: readonly StepTimes[], collection: Collection): string {
  const blocks = new Map<string, string[]>(),
    say = heard("rerigTimes"),
    columns = [say.step, say.takes, say.median, say.by, say.least, say.most, say.runsColumn];
  for (const each of steps) {
    const { heading, current } = placeOf(collection, each),
      step = current?.steps.find(({ number }) => number === each.step);
    const cells = [
      String(each.step),
      sayMinutes(each.takes),
      each.median === undefined ? "–" : sayMinutes(each.median),
      each.median === undefined ? "–" : sayBy(each.median - each.takes),
      each.least === undefined ? "–" : sayMinutes(each.least),
      each.most === undefined ? "–" : sayMinutes(each.most),
      each.timed === each.runs ? String(each.runs) : `${each.timed}/${each.runs}`,
    ];
    const words = [
      ...(each.back ? [say.walkedBack] : []),
      ...(step ? [sayInstruction(step).replace(/\s+/g, " ")] : []),
      ...(each.interrupted ? [say.interrupted({ count: each.interrupted })] : []),
    ];
    const line = `${cells.map((cell) => cell.padStart(WIDTH)).join("")}   ${words.join(" ")}`.trimEnd();
    const head = columns.map((title) => title.padStart(WIDTH)).join("");
    blocks.set(heading, [...(blocks.get(heading) ?? [head]), line]);
  }
  return [...blocks].map(([heading, lines]) => `\n${heading}\n${lines.join("\n")}\n`).join("");
}

/** `+0:12`, `-0:05`. */
function sayBy(seconds: number): string {
  const whole = Math.round(seconds);
  return `${whole > 0 ? "+" : whole < 0 ? "-" : ""}${sayMinutes(Math.abs(whole))}`;
}
