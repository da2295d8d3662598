/** What is done with a change that a screen sends: made in the file's text, saved, and said. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { slugOf } from "../../schema/wording.ts";
import { applyAll } from "../edits/apply-all.ts";
import type { FileEdit } from "../edits/edit.ts";
import { fileText } from "../disk/file-text.ts";
import { tellSaved } from "./tell-saved.ts";
import { type Handler, reading, notUnderstood } from "../handler.ts";
import { wordsIn } from "../say-in.ts";
import type { CollectionReader } from "../reader.ts";
import { contentHash } from "../disk/keep-states.ts";
import { takePicture } from "./photos.ts";
import { redo, saveFiles, undo } from "../disk/save.ts";
import type { ChangeOutcome } from "../outcome.ts";
import { renameIn } from "../rename/rename.ts";
import { AMENDMENT_HANDLERS } from "./amendments.ts";
import { DAY_HANDLERS } from "./day-changes.ts";
import { RECORD_HANDLERS } from "./record-changes.ts";
import { SENT } from "./sent.ts";
import { takeIn } from "./take-in.ts";

/** By the address to which a change is sent. */
const HANDLERS: { readonly [Address in keyof typeof SENT]: Handler } = {
  edit: reading(SENT.edit, async ({ file, basedOn, edits }, reader) => {
    const text = await fileText(reader, file);
    // A photo may have no sidecar yet.
    if ((text === undefined ? null : contentHash(text)) !== basedOn) {
      // The screen shows what is there now before it asks.
      await reader.refresh();
      return changedElsewhere(text);
    }
    const made = applyAll(text ?? "", edits);
    return "refused" in made
      ? made
      : tellSaved(reader, file, saveFiles(reader.folder, [{ path: file, basedOn, text: made.text }]));
  }),
  text: reading(SENT.text, async ({ file, basedOn, text }, reader) =>
    tellSaved(reader, file, saveFiles(reader.folder, [{ path: file, basedOn, text }])),
  ),
  undo: reading(SENT.undo, async ({ file }, reader) => tellSaved(reader, file, undo(reader.folder, file))),
  redo: reading(SENT.redo, async ({ file }, reader) => tellSaved(reader, file, redo(reader.folder, file))),
  rename: reading(SENT.rename, async ({ screen, ...renaming }, reader) => {
    const to = renaming.to.trim(),
      made = await renameIn(reader.folder, { ...renaming, to });
    if ("refused" in made) return made;
    const result = saveFiles(reader.folder, made.files);
    if ("changed" in result) return { refused: (await wordsIn(reader)).deskSaid.raced };
    return tellSaved(reader, "service.yaml", result, screen?.replace("{}", to));
  }),
  "new-platform": reading(SENT["new-platform"], async (sent, reader) => {
    const { deskSaid: say } = await wordsIn(reader);
    const names = [sent.name, sent.place, sent.store].map((each) => each.trim()),
      [id = "", place = "", store = ""] = names.map(slugOf);
    if (!id || !place || !store) return { refused: say.nameAll };
    if (place === store) return { refused: say.twoPlaces };
    if (["issued", "reviews"].includes(id) || existsSync(join(reader.folder, id)))
      return { refused: say.platformTaken };
    const made = applyAll("", [
      { kind: "set-field", path: ["name"], value: names[0]! },
      { kind: "set-field", path: ["places"], value: {} },
      { kind: "set-field", path: ["places", place], value: { name: names[1]!, kind: "mount" } },
      { kind: "set-field", path: ["places", store], value: { name: names[2]!, kind: "store" } },
    ]);
    if ("refused" in made) return made;
    const file = `${id}/platform.yaml`,
      result = saveFiles(reader.folder, [
        { path: file, basedOn: null, text: made.text },
        { path: `${id}/equipment.yaml`, basedOn: null, text: "" },
      ]);
    return "changed" in result ? { refused: say.platformTaken } : tellSaved(reader, file, result, `form/${file}`);
  }),
  new: reading(SENT.new, async ({ sort, platform, title, code, purpose }, reader) => {
    const id = slugOf(title);
    if (!id) return { refused: (await wordsIn(reader)).deskSaid.noLetter };
    const { folder, fields, screen } = NEW[sort],
      file = `${platform}/${folder}${id}.mdx`,
      made = applyAll(FIRST, [
        { kind: "set-field", path: ["title"], value: title },
        { kind: "set-field", path: ["code"], value: code },
        ...fields.map((field): FileEdit => ({ kind: "set-field", path: [field], value: {} })),
        { kind: "set-purpose", text: purpose },
      ]);
    if ("refused" in made) return made;
    const result = saveFiles(reader.folder, [{ path: file, basedOn: null, text: made.text }]);
    if ("changed" in result) return { refused: (await wordsIn(reader)).deskSaid.titleTaken };
    return tellSaved(reader, file, result, screen(file, platform, id));
  }),
};

/** Where a new document lies, what it must say beside its title, code and purpose, and which screen is its own. */
const NEW = {
  procedure: {
    folder: "",
    fields: [],
    screen: (_file: string, platform: string, id: string) => `procedures/${platform}/${id}/`,
  },
  configuration: { folder: "configurations/", fields: ["fitted"], screen: (file: string) => `form/${file}` },
  option: { folder: "options/", fields: ["fitted"], screen: (file: string) => `form/${file}` },
} as const;

/** What a new document says before its title, code and purpose are put in. */
const FIRST = "---\ntitle: New\ncode: New\nrevision: 1\nstatus: draft\n---\nWhat it is for.\n";

/** Takes what was sent to an address; `undefined` if nothing is taken there. */
export async function takeChange(
  reader: CollectionReader,
  address: string,
  sent: Buffer,
): Promise<ChangeOutcome | undefined> {
  const picture = await takePicture(reader, address, sent);
  if (picture) return "refused" in picture ? picture : tellSaved(reader, picture.file, picture.result, picture.address);
  const document = await takeIn(reader, address, sent);
  if (document) return document;
  const handlers: Readonly<Record<string, Handler>> = {
    ...HANDLERS,
    ...RECORD_HANDLERS,
    ...AMENDMENT_HANDLERS,
    ...DAY_HANDLERS,
  };
  if (!Object.hasOwn(handlers, address)) return undefined;
  let value: unknown;
  try {
    value = JSON.parse(sent.toString("utf8"));
  } catch {
    return notUnderstood();
  }
  return handlers[address]!(value, reader);
}

function changedElsewhere(text: string | undefined): ChangeOutcome {
  return { changed: true, theirs: text ?? null, hash: text === undefined ? null : contentHash(text) };
}
