/**
 * Turns a collection into a hostile one: every text that an author can write also holds attempts to be run as code,
 * each with its own number.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { isMap, isScalar, type Pair, parseDocument, visit } from "yaml";

/** A field that was filled with an attempt, and the text that a reader must see. */
export interface Attempt {
  readonly number: number;
  readonly file: string;
  readonly field: string;
  readonly text: string;
}

/**
 * Markup, handlers, an address, a template, an end of a script, style and comment: what gets through where something is
 * not text.
 */
export const attempt = (number: number) =>
  `@${number}@ <script>hacked(${number})</script><img src=x onerror=hacked(${number})>"><svg ` +
  `onload=hacked(${number})>' onfocus=hacked(${number}) autofocus ` +
  `x='</title></style></script><script>hacked(${number})</script>{{hacked(${number})}}` +
  `\${hacked(${number})}*/}body{display:none}/*<a ` +
  `href=javascript:hacked(${number})>`;

/** Keys whose values people read. */
const TEXT_KEYS = new Set([
  "name",
  "title",
  "summary",
  "reason",
  "by",
  "owner",
  "approved-by",
  "reference",
  "alt",
  "label",
  "source",
  "datum",
  "kind",
  "lead",
  "second",
  "leader",
  "tail",
  "placed-by",
]);
/** Keys under which every value is read by people, and every key of `other-names` too. */
const NAME_MAPS = new Set(["crew", "other-names"]);
/** `kind` is the author's word only in an authority. */
const isText = (key: string, path: readonly string[]) =>
  (key === "kind" ? path.includes("authority") : TEXT_KEYS.has(key)) || path.some((each) => NAME_MAPS.has(each));

/** Rewrites the files of a collection in a folder; gives every attempt made. */
export function makeHostile(folder: string): Attempt[] {
  const attempts: Attempt[] = [];
  const next = (file: string, field: string) => {
    // An attribute of a directive ends at its quote: there the attempt goes without one.
    const number = attempts.length + 1,
      text = field === "answer" ? attempt(number).replaceAll('"', "") : attempt(number);
    attempts.push({ number, file, field, text });
    return text;
  };
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .filter((file) => /\.(ya?ml|mdx)$/.test(file));
  for (const file of files.sort()) {
    const text = readFileSync(join(folder, file), "utf8");
    const front = /^---\n([\s\S]*?)\n---\n/.exec(text);
    const yaml = file.endsWith(".mdx") ? (front?.[1] ?? "") : text;
    const fresh = hostileYaml(yaml, (field) => next(file, field));
    const body = file.endsWith(".mdx")
      ? hostileBody(text.slice(front?.[0].length ?? 0), (field) => next(file, field))
      : "";
    writeFileSync(join(folder, file), file.endsWith(".mdx") ? `---\n${fresh}\n---\n${body}` : fresh);
  }
  return attempts;
}

function hostileYaml(yaml: string, next: (field: string) => string): string {
  const document = parseDocument(yaml);
  visit(document, {
    Pair(_, pair, ancestors) {
      const path = ancestors.flatMap((node) =>
        "key" in node && isScalar((node as Pair).key) ? [String(((node as Pair).key as { value: unknown }).value)] : [],
      );
      const key = isScalar(pair.key) ? String(pair.key.value) : "";
      if (isScalar(pair.value) && typeof pair.value.value === "string" && isText(key, path))
        pair.value.value = `${pair.value.value} ${next([...path, key].join("."))}`;
      if (path.at(-1) === "other-names" && !isScalar(pair.value) && !isMap(pair.value))
        (pair.value as unknown as { items: { value: string }[] }).items.forEach((item) => {
          item.value = `${item.value} ${next([...path, key].join("."))}`;
        });
    },
  });
  return document.toString({ lineWidth: 0 }).trimEnd();
}

/** In running text the attempt is written with character references, so that it is text and not MDX. */
const written = (text: string) => text.replace(/[<>{}$*"'\\`[\]&:]/g, (sign) => `&#${sign.charCodeAt(0)};`);

function hostileBody(body: string, next: (field: string) => string): string {
  return body
    .split("\n")
    .map((line) => {
      const check = /^::check\[(.*)\]\{(.*)answer="(.*)"\}$/.exec(line);
      if (check)
        return `::check[${check[1]} ${written(next("challenge"))}]{${check[2]}answer="${check[3]} ${next("answer")}"}`;
      if (/^#+ /.test(line)) return `${line} ${written(next("heading"))}`;
      if (/^Why: /.test(line)) return `${line} ${written(next("reason of a step"))}`;
      if (/^[A-Z]/.test(line)) return `${line} ${written(next("running text"))}`;
      return line;
    })
    .join("\n");
}
