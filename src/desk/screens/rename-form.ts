/** The form by which something gets another id, everywhere. */
import type { Collection } from "../../schema/collection.ts";
import { html, type Html } from "../html.ts";
import { issuedNaming, RENAMED, type Renamed } from "../rename/rename.ts";
import { line } from "./controls.ts";

/** What is to get another id, and the screen on which it is then found: `{}` stands for the new id. */
interface Shown {
  readonly files: Collection;
  readonly what: Renamed;
  readonly platform?: string | undefined;
  readonly id: string;
  readonly screen?: string;
}

/** The sort of something that a file declares, if that can get another id at the desk. */
export const renamedSort = (sort: string | undefined): Renamed | undefined => RENAMED.find((each) => each === sort);

/** The form, closed until it is wanted; it says what becomes of what was issued. */
export function renameForm({ files, what, platform, id, screen }: Shown): Html {
  const issued = issuedNaming(files, { what, platform, from: id });
  return html`<details class="insert rename" id="rename-${id}">
    <summary>Another id than <span class="code">${id}</span></summary>
    <form data-send="rename">
      ${Object.entries({ what, platform, from: id, screen }).map(
        ([name, value]) => value !== undefined && html`<input type="hidden" name="${name}" value="${value}" />`,
      )}
      ${line("New id", "", "to", {
        hint:
          "Small letters, digits and hyphens. It is changed in every file that names it, in one save, and taken back " +
          "by one Undo.",
      })}
      ${
        issued > 0 &&
        html`<p class="small">
          Issued with this id: ${issued === 1 ? "one document" : `${issued} documents`}. What was issued stays as it
          was, and stays in force. ${issued === 1 ? "Its text" : "Their texts"} in the files will say the new id, which
          is a change: it takes a new revision, approval and issue.
        </p>`
      }
      <button type="submit">Change it everywhere</button>
    </form>
  </details>`;
}
