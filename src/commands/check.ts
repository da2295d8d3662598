/** `rerig check`: reads and proves a collection and prints every finding at once. */
import type { Command } from "commander";
import { checkResult, countText, readText, reportText } from "../findings/report.ts";
import { judge, openCollection, printJson, withCollection } from "./collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withCollection(command)
    .option("--json", "print the findings as JSON on standard output")
    .addHelpText("after", "\nExit code: 0 no errors (there may be warnings), 1 errors, 2 it could not run.")
    .action(async (options: { procedures?: string; json?: boolean }) => {
      const opened = await openCollection(options.procedures);
      const findings = judge(opened);
      const result = checkResult(opened.collection, findings);
      if (options.json) printJson(result);
      else {
        if (findings.length) process.stdout.write(`${reportText(findings)}\n\n`);
        process.stdout.write(`${countText(result.counts)}. Read ${readText(result.read)}.\n`);
      }
      if (result.counts.error) process.exitCode = 1;
    });
}
