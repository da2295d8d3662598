/** `rerig check`: reads and proves a collection and prints every finding at once. */
import type { Command } from "commander";
import { checkResult, countText, MOST_TOLD, readText, reportText, whereToBegin } from "../../findings/report.ts";
import type { Finding } from "../../findings/finding.ts";
import { terminalOf } from "../../findings/terminal.ts";
import { heard } from "../../words/heard.ts";
import { judge, openAsked, printJson, withCollection, withDay } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--json", "print the findings as JSON on standard output")
    .option("--all", `list every finding, also where one rule has more than ${MOST_TOLD} warnings`)
    .addHelpText("after", "\nExit code: 0 no errors (there may be warnings), 1 errors, 2 it could not run.")
    .action(async (options: { procedures?: string; on?: string; json?: boolean; all?: boolean }) => {
      const opened = await openAsked(options.procedures, { on: options.on });
      const findings = judge(opened);
      const result = checkResult(opened.files, findings);
      if (options.json) printJson(result);
      else {
        const terminal = terminalOf(process.stdout);
        if (findings.length)
          process.stdout.write(`${reportText(findings, { all: options.all ?? false, terminal })}\n\n`);
        process.stdout.write(`${countText(result.counts)}. Read ${readText(result.read)}.\n`);
        process.stdout.write(`${result.counts.error ? toMendFirst(findings) : "Next: npm run -s rerig -- build"}\n`);
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
