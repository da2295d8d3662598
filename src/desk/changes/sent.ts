/** What the desk's screens send, checked before anything is done with it. */
import { z } from "zod";
import type { FileEdit } from "../edits/edit.ts";
import { sentLine } from "../handler.ts";
import { RENAMED } from "../rename/rename.ts";

const text = z.string().max(500_000),
  name = sentLine,
  from0 = z.int().min(0).max(100_000),
  from1 = z.int().min(1).max(100_000);
const path = z.array(z.union([name, from0])).max(20);
const value: z.ZodType<Value> = z.lazy(() => z.union([text, z.array(value), z.record(name, value)]));
type Value = string | readonly Value[] | { readonly [key: string]: Value };

const attributes = z.record(name, z.union([text, z.literal(true)])).optional();
const place = z.union([z.strictObject({ before: from1 }), z.strictObject({ after: from1 })]);
const newPart = z.strictObject({
  name: z.enum(["check", "move", "turn", "card", "warning", "caution", "note", "include"]),
  attributes,
  text: text.optional(),
});
const newStep = z.strictObject({ attributes, text, parts: z.array(newPart).optional() });
/** The step, or where it is left out the body itself. */
const inside = { step: from1.optional() };

const fileEdit = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("set-field"), path, value, isNew: z.boolean().optional() }),
  z.strictObject({ kind: z.literal("remove-field"), path }),
  z.strictObject({ kind: z.literal("rename-field"), path, to: name }),
  z.strictObject({ kind: z.literal("insert-entry"), path, at: from0.optional(), value }),
  z.strictObject({ kind: z.literal("move-entry"), path, from: from0, to: from0 }),
  z.strictObject({ kind: z.literal("set-text"), step: from1, text }),
  z.strictObject({ kind: z.literal("set-step"), step: from1, text }),
  z.strictObject({ kind: z.literal("insert-step"), place: place.optional(), new: newStep }),
  z.strictObject({ kind: z.literal("delete-step"), step: from1 }),
  z.strictObject({ kind: z.literal("move-step"), step: from1, place }),
  z.strictObject({ kind: z.literal("split-step"), step: from1, paragraph: from1 }),
  z.strictObject({ kind: z.literal("join-step"), step: from1 }),
  z.strictObject({ kind: z.literal("insert-part"), ...inside, at: from1.optional(), new: newPart }),
  z.strictObject({ kind: z.literal("delete-part"), ...inside, part: from1 }),
  z.strictObject({ kind: z.literal("move-part"), ...inside, part: from1, to: from1 }),
  z.strictObject({ kind: z.literal("set-part-text"), ...inside, part: from1, text }),
  z.strictObject({
    kind: z.literal("set-attribute"),
    ...inside,
    part: from1.optional(),
    name,
    value: z.union([text, z.literal(true)]),
  }),
  z.strictObject({ kind: z.literal("remove-attribute"), ...inside, part: from1.optional(), name }),
  z.strictObject({ kind: z.literal("set-purpose"), text }),
  z.strictObject({ kind: z.literal("set-heading"), heading: from1, text }),
  z.strictObject({ kind: z.literal("insert-heading"), place: place.optional(), text }),
  z.strictObject({ kind: z.literal("delete-heading"), heading: from1 }),
  z.strictObject({ kind: z.literal("set-body"), text }),
]) satisfies z.ZodType<FileEdit>;

const hash = sentLine;

/** By the address to which it is sent. */
export const SENT = {
  /** Changes of one file, one after the other, all or none; based on `null` where there is no such file yet. */
  edit: z.strictObject({ file: name, basedOn: hash.nullable(), edits: z.array(fileEdit).min(1).max(200) }),
  /** A whole file as text. */
  text: z.strictObject({ file: name, basedOn: hash, text }),
  undo: z.strictObject({ file: name }),
  redo: z.strictObject({ file: name }),
  /** Another id, everywhere; `screen`: where it is then found, `{}` standing for the new id. */
  rename: z.strictObject({
    what: z.enum(RENAMED),
    platform: name.optional(),
    procedure: name.optional(),
    from: name,
    to: name,
    screen: name.optional(),
  }),
  /** A new platform: its name, the place on it where most of it goes, and where the rest is kept. */
  "new-platform": z.strictObject({ name, place: name, store: name }),
  /** A new document. */
  new: z.strictObject({
    sort: z.enum(["procedure", "configuration", "option"]),
    platform: name,
    title: name,
    code: name,
    purpose: text,
  }),
};
