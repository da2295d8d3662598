/**
 * What editors are told of YAML files agrees with the reader (compared with the reader by the examples of the guide,
 * and judged by ajv, which implements JSON Schema draft 07).
 */
import { globSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { Ajv } from "ajv";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { editorLine, editorSchemas } from "../../src/schema/editor-schemas.ts";
import { FILE_KINDS } from "../../src/schema/file-kinds.ts";
import { fieldsOf } from "../../src/schema/format-fields.ts";
import { SHOWN, example, textOf, withField } from "../docs/with-field.ts";

const root = resolve(import.meta.dirname, "../.."),
  ajv = new Ajv({ allErrors: true, allowUnionTypes: true, strictTypes: false });
const judges = new Map([...editorSchemas()].map(([name, schema]) => [name, ajv.compile(schema)]));

/** What is wrong with a text, by the schema of the file's kind; nothing for one that has none. */
function wrongIn(file: string, text: string): string[] | undefined {
  const name = editorLine(file)?.split("/").at(-1),
    judge = name === undefined ? undefined : judges.get(name);
  if (!judge) return undefined;
  judge(parse(text, { maxAliasCount: -1 }) ?? {});
  return (judge.errors ?? []).map(({ instancePath, message }) => `${file}${instancePath} ${message}`);
}

const COLLECTIONS = [join(root, "procedures"), join(root, "src/starter"), example].concat(
  globSync("tests/fixtures/collections/*/service.yaml", { cwd: root }).map((file) => join(root, file, "..")),
);

it.each(COLLECTIONS.map((folder) => relative(root, folder)))("finds nothing wrong in %s", (name) => {
  const folder = join(root, name),
    files = globSync("**/*.yaml", { cwd: folder }).filter((file) => editorLine(file) !== undefined);
  expect(files.length).toBeGreaterThan(2);
  expect(files.flatMap((file) => wrongIn(file, readFileSync(join(folder, file), "utf8")))).toEqual([]);
});

/** What only the reader can tell: it is wrong by another field, or by a rule that the shape does not hold. */
const READER_ALONE = new Set(["fastenings secure", "fastenings when-empty", "marks arrow"]);

describe.each(FILE_KINDS.filter(({ path }) => path.endsWith(".yaml")))("$path", ({ id, shape }) => {
  const fields = fieldsOf(shape),
    file = SHOWN[id]!;
  it.each(fields.map((field) => [field.path.join(" "), field] as const))("%s", (_, field) => {
    expect(wrongIn(file, withField(textOf(file), fields, field, field.good))).toEqual([]);
    const named = field.path.filter((part) => /^[a-z]/.test(part)).join(" ");
    const wrong = wrongIn(file, withField(textOf(file), fields, field, field.bad))!;
    if (READER_ALONE.has(named)) expect(wrong).toEqual([]);
    else expect(wrong).not.toEqual([]);
  });
});

it("knows no other fields than the reader", () => {
  expect(wrongIn("incidents.yaml", `${textOf("incidents.yaml")}  seen-by: Nobody\n`)).not.toEqual([]);
});

it("the starter's YAML files begin with the line that names their schema", () => {
  const starter = join(root, "src/starter");
  for (const file of globSync("**/*.yaml", { cwd: starter }))
    expect(readFileSync(join(starter, file), "utf8").split("\n")[0]).toBe(editorLine(file));
});
