/** A file of the collection as text, with what `check` finds in it. */
import type { Assets } from "../../site/assets.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { area } from "./forms/controls.ts";
import { findingsList, tallyOf } from "./findings.ts";
import { againButtons, frame } from "./frame.ts";
import { guideOf } from "./guide-of.ts";

/** `file`: relative to the collection; `hash`: what a change is based on. */
export function textScreen(moment: Moment, assets: Assets, file: string, text: string, hash: string): Html {
  const findings = moment.findings().filter((finding) => finding.file === file);
  const up = "../".repeat(file.split("/").length),
    say = heard("deskFrame");
  return frame(
    { title: say.ofDesk({ title: file }), assets, depth: file.split("/").length, moment },
    html`<div class="bench" data-file="${file}" data-hash="${hash}">
      <div class="write">
        <div class="desk-title">
          <h1>${file}</h1>
          <p class="tally">${tallyOf(findings, moment.findings(), up)}</p>
          <p class="acts">
            ${againButtons()}
            <a href="${up}history/${file}">${say.savedToday}</a>
          </p>
        </div>
        <form data-send="text" data-whole>
          ${area(say.wholeFile, text, "text")}
          <button type="submit">${say.save}</button>
        </form>
      </div>
      <div class="page">
        ${findingsList(findings)}
        <iframe name="live" src="${up}site/${guideOf(file)}" title="${say.howWritten}"></iframe>
      </div>
    </div>`,
  );
}
