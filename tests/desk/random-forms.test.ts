/**
 * 500 random acts at the forms of files as people have them (demo, starter, fixtures; with remarks, CRLF, a
 * byte-order mark): a value entered, chosen or left empty, an entry added, removed or moved. Each act is taken from the
 * HTML that a browser gets (read by parse5, the HTML standard), and made as the desk makes it. Measured by others: what
 * the file says by the package `yaml` alone, compared with what was asked, worked out here; lines by the package
 * `diff`: none changes outside the field or entry that was meant. Values are invented.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { diffLines } from "diff";
import fc from "fast-check";
import { type DefaultTreeAdapterTypes, parse as parseHtml } from "parse5";
import { beforeAll, expect, it } from "vitest";
import { isMap, isPair, isSeq, LineCounter, type Node, parseDocument } from "yaml";
import { applyEdit, type FieldValue, type FileEdit } from "../../src/desk/edits/edit.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import type { Moment } from "../../src/desk/reader.ts";
import { fileScreen } from "../../src/desk/screens/file.ts";
import { makeSite } from "../../src/site/site.ts";
import { readCollection } from "../read-collection.ts";

const project = resolve(import.meta.dirname, "../.."),
  FOLDERS = ["procedures", "src/starter", "tests/fixtures/collections/sled"];
const isForm = (name: string) =>
  /(?:^|\/)(?:service|folders|incidents|platform|equipment)\.yaml$|\/(?:configurations|options|amendments|reading)\/[^/]+\.mdx$/.test(
    name,
  ) && !/issued|photos/.test(name);

interface FormFile {
  readonly moment: Moment;
  readonly file: string;
  readonly text: string;
}

const files: FormFile[] = [];
beforeAll(async () => {
  for (const folder of FOLDERS.map((each) => join(project, each))) {
    const collection = await readCollection(folder),
      site = makeSite(folder, collection, "2026-11-28");
    const moment: Moment = {
      number: 1,
      state: "",
      files: collection,
      site,
      day: "2026-11-28",
      textFindings: [],
      findings: () => [],
      judged: async () => undefined,
    };
    const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(isForm).sort();
    for (const file of names)
      files.push({ moment, file, text: readFileSync(join(folder, file), "utf8").replace(/^\ufeff|\r/g, "") });
  }
}, 120_000);

/** One act that a form offers: the change, its value still open where it has one. */
interface Offer {
  readonly edit: Record<string, unknown>;
  readonly as: string;
  readonly open: boolean;
}

type Element = DefaultTreeAdapterTypes.Element;

function* elements(node: DefaultTreeAdapterTypes.ParentNode): Generator<Element> {
  for (const child of node.childNodes)
    if ("tagName" in child) {
      yield child;
      yield* elements(child);
    }
}

/** All acts on fields that a screen offers, as its HTML says them. */
function offersOn(html: string): Offer[] {
  return [...elements(parseHtml(html))].flatMap(({ attrs }): Offer[] => {
    const given = (name: string) => attrs.find((each) => each.name === name)?.value;
    const read = (text: string | undefined) =>
      text === undefined ? [] : [JSON.parse(text) as Record<string, unknown>];
    const as = given("data-as") ?? "value";
    return [
      ...read(given("data-edit")).map((edit) => ({ edit, as, open: true })),
      ...read(given("data-none")).map((edit) => ({ edit, as, open: false })),
      ...read(given("data-put")).map((edit) => ({
        edit:
          edit["isNew"] === true
            ? { ...edit, path: [...(edit["path"] as string[]), "brought-in"] }
            : { ...edit, ...(given("data-first") ? { first: JSON.parse(given("data-first")!) as unknown } : {}) },
        as,
        open: true,
      })),
      ...read(given("data-edits")).flatMap((edits) =>
        (edits as unknown as Record<string, unknown>[]).map((edit) => ({ edit, as, open: false })),
      ),
    ];
  });
}

const words = fc.constantFrom(
  "Plain words",
  "It's 10:30",
  "a: b #1",
  '"quoted", and more',
  "4 thing",
  "null",
  "[x] {y}",
);
const strewing = fc.record({ remark: fc.nat(), crlf: fc.boolean(), mark: fc.boolean() });

function strewn(text: string, { remark, crlf, mark }: { remark: number; crlf: boolean; mark: boolean }): string {
  const lines = text.split("\n"),
    head = text.startsWith("---") ? lines.indexOf("---", 1) : lines.length;
  const plain = lines.flatMap((line, at) => (at < head && /^\s*[a-z][\w-]*: [A-Za-z][\w -]*$/.test(line) ? [at] : []));
  if (plain.length > 0) lines[plain[remark % plain.length]!] += `   # a remark: kept, "as it is"`;
  const made = lines.join("\n");
  return (mark ? "\ufeff" : "") + (crlf ? made.replaceAll("\n", "\r\n") : made);
}

/** The YAML of a file and the line at which it begins, from 0. */
function yamlOf(text: string): { readonly yaml: string; readonly from: number } {
  const plain = text.replace(/^\ufeff/, ""),
    head = /^---\r?\n([\s\S]*?)(?:\r?\n)---/.exec(plain);
  return head ? { yaml: head[1]!, from: 1 } : { yaml: plain, from: 0 };
}
const says = (text: string): unknown => parseDocument(yamlOf(text).yaml, { schema: "failsafe" }).toJS() ?? {};

/** What the file shall say, worked out on plain values. */
function asked(before: unknown, edit: FileEdit): unknown {
  const made = structuredClone(before);
  if (!("path" in edit)) throw new Error("No field is meant");
  const path = [...edit.path];
  let holder = made as Record<string | number, unknown>;
  const isOfHolder = edit.kind === "insert-entry" || edit.kind === "move-entry";
  const last = isOfHolder ? undefined : path.pop()!;
  for (const key of path)
    holder = (holder[key] ??= edit.kind === "insert-entry" && key === path.at(-1) ? [] : {}) as never;
  if (edit.kind === "set-field") holder[last!] = edit.value;
  else if (edit.kind === "remove-field") {
    if (Array.isArray(holder)) holder.splice(last as number, 1);
    else delete holder[last!];
  } else if (edit.kind === "rename-field") {
    const entries = Object.entries(holder).map(([key, value]) => [key === last ? edit.to : key, value] as const);
    for (const key of Object.keys(holder)) delete holder[key];
    Object.assign(holder, Object.fromEntries(entries));
  } else if (edit.kind === "insert-entry") (holder as unknown as unknown[]).push(edit.value);
  else if (edit.kind === "move-entry") {
    const isList = Array.isArray(holder),
      entries = isList ? [...(holder as unknown as unknown[])] : Object.entries(holder);
    entries.splice(edit.to, 0, ...entries.splice(edit.from, 1));
    if (isList) (holder as unknown as unknown[]).splice(0, entries.length, ...entries);
    else {
      for (const key of Object.keys(holder)) delete holder[key];
      Object.assign(holder, Object.fromEntries(entries as [string, unknown][]));
    }
  }
  return made;
}

/** First and last line, from 0, of the deepest thing on the way to what is meant that is there already. */
function linesMeant(text: string, path: readonly (string | number)[]): [number, number] {
  const { yaml, from } = yamlOf(text),
    counter = new LineCounter();
  let node = parseDocument(yaml, { schema: "failsafe", lineCounter: counter }).contents as Node | null,
    start = 0,
    end = yaml.length;
  for (const key of path) {
    const item = isMap(node)
      ? node.items.find((pair) => String((pair.key as { value?: unknown }).value) === key)
      : isSeq(node)
        ? node.items[key as number]
        : undefined;
    if (item === undefined) break;
    const value = (isPair(item) ? item.value : item) as Node | null,
      begin = (isPair(item) ? (item.key as Node) : value)?.range?.[0] ?? start;
    [start, end] = [begin, Math.max(value?.range?.[1] ?? begin, begin)];
    node = value;
  }
  return [counter.linePos(start).line - 1 + from, counter.linePos(end).line - 1 + from];
}

/** Numbers of the lines of the old text, from 0, that a change took away or put something between. */
function touched(before: string, after: string): number[] {
  const found: number[] = [];
  let line = 0;
  for (const { added, removed, count } of diffLines(before.replace(/^\ufeff/, ""), after.replace(/^\ufeff/, ""))) {
    if (added) found.push(line);
    else if (removed) for (let each = 0; each < count; each += 1) found.push(line + each);
    if (!added) line += count;
  }
  return found;
}

it("changes what was meant and nothing else, and reads back what was asked, 500 times", () => {
  const done = new Map<string, number>();
  const refused: string[] = [];
  fc.assert(
    fc.property(fc.nat(), fc.nat(), fc.nat(), words, strewing, (at, deep, which, value, how) => {
      const { moment, file, text } = files[at % files.length]!,
        source = strewn(text, how),
        before = says(source);
      // Screens of entries too: those of which the file's own screen gives the addresses.
      const screen = (entry: readonly string[]) =>
        fileScreen({
          moment,
          file,
          text: source,
          hash: contentHash(source),
          entry,
          trouble: undefined,
          assets: { names: new Map(), files: new Map(), said: new Map() },
        })!.html;
      const whole = screen([]),
        inside = [...whole.matchAll(/href="[^"]*form\/[^"]*?\.yaml\/([^"]+)"/g)].map(([, way]) => way!.split("/"));
      const html = deep % 3 > 0 && inside.length > 0 ? screen(inside[deep % inside.length]!) : whole;
      const offers = offersOn(html).filter(({ edit }) => Array.isArray(edit["path"]));
      const { edit: template, as, open } = offers[which % offers.length]!;
      const { first, ...rest } = template;
      const given: FieldValue = first === undefined ? value : [...(first as FieldValue[]), value];
      const edit = (open ? { ...rest, [as]: given } : rest) as FileEdit & { path: (string | number)[] };
      const made = applyEdit(source, edit);
      if ("refused" in made) {
        refused.push(made.refused);
        return;
      }
      const wanted = asked(before, edit);
      expect(says(made.text), JSON.stringify(edit)).toEqual(wanted);
      // The order of fields is the author's too.
      if (edit.kind === "move-entry") expect(JSON.stringify(says(made.text))).toBe(JSON.stringify(wanted));
      const isOfHolder = edit.kind === "insert-entry" || edit.kind === "move-entry";
      const [from, to] = linesMeant(source, edit.path);
      for (const line of touched(source, made.text))
        expect(line >= from && line <= to + 1, `${JSON.stringify(edit)}: line ${line} not in ${from}–${to}`).toBe(true);
      if (!isOfHolder && edit.kind !== "remove-field")
        for (const [, remark] of source.matchAll(/(?:^|\s)(# [^\r\n]*)/g)) expect(made.text).toContain(remark);
      expect(made.text.startsWith("\ufeff")).toBe(how.mark);
      expect(/\r\n/.test(made.text) && /[^\r]\n/.test(made.text)).toBe(false);
      done.set(edit.kind, (done.get(edit.kind) ?? 0) + 1);
    }),
    { numRuns: 500, seed: 171 },
  );
  console.info(`${JSON.stringify(Object.fromEntries(done))}, refused: ${refused.join("; ")}`);
  expect(refused.length).toBeLessThan(20);
  for (const kind of ["set-field", "remove-field", "insert-entry", "move-entry"])
    expect(done.get(kind) ?? 0, kind).toBeGreaterThan(5);
}, 300_000);
