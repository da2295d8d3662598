/** What was saved of a file on this day, the latest first, each with what it changed, and the way back to it. */
import { diffLines } from "diff";
import type { Assets } from "../../site/assets.ts";
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
  { number }: Moment,
  assets: Assets,
  file: string,
  states: readonly KeptState[],
  hash: string,
): Html {
  return frame(
    { title: `The day of ${file}`, assets, depth: file.split("/").length, moment: number },
    html`<div class="desk-title" data-file="${file}" data-hash="${hash}">
        <h1>The day of ${file}</h1>
        <p>
          What was saved here today, the latest first. Going back is a save like any other: it can be taken back too.
        </p>
      </div>
      ${
        states.length === 0
          ? html`<p>Nothing was saved today.</p>`
          : html`<ol class="day">
              ${states.map((state, at) => stateOf(file, state, states[at + 1], at === states.length - 1, hash))}
            </ol>`
      }`,
  );
}

function stateOf(file: string, state: KeptState, before: KeptState | undefined, isFirst: boolean, now: string): Html {
  const { at, hash, text } = state,
    isNow = hash === now,
    time = new Date(at).toLocaleTimeString("en-GB");
  return html`<li class="${isNow ? "held" : "open"}">
    <h2>${isFirst ? "Before the first save of the day" : time}${isNow && ": as it is now"}</h2>
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
        <button type="submit" aria-label="Back to this: ${isFirst ? "before the first save" : time}">
          Back to this
        </button>
      </form>`
    }
  </li>`;
}

/** The lines that went and came, in their order. */
function changed(before: string | null | undefined, after: string | null | undefined): Html {
  if (typeof before !== "string") return html`<p>${before === null ? "The file was made." : "Kept no longer."}</p>`;
  if (typeof after !== "string") return html`<p>${after === null ? "The file was removed." : "Kept no longer."}</p>`;
  const parts = diffLines(before, after).filter(({ added, removed }) => added || removed);
  return html`<pre tabindex="0" role="group" aria-label="What changed">
${parts.map(({ added, value }) => (added ? html`<ins>${value}</ins>` : html`<del>${value}</del>`))}</pre>`;
}
