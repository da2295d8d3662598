/** Temporary amendments at the desk: begun with what crews must know, ended early, taken out when they are over. */
import { z } from "zod";
import { isSameName } from "../../domain/records/author.ts";
import { forceOn } from "../../domain/force/force.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { amendmentDaysOf, stateOn } from "../../domain/words/days.ts";
import type { Amendment } from "../../schema/collection.ts";
import { amendmentIn } from "../../schema/documents.ts";
import { isDate } from "../../schema/quantities.ts";
import { slugOf } from "../../schema/wording.ts";
import { fileText } from "../disk/file-text.ts";
import { contentHash } from "../disk/keep-states.ts";
import { saveFiles } from "../disk/save.ts";
import { applyAll } from "../edits/apply-all.ts";
import type { FileEdit } from "../edits/edit.ts";
import { type Handler, reading, sentLine } from "../handler.ts";
import { wordsIn } from "../say-in.ts";
import type { CollectionReader } from "../reader.ts";
import type { ChangeOutcome } from "../outcome.ts";
import { tellSaved } from "./tell-saved.ts";

const words = z.string().max(20_000),
  name = sentLine;
const SENT = {
  /** `procedure` or `item` may be empty, not both; `revision` is that which is in force on the first day. */
  "new-amendment": z.strictObject({
    platform: name,
    number: name,
    title: name,
    reason: words,
    from: name,
    until: name,
    owner: name,
    approvedBy: name,
    procedure: name,
    item: name,
    warning: words,
  }),
  /** `basedOn`: the hash of its text as whoever takes it out has read it. */
  "end-amendment": z.strictObject({ file: name, basedOn: name, last: z.enum(["today", "yesterday"]) }),
  "remove-amendment": z.strictObject({ file: name, basedOn: name }),
} as const;
type Sent<Address extends keyof typeof SENT> = z.infer<(typeof SENT)[Address]>;

/** By the address to which it is sent. */
export const AMENDMENT_HANDLERS: Readonly<Record<keyof typeof SENT, Handler>> = {
  "new-amendment": reading(SENT["new-amendment"], begin),
  "end-amendment": reading(SENT["end-amendment"], end),
  "remove-amendment": reading(SENT["remove-amendment"], remove),
};

async function begin(sent: Sent<"new-amendment">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { files } = await reader.refresh(),
    { deskAmendment: say, deskSaid } = await wordsIn(reader),
    platform = files.platforms.find(({ id }) => id === sent.platform);
  if (!platform) return { refused: deskSaid.platformGone };
  const [number, title, reason, owner, approvedBy, warning] = (
    ["number", "title", "reason", "owner", "approvedBy", "warning"] as const
  ).map((field) => sent[field].trim()) as [string, string, string, string, string, string];
  const { from, until, procedure, item } = sent,
    id = slugOf(title);
  if (id === "" || number === "" || reason === "") return { refused: say.sayWhatItIs };
  if (!isDate(from) || !isDate(until)) return { refused: say.chooseDays };
  if (until < from) return { refused: say.endsBefore };
  const most = amendmentDaysOf(files.service);
  if (until > addDays(from, most - 1)) return { refused: say.tooLong({ days: most }) };
  if (owner === "" || approvedBy === "") return { refused: say.bothRoles };
  if (isSameName(owner, approvedBy)) return { refused: say.anotherRole({ owner }) };
  if (procedure === "" && warning !== "") return { refused: say.warningWhere };
  if (procedure === "" && item === "") return { refused: say.aboutNothing };
  if (procedure !== "" && warning === "") return { refused: say.writeWarning };
  const own = forceOn(files, from).collection.platforms.find((each) => each.id === platform.id)?.procedures,
    inForce = own?.find((each) => each.id === procedure && each.status === "approved");
  if (procedure !== "" && !inForce) return { refused: say.notInForce };
  const head: Readonly<Record<string, string>> = {
    number,
    title,
    reason,
    from,
    until,
    owner,
    "approved-by": approvedBy,
  };
  const made = applyAll("---\nnumber: New\n---\n", [
    ...Object.entries(head).map(([field, value]): FileEdit => ({ kind: "set-field", path: [field], value })),
    ...(inForce ? [about(procedure, inForce.revision)] : []),
    ...(item === "" ? [] : [{ kind: "set-field", path: ["out"], value: [item] } as const]),
    ...(warning === "" ? [] : [{ kind: "insert-part", new: { name: "warning", text: warning } } as const]),
  ]);
  if ("refused" in made) return made;
  const file = `${platform.id}/amendments/${id}.mdx`,
    result = saveFiles(reader.folder, [{ path: file, basedOn: null, text: made.text }]);
  return "changed" in result ? { refused: deskSaid.titleTaken } : tellSaved(reader, file, result, `form/${file}`);
}

const about = (procedure: string, revision: number): FileEdit => ({
  kind: "set-field",
  path: ["amends"],
  value: [{ procedure, revision: String(revision) }],
});

/** An amendment as it was read. */
interface Found {
  readonly amendment: Amendment;
  readonly text: string;
  /** Today, `YYYY-MM-DD` */
  readonly day: string;
}

/** The text and the days of an amendment, if its file still says what was read; else why nothing is done. */
async function amendmentAt(
  { file, basedOn }: { readonly file: string; readonly basedOn: string },
  reader: CollectionReader,
): Promise<Found | { readonly refused: string }> {
  const { files, day } = await reader.refresh(),
    { deskSaid } = await wordsIn(reader),
    amendment = amendmentIn(files, file),
    text = amendment && (await fileText(reader, file));
  if (!amendment || text === undefined) return { refused: deskSaid.documentGone };
  if (contentHash(text) !== basedOn) return { refused: deskSaid.textChanged };
  return { amendment, text, day };
}

async function end(sent: Sent<"end-amendment">, reader: CollectionReader): Promise<ChangeOutcome> {
  const found = await amendmentAt(sent, reader),
    { deskAmendment: say } = await wordsIn(reader);
  if ("refused" in found) return found;
  const { amendment, text, day } = found,
    last = sent.last === "today" ? day : addDays(day, -1);
  if (stateOn(day, amendment) !== "running" || last < amendment.from) return { refused: say.runsNot };
  const made = applyAll(text, [{ kind: "set-field", path: ["until"], value: last }]);
  if ("refused" in made) return made;
  return tellSaved(
    reader,
    sent.file,
    saveFiles(reader.folder, [{ path: sent.file, basedOn: sent.basedOn, text: made.text }]),
  );
}

async function remove(sent: Sent<"remove-amendment">, reader: CollectionReader): Promise<ChangeOutcome> {
  const found = await amendmentAt(sent, reader),
    { deskAmendment: say } = await wordsIn(reader);
  if ("refused" in found) return found;
  // What crews work by today is ended, for everybody to see, and not made away with.
  if (stateOn(found.day, found.amendment) === "running") return { refused: say.runsStill };
  const { file, basedOn } = sent;
  return tellSaved(reader, file, saveFiles(reader.folder, [{ path: file, basedOn, text: null }]), "");
}
