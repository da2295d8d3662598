/** Temporary amendments on the desk's screens: the form of a new one, and how one ends or is taken out. */
import { addDays } from "../../../domain/records/signoffs.ts";
import { sayNotRunning, sayDays, stateOn } from "../../../domain/words/days.ts";
import { sayDate } from "../../../domain/words/say.ts";
import type { Amendment, Platform } from "../../../schema/collection.ts";
import { amendmentIn } from "../../../schema/documents.ts";
import { html, type Html } from "../../html.ts";
import type { Moment } from "../../reader.ts";
import { wordsFor } from "../../../words/words.ts";
import { area, choice, line } from "./controls.ts";
import { offeredFor } from "./offered.ts";

/** For how many days a new one runs where nobody says otherwise: long enough to mend most things, no source. */
const FORTNIGHT = 14;

/** The form of one that is still to be written. The revision that it is about is worked out as it is begun. */
export function newAmendment({ files, day }: Moment, platform: Platform): Html {
  const say = wordsFor(files.service).deskAmendment,
    around = { files, platforms: [platform] },
    none = { value: "", name: say.none };
  return html`<details class="insert" id="new-amendment-${platform.id}">
    <summary>${say.begin}</summary>
    <form data-send="new-amendment">
      <input type="hidden" name="platform" value="${platform.id}" />
      ${line(say.title, "", "title", { hint: say.titleHint })}
      ${line(say.number, "", "number", { hint: say.numberHint })} ${area(say.reason, "", "reason")}
      ${choice(say.procedure, "", [none, ...offeredFor(["procedure"], around)], "procedure", say.procedureHint)}
      ${area(say.warning, "", "warning", say.warningHint)}
      ${choice(say.item, "", [none, ...offeredFor(["item"], around)], "item", say.itemHint)}
      ${line(say.from, day, "from", { type: "date" })}
      ${line(say.until, addDays(day, FORTNIGHT - 1), "until", { type: "date", hint: say.untilHint })}
      ${line(say.owner, "", "owner")} ${line(say.approvedBy, "", "approvedBy", { hint: say.approvedByHint })}
      <button type="submit">${say.beginIt}</button>
    </form>
  </details>`;
}

/** Those of a platform, each with its days and whether it runs; nothing where there are none. */
export function amendmentsList(
  { files, day }: Moment,
  { amendments = [] }: Platform,
  tally: (file: string) => Html | false,
) {
  const say = wordsFor(files.service).deskAmendment;
  return (
    amendments.length > 0 &&
    html`<h3>${say.heading}</h3>
      <ul class="shelf">
        ${amendments.map(
          (each) =>
            html`<li>
              <a href="form/${each.file}">${each.title}</a> <span class="code">${each.number}</span>
              <span>${stateOf(each, day) ?? say.unsaid}</span>
              ${tally(each.file)}
            </li>`,
        )}
      </ul>`
  );
}

/** Its days where it runs, else that it does not; nothing where it does not say its days. */
function stateOf(amendment: Amendment, day: string): string | undefined {
  if (amendment.from === "" || amendment.until === "") return undefined;
  return sayNotRunning(day, amendment) ?? sayDays(amendment);
}

/** How it ends before its last day, or is taken out of the collection: by the day, never one that crews work by. */
export function amendmentEnd({ files, day }: Moment, file: string, hash: string): Html | undefined {
  const amendment = amendmentIn(files, file);
  if (!amendment || amendment.from === "" || amendment.until === "") return undefined;
  const say = wordsFor(files.service).deskAmendment,
    eve = addDays(day, -1);
  const based = html`<input type="hidden" name="file" value="${file}" /><input
      type="hidden"
      name="basedOn"
      value="${hash}"
    />`;
  const ending = (last: "today" | "yesterday", label: string) =>
    html`<form data-send="end-amendment">
      ${based}<input type="hidden" name="last" value="${last}" /><button type="submit">${label}</button>
    </form>`;
  const isRunning = stateOn(day, amendment) === "running";
  return html`<section aria-labelledby="ending">
    <h2 id="ending">${isRunning ? say.endIt : say.takeOut}</h2>
    <p>${stateOf(amendment, day)!}</p>
    ${
      isRunning
        ? html`<p>${say.endWhy}</p>
            <div class="acts">
              ${amendment.until > day && ending("today", say.endToday({ day: sayDate(day) }))}
              ${amendment.from <= eve && ending("yesterday", say.endYesterday({ day: sayDate(eve) }))}
            </div>
            ${amendment.from === day && html`<p class="small">${say.firstDayIsToday}</p>`}`
        : html`<p>${stateOn(day, amendment) === "lapsed" ? say.lapsedWhy : say.comingWhy}</p>
            <form data-send="remove-amendment" class="acts">
              ${based}<button type="submit">${say.takeItOut}</button>
            </form>`
    }
  </section>`;
}
