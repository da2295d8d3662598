/** Findings of a file, each at the field at which it is to be mended. */
import type { Finding } from "../../findings/finding.ts";
import type { Raw } from "../../read/raw.ts";
import type { Source } from "../../read/source.ts";
import type { FieldPath } from "../edits/edit.ts";

/** Where a finding belongs. */
export interface FoundIn {
  /** At the field itself, not in what it holds. */
  readonly at: (path: FieldPath) => readonly Finding[];
  /** At the field or anywhere in it. */
  readonly within: (path: FieldPath) => readonly Finding[];
}

interface Begun {
  readonly path: FieldPath;
  readonly line: number;
  readonly column: number;
}

/** Findings by field: each belongs to the last field or entry that begins before it. */
export function foundIn(source: Source, raw: Raw | undefined, findings: readonly Finding[]): FoundIn {
  const begun = raw ? [...fieldsIn(source, raw, [])] : [];
  const byPath = new Map<string, Finding[]>();
  for (const finding of findings) {
    const field = begun.findLast(
        ({ line, column }) => line < finding.line || (line === finding.line && column <= finding.column),
      ),
      key = keyOf(field?.path ?? []);
    byPath.set(key, [...(byPath.get(key) ?? []), finding]);
  }
  return {
    at: (path) => byPath.get(keyOf(path)) ?? [],
    within: (path) =>
      [...byPath].flatMap(([key, list]) => {
        const of = JSON.parse(key) as FieldPath;
        return path.every((each, at) => of[at] === each) ? list : [];
      }),
  };
}

const keyOf = (path: FieldPath) => JSON.stringify(path);

/** Fields and entries in the order of the file, with the place at which each begins. */
function* fieldsIn(source: Source, raw: Raw, path: FieldPath): Generator<Begun> {
  if (raw.kind === "map")
    for (const { key, keyOffset, value } of raw.entries) {
      yield { path: [...path, key], ...source.where(keyOffset) };
      yield* fieldsIn(source, value, [...path, key]);
    }
  else if (raw.kind === "list")
    for (const [at, item] of raw.items.entries()) {
      yield { path: [...path, at], ...source.where(item.offset) };
      yield* fieldsIn(source, item, [...path, at]);
    }
}
