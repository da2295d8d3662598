/**
 * The author's guide says what the reader does: every example in it is run through the reader (compared with the reader
 * itself; the examples are invented).
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { isMap, isSeq, parse, parseDocument } from "yaml";
import { DIRECTIVES } from "../../src/compile/directives.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { Findings } from "../../src/findings/finding.ts";
import { EACH, ENTRY, fieldsOf } from "../../src/schema/format-fields.ts";
import type { FormatField } from "../../src/schema/format-fields.ts";
import { FILE_KINDS } from "../../src/schema/file-kinds.ts";
import { anchorOfField, guideDirectives, guideParts, writeAttribute } from "../../src/docs/format-guide.ts";

const docs = resolve(import.meta.dirname, "../../src/docs"),
  example = join(docs, "example");
const folder = mkdtempSync(join(tmpdir(), "guide-"));
cpSync(example, folder, { recursive: true });
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The file of each kind that the guide shows. */
const SHOWN: Readonly<Record<string, string>> = {
  service: "service.yaml",
  platform: "trolley/platform.yaml",
  equipment: "trolley/equipment.yaml",
  configuration: "trolley/configurations/newborn-capsule.mdx",
  option: "trolley/options/gas-shelf.mdx",
  procedure: "trolley/seat-capsule.mdx",
  photo: "trolley/photos/capsule-pins.yaml",
  reading: "trolley/reading/why-four-pins.mdx",
  amendment: "trolley/amendments/new-pins.mdx",
  folders: "folders.yaml",
  incidents: "incidents.yaml",
};

function textOf(file: string): string {
  return readFileSync(join(example, file), "utf8");
}

/** What the reader says of a file, with that text in the place of its own. */
async function findingsWith(file: string, text: string, isProved = false) {
  writeFileSync(join(folder, file), text);
  const findings = new Findings(),
    collection = await loadCollection(folder, findings);
  writeFileSync(join(folder, file), textOf(file));
  return (isProved ? runRules(collection, findings, "2026-11-28") : findings.list).filter(
    (finding) => finding.file === file,
  );
}

/** What names something that the reader can't know alone is looked up by a rule. */
const PROVED = new Set(["step-photo", "step-replaces"]);

/** The YAML of a file, or of its head, with one field set; what it stands in comes from its own example. */
function withField(text: string, fields: readonly FormatField[], { path }: FormatField, value: string): string {
  const head = /^---\n([\s\S]*?)\n---\n/.exec(text);
  const doc = parseDocument(head ? head[1]! : text),
    at: (string | number)[] = [];
  path.forEach((part, index) => {
    const next = path[index + 1];
    const has = (node: unknown) => isMap(node) && next !== undefined && node.has(next);
    const here = at.length ? doc.getIn(at, true) : doc.contents;
    if (part === ENTRY && isMap(here))
      at.push(String((here.items.find((pair) => has(pair.value)) ?? here.items[0]!).key));
    else if (part === EACH && isSeq(here)) at.push(Math.max(0, here.items.findIndex(has)));
    else {
      at.push(part);
      const container = fields.find((field) => field.path.join() === path.slice(0, index + 1).join());
      if (next !== undefined && !doc.hasIn(at)) doc.setIn(at, doc.createNode(parse(container!.good)));
    }
  });
  const given: unknown = value === "" ? null : parse(value),
    old = doc.getIn(at);
  // An entry of a map is added to those that others refer to.
  if (isMap(old) && given !== null && typeof given === "object" && !Array.isArray(given))
    for (const [key, each] of Object.entries(given)) doc.setIn([...at, key], doc.createNode(each));
  else doc.setIn(at, doc.createNode(given));
  return head ? `---\n${doc.toString()}---\n${text.slice(head[0].length)}` : doc.toString();
}

const says: Record<string, { message: string; fix: string }> = {};
type Said = Awaited<ReturnType<typeof findingsWith>>;

function keep(id: string, list: Said): void {
  expect(list.length, `${id}: the bad example is read without a finding`).toBeGreaterThan(0);
  says[id] = { message: list[0]!.message, fix: list[0]!.fix ?? "" };
}

it("the files that the guide shows are read without a finding", async () => {
  const findings = new Findings();
  await loadCollection(example, findings);
  expect(findings.list).toEqual([]);
});

describe.each(FILE_KINDS)("$path", ({ id, shape }) => {
  const fields = fieldsOf(shape),
    file = SHOWN[id]!;
  it.each(fields.map((field) => [anchorOfField(id, field.path), field] as const))("%s", async (anchor, field) => {
    expect(await findingsWith(file, withField(textOf(file), fields, field, field.good))).toEqual([]);
    keep(anchor, await findingsWith(file, withField(textOf(file), fields, field, field.bad)));
  });
});

const head = /^---\n[\s\S]*?\n---\n/.exec(textOf("trolley/seat-capsule.mdx"))![0];

/** A file in which a directive stands where it may. */
function hostOf(name: string, attribute: string | undefined, written: string): [file: string, text: string] {
  if (name === "step" && attribute === "replaces") {
    const file = "trolley/amendments/new-pins.mdx";
    return [file, `${/^---\n[\s\S]*?\n---\n/.exec(textOf(file))![0]}\n${written}\n`];
  }
  if (name === "check" && attribute === "replaces")
    return ["trolley/options/gas-shelf.mdx", `${textOf("trolley/options/gas-shelf.mdx")}\n${written}\n`];
  const { form, stands } = DIRECTIVES.get(name)!;
  const isBetween = stands.includes("procedure") && form !== "text";
  const steps = `:::step{#lower-capsule by=both}\nLower the capsule.\n:::\n\n`;
  const body = isBetween ? written : `:::step{by=both}\nPush the pins in.\n\n${written}\n:::`;
  return ["trolley/seat-capsule.mdx", `${head}Puts the capsule on its base.\n\n${steps}${body}\n`];
}

/** The good example of a directive with one attribute set. */
function withAttribute(good: string, name: string, value: string): string {
  const written = writeAttribute(name, value),
    known =
      name === "id" && good.includes("{#") ? /#[\w-]+/ : new RegExp(`\\b${name}(?:="[^"]*"|=[^\\s}]+)?(?=[\\s}])`);
  const braces = /\{([^}]*)\}/.exec(good)!;
  const inside = known.test(braces[0]) ? braces[0].replace(known, written) : `{${braces[1]} ${written}}`;
  return good.replace(braces[0], inside);
}

describe.each([...DIRECTIVES])("%s", (name, { guide, attributes }) => {
  it("is read as the guide writes it, and what it calls bad is not", async () => {
    expect(await findingsWith(...hostOf(name, undefined, guide.good))).toEqual([]);
    keep(name, await findingsWith(...hostOf(name, undefined, guide.bad)));
  });
  const fields = fieldsOf(attributes);
  if (fields.length)
    it.each(fields.map((field) => [field.name, field] as const))("%s", async (attribute, { path, good, bad }) => {
      const write = (value: string) => hostOf(name, attribute, withAttribute(guide.good, attribute, value));
      expect(await findingsWith(...write(good))).toEqual([]);
      const anchor = anchorOfField(name, path);
      if (!PROVED.has(anchor)) return keep(anchor, await findingsWith(...write(bad)));
      const usual = (await findingsWith(...write(good), true)).map(({ message }) => message);
      keep(
        anchor,
        (await findingsWith(...write(bad), true)).filter(({ message }) => !usual.includes(message)),
      );
    });
});

it("the guide shows these files and findings", () => {
  const path = join(docs, "guide.json");
  const files = Object.fromEntries(Object.entries(SHOWN).map(([id, file]) => [id, { path: file, text: textOf(file) }]));
  const made = `${JSON.stringify({ files, says }, null, 2)}\n`;
  if (process.env["UPDATE"]) writeFileSync(path, made);
  expect(readFileSync(path, "utf8")).toBe(made);
});

it("every field of every file and every attribute of every directive has its own anchor, example and finding", () => {
  const all = [
    ...guideParts().flatMap(({ fields }) => fields),
    ...guideDirectives().flatMap(({ attributes }) => attributes),
  ];
  expect(all.length).toBeGreaterThan(150);
  expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
  if (!process.env["UPDATE"]) expect(all.filter(({ finding }) => !finding?.message)).toEqual([]);
});
