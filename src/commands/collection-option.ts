/** The option `--procedures` that every command has, and reading the collection that it names. */
import { resolve } from "node:path";
import type { Command } from "commander";
import { today } from "../site/today.ts";
import { loadCollection, type LoadOptions, NoCollection } from "../compile/load.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { reportText } from "../findings/report.ts";
import { runRules } from "../rules/run-rules.ts";
import { plainJson } from "../domain/numbers/plain-json.ts";
import type { Collection, Platform } from "../schema/collection.ts";
import { CannotRun } from "../findings/cannot-run.ts";

/** Adds `--procedures DIR`; `RERIG_PROCEDURES` does the same. */
export function withCollection(command: Command): Command {
  return command.option("--procedures <dir>", "the collection (default: $RERIG_PROCEDURES, else ./procedures)");
}

/** The collection's folder, absolute: the option, else the environment, else `procedures` in the present folder. */
export function collectionFolder(option: string | undefined): string {
  return resolve(option ?? process.env["RERIG_PROCEDURES"] ?? "procedures");
}

/** A collection as it was read, with what reading found wrong. */
export interface Opened {
  readonly folder: string;
  readonly collection: Collection;
  readonly findings: Findings;
}

/** Reads a collection; throws `CannotRun` if there is none. */
export async function openCollection(option: string | undefined, how: LoadOptions = {}): Promise<Opened> {
  const folder = collectionFolder(option);
  const findings = new Findings();
  try {
    return { folder, collection: await loadCollection(folder, findings, how), findings };
  } catch (error) {
    if (error instanceof NoCollection)
      throw new CannotRun(
        `${error.message}\nName a collection with \`--procedures DIR\`, or begin one with \`rerig new DIR\`.`,
      );
    throw error;
  }
}

/** All findings of a collection after its rules and policy, in file order. */
export function judge({ collection, findings }: Opened): Finding[] {
  return inFileOrder(runRules(collection, findings, today()));
}

/**
 * Stops with exit code 1, saying why, if the files could not be read whole: no answer is given from half a collection.
 */
export function readWhole(opened: Opened): boolean {
  const errors = opened.findings.list.filter(({ severity }) => severity === "error");
  if (errors.length === 0) return true;
  console.error(`${reportText(inFileOrder(errors))}\nNo answer is given while the files have errors.`);
  process.exitCode = 1;
  return false;
}

/** The platform asked for, or the only one. */
export function platformOf(collection: Collection, id: string | undefined): Platform {
  const ids = collection.platforms.map((platform) => platform.id);
  const found =
    id === undefined && ids.length === 1
      ? collection.platforms[0]
      : collection.platforms.find((platform) => platform.id === id);
  if (found) return found;
  throw new CannotRun(
    id === undefined
      ? `Say which platform with \`--platform\`: ${ids.join(", ") || "the collection has none"}`
      : `There is no platform \`${id}\`; there is ${ids.join(", ") || "none"}`,
  );
}

/** Prints a result as JSON on standard output. */
export function printJson(result: unknown): void {
  process.stdout.write(`${plainJson(result, 2)}\n`);
}
