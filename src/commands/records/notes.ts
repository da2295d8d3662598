/** `rerig notes FILE…`: what crews found not to be as it says, by step. */
import type { Command } from "commander";
import { sayDate, sayInstruction } from "../../domain/words/say.ts";
import type { StepNote } from "../../schema/times/times.ts";
import { heard } from "../../words/heard.ts";
import { openAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { gatherTimes, placeOf } from "./times-files.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const say = heard("rerigNotes");
  withDay(withCollection(command))
    .argument("<files...>", say.takesFiles)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(async (paths: readonly string[], options: { procedures?: string; on?: string; json?: boolean }) => {
      const opened = await openAsked(options.procedures, { on: options.on });
      if (!readWhole(opened)) return;
      const { collection } = opened,
        notes = (await gatherTimes(paths, collection)).notes.toSorted(byStep);
      if (options.json)
        return printJson({
          notes: notes.map((note) => ({ ...note, inForce: placeOf(collection, note).current !== undefined })),
        });
      const say = heard("rerigNotes");
      if (!notes.length) return void writeTo(process.stdout, `${say.none}\n`);
      const blocks = new Map<string, Map<string, string[]>>();
      for (const note of notes) {
        const { heading, current } = placeOf(collection, note),
          step = current?.steps.find(({ number }) => number === note.step);
        const said = step
          ? say.stepSaid({ step: note.step, instruction: sayInstruction(step).replace(/\s+/g, " ") })
          : say.step({ step: note.step });
        const block = blocks.get(heading) ?? new Map<string, string[]>();
        blocks.set(heading, block.set(said, [...(block.get(said) ?? []), `${sayDate(note.day)}: ${note.words}`]));
      }
      const sayStep = ([step, lines]: [string, string[]]) =>
        `  ${step}\n${lines.map((line) => `    ${line}\n`).join("")}`;
      for (const [heading, steps] of blocks)
        writeTo(process.stdout, `${heading}\n${[...steps].map(sayStep).join("")}\n`);
    });
}

const byStep = (a: StepNote, b: StepNote): number =>
  `${a.platform} ${a.procedure}`.localeCompare(`${b.platform} ${b.procedure}`) ||
  b.revision - a.revision ||
  a.step - b.step ||
  a.day.localeCompare(b.day);
