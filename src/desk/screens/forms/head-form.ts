/** What a procedure says of itself: title, code, state, dates, for whom. */
import { sayStatus } from "../../../domain/words/say.ts";
import type { Procedure } from "../../../schema/collection.ts";
import type { Words } from "../../../words/hear.ts";
import { html, type Html } from "../../html.ts";
import type { EntryOutline } from "../../edits/outline.ts";
import { bandField } from "./bands.ts";
import { area, choice, line } from "./controls.ts";

const field = (name: string) => ({
  edit: { kind: "set-field", path: [name] },
  none: { kind: "remove-field", path: [name] },
});

/** The form of the head, closed until it is wanted; `more`: what stands under its fields. */
export function headForm(
  procedure: Procedure,
  text: string,
  outline: readonly EntryOutline[],
  say: Words["deskSteps"],
  more: Html,
): Html {
  const begin = outline.findIndex(({ kind }) => kind !== "text");
  const purpose = outline
    .slice(0, begin < 0 ? outline.length : begin)
    .map((entry) => (entry.kind === "text" ? entry.text : ""));
  const has = (name: string) => new RegExp(`^${name}:`, "m").test(text);
  const band = (name: string) => (has(name) ? field(name) : { edit: field(name).edit });
  return html`<details class="head" id="head">
    <summary>
      <span>${say.aboutProcedure}</span>
      <span class="code">${procedure.code}</span>
      ${say.state({ revision: procedure.revision, status: sayStatus(procedure.status) })}
    </summary>
    <div class="fields">
      ${line(say.titleField, procedure.title, { edit: field("title").edit })}
      ${line(say.code, procedure.code, { edit: field("code").edit })}
      ${line(say.revision, String(procedure.revision), { edit: field("revision").edit }, { type: "number" })}
      ${choice(
        say.status,
        procedure.status,
        (["draft", "in review", "approved", "withdrawn"] as const).map((each) => ({
          value: each,
          name: sayStatus(each),
        })),
        { edit: field("status").edit },
      )}
      ${line(say.inForceFrom, procedure.effective ?? "", field("effective"), { type: "date" })}
      ${line(say.reviewBy, procedure.reviewBy ?? "", field("review-by"), { type: "date" })}
      ${line(say.owner, procedure.owner ?? "", field("owner"))}
      ${line(say.approvedBy, procedure.approvedBy ?? "", field("approved-by"))}
      ${bandField("weight", has("weight") ? procedure.band.weight : undefined, say.any, band("weight"))}
      ${bandField("age", has("age") ? procedure.band.age : undefined, say.any, band("age"))}
      ${area(say.purpose, purpose.join("\n\n"), { edit: { kind: "set-purpose" }, as: "text" })}
    </div>
    ${more}
  </details>`;
}
