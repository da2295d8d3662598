/** `rerig folders`: what to reprint, where to put it and what to destroy, in walking order. */
import { type LyingSlip, slipsIn } from "../../domain/cards/amendment-slips.ts";
import { sayVersion } from "../../domain/cards/cards-issued.ts";
import { sayConcern } from "../../domain/cards/card-concern.ts";
import type { Command } from "commander";
import { sayBand } from "../../domain/bands/bands.ts";
import { type AuditedCopy, type AuditedFolder, auditFolders, isStale, printOrders } from "../../paper/folder-audit.ts";
import { foldersResult } from "../../paper/folders-result.ts";
import { listNames, nearestName } from "../../read/nearest.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import type { Collection } from "../../schema/collection.ts";
import { sayDays, stateOn } from "../../domain/words/days.ts";
import { openAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--folder <id>", "only this folder")
    .option("--json", "print it as JSON on standard output")
    .addHelpText(
      "after",
      "\nFolders and copies come in the order of folders.yaml: write them there in the order in which " +
        "somebody walks.\nExit code: 0 also when copies are stale; `rerig check` warns of them.",
    )
    .action((options: { procedures?: string; on?: string; folder?: string; json?: boolean }) => folders(options));
}

/** Prints the folders. Throws `CannotRun` for a folder that there is not. */
export async function folders(options: {
  readonly procedures?: string;
  readonly on?: string;
  readonly folder?: string;
  readonly json?: boolean;
}): Promise<void> {
  const opened = await openAsked(options.procedures, { on: options.on });
  const { collection } = opened;
  const ids = collection.folders.map(({ id }) => id);
  if (options.folder !== undefined && !ids.includes(options.folder)) {
    const near = nearestName(options.folder, ids);
    const there = near
      ? `; did you mean \`${near}\`?`
      : ids.length
        ? `; there is ${listNames(ids)}.`
        : " in folders.yaml.";
    throw new CannotRun(`There is no folder \`${options.folder}\`${there}`);
  }
  if (!readWhole(opened)) return;
  const { day } = opened;
  const audited = auditFolders(collection, day).filter(
    ({ folder }) => options.folder === undefined || folder.id === options.folder,
  );
  if (options.json) return printJson(foldersResult(audited, collection, day));
  process.stdout.write(`${textOf(audited, collection, day).join("\n")}\n`);
  const stale = audited.flatMap(({ copies }) => copies).filter(isStale).length;
  console.error(
    audited.length === 0
      ? "No folder is written down in folders.yaml."
      : stale === 0
        ? "Every copy is current, as far as its code is written down."
        : `${stale} ${stale === 1 ? "copy" : "copies"} to replace.`,
  );
}

function textOf(audited: readonly AuditedFolder[], collection: Collection, day: string): string[] {
  const severalPlatforms = collection.platforms.length > 1;
  const orders = printOrders(audited);
  const print = orders.map(
    ({ card, copies }) =>
      `  ${card.content.code} ${card.content.title}${card.band ? `, only ${sayBand(card.band)}` : ""}` +
      (sayVersion(card, String) && `, ${sayVersion(card, String)}`) +
      `, check code ${card.code}: ${copies.length} ` +
      `(${copies.map(({ folder, copy }) => `copy ${copy.copy} for ${folder.name}`).join(", ")})`,
  );
  const walk = audited.flatMap(({ folder, copies }, at) => [
    "",
    `${at + 1}. ${folder.name} (${folder.id}): ${copies.filter(isStale).length} of ${copies.length} to replace`,
    ...copies.map((copy) => `  ${sayCopy(copy, severalPlatforms)}`),
    ...slipsIn(collection, folder, day).map((slip) => `  ${saySlip(slip, day)}`),
  ]);
  return [...(print.length ? ["Print:", ...print] : ["Nothing to print."]), ...walk];
}

/** A slip on the days before its first has no place in a folder yet. */
function saySlip({ amendment, code, over }: LyingSlip, day: string): string {
  const state = stateOn(day, amendment) === "running" ? "SLIP    " : "to come ";
  return (
    `${state} temporary amendment ${amendment.number}, check code ${code}, over ` +
    `${sayList(over.map(({ id }) => id))}: ${lowerFirst(sayDays(amendment))}`
  );
}

function sayCopy(audited: AuditedCopy, severalPlatforms: boolean): string {
  const { copy, state, now, next, found, onlyWith = [], oneOf } = audited;
  const name = `copy ${copy.copy} of ${severalPlatforms && copy.platform ? `${copy.platform}/` : ""}${copy.card}`,
    there = found?.code ?? copy.check;
  const later = next?.from ? `; from ${next.from} ${next.code}` : "";
  const version = now ? sayVersion(now, String) : "",
    which = version && ` (${version})`;
  const put = now ? `put in ${now.code}, destroy ${there ?? "the old one"}${which}${later}` : "nothing goes in";
  switch (state) {
    case "current":
      return `keep     ${name}: ${there}${which}${later}`;
    case "replace":
      return `REPLACE  ${name}: ${put}${onlyWith.length > 0 ? `. ${sayConcern({ onlyWith })}` : ""}`;
    case "coming":
      return (
        `EARLY    ${name}: ${there} takes effect ` +
        `on ${found?.from ?? "a later day"}${now ? `; until then ${now.code} must lie there` : ""}`
      );
    case "unread":
      return `read     ${name}: its code is not written down; it should be ${now?.code ?? next?.code}${which}${later}`;
    case "unclear":
      if (oneOf)
        return (
          "REPLACE " +
          ` ${name}: ${copy.check ? `${copy.check} is not made today` : "its code is not written down"}; put in ` +
          "the one for the same " +
          `patients: ${oneOf.map((card) => `${card.code} (${card.content.title})`).join(", ")}`
        );
      return `REPLACE  ${name}: neither its code nor its day is written down; ${put}`;
    case "wrong-code":
      return `REPLACE  ${name}: no card has the code ${copy.check}; read it again, and if it is so, ${put}`;
    case "withdrawn":
      return `PULL     ${name}: no longer used, destroy it`;
    case "not-tracked":
      return `compare  ${name}: it is not made here, so that nothing is known of it`;
  }
}
