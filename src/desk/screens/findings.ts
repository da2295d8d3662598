/** Findings as the desk shows them: errors first, each with what to do. */
import type { Finding } from "../../findings/finding.ts";
import type { Collection } from "../../schema/collection.ts";
import { documentsOf } from "../../site/records/revisions.ts";
import { html, type Html } from "../html.ts";
import { formKindOf } from "./guide-of.ts";

/** How many errors and warnings there are, in words. */
export function sayCounts(findings: readonly Finding[]): string {
  const errors = findings.filter(({ severity }) => severity === "error").length,
    warnings = findings.length - errors;
  const say = (count: number, word: string) => count > 0 && `${count} ${word}${count === 1 ? "" : "s"}`;
  return [say(errors, "error"), say(warnings, "warning")].filter(Boolean).join(", ") || "Nothing to mend";
}

/** From where links to the files lead: the way up to the desk's start, and the files that have screens. */
interface From {
  readonly up: string;
  readonly files: Collection;
}

/** What is done at the desk about what `check` says in the words of the files. */
const AT_THE_DESK: Readonly<Record<string, string>> = {
  "record/no-change-entry": "At the desk: on its screen for review, say what the revision changes and hand it in.",
  "record/not-issued": "At the desk: press “Issue” on its screen for review.",
  "record/remark-open": "At the desk: answer the remark on its screen for review.",
  "record/revision-not-raised":
    "At the desk: take the edit back with Undo, then begin the next revision on its screen for review, and edit that.",
  "record/same-approver":
    "At the desk: take the approval back on its screen for review, and let another role approve it.",
};

/** Errors first, each with its place and what to do; nothing for no finding. `from`: with a link to where that is. */
export function findingsList(findings: readonly Finding[], from?: From): Html | undefined {
  if (findings.length === 0) return undefined;
  const grave = (severity: Finding["severity"]) => findings.filter((finding) => finding.severity === severity);
  return html`<ol class="found">
    ${[...grave("error"), ...grave("warning")].map(
      ({ rule, severity, message, fix, file, line }) =>
        html`<li class="${severity}">
          <p><b>${severity === "error" ? "Error" : "Warning"}</b> ${ticked(message)}</p>
          <p>${ticked(fix)}${Object.hasOwn(AT_THE_DESK, rule) && ` ${AT_THE_DESK[rule]!}`}</p>
          <p class="small">${placeOf(file, line, rule, from)}</p>
        </li>`,
    )}
  </ol>`;
}

/** Where it is: with the screen that can mend it, if there is one. */
function placeOf(file: string, line: number, rule: string, from: From | undefined): string | Html {
  const where = `${file}, line ${line}`;
  if (!from) return where;
  const document = from.files.platforms.flatMap(documentsOf).find((each) => each.file === file);
  const address =
    document && Object.hasOwn(AT_THE_DESK, rule)
      ? `review/${document.platform}/${document.id}/`
      : document && "steps" in document
        ? `procedures/${document.platform}/${document.id}/`
        : formKindOf(file)
          ? `form/${file}`
          : `text/${file}`;
  return html`<a href="${from.up}${address}">${where}</a>`;
}

/** An author's words stand in backticks. */
function ticked(text: string): readonly (string | Html)[] {
  return text.split("`").map((part, at) => (at % 2 ? html`<code>${part}</code>` : part));
}
