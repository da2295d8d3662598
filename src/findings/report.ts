/** Findings for people and for programs: the text report and the JSON of `rerig check`. */
import { type Finding, inFileOrder } from "./finding.ts";
import type { Collection } from "../schema/collection.ts";
import { factsOf } from "../schema/platform-facts.ts";
import { hang, PLAIN, type Terminal, terminalOf } from "./terminal.ts";

/** The JSON of `rerig check --json`. */
interface CheckResult {
  readonly findings: readonly Finding[];
  readonly counts: { readonly error: number; readonly warning: number };
  readonly read: Readonly<
    Record<"platforms" | "configurations" | "options" | "procedures" | "steps" | "photos", number>
  >;
}

/** More warnings of one rule than this are told in one line with their count. */
export const MOST_TOLD = 10;

/**
 * Findings for people, errors first, then warnings, each in file order. One finding is two lines: where, how bad,
 * what and which rule; then what to do; on a terminal wrapped to its width. More than ten warnings of one rule are one,
 * the first, with their count, unless `all`. Empty without findings.
 */
export function reportText(
  findings: readonly Finding[],
  { all = false, terminal = PLAIN }: { readonly all?: boolean; readonly terminal?: Terminal } = {},
): string {
  const told = errorsFirst(findings),
    lines = all ? told : foldMany(told);
  const place = ({ file, line, column }: Finding) => `${file}:${line}:${column}`;
  const width = Math.max(0, ...lines.map((finding) => place(finding).length)),
    indent = width + 11;
  const { mark } = terminal;
  return lines
    .map((finding) => {
      const { rule, severity, message, fix, cause, proposed } = finding,
        said = `${proposed ? "proposed: " : ""}${message}  (${rule})`;
      const sort = mark(severity, severity === "error" ? "red" : "bold") + " ".repeat(7 - severity.length),
        below = (word: string) => `${" ".repeat(width)}  ${word.padEnd(7)}  `;
      return [
        hang(
          `${mark(place(finding), "bold")}${" ".repeat(width - place(finding).length)}  ${sort}  `,
          said,
          indent,
          terminal,
        ),
        hang(below("fix"), fix, indent, terminal),
        ...(cause ? [`${below("see")}${cause.file}:${cause.line}:${cause.column}`] : []),
      ].join("\n");
    })
    .join("\n");
}

/** Errors, then warnings, each in the order in which they come. */
function errorsFirst(findings: readonly Finding[]): Finding[] {
  return (["error", "warning"] as const).flatMap((severity) =>
    inFileOrder(findings.filter((finding) => finding.severity === severity)),
  );
}

/** Puts the count of a rule's warnings into the first of them and leaves the others out, where they are many. */
function foldMany(findings: readonly Finding[]): Finding[] {
  const byRule = Map.groupBy(
    findings.filter(({ severity }) => severity === "warning"),
    ({ rule }) => rule,
  );
  return findings.flatMap((finding): Finding[] => {
    const same = finding.severity === "warning" ? byRule.get(finding.rule)! : [];
    if (same.length <= MOST_TOLD) return [finding];
    if (same[0] !== finding) return [];
    const files = new Set(same.map(({ file }) => file)).size;
    const where = files === 1 ? "this file" : `${files} files`;
    return [
      {
        ...finding,
        message:
          `${finding.message}; and ${same.length - 1} more of this rule, ${same.length} in ${where} ` +
          "(`check --all` lists them)",
      },
    ];
  });
}

/** Findings as they stand on standard error: set for the terminal, if that is one. */
export function reportToPerson(findings: readonly Finding[]): string {
  return reportText(findings, { terminal: terminalOf(process.stderr) });
}

/** The result of a check as `--json` prints it. */
export function checkResult(collection: Collection, findings: readonly Finding[]): CheckResult {
  const facts = collection.platforms.map((platform) => factsOf(platform).counts);
  const sum = (of: keyof (typeof facts)[number]) => facts.reduce((total, counts) => total + counts[of], 0);
  return {
    findings: findings.map(({ cause: _, ...finding }) => finding),
    counts: {
      error: findings.filter(({ severity }) => severity === "error").length,
      warning: findings.filter(({ severity }) => severity === "warning").length,
    },
    read: {
      platforms: facts.length,
      configurations: sum("configurations"),
      options: sum("options"),
      procedures: sum("procedures"),
      steps: sum("steps"),
      photos: sum("photos"),
    },
  };
}

/**
 * Which file to mend first, where the errors of others may only follow from it: one that could not be read whole, else
 * one that was changed since it was issued. `undefined` where every error stands in such a file, or none does.
 */
export function whereToBegin(findings: readonly Finding[]): string | undefined {
  const errors = errorsFirst(findings).filter(({ severity }) => severity === "error"),
    causes = [
      errors.filter(({ rule }) => rule.startsWith("text/")),
      errors.filter(({ rule }) => rule === "record/revision-not-raised"),
    ].find((each) => each.length > 0);
  const files = new Set(causes?.map(({ file }) => file));
  return errors.some(({ file }) => !files.has(file)) ? causes?.[0]!.file : undefined;
}
