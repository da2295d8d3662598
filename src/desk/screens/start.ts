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
    { title: `${files.service.name}: the desk`, assets, depth: 0, trouble, moment: moment.number },
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
            ${newForm(platform, "procedure", "Title, as an order", "What is done, and to what")}
            ${list("Configurations", platform.configurations, of, ({ file }) => `form/${file}`)}
            ${newForm(platform, "configuration", "What the arrangement is called", "By what stands there")}
            ${list("Options", platform.options, of, ({ file }) => `form/${file}`)}
            ${newForm(platform, "option", "What the option is called", "By what is added")}
            ${photoShelf(platform.photos, platform.id)}
          </section>`,
      )}
      <section aria-labelledby="files">
        <h2 id="files">The service, what it has, and other files</h2>
        <ul class="shelf">
          ${filesOf(moment).map(
            ({ file, name }) =>
              html`<li>
                <a href="form/${file}">${name}</a> <span class="code">${file}</span>
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
function newForm({ id }: Platform, sort: "procedure" | "configuration" | "option", title: string, hint: string): Html {
  return html`<details class="insert" id="new-${sort === "procedure" ? id : `${sort}-${id}`}">
    <summary>A new ${sort}</summary>
    <form data-send="new">
      <input type="hidden" name="sort" value="${sort}" /><input type="hidden" name="platform" value="${id}" />
      ${line(title, "", "title", { hint })} ${line("Code, by which your service files it", "", "code")}
      ${area("What it is for", "", "purpose", "In a sentence or two")}
      <button type="submit">Begin it</button>
    </form>
  </details>`;
}

/** Files that have forms and are in no list above, each with what it is. */
function filesOf({ files }: Moment): readonly { readonly file: string; readonly name: string }[] {
  const { platforms, reviews = [] } = files;
  return [
    { file: "service.yaml", name: "The service" },
    { file: "folders.yaml", name: "Folders" },
    { file: "incidents.yaml", name: "Incidents" },
    ...platforms.flatMap(({ id, name, amendments = [], readings }) => [
      { file: `${id}/platform.yaml`, name: `${name}: places, fastenings, limits` },
      { file: `${id}/equipment.yaml`, name: `${name}: equipment` },
      ...[...amendments, ...readings].map(({ file, title }) => ({ file, name: title || file })),
    ]),
    ...reviews.map(({ file }) => ({ file, name: "A review" })),
  ];
}

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
