/** What became of a document or a table that was taken in: what was written, and all that was not placed. */
import { capital } from "../../domain/words/say.ts";
import type { Assets } from "../../site/assets.ts";
import { wordsFor } from "../../words/words.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import type { TakenIn } from "../changes/take-in.ts";
import { inEnglish } from "./in-english.ts";
import { frame } from "./frame.ts";

interface Shown {
  readonly moment: Moment;
  readonly assets: Assets;
  readonly taken: TakenIn;
  readonly trouble: string | undefined;
}

/** As the desk says it, where nobody meets the names of fields: `for whom it is (`weight`)` as `For whom it is`. */
const atTheDesk = (line: string): string => capital(line.replace(/ \(`[^)]*`\)/g, ""));

/** Lists what could not be placed, each in a sentence, and leads to what was written. */
export function takenInScreen({ moment, assets, taken, trouble }: Shown): Html {
  const say = wordsFor(moment.files.service).deskTaken,
    { fileName, address, steps, photos = 0, items = 0, left, toSay } = taken,
    name = fileName || say.pasted;
  const list = (lines: readonly string[]) =>
    html`<ul class="shelf" ${inEnglish()}>
      ${lines.map((each) => html`<li>${each}</li>`)}
    </ul>`;
  return frame(
    { title: say.title({ name }), assets, depth: 2, trouble, moment },
    html`<div class="desk-title">
        <h1>${say.title({ name })}</h1>
        <p class="tally">${steps === undefined ? say.wroteItems({ items }) : say.wroteDraft({ steps, photos })}</p>
      </div>
      <p><a class="go" href="../../${address}">${steps === undefined ? say.toItems : say.toDraft}</a></p>
      <section aria-labelledby="left">
        <h2 id="left">${say.notPlaced}</h2>
        ${
          left.length > 0
            ? html`<p>${say.lookAtEach}</p>
                ${list(left)}`
            : html`<p>${say.allPlaced}</p>`
        }
      </section>
      ${
        toSay.length > 0 &&
        html`<section aria-labelledby="to-say">
          <h2 id="to-say">${say.beforeReview}</h2>
          ${list(toSay.map(atTheDesk))}
        </section>`
      }`,
  );
}
