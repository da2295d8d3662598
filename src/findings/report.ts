/** Findings for people and for programs: the text report and the JSON of `rerig check`. */
import type { Finding } from "./finding.ts";
import type { Collection } from "../schema/collection.ts";

/** The JSON of `rerig check --json`. */
export interface CheckResult {
  readonly findings: readonly Finding[];
  readonly counts: { readonly error: number; readonly warning: number };
  readonly read: Readonly<
    Record<"platforms" | "configurations" | "options" | "procedures" | "steps" | "photos", number>
  >;
}

/** One finding on two lines: where, how bad, what and which rule; then what to do. */
export function reportText(findings: readonly Finding[]): string {
  const place = ({ file, line, column }: Finding) => `${file}:${line}:${column}`;
  const width = Math.max(0, ...findings.map((finding) => place(finding).length));
  return findings
    .map((finding) => {
      const { rule, severity, message, fix, cause } = finding;
      const head = `${place(finding).padEnd(width)}  ${severity.padEnd(7)}  ${message}  (${rule})`;
      const other = cause ? `\n${"".padEnd(width)}  see      ${cause.file}:${cause.line}:${cause.column}` : "";
      return `${head}\n${"".padEnd(width)}  fix      ${fix}${other}`;
    })
    .join("\n");
}

/** The result of a check as `--json` prints it. */
export function checkResult(collection: Collection, findings: readonly Finding[]): CheckResult {
  const { platforms } = collection;
  const sum = (count: (platform: (typeof platforms)[number]) => number) =>
    platforms.reduce((total, platform) => total + count(platform), 0);
  return {
    findings: findings.map(({ rule, severity, file, line, column, message, fix }) => ({
      rule,
      severity,
      file,
      line,
      column,
      message,
      fix,
    })),
    counts: {
      error: findings.filter(({ severity }) => severity === "error").length,
      warning: findings.filter(({ severity }) => severity === "warning").length,
    },
    read: {
      platforms: platforms.length,
      configurations: sum((platform) => platform.configurations.length),
      options: sum((platform) => platform.options.length),
      procedures: sum((platform) => platform.procedures.length),
      steps: sum(({ procedures }) =>
        procedures.reduce((total, { id, steps }) => total + steps.filter((step) => step.procedure === id).length, 0),
      ),
      photos: sum((platform) => platform.photos.length),
    },
  };
}

/** "1 error, 2 warnings". */
export function countText({ error, warning }: CheckResult["counts"]): string {
  return `${say(error, "error")}, ${say(warning, "warning")}`;
}

/** "1 platform, 3 configurations, …": what was read. */
export function readText(read: CheckResult["read"]): string {
  return Object.entries(read)
    .map(([words, count]) => say(count, words.slice(0, -1)))
    .join(", ");
}

function say(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? "" : "s"}`;
}
