/** The desk's first screen: what the collection holds, and what `check` says of each file, errors first. */
import type { Finding } from "../../findings/finding.ts";
import type { Controlled, Platform } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { sayStatus } from "../../domain/words/say.ts";
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import type { TakenIn } from "../changes/take-in.ts";
import { amendmentsList, newAmendment } from "./forms/amendment-form.ts";
import { area, choice, line } from "./forms/controls.ts";
import { nameOfFile } from "./file-names.ts";
import { findingsList, sayCounts } from "./findings.ts";
import { frame } from "./frame.ts";
import { photoShelf } from "./forms/step-photos.ts";

type Say = Words["deskStart"];

/** Lists the documents and files of a collection with their findings. `trouble`: why the files can't be read now. */
export function startScreen(
  moment: Moment,
  assets: Assets,
  { trouble, takenIn }: { readonly trouble: string | undefined; readonly takenIn: readonly TakenIn[] },
): Html {
  const { files } = moment,
    findings = moment.findings(),
    say = wordsFor(files.service).deskStart;
  const of = (file: string) => findings.filter((finding) => finding.file === file);
  return frame(
    { title: say.title({ service: files.service.name }), assets, depth: 0, trouble, moment },
    html`<div class="desk-title">
        <h1>${files.service.name}</h1>
        <p class="tally">${sayCounts(findings)}</p>
      </div>
      ${
        findings.length > 0 &&
        html`<section aria-labelledby="found">
          <h2 id="found">${say.inTheWay}</h2>
          ${findingsList(findings, { up: "", files })}
        </section>`
      }
      ${files.platforms.map(
        (platform) =>
          html`<section aria-labelledby="p-${platform.id}">
            <h2 id="p-${platform.id}">${platform.name}</h2>
            ${list(say, say.procedures, platform.procedures, of, (each) => `procedures/${each.platform}/${each.id}/`)}
            ${newForm(say, platform, "procedure")} ${takeInForm(moment, platform, takenIn)}
            ${list(say, say.configurations, platform.configurations, of, ({ file }) => `form/${file}`)}
            ${newForm(say, platform, "configuration")}
            ${list(say, say.options, platform.options, of, ({ file }) => `form/${file}`)}
            ${newForm(say, platform, "option")} ${amendmentsList(moment, platform, (file) => tally(of(file)))}
            ${newAmendment(moment, platform)} ${photoShelf(platform.photos, platform.id)}
          </section>`,
      )}
      ${newPlatform(say)}
      <section aria-labelledby="files">
        <h2 id="files">${say.files}</h2>
        <ul class="shelf">
          ${filesOf(moment).map(
            (file) =>
              html`<li>
                <a href="form/${file}">${nameOfFile(files, file)}</a>
                ${tally(of(file))}
              </li>`,
          )}
        </ul>
      </section>`,
  );
}

/** How much there is to mend in a file; nothing where there is nothing. */
function tally(findings: readonly Finding[]): Html | false {
  return findings.length > 0 && html`<span class="tally">${sayCounts(findings)}</span>`;
}

/** A document that is still to be written. */
function newForm(say: Say, { id }: Platform, sort: "procedure" | "configuration" | "option"): Html {
  const { summary, title, hint } = {
    procedure: { summary: say.newProcedure, title: say.procedureTitle, hint: say.procedureHint },
    configuration: { summary: say.newConfiguration, title: say.configurationTitle, hint: say.configurationHint },
    option: { summary: say.newOption, title: say.optionTitle, hint: say.optionHint },
  }[sort];
  return html`<details class="insert" id="new-${sort === "procedure" ? id : `${sort}-${id}`}">
    <summary>${summary}</summary>
    <form data-send="new">
      <input type="hidden" name="sort" value="${sort}" /><input type="hidden" name="platform" value="${id}" />
      ${line(title, "", "title", { hint })} ${line(say.code, "", "code")}
      ${area(say.purpose, "", "purpose", say.purposeHint)}
      <button type="submit">${say.begin}</button>
    </form>
  </details>`;
}

/** A document or a table that there is already, and what became of those that were taken in today. */
function takeInForm({ files }: Moment, { id, places }: Platform, takenIn: readonly TakenIn[]): Html {
  const say = wordsFor(files.service).deskTaken;
  return html`<details class="insert take" id="take-in-${id}">
      <summary>${say.takeIn}</summary>
      <form data-take-in="${JSON.stringify({ platform: id })}">
        <label class="field drop"
          ><span>${say.choose}</span><input type="file" name="document" accept=".docx,.csv,.tsv,.txt" /><small
            >${say.chooseHint}</small
          ></label
        >
        ${area(say.paste, "", "pasted", say.pasteHint)}
        ${choice(
          say.keptIn,
          "",
          places.map((place) => ({ value: place.id, name: place.name })),
          "home",
          say.keptInHint,
        )}
        <button type="submit">${say.begin}</button>
      </form>
    </details>
    ${
      takenIn.some(({ platform }) => platform === id) &&
      html`<ul class="shelf">
        ${takenIn.map(
          ({ platform, fileName, left }, at) =>
            platform === id &&
            html`<li>
              <a href="taken-in/${at + 1}/">${say.title({ name: fileName || say.pasted })}</a>
              ${left.length > 0 && html`<span class="tally">${say.leftCount({ lines: left.length })}</span>`}
            </li>`,
        )}
      </ul>`
    }`;
}

/** A platform that is still to be written: its name, and the first places, without which it is none. */
function newPlatform(say: Say): Html {
  return html`<details class="insert" id="new-platform">
    <summary>${say.newPlatform}</summary>
    <form data-send="new-platform">
      ${line(say.platformName, "", "name", { hint: say.platformNameHint })}
      ${line(say.firstPlace, "", "place", { hint: say.firstPlaceHint })}
      ${line(say.store, "", "store", { hint: say.storeHint })}
      <button type="submit">${say.begin}</button>
    </form>
  </details>`;
}

/** Files that have forms and are in no list above. */
function filesOf({ files: { platforms, reviews = [] } }: Moment): readonly string[] {
  return [
    "service.yaml",
    "folders.yaml",
    "incidents.yaml",
    ...platforms.flatMap(({ id, readings }) => [
      `${id}/platform.yaml`,
      `${id}/equipment.yaml`,
      ...readings.map(({ file }) => file),
    ]),
    ...reviews.map(({ file }) => file),
  ];
}

function list<Each extends Controlled>(
  say: Say,
  title: string,
  documents: readonly Each[],
  of: (file: string) => readonly Finding[],
  addressOf: (document: Each) => string,
): Html | false {
  return (
    documents.length > 0 &&
    html`<h3>${title}</h3>
      <ul class="shelf">
        ${documents.map(
          (each) =>
            html`<li>
              <a href="${addressOf(each)}">${each.title || each.id}</a>
              <span class="code">${each.code}</span>
              <a class="aside" href="review/${each.platform}/${each.id}/"
                >${say.state({ revision: each.revision, status: sayStatus(each.status) })}</a
              >
              ${tally(of(each.file))}
            </li>`,
        )}
      </ul>`
  );
}

/** The screen for an address that the desk does not have. */
export function sayLost(moment: Moment, assets: Assets): Html {
  const say = heard("deskFrame");
  return frame(
    { title: say.lost, assets, depth: undefined, moment },
    html`<h1>${say.lost}</h1>
      <p>${say.lostWhy}</p>`,
  );
}
