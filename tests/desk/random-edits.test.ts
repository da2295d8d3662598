/**
 * 500 random changes of files as people have them (the demo, the starter, the fixtures; with remarks, CRLF,
 * a byte-order mark and other quotes strewn in). Measured by others: lines by the package `diff`, a head by the package
 * `yaml` alone, a body by the compiler, whose steps are the same but for the one that was meant. Where a step begins
 * and ends is found here by its lines of colons, not by the desk. Values are invented.
 */
import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { diffLines } from "diff";
import fc from "fast-check";
import { parse } from "yaml";
import { expect, it } from "vitest";
import { DIRECTIVES } from "../../src/compile/text/directives.ts";
import type { Known } from "../../src/compile/names.ts";
import { compileProcedure } from "../../src/compile/procedure.ts";
import { applyEdit, type FieldValue, type FileEdit } from "../../src/desk/edits/edit.ts";
import { Findings } from "../../src/findings/finding.ts";
import { readMarkdown } from "../../src/read/markdown.ts";
import { Source } from "../../src/read/source.ts";
import type { Step } from "../../src/schema/collection.ts";

const project = resolve(import.meta.dirname, "../..");
const filesIn = (folder: string, ending: string) =>
  readdirSync(resolve(project, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending) && !/issued|_drawing/.test(name))
    .sort()
    .map((name) => readFileSync(resolve(project, folder, name), "utf8").replace(/^\ufeff|\r/g, ""));
const FOLDERS = ["procedures", "src/starter", "tests/fixtures/collections"];
const documents = FOLDERS.flatMap((folder) => filesIn(folder, ".mdx")).filter((text) => /^:{3,}step/m.test(text));
const yamls = FOLDERS.flatMap((folder) => filesIn(folder, ".yaml"));

/** A file as somebody else might have left it. */
const strewn = (text: string, how: { remark: number; crlf: boolean; mark: boolean; quotes: number }) => {
  const lines = text.split("\n");
  const inHead = lines.flatMap((line, at) => (/^[a-z][\w-]*: [A-Za-z][\w -]*$/.test(line) ? [at] : []));
  const at = inHead[how.remark % Math.max(1, inHead.length)],
    other = inHead[how.quotes % Math.max(1, inHead.length)];
  const isHead = (index: number) => !text.startsWith("---") || index < lines.indexOf("---", 1);
  if (other !== undefined && isHead(other)) lines[other] = lines[other]!.replace(/: (.*)$/, ": '$1'");
  if (at !== undefined && isHead(at)) lines[at] += `   # a remark: kept, "as it is"`;
  const made = lines.join("\n");
  return (how.mark ? "\ufeff" : "") + (how.crlf ? made.replaceAll("\n", "\r\n") : made);
};
const strewing = fc.record({ remark: fc.nat(), crlf: fc.boolean(), mark: fc.boolean(), quotes: fc.nat() });
const words = fc.constantFrom(
  "Plain words.",
  "It's 10:30 – “so”",
  "a: b #1",
  '"quoted", and more',
  "- dash",
  "null",
  "100 %",
  "[x] {y}",
);

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

/** First and last line of each step, by its colons. */
function stepLines(text: string): [number, number][] {
  const lines = text.split(/\r?\n/);
  return lines.flatMap((line, from): [number, number][] => {
    const colons = /^(:{3,})step/.exec(line)?.[1];
    return colons ? [[from, lines.findIndex((each, at) => at > from && each.trimEnd() === colons)]] : [];
  });
}

const head = (text: string) =>
  parse(/^\ufeff?---\r?\n([\s\S]*?)\r?\n---/.exec(text)![1]!, { schema: "failsafe" }) as Record<string, FieldValue>;
const ANY: Known = { word: "thing", ids: new Set(), complete: false, declaredIn: "" };
const NAMES = new Proxy({}, { get: (_, key) => (key === "states" ? new Map() : ANY) });

/** The steps as the compiler reads them, without their places. */
function compiled(text: string): readonly string[] {
  const findings = new Findings();
  const { value } = compileProcedure(readMarkdown(new Source("a.mdx", text), findings), "a", {
    platform: "p",
    names: NAMES as never,
    directives: DIRECTIVES,
    components: new Set(),
    finds: () => true,
    findings,
  });
  const steps = value.sections.flatMap(({ entries }) => entries.filter((each): each is Step => each.kind === "step"));
  return steps.map((step) =>
    JSON.stringify({ ...step, readsCard: step.readsCard !== undefined }, (key, each: unknown) =>
      ["where", "at", "band"].includes(key) ? undefined : typeof each === "bigint" ? String(each) : each,
    ).replace(/\\r\\n/g, "\\n"),
  );
}

it("changes 250 times a field of a head or YAML file: its own lines, and what it says", () => {
  let done = 0;
  fc.assert(
    fc.property(fc.nat(), fc.boolean(), fc.nat(), fc.nat(2), words, strewing, (at, inHead, field, kind, value, how) => {
      const source = strewn(inHead ? documents[at % documents.length]! : yamls[at % yamls.length]!, how);
      const says = (text: string) =>
        inHead
          ? head(text)
          : (parse(text.replace(/^\ufeff/, ""), { schema: "failsafe" }) as Record<string, FieldValue>);
      const before = says(source),
        keys = Object.keys(before),
        key = keys[field % keys.length]!;
      const edit: FileEdit =
        kind === 0
          ? { kind: "set-field", path: [key], value }
          : kind === 1
            ? { kind: "set-field", path: ["owner-of-all"], value }
            : { kind: "remove-field", path: [key] };
      const made = applyEdit(source, edit);
      expect(made).toHaveProperty("text");
      const { text } = made as { text: string };
      const { [key]: _gone, ...rest } = before;
      expect(says(text) ?? {}).toEqual(
        kind === 0 ? { ...before, [key]: value } : kind === 1 ? { ...before, "owner-of-all": value } : rest,
      );
      const lines = source.replace(/^\ufeff/, "").split(/\r?\n/);
      const from = lines.findIndex((line) => line.startsWith(`${key}:`)),
        next = lines.findIndex((line, index) => index > from && /^(?:[^\s#-]|---)/.test(line)),
        to = next < 0 ? lines.length : next;
      for (const line of touched(source, text))
        if (kind !== 1) expect(line >= from && line <= to, `line ${line} not in ${from}–${to}`).toBe(true);
      if (kind === 1) expect(new Set(touched(source, text)).size).toBeLessThanOrEqual(/\n$/.test(source) ? 1 : 2);
      expect(text.startsWith("\ufeff")).toBe(how.mark);
      expect(/\r\n/.test(text) && /[^\r]\n/.test(text)).toBe(false);
      done += 1;
    }),
    { numRuns: 250, seed: 131 },
  );
  expect(done).toBe(250);
});

it("changes 250 times a step: its own lines, and no other step says anything else", () => {
  let done = 0;
  fc.assert(
    fc.property(fc.nat(), fc.nat(), fc.nat(7), words, strewing, (at, which, kind, value, how) => {
      const source = strewn(documents[at % documents.length]!, how),
        places = stepLines(source),
        step = (which % places.length) + 1,
        [from, to] = places[step - 1]!;
      const before = compiled(source);
      expect(before.length).toBe(places.length);
      const edits: FileEdit[] = [
        { kind: "set-attribute", step, name: "takes", value: "47 s" },
        { kind: "set-attribute", step, name: "unnoticed", value: value.replaceAll('"', "'") },
        { kind: "remove-attribute", step, name: "critical" },
        { kind: "set-text", step, text: `Do it ${step} times.\n\nWhy: ${value.replace(/[{<]/g, "(")}` },
        { kind: "delete-step", step },
        { kind: "insert-step", place: { before: step }, new: { text: "Wait.", attributes: { by: "both" } } },
        { kind: "insert-part", step, new: { name: "check", text: "Lamp", attributes: { answer: "green" } } },
        { kind: "insert-part", step, new: { name: "warning", text: "It falls." } },
      ];
      const edit = edits[kind]!;
      const made = applyEdit(source, edit);
      expect(made, JSON.stringify(edit)).toHaveProperty("text");
      const { text } = made as { text: string },
        after = compiled(text);
      const others = (all: readonly string[], without: number) => all.filter((_, index) => index !== without);
      if (edit.kind === "insert-step") expect(others(after, step - 1)).toEqual(before);
      else if (edit.kind === "delete-step") expect(after).toEqual(others(before, step - 1));
      else {
        expect(others(after, step - 1)).toEqual(others(before, step - 1));
        if (edit.kind !== "remove-attribute") expect(after[step - 1]).not.toBe(before[step - 1]);
      }
      // The blank line before or behind belongs to a step that comes or goes.
      for (const line of touched(source, text))
        expect(line >= from - 1 && line <= to + 2, `${edit.kind}: line ${line} not in ${from}–${to}`).toBe(true);
      expect(text.startsWith("\ufeff")).toBe(how.mark);
      expect(/\r\n/.test(text) && /[^\r]\n/.test(text)).toBe(false);
      done += 1;
    }),
    { numRuns: 250, seed: 132 },
  );
  expect(done).toBe(250);
});
