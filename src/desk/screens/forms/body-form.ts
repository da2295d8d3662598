/** What stands under the head of a document that is no procedure: the lines of a card and its notes, or text. */
import type { Finding } from "../../../findings/finding.ts";
import { type EntryOutline, outlineOf, type PartOutline } from "../../edits/outline.ts";
import { wordsFor } from "../../../words/words.ts";
import { html, type Html } from "../../html.ts";
import type { Moment } from "../../reader.ts";
import { area } from "./controls.ts";
import { findingsList, sayCounts } from "../findings.ts";
import { offeredFor, platformsOf } from "./offered.ts";
import { additions, cardLineFields, partForm, partName, type PartContext } from "./step-form.ts";

/** What the form is made from. */
interface Body {
  readonly moment: Moment;
  readonly file: string;
  readonly text: string;
  readonly findings: readonly Finding[];
  /** The line at which the body begins. */
  readonly bodyLine: number;
  /** `configuration`, `option`, `amendment`, `reading`. */
  readonly kind: string;
}

/** Card lines as forms, and the text that stands with them. */
export function bodyForm({ moment, file, text, findings, bodyLine, kind }: Body): Html {
  const own = findings.filter(({ line }) => line >= bodyLine),
    [platform] = platformsOf(moment.files, file),
    outline = outlineOf(text),
    say = wordsFor(moment.files.service).deskSteps;
  const hasLines = platform && outline && (kind === "configuration" || kind === "option");
  return html`<section aria-labelledby="body">
    <h2 id="body">${hasLines ? say.lines : say.text}</h2>
    ${hasLines ? lines({ platform, service: moment.files.service }, outline, own, moment) : findingsList(own)}
    <details class="more" id="body-text" ${!hasLines && html`open`}>
      <summary>${say.allAsText}</summary>
      ${area(say.text, text.slice(bodyStart(text)).replace(/^\s+|\s+$/g, ""), { edit: { kind: "set-body" }, as: "text" })}
    </details>
  </section>`;
}

/** Where the body begins: behind the line that closes the head. */
function bodyStart(text: string): number {
  return /^\ufeff?---[^\r\n]*(?:\r\n|\n|\r)[^]*?(?:\r\n|\n|\r)---[ \t]*(?:\r\n|\n|\r|$)/.exec(text)?.[0].length ?? 0;
}

function lines(
  context: PartContext,
  outline: readonly EntryOutline[],
  findings: readonly Finding[],
  { files }: Moment,
): Html {
  const parts = outline.flatMap((entry) => (entry.kind === "part" ? [entry.part] : []));
  const inPart = ({ line }: Finding, part: PartOutline) => line >= part.line && line <= part.lastLine;
  const offered = offeredFor(["item", "place", "fastening"], { files, platforms: [context.platform] });
  const say = wordsFor(context.service).deskSteps;
  let number = 0;
  return html`${findingsList(findings.filter((each) => !parts.some((part) => inPart(each, part))))}
    <ol class="card-lines">
      ${outline.map((entry) => {
        if (entry.kind === "heading") return html`<li class="section"><h3>${entry.text}</h3></li>`;
        if (entry.kind !== "part") return undefined;
        const { part } = entry,
          at = (number += 1),
          own = findings.filter((each) => inPart(each, part));
        return html`<li>
          <details id="line-${at}">
            <summary>
              ${
                part.name === "check"
                  ? `${part.text}: ${String(part.attributes["answer"] ?? "")}`
                  : `${partName(part.name, context)}: ${part.text}`
              }
              ${own.length > 0 && html`<span class="tally">${sayCounts(own)}</span>`}
            </summary>
            ${partForm(
              context,
              undefined,
              part,
              at,
              parts.length,
              part.name === "check" ? cardLineFields(part, at, offered, context) : undefined,
            )}
          </details>
          ${findingsList(own)}
        </li>`;
      })}
    </ol>
    ${additions(context, undefined, ["check", "warning", "caution", "note"], say.addLine)}`;
}
