/** The desk's first screen: what the collection holds, and what `check` says of each file, errors first. */
import type { Finding } from "../../findings/finding.ts";
import type { Controlled, Platform } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { sayStatus } from "../../domain/words/say.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { area, line } from "./controls.ts";
import { findingsList, sayCounts } from "./findings.ts";
import { frame } from "./frame.ts";
import { photoShelf } from "./step-photos.ts";

/** Lists the documents and files of a collection with their findings. `trouble`: why the files can't be read now. */
export function startScreen(moment: Moment, assets: Assets, trouble?: string): Html {
  const { files } = moment,
    findings = moment.findings();
  const of = (file: string) => findings.filter((finding) => finding.file === file);
  return frame(
    { title: `${files.service.name}: the desk`, assets, depth: 0, trouble },
    html`<div class="desk-title">
        <h1>${files.service.name}</h1>
        <p class="tally">${sayCounts(findings)}</p>
      </div>
      ${
        findings.length > 0 &&
        html`<section aria-labelledby="found">
          <h2 id="found">What stands in the way</h2>
          ${findingsList(findings, { up: "", files })}
        </section>`
      }
      ${files.platforms.map(
        (platform) =>
          html`<section aria-labelledby="p-${platform.id}">
            <h2 id="p-${platform.id}">${platform.name}</h2>
            ${list("Procedures", platform.procedures, of, (each) => `procedures/${each.platform}/${each.id}/`)}
            ${list("Configurations", platform.configurations, of, (each) => siteOf("configurations", each))}
            ${list("Options", platform.options, of, (each) => siteOf("options", each))} ${newForm(platform)}
            ${photoShelf(platform.photos, platform.id)}
          </section>`,
      )}
      <section aria-labelledby="files">
        <h2 id="files">Files</h2>
        <ul class="shelf">
          ${filesOf(moment).map((file) => html`<li><a href="text/${file}">${file}</a> ${tally(of(file))}</li>`)}
        </ul>
      </section>`,
  );
}

/** How much there is to mend in a file; nothing where there is nothing. */
function tally(findings: readonly Finding[]): Html | false {
  return findings.length > 0 && html`<span class="tally">${sayCounts(findings)}</span>`;
}

/** A procedure that is still to be written. */
function newForm({ id }: Platform): Html {
  return html`<details class="insert" id="new-${id}">
    <summary>A new procedure</summary>
    <form data-send="new">
      <input type="hidden" name="platform" value="${id}" />
      ${line("Title, as an order", "", "title", { hint: "“Seat the newborn capsule”" })}
      ${line("Code, by which your service files it", "", "code")}
      ${area("What it is for", "", "purpose", "In a sentence or two")}
      <button type="submit">Begin it</button>
    </form>
  </details>`;
}

/** Files of the collection that are written as text, with those that no screen of its own shows. */
function filesOf({ files }: Moment): readonly string[] {
  const { platforms, folders, incidents, reviews = [] } = files;
  return [
    "service.yaml",
    ...(folders.length > 0 ? ["folders.yaml"] : []),
    ...(incidents.length > 0 ? ["incidents.yaml"] : []),
    ...platforms.flatMap(({ id, configurations, options, amendments = [], readings }) => [
      `${id}/platform.yaml`,
      `${id}/equipment.yaml`,
      ...[...configurations, ...options, ...amendments, ...readings].map(({ file }) => file),
    ]),
    ...reviews.map(({ file }) => file),
  ];
}

const siteOf = (sort: string, { platform, id }: Controlled) => `site/${platform}/${sort}/${id}/`;

function list<Each extends Controlled>(
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
                >Revision ${each.revision}, ${sayStatus(each.status)}</a
              >
              ${tally(of(each.file))}
            </li>`,
        )}
      </ul>`
  );
}

/** The screen for an address that the desk does not have. */
export function sayLost(assets: Assets): Html {
  return frame(
    { title: "There is nothing here", assets, depth: undefined },
    html`<h1>There is nothing here</h1>
      <p>The collection has no such page any more, or the address is not whole.</p>`,
  );
}
