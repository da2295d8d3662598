/**
 * Raw maps to typed records by a zod schema: every good value is kept, every bad one is reported at its place, in our
 * own words.
 */
import { z } from "zod";
import type { Findings, Remark } from "../findings/finding.ts";
import type { Where } from "../schema/collection.ts";
import { listNames, nearestName } from "./nearest.ts";
import { placeIn, placeOfKey } from "./raw.ts";
import type { Raw, RawMap } from "./raw.ts";
import type { Source } from "./source.ts";
import { smallFirst } from "../schema/wording.ts";

/** Where values are read from and reported to. */
export interface Reader {
  readonly source: Source;
  readonly findings: Findings;
  /** True after a syntax error in the file: what follows from it is not reported. */
  readonly quiet: boolean;
}

/** A value with its place. */
export interface Placed<T> {
  readonly value: T;
  readonly where: Where;
  readonly raw: Raw;
}

/**
 * What `readFields` gives for a schema: fields that were missing or wrong are absent; records are maps, lists hold
 * placed values.
 */
export type Found<S> =
  S extends z.ZodOptional<infer Inner>
    ? Found<Inner>
    : S extends z.ZodObject<infer Shape>
      ? FoundObject<Shape>
      : S extends z.ZodRecord<infer _Key, infer Value>
        ? ReadonlyMap<string, Placed<Found<Value>>>
        : S extends z.ZodArray<infer Element>
          ? readonly Placed<Found<Element>>[]
          : S extends z.ZodType
            ? z.output<S>
            : never;

/** The fields of a record that could be read, with their places; a field is absent where it is missing or bad. */
export type FoundObject<Shape> = {
  readonly where: Where;
  readonly at: Record<string, Where>;
  readonly raws: ReadonlyMap<string, Raw>;
  readonly fields: { readonly [Key in keyof Shape]?: Found<Shape[Key]> | undefined };
};

/** Says things about a record in its findings: what it is called, and where something missing from it is reported. */
interface About {
  /** For example `the place` or `front matter`. */
  readonly what: string;
  readonly where: Where;
  /** Names of fields that go by another rule or word, with what to say about them. */
  readonly hints?: Readonly<Record<string, string>>;
}

/** Reads a map by an object schema. */
export function readFields<S extends z.ZodObject>(
  schema: S,
  raw: Raw | undefined,
  reader: Reader,
  about: About,
): Found<S> {
  const at: Record<string, Where> = Object.create(null);
  return readObject(schema, raw, reader, about, at, "") as Found<S>;
}

/** Reads a map of ids to records, such as equipment.yaml. */
export function readRecords<S extends z.ZodRecord>(schema: S, raw: Raw | undefined, reader: Reader): Found<S> {
  return readRecord(schema, raw, reader, Object.create(null), "") as Found<S>;
}

function report(
  reader: Reader,
  rule: string,
  where: Where,
  message: string,
  fix: string,
  more: Pick<Remark, "cause" | "expected" | "actual"> = {},
): void {
  if (!reader.quiet) reader.findings.error(rule, where, { message, fix, ...more });
}

/** What is asked of a shape again and again, worked out once. */
interface Plan {
  readonly fields: ReadonlyMap<string, { readonly type: z.ZodType; readonly needed: boolean; readonly leaf: boolean }>;
  readonly needed: readonly string[];
}

const plans = new WeakMap<z.ZodObject, Plan>();

function planOf(schema: z.ZodObject): Plan {
  const known = plans.get(schema);
  if (known) return known;
  const fields = new Map(
    Object.entries(schema.shape as Record<string, z.ZodType>).map(([key, field]) => {
      const type = unwrap(field),
        leaf = !(type instanceof z.ZodObject) && !(type instanceof z.ZodRecord) && !(type instanceof z.ZodArray);
      return [key, { type, needed: !(field instanceof z.ZodOptional), leaf }];
    }),
  );
  const plan = { fields, needed: [...fields].filter(([, field]) => field.needed).map(([key]) => key) };
  plans.set(schema, plan);
  return plan;
}

/**
 * What a text says by the schema of a single value; `undefined` if it says nothing. The same few texts stand in very
 * many steps, so each is asked once.
 */
function parseLeaf(type: z.ZodType, text: string): { readonly data: unknown } | undefined {
  const known = leaves.get(type) ?? new Map<string, { readonly data: unknown } | undefined>();
  leaves.set(type, known);
  if (known.has(text)) return known.get(text);
  const result = type.safeParse(text),
    good = result.success ? { data: result.data } : undefined;
  if (known.size < MOST_KEPT) known.set(text, good);
  return good;
}

const leaves = new WeakMap<z.ZodType, Map<string, { readonly data: unknown } | undefined>>();
const MOST_KEPT = 2000;

function readObject(
  schema: z.ZodObject,
  raw: Raw | undefined,
  reader: Reader,
  about: About,
  at: Record<string, Where>,
  prefix: string,
): unknown {
  const plan = planOf(schema),
    { source } = reader,
    fields: Record<string, unknown> = Object.create(null),
    raws = new Map<string, Raw>(),
    keys = new Map<string, number>();
  const map = asMap(raw, reader);
  for (const entry of map.entries) {
    const key = plan.fields.has(entry.key) ? entry.key : meantKey(entry.key, entry.keyOffset, plan, map, reader, about);
    if (key === undefined) continue;
    const earlier = keys.get(key);
    if (earlier !== undefined) {
      report(reader, "text/syntax", placeOfKey(source, entry), `\`${key}\` is given twice`, "Keep one of the two", {
        cause: source.where(earlier),
      });
      continue;
    }
    keys.set(key, entry.keyOffset);
    raws.set(key, entry.value);
    const path = prefix + key,
      field = plan.fields.get(key)!,
      value = entry.value;
    const isText = value.kind === "text";
    at[path] = isText && !value.empty ? placeIn(source, value) : placeOfKey(source, entry);
    if (isText && (value.empty || (value.bare && parseLeaf(field.type, "") === undefined))) {
      report(
        reader,
        "text/missing-field",
        placeOfKey(source, entry),
        `The value of \`${key}\` is missing`,
        field.needed ? `Write a value after \`${key}\`` : `Write a value after \`${key}\`, or remove it`,
      );
      continue;
    }
    const good = isText && field.leaf && value.text !== "" ? parseLeaf(field.type, value.text) : undefined;
    const result = good
      ? good.data
      : readValue(field.type, value, reader, { what: `\`${key}\``, where: placeOfKey(source, entry) }, at, path);
    if (result !== undefined) fields[key] = result;
  }
  for (const key of plan.needed)
    if (!keys.has(key))
      report(reader, "text/missing-field", about.where, `\`${key}\` is missing from ${about.what}`, `Add \`${key}\``, {
        expected: [key],
      });
  return { where: about.where, at, raws, fields };
}

/** In braces a comma ends a text: what stands after it looks like a field without a value, and must not be removed. */
function commaHint(key: string, offset: number, { source }: Reader): string | undefined {
  const before = source.written.slice(0, offset).trimEnd();
  if (!before.endsWith(",") || !/^[^\S\r\n]*[,}]/.test(source.written.slice(offset + key.length))) return undefined;
  const [, field, words = ""] = /(?:^|[{,])\s*([A-Za-z-]+)\s*:\s*([^{},"']*),$/.exec(before.slice(-400)) ?? [];
  if (field !== undefined && /^[“”„‟]/.test(words) && /[“”„‟]$/.test(key))
    return (
      `The quotes round it are curly ones of a word processor: write the text in straight ones, ` +
      `as in \`${field}: "${words.slice(1)}, ${key.slice(0, -1)}"\``
    );
  return field === undefined
    ? undefined
    : `The comma before it ends the text of \`${field}\`: put the whole text in double quotes, ` +
        `as in \`${field}: "…, ${key}"\``;
}

/** Reports an unknown field; gives the one that was probably meant, if it is not there as well. */
function meantKey(
  key: string,
  offset: number,
  plan: Plan,
  map: RawMap,
  reader: Reader,
  about: About,
): string | undefined {
  const names = [...plan.fields.keys()],
    near = nearestName(key, names),
    hint = about.hints && Object.hasOwn(about.hints, key) ? about.hints[key] : undefined;
  report(
    reader,
    "text/unknown-field",
    placeOfKey(reader.source, { key, keyOffset: offset }),
    `Unexpected field \`${key}\` in ${about.what}${near ? `, expected \`${near}\`` : ""}`,
    hint ??
      commaHint(key, offset, reader) ??
      (near
        ? `Write \`${near}\``
        : `Remove it${names.length > 0 ? `, or use one of ${listNames(names, "or", Infinity)}` : ""}`),
    { actual: key, expected: near ? [near] : names },
  );
  return near !== undefined && !map.entries.some((entry) => entry.key === near) ? near : undefined;
}

function readValue(
  schema: z.ZodType,
  raw: Raw,
  reader: Reader,
  about: About,
  at: Record<string, Where>,
  path: string,
): unknown {
  if (schema instanceof z.ZodObject) {
    const own: Record<string, Where> = Object.create(null);
    const value =
      raw.kind === "map"
        ? readObject(schema, raw, reader, about, own, "")
        : complain(raw, reader, "fields such as `{ name: value }`");
    for (const [key, where] of Object.entries(own)) at[`${path}.${key}`] = where;
    return value;
  }
  if (schema instanceof z.ZodRecord)
    return raw.kind === "map"
      ? readRecord(schema, raw, reader, at, `${path}.`)
      : complain(raw, reader, "entries such as `{ name: value }`");
  if (schema instanceof z.ZodArray) {
    const element = unwrap(schema.element as z.ZodType),
      items = raw.kind === "list" ? raw.items : [raw];
    if (raw.kind === "map") return complain(raw, reader, "a list such as `[a, b]`");
    const list: Placed<unknown>[] = [];
    items.forEach((item, index) => {
      const where = whereOfRaw(reader.source, item);
      at[`${path}.${index}`] = where;
      const value = readValue(
        element,
        item,
        reader,
        { what: `this entry of ${about.what}`, where },
        at,
        `${path}.${index}`,
      );
      if (value !== undefined) list.push({ value, where, raw: item });
    });
    return list;
  }
  if (raw.kind !== "text") return complain(raw, reader, "a single value");
  if (raw.text.trim() === "" && !raw.bare)
    return (
      report(reader, "text/bad-value", about.where, `The value of ${about.what} is empty`, "Write a value"),
      undefined
    );
  const result = schema.safeParse(raw.text);
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  const params =
    issue.code === "custom"
      ? (issue.params as
          { rule?: string; fix?: string; guess?: unknown; index?: number; expected?: string[] } | undefined)
      : undefined;
  const rule = params?.rule ?? "text/bad-value",
    message = params ? issue.message : `Unexpected \`${raw.text}\``;
  report(
    reader,
    rule,
    placeIn(reader.source, raw, params?.index),
    // A value stands far from its field in a long line, and says little by itself.
    rule === "text/bad-value" && about.what.includes("`") ? `${about.what}: ${smallFirst(message)}` : message,
    params?.fix ?? "Write another value",
    { actual: raw.text, expected: params?.expected },
  );
  return params?.guess;
}

function readRecord(
  schema: z.ZodRecord,
  raw: Raw | undefined,
  reader: Reader,
  at: Record<string, Where>,
  prefix: string,
): unknown {
  const records = new Map<string, Placed<unknown>>(),
    keySchema = schema.keyType as z.ZodType,
    valueSchema = unwrap(schema.valueType as z.ZodType);
  for (const entry of asMap(raw, reader).entries) {
    const where = placeOfKey(reader.source, entry),
      key = keySchema.safeParse(entry.key);
    let name = entry.key;
    if (!key.success) {
      const issue = key.error.issues[0]!,
        params =
          issue.code === "custom"
            ? (issue.params as { rule?: string; fix?: string; guess?: string } | undefined)
            : undefined;
      report(reader, params?.rule ?? "text/bad-value", where, issue.message, params?.fix ?? "Write another name");
      if (params?.rule === "text/unknown-id") continue;
      // What refers to the name as it should be is not reported too.
      name = params?.guess ?? name;
    }
    const earlier = records.get(name);
    if (earlier) {
      report(
        reader,
        "text/duplicate-id",
        where,
        `\`${entry.key}\` stands here a second time`,
        "Give it another name, or remove one of the two",
        { cause: earlier.where },
      );
      continue;
    }
    at[prefix + name] = entry.value.kind === "text" && !entry.value.empty ? placeIn(reader.source, entry.value) : where;
    const isEmpty = entry.value.kind === "text" && entry.value.empty;
    const value =
      isEmpty && !(valueSchema instanceof z.ZodObject)
        ? (report(
            reader,
            "text/missing-field",
            where,
            `The value of \`${entry.key}\` is missing`,
            `Write a value after \`${entry.key}\``,
          ),
          undefined)
        : readValue(
            valueSchema,
            isEmpty ? { kind: "map", entries: [], offset: entry.keyOffset } : entry.value,
            reader,
            { what: `\`${entry.key}\``, where },
            at,
            prefix + name,
          );
    if (value !== undefined) records.set(name, { value, where, raw: entry.value });
  }
  return records;
}

function asMap(raw: Raw | undefined, reader: Reader): RawMap {
  if (raw?.kind === "map") return raw;
  if (raw && !(raw.kind === "text" && raw.empty))
    report(
      reader,
      "text/syntax",
      whereOfRaw(reader.source, raw),
      `Unexpected ${nameOf(raw)}, expected fields of the form \`name: value\``,
      "Write each field in a line of its own as `name: value`",
    );
  return { kind: "map", entries: [], offset: raw?.offset ?? 0 };
}

function complain(raw: Raw, reader: Reader, expected: string): undefined {
  report(
    reader,
    "text/bad-value",
    whereOfRaw(reader.source, raw),
    `Unexpected ${nameOf(raw)}, expected ${expected}`,
    `Write ${expected}`,
    { expected: [expected], ...(raw.kind === "text" ? { actual: raw.text } : {}) },
  );
  return undefined;
}

function nameOf(raw: Raw): string {
  return raw.kind === "text" ? `text \`${raw.text.slice(0, 40)}\`` : raw.kind === "list" ? "list" : "fields in braces";
}

/** Where a raw value stands: the whole of a text, the beginning of a list or of fields. */
function whereOfRaw(source: Source, raw: Raw): Where {
  return raw.kind === "text" ? placeIn(source, raw) : source.where(raw.offset);
}

function unwrap(schema: z.ZodType): z.ZodType {
  return schema instanceof z.ZodOptional ? (schema.unwrap() as z.ZodType) : schema;
}
