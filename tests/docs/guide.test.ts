/**
 * The author's guide says what the reader does: every example in it is run through the reader (compared with the reader
 * itself; the examples are invented).
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { DIRECTIVES } from "../../src/compile/text/directives.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { Findings } from "../../src/findings/finding.ts";
import { fieldsOf } from "../../src/schema/format-fields.ts";
import { FILE_KINDS } from "../../src/schema/file-kinds.ts";
import { anchorOfField, guideDirectives, guideParts, writeAttribute } from "../../src/docs/format-guide.ts";
import { SHOWN, example, textOf, withField } from "./with-field.ts";

const docs = resolve(import.meta.dirname, "../../src/docs");
const folder = mkdtempSync(join(tmpdir(), "guide-"));
cpSync(example, folder, { recursive: true });
afterAll(() => rmSync(folder, { recursive: true, force: true }));

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
