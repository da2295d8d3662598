/** Findings as the desk shows them: errors first, each with what to do. */
import type { Finding } from "../../findings/finding.ts";
import { html, type Html } from "../html.ts";

/** How many errors and warnings there are, in words. */
export function sayCounts(findings: readonly Finding[]): string {
  const errors = findings.filter(({ severity }) => severity === "error").length,
    warnings = findings.length - errors;
  const say = (count: number, word: string) => count > 0 && `${count} ${word}${count === 1 ? "" : "s"}`;
  return [say(errors, "error"), say(warnings, "warning")].filter(Boolean).join(", ") || "Nothing to mend";
}

/** Errors first, each with its place and what to do; nothing for no finding. */
export function findingsList(findings: readonly Finding[]): Html | undefined {
  if (findings.length === 0) return undefined;
  const grave = (severity: Finding["severity"]) => findings.filter((finding) => finding.severity === severity);
  return html`<ol class="found">
    ${[...grave("error"), ...grave("warning")].map(
      ({ severity, message, fix, file, line }) =>
        html`<li class="${severity}">
          <p><b>${severity === "error" ? "Error" : "Warning"}</b> ${ticked(message)}</p>
          <p>${ticked(fix)}</p>
          <p class="small">${file}, line ${line}</p>
        </li>`,
    )}
  </ol>`;
}

/** An author's words stand in backticks. */
function ticked(text: string): readonly (string | Html)[] {
  return text.split("`").map((part, at) => (at % 2 ? html`<code>${part}</code>` : part));
}
