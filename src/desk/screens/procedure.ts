/** One procedure: its steps as forms beside its live page, with what `check` finds at each. */
import type { Finding } from "../../findings/finding.ts";
import type { Platform, Procedure } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { wordsFor } from "../../words/words.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import { type EntryOutline, outlineOf } from "../edits/outline.ts";
import type { Moment } from "../reader.ts";
import { findingsList, tallyOf } from "./findings.ts";
import { againButtons, frame } from "./frame.ts";
import { headForm } from "./forms/head-form.ts";
import { pagesOf } from "./page-of.ts";
import { renameForm } from "./forms/rename-form.ts";
import { insertForm, partName, stepForm, type StepContext } from "./forms/step-form.ts";

/** What the screen shows. */
interface Shown {
  readonly moment: Moment;
  readonly platform: Platform;
  readonly procedure: Procedure;
  /** The file as it is now, and what a change is based on. */
  readonly text: string;
  readonly hash: string;
  readonly assets: Assets;
  readonly trouble: string | undefined;
}

/** The screen of one procedure; of a file whose text is broken, its text alone. */
export function procedureScreen(shown: Shown): Html {
  const { moment, platform, procedure, text, hash, assets, trouble } = shown;
  const own = moment.findings().filter(({ file }) => file === procedure.file),
    outline = outlineOf(text);
  const { page } = pagesOf(moment, platform, procedure);
  return frame(
    {
      title: wordsFor(moment.files.service).deskSteps.title({ title: procedure.title || procedure.id }),
      assets,
      depth: 3,
      trouble,
      moment,
    },
    html`<div
      class="bench"
      data-file="${procedure.file}"
      data-hash="${hash}"
      data-displaced="${wordsFor(moment.files.service).deskSteps.displaced}"
      data-in-order="${wordsFor(moment.files.service).deskSteps.inOrder}"
    >
      <div class="write">
        <div class="desk-title">
          <h1>${procedure.title || procedure.id}</h1>
          <p class="tally">${tallyOf(own, moment.findings(), "../../../")}</p>
          <p class="acts">
            ${againButtons()}
            <a href="../../../review/${platform.id}/${procedure.id}/">${heard("deskFrame").review}</a>
            <a href="../../../text/${procedure.file}">${heard("deskFrame").asText}</a>
            <a href="../../../history/${procedure.file}">${heard("deskFrame").savedToday}</a>
            <a href="../../../site/guide/steps/" target="live"
              >${wordsFor(moment.files.service).deskSteps.howStepsAre}</a
            >
            <a class="to-page" href="#page">${heard("deskFrame").toPage}</a>
          </p>
        </div>
        ${
          outline
            ? forms(shown, outline, own)
            : html`<p class="trouble">${wordsFor(moment.files.service).deskSteps.broken}</p>
                ${findingsList(own)}`
        }
      </div>
      <div class="page" id="page">
        <iframe
          name="live"
          src="../../../site/${page}"
          title="${wordsFor(moment.files.service).deskSteps.pageOf({ title: procedure.title })}"
        ></iframe>
      </div>
    </div>`,
  );
}

function forms(
  { moment, platform, procedure, text }: Shown,
  outline: readonly EntryOutline[],
  findings: readonly Finding[],
): Html {
  const steps = outline.flatMap((entry) => (entry.kind === "step" ? [entry.step] : []));
  const context: StepContext = {
    platform,
    procedure,
    service: moment.files.service,
    files: moment.files,
    incidents: moment.files.incidents,
    steps,
  };
  const say = wordsFor(moment.files.service).deskSteps;
  const inSteps = (finding: Finding) => steps.some(({ line, lastLine }) => isWithin(finding, line, lastLine));
  let number = 0,
    heading = 0;
  return html`${findingsList(findings.filter((finding) => !inSteps(finding)))}
    ${headForm(
      procedure,
      text,
      outline,
      say,
      renameForm({
        files: moment.files,
        what: "procedure",
        platform: platform.id,
        id: procedure.id,
        screen: `procedures/${platform.id}/{}/`,
      }),
    )}
    <ol class="steps">
      ${outline.map((entry) => {
        if (entry.kind === "heading") {
          heading += 1;
          return html`<li class="section" id="heading-${heading}"><h2>${entry.text}</h2></li>`;
        }
        if (entry.kind === "part")
          return html`<li class="between">
            <b>${partName(entry.part.name, context)}</b>
            ${entry.part.text || String(entry.part.attributes["procedure"] ?? "")}
          </li>`;
        if (entry.kind === "text") return undefined;
        number += 1;
        const { line, lastLine } = entry.step;
        return stepForm(
          context,
          entry.step,
          number,
          findings.filter((finding) => isWithin(finding, line, lastLine)),
        );
      })}
      <li class="last">${insertForm(context, undefined, steps.length === 0 ? say.first : say.atEnd)}</li>
    </ol>`;
}

const isWithin = ({ line }: Finding, first: number, last: number) => line >= first && line <= last;
