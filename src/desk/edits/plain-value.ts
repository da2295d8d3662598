/** What a field says, without the places: to compare what was asked with what is read. */
import type { Raw } from "../../read/raw.ts";
import { heard } from "../../words/heard.ts";
import type { FieldPath, FieldValue } from "./edit.ts";
import { Refusal } from "../disk/refusal.ts";

/** The value of what was read; a map for nothing. A name that stands twice in a map has its number behind it. */
export function plainValue(raw: Raw | undefined): FieldValue {
  if (!raw) return {};
  if (raw.kind === "text") return raw.text;
  if (raw.kind === "list") return raw.items.map(plainValue);
  const map = new Map<string, FieldValue>();
  for (const { key, value } of raw.entries) {
    const times = [...map.keys()].filter((other) => other === key || other.startsWith(`${key} (`)).length;
    map.set(times ? `${key} (${times + 1})` : key, plainValue(value));
  }
  return Object.fromEntries(map);
}

/** Whether two values say the same; the order of the fields of a map says nothing. */
export function isSameValue(a: FieldValue, b: FieldValue): boolean {
  if (typeof a === "string" || typeof b === "string") return a === b;
  if (isList(a) || isList(b))
    return isList(a) && isList(b) && a.length === b.length && a.every((each, index) => isSameValue(each, b[index]!));
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length && keys.every((key) => Object.hasOwn(b, key) && isSameValue(a[key]!, b[key]!))
  );
}

/** Whether a value is a list. */
export function isList(value: FieldValue | undefined): value is readonly FieldValue[] {
  return Array.isArray(value);
}

/** Whether a value is a map. */
export function isFields(value: FieldValue | undefined): value is { readonly [key: string]: FieldValue } {
  return typeof value === "object" && !isList(value);
}

/** What stands at a path; nothing where there is none. */
export function valueAt(value: FieldValue, path: FieldPath): FieldValue | undefined {
  let found: FieldValue | undefined = value;
  for (const key of path)
    found =
      typeof key === "number"
        ? isList(found)
          ? found[key]
          : undefined
        : isFields(found) && Object.hasOwn(found, key)
          ? found[key]
          : undefined;
  return found;
}

/**
 * The value with what stands at a path changed; `undefined` takes it away, and is given where nothing stands there.
 * Maps on the way are added where there are none. Throws a `Refusal` where the path leads through a text or past the
 * end of a list.
 */
export function withValueAt(
  value: FieldValue | undefined,
  path: FieldPath,
  change: (old: FieldValue | undefined) => FieldValue | undefined,
): FieldValue | undefined {
  const [key, ...rest] = path;
  if (key === undefined) return change(value);
  if (typeof key === "number") {
    if (!isList(value) || !(key in value)) throw new Refusal(heard("deskRefused").noEntry({ entry: key + 1 }));
    const entry = withValueAt(value[key], rest, change);
    return [...value.slice(0, key), ...(entry === undefined ? [] : [entry]), ...value.slice(key + 1)];
  }
  if (value !== undefined && value !== "" && !isFields(value))
    throw new Refusal(heard("deskRefused").cantStand({ name: key }));
  const fields = isFields(value) ? value : {},
    entry = withValueAt(Object.hasOwn(fields, key) ? fields[key] : undefined, rest, change);
  if (entry !== undefined) return { ...fields, [key]: entry };
  return Object.fromEntries(Object.entries(fields).filter(([name]) => name !== key));
}
