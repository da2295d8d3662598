/** The finding, the rule type and the collector that every folder reports through. */
import type { At, Collection, Severity, Where } from "../schema/collection.ts";

/** A finding in the form of `rerig check --json`, with the place of another thing involved as `cause`. */
export interface Finding {
  /** `group/name`. */
  readonly rule: string;
  readonly severity: Severity;
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly message: string;
  readonly fix: string;
  readonly cause?: Where;
}

/** What a reporter needs beside rule, severity and place. */
export interface Remark {
  /** What is wrong, with what was expected; the author's text in backticks. */
  readonly message: string;
  /** What to do. */
  readonly fix: string;
  /** The other place involved, such as the first use of a duplicate id. */
  readonly cause?: Where;
}

/** Reports one mistake at the words that the author can change. */
export type Report = (where: Where, remark: Remark) => void;

/** What rules may ask beside the collection: today's date, so that no rule reads a clock. */
export interface RuleContext {
  /** `YYYY-MM-DD`. */
  readonly today: string;
  /** Files with an error found while reading: what rests on them is not judged. */
  readonly damaged: ReadonlySet<string>;
}

/** A rule as its file in `rules/<group>/` exports it. Its documentation is made from it and from its fixtures. */
export interface Rule {
  /** `group/name`, permanent once published. */
  readonly id: string;
  readonly severity: Severity;
  /** One sentence in the educator's words: what the rule asks. */
  readonly asks: string;
  /** Why, in a sentence or two. */
  readonly why: string;
  /** Published source, or "common practice, no source". */
  readonly source: string;
  /**
   * Absent for the rules of the group `text`, which are reported while reading, and for others that a shared
   * computation reports.
   */
  readonly check?: (collection: Collection, report: Report, context: RuleContext) => void;
}

/** Collects findings; `report(rule, severity)` gives a `Report` bound to one rule. */
export class Findings {
  readonly list: Finding[] = [];
  readonly #seen = new Set<string>();

  /** Adds a finding; the same rule, place and message are kept once. */
  add(rule: string, severity: Severity, where: Where, remark: Remark): void {
    const { file, line, column } = where;
    const key = JSON.stringify([rule, file, line, column, remark.message]);
    if (this.#seen.has(key)) return;
    this.#seen.add(key);
    this.list.push({
      rule,
      severity,
      file,
      line,
      column,
      message: remark.message,
      fix: remark.fix,
      ...(remark.cause ? { cause: remark.cause } : {}),
    });
  }

  /** An error at a place. */
  error(rule: string, where: Where, remark: Remark): void {
    this.add(rule, "error", where, remark);
  }
}

/** Place of a record's field; the record's own place when the field has none. */
export function whereOf(record: { readonly where: Where; readonly at: At }, key: string): Where {
  return Object.hasOwn(record.at, key) ? record.at[key]! : record.where;
}

/** Findings in file order, then line, column and rule. */
export function inFileOrder(findings: readonly Finding[]): Finding[] {
  const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return [...findings].sort(
    (a, b) =>
      compare(a.file, b.file) ||
      a.line - b.line ||
      a.column - b.column ||
      compare(a.rule, b.rule) ||
      compare(a.message, b.message),
  );
}
