/** Changes of a YAML file or of a head: each is a few splices, found by the places that the parser gives. */
import { placeOfHead } from "../../read/markdown.ts";
import { Source } from "../../read/source.ts";
import { readYaml } from "../../read/yaml.ts";
import { Findings } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import type { FieldEdit, FieldPath, FieldValue } from "./edit.ts";
import { moved } from "./moved.ts";
import { isFields, isList, isSameValue, plainValue, valueAt, withValueAt } from "./plain-value.ts";
import { Refusal } from "../disk/refusal.ts";
import { splice } from "./splice.ts";
import { moveSplices, nextSplice, renameSplice } from "./yaml-splices.ts";

/** Steps in which a value is brought to what it shall be; each changes one field or one entry. */
const MOST_SPLICES = 5_000;

/** The text with the change; throws a `Refusal` where it can't be made, or would not be read as it was asked. */
export function editFields(text: string, edit: FieldEdit): string {
  const head = placeOfHead(text);
  if (head?.end === undefined) return editYaml(text, edit, "");
  return text.slice(0, head.start) + editYaml(text.slice(head.start, head.end), edit, "---") + text.slice(head.end);
}

/** `behind`: what follows the text, so that a last line that has no end gets one. */
function editYaml(yaml: string, edit: FieldEdit, behind: string): string {
  const asked = valueAsked(readValue(yaml), edit);
  const made = make(yaml, edit, asked);
  if (!isSameValue(readValue(made), asked) || (behind !== "" && made !== "" && !/[\r\n]$/.test(made)))
    throw new Refusal(heard("deskRefused").touchesOther({ path: sayPath(edit.path) }));
  return made;
}

/** What a YAML text says, without the places; throws a `Refusal` where it can't be read. */
export function readValue(yaml: string): FieldValue {
  const findings = new Findings(),
    { raw, broken } = readYaml(new Source("", yaml), yaml, 0, findings),
    first = findings.list[0];
  if (!broken) return plainValue(raw);
  const say = heard("deskRefused");
  throw new Refusal(
    first ? say.unreadFrom({ line: first.line, message: first.message, fix: first.fix ?? say.mendInText }) : say.unread,
  );
}

/** What the whole shall say after the change. */
function valueAsked(before: FieldValue, edit: FieldEdit): FieldValue {
  const { path } = edit;
  const lost = () => new Refusal(heard("deskRefused").fieldGone({ path: sayPath(path) }));
  if (edit.kind === "set-field") {
    if (path.length === 0) throw lost();
    if (edit.isNew && valueAt(before, path) !== undefined)
      throw new Refusal(heard("deskRefused").nameTaken({ name: String(path.at(-1)) }));
    const asked = withValueAt(before, path, () => edit.value);
    if (asked === undefined || !isSame(valueAt(asked, path), edit.value)) throw lost();
    return asked;
  }
  const old = valueAt(before, path);
  if (old === undefined && edit.kind !== "insert-entry") throw lost();
  const asked = withValueAt(before, path, (value) => {
    if (edit.kind === "remove-field") return undefined;
    if (edit.kind === "rename-field") return value;
    if (edit.kind === "insert-entry") {
      const list = value === undefined || value === "" ? [] : value,
        at = edit.at ?? (isList(list) ? list.length : 0);
      if (!isList(list) || at < 0 || at > list.length) throw lost();
      return [...list.slice(0, at), edit.value, ...list.slice(at)];
    }
    if (isList(value) && edit.from in value && edit.to in value) return moved(value, edit.from, edit.to);
    if (isFields(value) && Object.keys(value)[edit.from] !== undefined && Object.keys(value)[edit.to] !== undefined)
      return value;
    throw lost();
  });
  if (asked === undefined) throw lost();
  return edit.kind === "rename-field" ? renamed(asked, path, edit.to) : asked;
}

function renamed(value: FieldValue, path: FieldPath, to: string): FieldValue {
  const old = path.at(-1);
  return withValueAt(value, path.slice(0, -1), (map) => {
    if (!isFields(map) || typeof old !== "string") throw new Refusal(heard("deskRefused").onlyFields);
    if (Object.hasOwn(map, to) && to !== old) throw new Refusal(heard("deskRefused").nameTaken({ name: to }));
    return Object.fromEntries(Object.entries(map).map(([key, each]) => [key === old ? to : key, each]));
  })!;
}

function isSame(a: FieldValue | undefined, b: FieldValue): boolean {
  return a !== undefined && isSameValue(a, b);
}

function make(yaml: string, edit: FieldEdit, asked: FieldValue): string {
  if (edit.kind === "rename-field") return splice(yaml, [renameSplice(yaml, edit.path, edit.to)]);
  if (edit.kind === "move-entry") return splice(yaml, moveSplices(yaml, edit.path, edit.from, edit.to));
  let made = yaml;
  for (let times = 0; times < MOST_SPLICES; times += 1) {
    const next = nextSplice(made, asked, edit.path);
    if (!next) return made;
    made = splice(made, [next]);
  }
  throw new Refusal(heard("deskRefused").tooMuch);
}

function sayPath(path: FieldPath): string {
  return path.map((key) => (typeof key === "number" ? String(key + 1) : key)).join(" › ");
}
