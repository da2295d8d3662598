/**
 * A printable form for sign-offs to be repeated: one sheet for each person and document, holding only what is to be
 * seen again.
 */
import type { Judgement, SeenAgain } from "../../domain/records/signoffs.ts";
import { sayRole } from "../../domain/words/say.ts";
import { escapeMarkup as text } from "../../domain/words/escape.ts";
import { heard } from "../../words/heard.ts";

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

function cells(): string {
  const say = heard("signOffForm");
  return [say.done, say.prompted, say.notDone, say.notSeen].map((name) => `<th class="c">${text(name)}</th>`).join("");
}

function sheet(service: string, { signOff, because, lines, removed, from, state }: Judgement, today: string): string {
  const { document, person, revision } = signOff;
  const say = heard("signOffForm"),
    gone = removed.map((each) => `“${text(each)}”`).join("; "),
    whole = lines.every(({ why }) => why === "whole");
  const causes = because.map(
    ({ document: { title }, revision: later, summary, reason }) =>
      `<li>${say.cause({ document: text(title), revision: later, summary: text(summary) })}` +
      `${reason ? ` ${text(reason)}` : ""}</li>`,
  );
  const signed = [
    heard("signOffForm").supervisedAttempts,
    heard("signOffForm").countReconciledYes,
    heard("signOffForm").signatureDate({ person: text(person) }),
    heard("signOffForm").assessorAnotherPersonName,
    heard("signOffForm").lapsesOn,
    state === "lapsed" ? heard("signOffForm").lapsedSignOffRenewed : heard("signOffForm").comments,
  ];
  return `<section><p class="small">${text(service)}</p><h1>${text(document.title)}</h1>
<p>${say.wasSignedOff({
    code: text(document.code),
    now: document.revision,
    person: `<strong>${text(person)}</strong>`,
    revision,
    date: signOff.date,
    assessor: text(signOff.assessor),
  })}</p>
${
  causes.length
    ? `<p>${say.becauseOf}</p><ul>${causes.join("")}</ul>`
    : `<p>${say.lapsed({ date: signOff.lapses ?? "" })}</p>`
}
${from ? `<p>${say.earlierCounts({ from })}</p>` : ""}
<p>${whole ? heard("signOffForm").allSafetyCriticalSteps : heard("signOffForm").onlyWhatChanged}</p>
<table><thead><tr><th>${say.step}</th><th></th>${cells()}</tr></thead><tbody>
${lines.map(row).join("\n")}
</tbody></table>
${gone ? `<p class="small">${say.noLonger({ steps: gone })}</p>` : ""}
<p class="small">${say.policy} ${say.made({ today })}</p>
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
  const note = why === "depends" ? `<br><span class="small">${heard("signOffForm").depends}</span>` : "";
  const pins = '<td class="c"><span class="pin"></span></td>'.repeat(4);
  const told = critical
    ? `<span class="crit">${text(line)}</span><br><span class="small">${heard("signOffForm").safetyCritical}</span>`
    : text(line);
  const only = whom ? `<br><span class="small">${heard("signOffForm").only({ whom: text(whom) })}</span>` : "";
  return `<tr><td>${step ?? ""}</td><td>${told}${only}${said}${note}</td>${pins}</tr>`;
}
