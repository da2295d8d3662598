/** All that a collection says beside the words that tell (`domain/parts/watched-words.ts`), in one short text. */
import { hash } from "node:crypto";
import { isPlain, tellingIn } from "../../domain/parts/watched-words.ts";
import { withoutTelling } from "../../domain/words/reads.ts";

/** What a record says, in short: records do not change, and most outlast an edit. */
const digests = new WeakMap<object, string>();

/**
 * A digest of all that a value holds but for the words that tell: equal digests, equal values, whatever they share.
 * Known of each record from then on, so that after an edit only what was made anew is looked through: to be asked when
 * words have been made to tell. Throws `TypeError` for functions and objects of a class other than maps and sets.
 */
export function digestOfAllButWords(value: unknown): string {
  return withoutTelling(() => inShort(value));
}

/** A record by its digest, all else as it stands. */
function inShort(value: unknown): string {
  if (typeof value === "string") return JSON.stringify(value);
  if (typeof value === "function") throw new TypeError("a function can't be said");
  if (value === null || typeof value !== "object") return `${typeof value} ${String(value)}`;
  const digest = digests.get(value) ?? hash("sha256", inFull(value), "base64url");
  digests.set(value, digest);
  return `#${digest}`;
}

function inFull(value: object): string {
  if (Array.isArray(value)) return `[${value.map(inShort).join()}`;
  if (value instanceof Set) return `(${[...value].map(inShort).join()}`;
  if (value instanceof Map) return `<${[...value].map((entry) => entry.map(inShort).join(":")).join()}`;
  if (!isPlain(value)) throw new TypeError("an object of a class can't be said");
  const telling = tellingIn(value);
  const say = (key: string) =>
    telling?.fields.includes(key) ? `~${telling.name}` : inShort((value as Readonly<Record<string, unknown>>)[key]);
  return Object.keys(value)
    .map((key) => `${JSON.stringify(key)}:${say(key)}`)
    .join();
}
