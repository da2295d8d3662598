/** What a procedure says of itself: title, code, state, dates, for whom. */
import type { Procedure } from "../../schema/collection.ts";
import { html, type Html } from "../html.ts";
import type { EntryOutline } from "../edits/outline.ts";
import { bandField } from "./bands.ts";
import { area, choice, line } from "./controls.ts";

const field = (name: string) => ({
  edit: { kind: "set-field", path: [name] },
  none: { kind: "remove-field", path: [name] },
});

/** The form of the head, closed until it is wanted. */
export function headForm(procedure: Procedure, text: string, outline: readonly EntryOutline[]): Html {
  const begin = outline.findIndex(({ kind }) => kind !== "text");
  const purpose = outline
    .slice(0, begin < 0 ? outline.length : begin)
    .map((entry) => (entry.kind === "text" ? entry.text : ""));
  const has = (name: string) => new RegExp(`^${name}:`, "m").test(text);
  const band = (name: string) => (has(name) ? field(name) : { edit: field(name).edit });
  return html`<details class="head" id="head">
    <summary>
      <span>About this procedure</span> <span class="code">${procedure.code}</span> revision ${procedure.revision},
      ${procedure.status}
    </summary>
    <div class="fields">
      ${line("Title", procedure.title, { edit: field("title").edit })}
      ${line("Code", procedure.code, { edit: field("code").edit })}
      ${line("Revision", String(procedure.revision), { edit: field("revision").edit }, { type: "number" })}
      ${choice(
        "Status",
        procedure.status,
        ["draft", "in review", "approved", "withdrawn"].map((each) => ({ value: each, name: each })),
        { edit: field("status").edit },
      )}
      ${line("In force from", procedure.effective ?? "", field("effective"), { type: "date" })}
      ${line("Review by", procedure.reviewBy ?? "", field("review-by"), { type: "date" })}
      ${line("Owner, a role", procedure.owner ?? "", field("owner"))}
      ${line("Approved by, another role", procedure.approvedBy ?? "", field("approved-by"))}
      ${bandField("weight", has("weight") ? procedure.band.weight : undefined, "any", band("weight"))}
      ${bandField("age", has("age") ? procedure.band.age : undefined, "any", band("age"))}
      ${area("What it is for", purpose.join("\n\n"), { edit: { kind: "set-purpose" }, as: "text" })}
    </div>
  </details>`;
}
