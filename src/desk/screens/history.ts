/** What was saved of a file on this day, the latest first, each with what it changed, and the way back to it. */
import { diffLines } from "diff";
import type { Assets } from "../../site/assets.ts";
import { writeTime } from "../../schema/spoken.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { frame } from "./frame.ts";

/** One state; `text` is `undefined` where it is kept no longer, `null` where the file was not there. */
interface KeptState {
  /** When it was saved, as ISO 8601 in UTC. */
  readonly at: string;
  readonly hash: string | null;
  readonly text: string | null | undefined;
}

/** The screen of a file's day; `states` the latest first, `hash` what going back is based on. */
export function historyScreen(
  moment: Moment,
  assets: Assets,
  file: string,
  states: readonly KeptState[],
  hash: string,
): Html {
  const say = heard("deskDay");
  return frame(
    { title: say.title({ file }), assets, depth: file.split("/").length, moment },
    html`<div class="desk-title" data-file="${file}" data-hash="${hash}">
        <h1>${say.title({ file })}</h1>
        <p>${say.about}</p>
      </div>
      ${
        states.length === 0
          ? html`<p>${say.nothing}</p>`
          : html`<ol class="day">
              ${states.map((state, at) => stateOf(file, state, states[at + 1], at === states.length - 1, hash))}
            </ol>`
      }`,
  );
}

function stateOf(file: string, state: KeptState, before: KeptState | undefined, isFirst: boolean, now: string): Html {
  const { at, hash, text } = state,
    isNow = hash === now,
    say = heard("deskDay"),
    when = isFirst ? say.beforeFirst : writeTime(new Date(at));
  return html`<li class="${isNow ? "held" : "open"}">
    <h2>${isNow ? say.asNow({ when }) : when}</h2>
    ${!isFirst && before && changed(before.text, text)}
    ${
      !isNow &&
      typeof text === "string" &&
      html`<form data-send="restore">
        <input type="hidden" name="file" value="${file}" /><input type="hidden" name="basedOn" value="${now}" /><input
          type="hidden"
          name="hash"
          value="${hash ?? ""}"
        />
        <button type="submit" aria-label="${say.backTo({ when })}">${say.back}</button>
      </form>`
    }
  </li>`;
}

/** The lines that went and came, in their order. */
function changed(before: string | null | undefined, after: string | null | undefined): Html {
  const say = heard("deskDay");
  if (typeof before !== "string") return html`<p>${before === null ? say.made : say.notKept}</p>`;
  if (typeof after !== "string") return html`<p>${after === null ? say.removed : say.notKept}</p>`;
  const parts = diffLines(before, after).filter(({ added, removed }) => added || removed);
  return html`<pre tabindex="0" role="group" aria-label="${say.whatChanged}">
${parts.map(({ added, value }) => (added ? html`<ins>${value}</ins>` : html`<del>${value}</del>`))}</pre>`;
}
