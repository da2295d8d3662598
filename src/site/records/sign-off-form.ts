/**
 * A printable form for sign-offs to be repeated: one sheet for each person and document, holding only what is to be
 * seen again.
 */
import type { Judgement, SeenAgain } from "../../domain/records/signoffs.ts";
import { sayRole } from "../../domain/words/say.ts";
import { escapeMarkup as text } from "../../domain/words/escape.ts";

/**
 * A whole HTML file, complete in itself: no script, nothing fetched. Names stand in it, so it belongs where the
 * register belongs.
 */
export function signOffForms(service: string, judgements: readonly Judgement[], today: string): string {
  return `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<meta http-equiv="content-security-policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>Sign-offs to be repeated</title><style>${STYLE}</style></head><body>
${judgements.map((judgement) => sheet(service, judgement, today)).join("\n")}
</body></html>
`;
}

const STYLE = `@page{size:A4;margin:16mm}
body{font:11pt/1.4 B612,Arial,sans-serif;color:#000;background:#fff;max-width:178mm;margin:0 auto}
section{break-after:page}section:last-child{break-after:auto}
h1{font-size:18pt;margin:0 0 2mm}p{margin:0 0 3mm}
table{width:100%;border-collapse:collapse;margin:4mm 0}tr{break-inside:avoid}
th{font-size:9pt;text-align:left;vertical-align:bottom}th.c,td.c{width:15mm;text-align:center}
td{border-top:.4mm solid #000;padding:2mm 1mm;vertical-align:top}
.pin{display:inline-block;width:6mm;height:6mm;border:.6mm solid #000;border-radius:50%}
.crit{font-weight:700}.small{font-size:9pt}
.sign{display:grid;grid-template-columns:1fr 1fr;gap:8mm 10mm;margin-top:10mm}
.sign div{border-top:.4mm solid #000;padding-top:1mm;font-size:9pt}`;

const CELLS = ["Done", "Prompted", "Not done", "Not seen"].map((name) => `<th class="c">${name}</th>`).join("");
const POLICY =
  "A safety-critical line that is prompted, not done or not seen is a fail for today. The service’s own policy " +
  "decides how often it is to be seen, who may assess, and when it lapses.";

function sheet(service: string, { signOff, because, lines, removed, from, state }: Judgement, today: string): string {
  const { document, person, revision } = signOff;
  const whole = lines.every(({ why }) => why === "whole");
  const causes = because.map(
    (cause) =>
      `<li>${text(cause.document.title)}, revision ${cause.revision}: ${text(cause.summary)}` +
      `${cause.reason ? ` ${text(cause.reason)}` : ""}</li>`,
  );
  const signed = [
    "Supervised attempts",
    "Count reconciled: yes / no",
    `${text(person)}: signature, date`,
    "Assessor, another person: name, signature, date",
    "Lapses on, by the service’s policy",
    state === "lapsed" ? "Lapsed sign-off renewed" : "Comments",
  ];
  return `<section><p class="small">${text(service)}</p><h1>${text(document.title)}</h1>
<p>${text(document.code)}, revision ${document.revision}. <strong>${text(person)}</strong> was signed off \
for revision ${revision} on ${signOff.date} by ${text(signOff.assessor)}.</p>
${
  causes.length
    ? `<p>To be seen again because:</p><ul>${causes.join("")}</ul>`
    : `<p>The sign-off lapsed on ${signOff.lapses}.</p>`
}
${from ? `<p>The earlier sign-off counts until the new revision takes effect on ${from}.</p>` : ""}
<p>${whole ? "All safety-critical steps and checks:" : "Only what changed, and what depends on it:"}</p>
<table><thead><tr><th>Step</th><th></th>${CELLS}</tr></thead><tbody>
${lines.map(row).join("\n")}
</tbody></table>
${removed.length ? `<p class="small">No longer a step: ${removed.map((each) => `“${text(each)}”`).join("; ")}</p>` : ""}
<p class="small">${POLICY} Made ${today}.</p>
<div class="sign">${signed.map((field) => `<div>${field}</div>`).join("")}</div></section>`;
}

function row({ step, text: line, whom, critical, checks, why }: SeenAgain): string {
  const said = checks
    .map(({ challenge, answer, by }) =>
      challenge === line
        ? `${answer}${by.length ? ` (${by.map(sayRole).join(", ")})` : ""}`
        : `${challenge}: ${answer}`,
    )
    .map((each) => `<br><span class="small">${text(each)}</span>`)
    .join("");
  const note = why === "depends" ? `<br><span class="small">Depends on a changed step</span>` : "";
  const pins = '<td class="c"><span class="pin"></span></td>'.repeat(4);
  const told = critical
    ? `<span class="crit">${text(line)}</span><br><span class="small">SAFETY-CRITICAL</span>`
    : text(line);
  const only = whom ? `<br><span class="small">Only ${text(whom)}</span>` : "";
  return `<tr><td>${step ?? ""}</td><td>${told}${only}${said}${note}</td>${pins}</tr>`;
}
