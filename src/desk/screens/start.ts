/** The desk's first screen: what the collection holds, and what `check` says of each file, errors first. */
import type { Finding } from "../../findings/finding.ts";
import type { Controlled } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { sayStatus } from "../../domain/words/say.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { findingsList, sayCounts } from "./findings.ts";
import { frame } from "./frame.ts";

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
      ${files.platforms.map(
        (platform) =>
          html`<section aria-labelledby="p-${platform.id}">
            <h2 id="p-${platform.id}">${platform.name}</h2>
            ${list("Procedures", platform.procedures, of, (each) => `procedures/${each.platform}/${each.id}/`)}
            ${list("Configurations", platform.configurations, of, (each) => siteOf("configurations", each))}
            ${list("Options", platform.options, of, (each) => siteOf("options", each))}
          </section>`,
      )}
      ${
        findings.length > 0 &&
        html`<section aria-labelledby="found">
          <h2 id="found">What stands in the way</h2>
          ${findingsList(findings)}
        </section>`
      }`,
  );
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
              <span>revision ${each.revision}, ${sayStatus(each.status)}</span>
              <span class="tally">${sayCounts(of(each.file))}</span>
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
