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
  /** Where the words at fault end: the place after their last character; absent where only their beginning is known. */
  readonly endLine?: number;
  readonly endColumn?: number;
  readonly message: string;
  readonly fix: string;
  readonly expected?: readonly string[];
  readonly actual?: string;
  readonly cause?: Where;
  /** It is not so yet: it comes with newer text that is not in force. */
  readonly proposed?: boolean;
}

/** What a reporter needs beside rule, severity and place. */
export interface Remark {
  /** What is wrong, with what was expected; the author's text in backticks. */
  readonly message: string;
  /** What to do. Followed to the letter, it makes no collection worse. */
  readonly fix: string;
  /** The facts of the message, apart from its words: what could stand there (each on its own would do) … */
  readonly expected?: readonly string[] | undefined;
  /** … and what does stand there, as the author wrote it, or as it comes out. */
  readonly actual?: string | undefined;
  /** The other place involved, such as the first use of a duplicate id. */
  readonly cause?: Where;
  /** It comes with newer text that is not in force. */
  readonly proposed?: boolean;
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
  /**
   * What it says of a collection is what it says of each of its platforms alone, one after the other: of a platform
   * that an edit left as it was it need not be asked again.
   */
  readonly byPlatform?: true;
  /** Whether a collection has anything that it asks about: told by what stands beside the platforms. */
  readonly when?: (beside: Omit<Collection, "platforms">) => boolean;
}

/** Collects findings; `report(rule, severity)` gives a `Report` bound to one rule. */
export class Findings {
  readonly list: Finding[] = [];
  readonly #seen = new Set<string>();

  /** Adds a finding; the same rule, place and message are kept once. */
  add(rule: string, severity: Severity, { file, line, column, end }: Where, remark: Remark): void {
    const { message, fix, expected, actual, cause, proposed } = remark;
    this.keep({
      rule,
      severity,
      file,
      line,
      column,
      ...(end ? { endLine: end.line, endColumn: end.column } : {}),
      message,
      fix,
      ...(expected?.length ? { expected } : {}),
      ...(actual !== undefined ? { actual } : {}),
      ...(cause ? { cause } : {}),
      ...(proposed ? { proposed } : {}),
    });
  }

  /** Adds a finding that was made elsewhere, unless the same rule has said the same at its place. */
  keep(finding: Finding): void {
    const { rule, file, line, column, message } = finding;
    const key = JSON.stringify([rule, file, line, column, message]);
    if (this.#seen.has(key)) return;
    this.#seen.add(key);
    this.list.push(finding);
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
