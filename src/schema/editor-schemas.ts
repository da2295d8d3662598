/**
 * JSON Schemas (draft 07, which editors' YAML servers read) of the YAML files that authors write, made from the shapes
 * that the reader reads them by. They refuse nothing that is read; ids of other files are not looked up.
 */
import { z } from "zod";
import { sortOf, wordsOfField } from "./described.ts";
import { FILE_KINDS } from "./file-kinds.ts";

/** The folder of a collection in which they lie; a name that begins with `_` is passed over by the reader. */
const SCHEMA_FOLDER = "_schemas";

/** Name -> JSON Schema of every kind of YAML file. */
export function editorSchemas(): ReadonlyMap<string, object> {
  return new Map(
    FILE_KINDS.filter(({ path }) => path.endsWith(".yaml")).map(({ id, title, says, shape }) => [
      nameOf(id),
      { $schema: "http://json-schema.org/draft-07/schema#", title, description: says, ...schemaOf(shape) },
    ]),
  );
}

/**
 * The line with which a YAML file begins so that an editor finds its schema; nothing for a file that has none. `file`
 * is its path in the collection.
 */
export function editorLine(file: string): string | undefined {
  const parts = file.split("/"),
    kind = FILE_KINDS.find(({ path }) => {
      const known = path.split("/");
      return known.length === parts.length && known.every((part, at) => fits(part, parts[at]!));
    });
  if (!kind?.path.endsWith(".yaml")) return undefined;
  return `# yaml-language-server: $schema=${"../".repeat(parts.length - 1)}${SCHEMA_FOLDER}/${nameOf(kind.id)}`;
}

/** Where a schema lies in a collection. */
export function editorSchemaPath(name: string): string {
  return `${SCHEMA_FOLDER}/${name}`;
}

function nameOf(id: string): string {
  return `${id}.yaml.schema.json`;
}

/** Whether a part of a path is of the kind that `known` says, in which `PLATFORM` and `NAME` are any id. */
function fits(known: string, part: string): boolean {
  return known === part || known === "PLATFORM" || (known === "NAME.yaml" && part.endsWith(".yaml"));
}

function schemaOf(shape: z.ZodType): object {
  const { $schema: _, ...schema } = z.toJSONSchema(shape, {
    target: "draft-07",
    io: "input",
    // What is said of fields stands in a registry of its own.
    metadata: z.registry<Record<string, unknown>>(),
    override: ({ zodSchema, jsonSchema }) => describeIn(zodSchema as unknown as z.ZodType, jsonSchema),
  });
  return schema;
}

function describeIn(type: z.ZodType, schema: Record<string, unknown>): void {
  const sort = sortOf(type),
    words = wordsOfField(type);
  if (sort) replaceWith(schema, sort.json);
  // The reader takes one value for a list of one.
  else if (type instanceof z.ZodArray && sortOf(type.element as z.ZodType))
    replaceWith(schema, { anyOf: [{ ...schema }, schema["items"]] });
  if (!words) return;
  schema["description"] = words.says + (words.without === undefined ? "" : ` Left out: ${words.without}.`);
  if (sort) schema["examples"] = [words.good ?? sort.good];
}

function replaceWith(schema: Record<string, unknown>, by: object): void {
  for (const key of Object.keys(schema)) delete schema[key];
  Object.assign(schema, by);
}
