/** Findings as the desk shows them: errors first, each with what to do. */
import { documentIn, type Issuable } from "../../schema/documents.ts";
import type { Finding } from "../../findings/finding.ts";
import type { Collection } from "../../schema/collection.ts";
import { isolateDays } from "../../words/isolate.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import { inEnglish } from "./in-english.ts";
import { nameOfFile } from "./file-names.ts";
import { formKindOf } from "./guide-of.ts";

/** How many errors and warnings there are, in words. */
export function sayCounts(findings: readonly Finding[]): string {
  const errors = findings.filter(({ severity }) => severity === "error").length,
    warnings = findings.length - errors;
  const say = heard("deskFound"),
    said = [errors > 0 && say.errors({ errors }), warnings > 0 && say.warnings({ warnings })];
  return said.filter(Boolean).join(", ") || say.nothing;
}

/**
 * What is to be mended on a screen, and how many errors stand elsewhere, as after an item was removed that other files
 * name: the desk's start, to which `up` leads, lists them.
 */
export function tallyOf(own: readonly Finding[], all: readonly Finding[], up: string): Html {
  const say = heard("deskFound"),
    errors = all.filter((finding) => finding.severity === "error" && !own.includes(finding)).length;
  if (errors === 0) return html`${sayCounts(own)}`;
  return html`${own.length > 0 ? sayCounts(own) : say.nothingHere} ·
    <a href="${up}">${say.errorsElsewhere({ errors })}</a>`;
}

/** From where links to the files lead: the way up to the desk's start, and the files that have screens. */
interface From {
  readonly up: string;
  readonly files: Collection;
}

/** What is done at the desk about what `check` says in the words of the files. */
const AT_THE_DESK = {
  "record/amendment-lapsed": "takeOut",
  "record/no-change-entry": "handIn",
  "record/not-issued": "issue",
  "record/remark-open": "answer",
  "record/revision-not-raised": "begin",
  "record/same-approver": "approve",
} as const;

const isAtTheDesk = (rule: string): rule is keyof typeof AT_THE_DESK => Object.hasOwn(AT_THE_DESK, rule);

/** Errors first, each with its place and what to do; nothing for no finding. `from`: with a link to where that is. */
export function findingsList(findings: readonly Finding[], from?: From): Html | undefined {
  if (findings.length === 0) return undefined;
  const say = heard("deskFound"),
    english = inEnglish(),
    quoted = (text: string) => ticked(isolateDays(text));
  const grave = (severity: Finding["severity"]) => findings.filter((finding) => finding.severity === severity);
  return html`<ol class="found">
    ${[...grave("error"), ...grave("warning")].map(({ rule, severity, message, fix, file, line }) => {
      const document = from && documentIn(from.files, file),
        // Nothing is handed in, approved or issued of what is withdrawn.
        done = isAtTheDesk(rule) && document?.status !== "withdrawn" ? AT_THE_DESK[rule] : undefined;
      return html`<li class="${severity}">
          <p><b>${severity === "error" ? say.error : say.warning}</b> <span${english}>${quoted(message)}</span></p>
          <p><span${english}>${quoted(fix)}</span>${done && `. ${say[done]}`}</p>
          ${placeOf(file, line, { document, isReviewed: done !== undefined, from })}
        </li>`;
    })}
  </ol>`;
}

interface Place {
  readonly document: Issuable | undefined;
  /** It is mended on the document's review. */
  readonly isReviewed: boolean;
  readonly from: From | undefined;
}

/**
 * Where it is: the screen that can mend it, by what it is called; the file and the line behind a press. On the file's
 * own screen (no `from`) the line alone.
 */
function placeOf(file: string, line: number, { document, isReviewed, from }: Place): Html {
  const say = heard("deskFound");
  if (!from) return html`<p class="small">${say.line({ line: String(line) })}</p>`;
  const address =
    document && isReviewed
      ? `review/${document.platform}/${document.id}/`
      : document && "steps" in document
        ? `procedures/${document.platform}/${document.id}/`
        : formKindOf(file)
          ? `form/${file}`
          : `text/${file}`;
  return html`<div class="where small">
    <a href="${from.up}${address}">${nameOfFile(from.files, file)}</a>
    <details>
      <summary>${say.inTheFiles}</summary>
      ${say.place({ file, line: String(line) })}
    </details>
  </div>`;
}

/** An author's words stand in backticks. */
function ticked(text: string): readonly (string | Html)[] {
  return text.split("`").map((part, at) => (at % 2 ? html`<code>${part}</code>` : part));
}
