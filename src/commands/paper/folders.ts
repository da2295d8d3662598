/** `rerig folders`: what to reprint, where to put it and what to destroy, in walking order. */
import { type LyingSlip, slipsIn } from "../../domain/cards/amendment-slips.ts";
import { sayVersion } from "../../domain/cards/cards-issued.ts";
import { sayConcern } from "../../domain/cards/card-concern.ts";
import type { Command } from "commander";
import { sayBand } from "../../domain/bands/bands.ts";
import {
  type AuditedCopy,
  type AuditedFolder,
  auditFolders,
  isStale,
  printOrders,
  titleOfCopy,
} from "../../paper/folder-audit.ts";
import { foldersResult } from "../../paper/folders-result.ts";
import { titleOnCard } from "../../paper/printed-card.ts";
import { listNames, nearestName } from "../../read/nearest.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import type { Collection } from "../../schema/collection.ts";
import { sayDays, stateOn } from "../../domain/words/days.ts";
import { heard } from "../../words/heard.ts";
import { openAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigFolders");
  withDay(withCollection(command))
    .option("--folder <id>", say.takesFolder)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
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
  const { collection } = opened,
    say = heard("rerigFolders");
  const ids = collection.folders.map(({ id }) => id);
  if (options.folder !== undefined && !ids.includes(options.folder)) {
    const id = options.folder,
      near = nearestName(id, ids);
    if (near !== undefined) throw new CannotRun(say.noFolderMeant({ id, near }));
    throw new CannotRun(ids.length ? say.noFolder({ id, folders: listNames(ids) }) : say.noFolders({ id }));
  }
  if (!readWhole(opened)) return;
  const { day } = opened;
  const audited = auditFolders(collection, day).filter(
    ({ folder }) => options.folder === undefined || folder.id === options.folder,
  );
  if (options.json) return printJson(foldersResult(audited, collection, day));
  writeTo(process.stdout, `${textOf(audited, collection, day).join("\n")}\n`);
  const stale = audited.flatMap(({ copies }) => copies).filter(isStale).length;
  console.error(
    audited.length === 0 ? say.nothingWritten : stale === 0 ? say.allCurrent : say.toReplace({ copies: stale }),
  );
}

function textOf(audited: readonly AuditedFolder[], collection: Collection, day: string): string[] {
  const orders = printOrders(audited),
    say = heard("rerigFolders");
  const print = orders.map(({ card, copies }) => {
    const title = titleIn(collection, card.platform, card.content.title);
    const name =
      `${card.content.code} ${title}${card.band ? say.only({ band: sayBand(card.band) }) : ""}` +
      (sayVersion(card, String) && `, ${sayVersion(card, String)}`);
    return `  ${say.cardToPrint({
      card: name,
      code: card.code,
      count: copies.length,
      copies: copies.map(({ folder, copy }) => say.copyFor({ copy: copy.copy, folder: folder.name })).join(", "),
    })}`;
  });
  const walk = audited.flatMap(({ folder, copies }, at) => [
    "",
    say.folderHead({
      number: at + 1,
      folder: folder.name,
      id: folder.id,
      stale: copies.filter(isStale).length,
      copies: copies.length,
    }),
    ...copies.map((copy) => `  ${sayCopy(copy, collection)}`),
    ...slipsIn(collection, folder, day).map((slip) => `  ${saySlip(slip, collection, day)}`),
  ]);
  return [...(print.length ? [say.print, ...print] : [say.nothingToPrint]), ...walk];
}

/** A slip on the days before its first has no place in a folder yet. */
function saySlip({ amendment, code, over }: LyingSlip, collection: Collection, day: string): string {
  const say = heard("rerigFolders");
  return (stateOn(day, amendment) === "running" ? say.slipLies : say.slipToCome)({
    number: amendment.number,
    code,
    cards: sayList(over.map(({ title }) => titleIn(collection, amendment.platform, title))),
    days: lowerFirst(sayDays(amendment)),
  });
}

/** A card as it is called on paper, with its platform where the service has several. */
const titleIn = ({ service, platforms }: Collection, platform: string, title: string): string =>
  titleOnCard(
    service,
    platforms.find(({ id }) => id === platform),
    title,
  );

function sayCopy(audited: AuditedCopy, collection: Collection): string {
  const { copy, state, now, next, found, onlyWith = [], oneOf } = audited;
  const say = heard("rerigFolders");
  const name = say.copyOf({
      copy: copy.copy,
      card: titleOfCopy(collection, copy),
    }),
    there = found?.code ?? copy.check ?? "";
  const later = next?.from ? say.later({ day: next.from, code: next.code }) : "";
  const due = now ?? next,
    version = due ? sayVersion(due, String) : "",
    which = version && ` (${version})`;
  const put = now ? `${say.putIn({ code: now.code, old: there || say.oldOne })}${which}${later}` : say.nothingGoesIn;
  switch (state) {
    case "current":
      return `${say.keep({ copy: name, code: there })}${which}${later}`;
    case "replace":
      return `${say.replace({ copy: name, put })}${onlyWith.length > 0 ? `. ${sayConcern({ onlyWith })}` : ""}`;
    case "coming":
      return (
        say.early({ copy: name, code: there, day: found?.from ?? say.aLaterDay }) +
        (now ? say.untilThen({ code: now.code }) : "")
      );
    case "unread":
      return `${say.read({ copy: name, code: due?.code ?? "" })}${which}${now ? later : ""}`;
    case "unclear":
      if (oneOf)
        return say.oneForTheSame({
          copy: name,
          why: copy.check ? say.notMadeToday({ code: copy.check }) : say.codeNotWritten,
          cards: oneOf
            .map((card) => `${card.code} (${titleIn(collection, card.platform, card.content.title)})`)
            .join(", "),
        });
      return say.neither({ copy: name, put });
    case "wrong-code":
      return say.wrongCode({ copy: name, code: copy.check ?? "", put });
    case "withdrawn":
      return say.pull({ copy: name });
    case "not-tracked":
      return say.compare({ copy: name });
  }
}
