/** The form by which something gets another id, everywhere. */
import type { Collection } from "../../../schema/collection.ts";
import { wordsFor } from "../../../words/words.ts";
import { html, type Html } from "../../html.ts";
import { issuedNaming, RENAMED, type Renamed, wasIssued } from "../../rename/rename.ts";
import { line } from "./controls.ts";

/** What is to get another id, and the screen on which it is then found: `{}` stands for the new id. */
interface Shown {
  readonly files: Collection;
  readonly what: Renamed;
  readonly platform?: string | undefined;
  /** Of a step: the procedure in whose file it stands. */
  readonly procedure?: string;
  readonly id: string;
  readonly screen?: string;
}

/** The sort of something that a file declares, if that can get another id at the desk. */
export const renamedSort = (sort: string | undefined): Renamed | undefined => RENAMED.find((each) => each === sort);

/** The form, closed until it is wanted; it says what becomes of what was issued. */
export function renameForm({ files, what, platform, procedure, id, screen }: Shown): Html {
  const say = wordsFor(files.service).deskRename,
    renaming = { what, platform, from: id };
  // What was issued keeps its id: a form for another one could only be refused.
  if (wasIssued(files, renaming))
    return html`<p class="small issued-id">
      ${what === "platform" ? say.platformIssued({ from: id }) : say.issued({ from: id })}.
    </p>`;
  const issued = issuedNaming(files, renaming);
  return html`<details class="insert rename" id="rename-${what === "step" ? "step-" : ""}${id}">
    <summary>${say.summary} <span class="code">${id}</span></summary>
    <form data-send="rename">
      ${Object.entries({ what, platform, procedure, from: id, screen }).map(
        ([name, value]) => value !== undefined && html`<input type="hidden" name="${name}" value="${value}" />`,
      )}
      ${line(say.newId, id, "to", { hint: what === "platform" ? say.platformHint : say.hint })}
      ${issued > 0 && html`<p class="small">${say.issuedNaming({ documents: issued })}</p>`}
      <button type="submit">${say.change}</button>
    </form>
  </details>`;
}
