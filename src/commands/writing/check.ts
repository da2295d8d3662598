/** `rerig check`: reads and proves a collection and prints every finding at once. */
import type { Command } from "commander";
import { checkResult, MOST_TOLD, reportText, whereToBegin } from "../../findings/report.ts";
import type { Finding } from "../../findings/finding.ts";
import { terminalOf, writeTo } from "../../findings/terminal.ts";
import { heard } from "../../words/heard.ts";
import { sameCollection } from "../collection-folder.ts";
import {
  judgeAtOnce,
  openAsked,
  printJson,
  sayErrorCounts,
  sayRead,
  withCollection,
  withDay,
} from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigCheck");
  withDay(withCollection(command))
    .option("--json", say.printsAsJson)
    .option("--all", say.takesAll({ most: MOST_TOLD }))
    .addHelpText("after", `\n${say.more}`)
    .action(async (options: { procedures?: string; on?: string; json?: boolean; all?: boolean }) => {
      const opened = await openAsked(options.procedures, { on: options.on, atOnce: true });
      const findings = await judgeAtOnce(opened);
      const result = checkResult(opened.files, findings);
      if (options.json) printJson(result);
      else {
        const terminal = terminalOf(process.stdout),
          say = heard("rerigCheck");
        if (findings.length)
          writeTo(process.stdout, `${reportText(findings, { all: options.all ?? false, terminal })}\n\n`);
        writeTo(process.stdout, `${say.read({ counts: sayErrorCounts(result.counts), read: sayRead(result.read) })}\n`);
        const next = say.next({ same: sameCollection(options.procedures) });
        writeTo(process.stdout, `${result.counts.error ? toMendFirst(findings) : next}\n`);
      }
      if (result.counts.error) process.exitCode = 1;
    });
}

/** What to do where there are errors. */
function toMendFirst(findings: readonly Finding[]): string {
  const say = heard("afterCheck"),
    file = whereToBegin(findings);
  return file === undefined ? say.mendFromTheTop : say.mendFileFirst({ file });
}
