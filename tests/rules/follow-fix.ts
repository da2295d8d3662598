/** Follows the `fix` of a finding to the letter, as somebody would who does what it says and thinks no further. */
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { dirname, extname, join } from "node:path";
import type { Finding } from "../../src/findings/finding.ts";

/** The text of a file as lines, and how they are put back. */
class Lines {
  readonly lines: string[];
  readonly #path: string;
  readonly #end: string;

  constructor(path: string) {
    this.#path = path;
    const text = readFileSync(path, "utf8");
    this.#end = text.includes("\r\n") ? "\r\n" : "\n";
    this.lines = text.split(/\r?\n/);
  }

  save(): void {
    writeFileSync(this.#path, this.lines.join(this.#end));
  }
}

type Follow = (lines: string[], finding: Finding, words: RegExpExecArray, folder: string) => boolean;

/** Puts other words in the place of those at fault; only where the finding says where they end. */
function replaceWords(lines: string[], { line, column, endLine, endColumn }: Finding, words: string): boolean {
  if (endLine !== line || endColumn === undefined) return false;
  const bom = line === 1 && lines[0]!.startsWith("\ufeff") ? 1 : 0;
  const text = lines[line - 1]!;
  lines[line - 1] = text.slice(0, column - 1 + bom) + words + text.slice(endColumn - 1 + bom);
  return true;
}

const removeLine: Follow = (lines, { line }) => {
  lines.splice(line - 1, 1);
  return true;
};

const insertBefore = (lines: string[], line: number, words: string): boolean => {
  lines.splice(line - 1, 0, words);
  return true;
};

function dayAfter(day: string): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
}

/** The day on which somebody does what the advice says. */
let work = "2026-06-01";
const dayOfWork = (): string => work;

/** How a sentence of advice begins -> what is done in the file. */
const FORMS: readonly (readonly [RegExp, Follow])[] = [
  [
    /^Write `(:{2,}[a-z]+)`/,
    (lines, { line, actual }, [, words]) => {
      const before = lines[line - 1]!;
      lines[line - 1] = before.replace(actual ?? /^:+\s*[a-z]+/, words!);
      return lines[line - 1] !== before;
    },
  ],
  [
    /^Write `([^`…]+)`(?:$|, or |, with straight quotes$|: \d)/,
    (lines, finding, [, words]) => {
      const [, key] = /^([a-z-]+): ./.exec(words!) ?? [];
      // A field with its value stands in the place of the field with its value.
      if (key && lines[finding.line - 1]!.includes(`${key}:`)) {
        lines[finding.line - 1] = lines[finding.line - 1]!.replace(new RegExp(`${key}:\\s*[^,}]*[^,}\\s]`), words!);
        return true;
      }
      // `by=leader` at a value stands for the value.
      const [, attribute, value] = /^([a-z-]+)=(.+)$/.exec(words!) ?? [];
      const isValue = lines[finding.line - 1]!.slice(0, finding.column - 1).endsWith(`${attribute}=`);
      return replaceWords(lines, finding, isValue ? value! : words!);
    },
  ],
  [/^Count them; then answer `([^`]+)`/, (lines, finding, [, answer]) => replaceWords(lines, finding, answer!)],
  [
    /^If `([^`]+)` keeps the platform from rolling, leave it `[^`]+` and take `([^`]+)` out of its `holds`/,
    (_, { file }, [, fastening, place], folder) => {
      const platform = new Lines(join(folder, dirname(file), "platform.yaml"));
      const at = platform.lines.findIndex((line) => line.trim().startsWith(`${fastening}:`));
      if (at < 0 || !platform.lines[at]!.includes("holds:")) return false;
      platform.lines[at] = platform.lines[at]!.replace(/holds: (\[[^\]]*\]|[a-z0-9-]+)/, (_, held: string) => {
        const left = held
          .replace(/[[\]]/g, "")
          .split(/,\s*/)
          .filter((each) => each !== place);
        return `holds: [${left.join(", ")}]`;
      });
      platform.save();
      return true;
    },
  ],
  [/put `(::turn\{[^`]+\})` before this move/, (lines, { line }, [, words]) => insertBefore(lines, line, words!)],
  [
    /^Take at most (\d+)/,
    (lines, { line }, [, most]) => {
      if (most === "0") lines.splice(line - 1, 1);
      else lines[line - 1] = lines[line - 1]!.replace(/count=\d+/, `count=${most}`);
      return true;
    },
  ],
  [/^(?:Leave this turn out|Remove the line|Remove this line)/, removeLine],
  [
    /^Keep one of the two/,
    (lines, finding, words, folder) => {
      const { line, column } = finding;
      const text = lines[line - 1]!;
      const given = /^(?:[a-z-]+=(?:"[^"]*"|[^\s}]+)|#[a-z0-9-]+)/.exec(text.slice(column - 1));
      if (!given) return removeLine(lines, finding, words, folder);
      lines[line - 1] = text.slice(0, column - 1).trimEnd() + text.slice(column - 1 + given[0].length);
      return true;
    },
  ],
  [
    /^Raise `revision` to (\d+), or/,
    (lines, _, [, revision]) => {
      const at = lines.findIndex((line) => line.startsWith("revision:"));
      lines[at] = `revision: ${revision}`;
      return true;
    },
  ],
  [
    /^Close it with `([^`])`/,
    (lines, { line }, [, partner]) => {
      lines[line - 1] = `${lines[line - 1]}${partner}`;
      return true;
    },
  ],
  [
    /^Add a line `(:+)` after its last line(?:, before line (\d+))?/,
    (lines, _, [, colons, before]) => insertBefore(lines, before ? Number(before) : lines.length + 1, colons!),
  ],
  [
    /(?:^Add|, add) `(::turn\{[^`]+\})` to a later step/,
    (lines, _, [, words]) => {
      const last = lines.findLastIndex((line) => /^:{3,}\s*$/.test(line));
      return last >= 0 && insertBefore(lines, last + 1, words!);
    },
  ],
  [
    /^Write as many colons in line (\d+) as in line (\d+)/,
    (lines, _, [, here, there]) => {
      lines[Number(here) - 1] = /^:+/.exec(lines[Number(there) - 1]!)![0];
      return true;
    },
  ],
  [/^Write the smaller one first: `([^`]+)`/, (lines, finding, [, words]) => replaceWords(lines, finding, words!)],
  [
    /^Fit at most (\d+)/,
    (lines, { line, column }, [, most]) => {
      const text = lines[line - 1]!;
      lines[line - 1] = text.slice(0, column - 1) + text.slice(column - 1).replace(/^\d+/, most!);
      return lines[line - 1] !== text;
    },
  ],
  [/^Leave `::card` out here/, removeLine],
  [/^Put back `([^`]+)`/, (lines, finding, [, words]) => replaceWords(lines, finding, words!)],
  [
    /^Raise `revision` to (\d+) and let it take effect on ([\d-]{10})/,
    (lines, _, [, revision, day]) => {
      for (const [key, value] of [
        ["revision", revision],
        ["effective", day],
      ])
        lines[lines.findIndex((line) => line.startsWith(`${key}:`))] = `${key}: ${value}`;
      return true;
    },
  ],
  [
    /^Write a line of its own that begins `(:{2}[a-z]+)`/,
    (lines, { line, column }, [, words]) => {
      const text = lines[line - 1]!;
      lines[line - 1] = text.slice(0, column - 1) + text.slice(column - 1).replace(/^:+[a-z]+/, words!);
      return lines[line - 1] !== text;
    },
  ],
  [
    /^Put it before the instruction, at the beginning of the step/,
    (lines, { line }) => {
      const colons = /^:{3,}/.exec(lines[line - 1]!)?.[0];
      const end = lines.findIndex((each, at) => at >= line && each.trim() === colons);
      const step = lines.slice(0, line - 1).findLastIndex((each) => /^:{3,}step\b/.test(each));
      if (!colons || end < 0 || step < 0) return false;
      const block = lines.splice(line - 1, end - line + 2);
      lines.splice(step + 1, 0, ...block, "");
      return true;
    },
  ],
  [
    /^Write a day from 01 to (\d{2})/,
    (lines, finding, [, day]) =>
      finding.actual !== undefined && replaceWords(lines, finding, finding.actual.slice(0, 8) + day!),
  ],
  [
    /(?:^If the step was pasted twice.*give one of them another id|^Give it a code that no other document has)/,
    (lines, finding) => {
      const { line, column, endColumn } = finding;
      if (endColumn === undefined) return false;
      return replaceWords(lines, finding, `${lines[line - 1]!.slice(column - 1, endColumn - 1)}-2`);
    },
  ],
  [
    // The copy is changed in the folder, and its entry written anew.
    /^Print the .*?(?:check code ([0-9A-Z-]+), )?put it in as copy \d+, destroy the old one, and write down the new code/,
    (lines, { line, column, message }, [, code]) => {
      const text = lines[line - 1]!,
        from = text.lastIndexOf("{", column - 1),
        to = text.indexOf("}", column - 1);
      const entry = text.slice(from, to),
        right = code ?? /check code ([0-9A-Z-]+)/.exec(message)?.[1];
      if (from < 0 || to < 0 || right === undefined || !entry.includes("placed:")) return false;
      const anew = entry
        .replace(/check: [0-9A-Z-]+/, `check: ${right}`)
        .replace(/placed: [\d-]{10}/, `placed: ${dayOfWork()}`);
      lines[line - 1] = text.slice(0, from) + anew + text.slice(to);
      return anew !== entry;
    },
  ],
  [/^Give ([\d-]{10}) or a later date/, (lines, finding, [, day]) => replaceWords(lines, finding, day!)],
  [/^Give a date after ([\d-]{10})/, (lines, finding, [, day]) => replaceWords(lines, finding, dayAfter(day!))],
  [/^Let it take effect on ([\d-]{10}) or later/, (lines, finding, [, day]) => replaceWords(lines, finding, day!)],
  [
    /^Put the whole text in double quotes: `[a-z-]+: ("[^`]+")`/,
    (lines, finding, [, words]) => replaceWords(lines, finding, words!),
  ],
  [
    /^The comma before it ends the text of `([a-z-]+)`: put the whole text in double quotes/,
    (lines, { line }, [, field]) => {
      const before = lines[line - 1]!;
      lines[line - 1] = before.replace(new RegExp(`(${field}:\\s*)([^{}]*[^{}\\s])(\\s*\\})`), '$1"$2"$3');
      return lines[line - 1] !== before;
    },
  ],
];

/** Advice for several files, each with what to add after its include. */
const IN_FILES = /In `([^`]+)`, after the include: [^`]*?(?:`[^`]+` in `[^`]+` [^`]*)?`(::turn\{[^`]+\})`/g,
  RENAME = /^Rename it to `([^`]+)`/;

/** Whether advice is of a form that is followed by rote; whether it can be in these files only they say. */
export function isOfKnownForm(fix: string): boolean {
  return fix.search(IN_FILES) >= 0 || RENAME.test(fix) || FORMS.some(([form]) => form.test(fix));
}

/** Follows a fix in the files of a folder; false if it asks for judgement or for words that only the author has. */
export function followFix(folder: string, finding: Finding, today = work): boolean {
  work = today;
  const path = join(folder, finding.file);
  const around = [...finding.fix.matchAll(IN_FILES)];
  for (const [, name, words] of around) {
    const file = new Lines(join(dirname(path), name!));
    const last = file.lines.findLastIndex((line) => /^:{3,}\s*$/.test(line));
    file.lines.splice(last, 0, words!);
    file.save();
  }
  if (around.length) return true;
  const renamed = RENAME.exec(finding.fix);
  if (renamed) {
    const name = renamed[1]!;
    renameSync(path, join(dirname(path), extname(name) ? name : name + extname(path)));
    return true;
  }
  for (const [form, follow] of FORMS) {
    const words = form.exec(finding.fix);
    if (!words) continue;
    const file = new Lines(path);
    if (!follow(file.lines, finding, words, folder)) return false;
    file.save();
    return true;
  }
  return false;
}
