/**
 * `rerig build`: checks the collection and builds the site; a collection with errors, or a build that fails, leaves the
 * last site as it was.
 */
import { resolve } from "node:path";
import type { Command } from "commander";
import { buildSite } from "../build/build.ts";
import { AuthorFault } from "../site/author-fault.ts";
import { checkResult, countText, reportText } from "../findings/report.ts";
import { judge, openAsked, withCollection, withDay } from "./collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--out <dir>", "where the site goes", "dist")
    .addHelpText(
      "after",
      "\nExit code: 0 built, 1 errors in the collection (nothing is built), 2 it could not run. What was in " +
        "the folder stays until the new site is complete.",
    )
    .action(async (options: { procedures?: string; on?: string; out: string }) => {
      const opened = await openAsked(options.procedures, { on: options.on, hashPhotos: true });
      const findings = judge(opened);
      const { counts, read } = checkResult(opened.files, findings);
      if (findings.length) process.stderr.write(`${reportText(findings)}\n\n`);
      process.stderr.write(`Checked ${read.procedures} procedures: ${countText(counts)}\n`);
      if (counts.error) {
        process.stderr.write("Nothing is built while there are errors; the last site is as it was.\n");
        process.exitCode = 1;
        return;
      }
      const outFolder = resolve(options.out);
      const began = Date.now();
      try {
        await buildSite({
          collectionFolder: opened.folder,
          outFolder,
          collection: opened.files,
          on: opened.day,
          findings,
          log: (line) => process.stderr.write(`${line}\n`),
        });
      } catch (error) {
        if (!(error instanceof AuthorFault)) throw error;
        process.stderr.write(`${reportText([error.finding])}\n\nNothing is built; the last site is as it was.\n`);
        process.exitCode = 1;
        return;
      }
      process.stderr.write(`Built in ${((Date.now() - began) / 1000).toFixed(1)} s: ${outFolder}\n`);
    });
}
