/** Attributes of a directive, one of them changed as text: the others stay as they are written. */

/** A directive's text with an attribute that says something else; `undefined` takes it away. `id` is written `#id`. */
export function withAttribute(directive: string, name: string, value: string | true | undefined): string {
  const opening = /^:{2,}[A-Za-z-]+(?:\[(?:\\.|[^\]\\\r\n])*\])?/.exec(directive)?.[0] ?? "",
    rest = directive.slice(opening.length);
  const braces = /^\{(?:"[^"]*"|'[^']*'|[^"'}])*\}/.exec(rest)?.[0] ?? "",
    behind = rest.slice(braces.length);
  const written = value === undefined ? "" : attributeText(name, value);
  if (braces === "") return written === "" ? directive : `${opening}{${written}}${behind}`;
  const inside = braces.slice(1, -1);
  for (const found of inside.matchAll(ONE)) {
    const [text, shortcut, key] = found;
    if ((shortcut === undefined ? key : "id") !== name) continue;
    const before = inside.slice(0, found.index),
      after = inside.slice(found.index + text.length);
    const kept =
      written === "" ? `${before.trimEnd()}${before.trim() ? after : after.trimStart()}` : before + written + after;
    return kept.trim() === "" ? opening + behind : `${opening}{${kept}}${behind}`;
  }
  if (written === "") return directive;
  const joined = name === "id" ? `${written} ${inside}` : `${inside.trimEnd()} ${written}`;
  return `${opening}{${joined.trim()}}${behind}`;
}

/** One attribute: `#id`, `name`, `name=value`, `name="value"`. */
const ONE = /#([\w-]+)|([\w:-]+)(?:\s*=\s*(?:"[^"]*"|'[^']*'|[^\s"'{}=<>`]+))?/g;

/** An attribute as it is written; what can't stand by itself stands in quotes. */
export function attributeText(name: string, value: string | true): string {
  if (value === true) return name;
  if (name === "id" && /^[a-z0-9-]+$/.test(value)) return `#${value}`;
  if (/^[\w.-]+$/.test(value)) return `${name}=${value}`;
  return `${name}="${value
    .replace(/&(?=[#\w]+;)/g, "&amp;")
    .replace(/"/g, "&quot;")
    .replace(/\s*[\r\n]+\s*/g, " ")}"`;
}
