/** The frame of every screen of the desk. */
import type { Assets } from "../../site/assets.ts";
import { heard } from "../../words/heard.ts";
import { changeTexts, directionOf, isolateMeasures } from "../../words/isolate.ts";
import { tellWords } from "../../words/words.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";

interface Frame {
  readonly title: string;
  readonly assets: Assets;
  /** How many folders deep the screen's address is; unknown for addresses that the desk does not have. */
  readonly depth: number | undefined;
  /** Why the files can't be read at this moment. */
  readonly trouble?: string | undefined;
  /** The reading that is shown. */
  readonly moment: Moment;
}

/** A whole page. Its links are relative: the key stands in the address, and nowhere in a page. */
export function frame({ title, assets, depth, trouble, moment }: Frame, content: Html): Html {
  const up = "../".repeat(depth ?? 0) || "./",
    { day, night } = heard("frame"),
    say = heard("deskFrame");
  const {
      number,
      files: { service },
    } = moment,
    direction = directionOf(service.language),
    told = JSON.stringify(tellWords(service, ["deskScript"])).replaceAll("<", "\\u003c");
  const nameOf = (name: string) => `${up}${assets.names.get(name) ?? ""}`;
  const made = html`<!doctype html>
    <html
      lang="${service.language}"
      ${direction && html`dir="${direction}"`}
      ${depth !== undefined && html`data-moment="${number}"`}
    >
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>${title}</title>
        ${
          depth !== undefined &&
          html`<link rel="icon" href="${up}site/icon.svg" />
            <link rel="stylesheet" href="${nameOf("desk.css")}" />
            <script type="application/json" data-words>
              ${{ html: told }}
            </script>
            <script src="${nameOf("desk.js")}" data-desk="${up}"></script>`
        }
      </head>
      <body>
        <a class="skip" href="#content">${say.toContent}</a>
        <header class="desk-top">
          ${depth !== undefined && html`<a href="${up}">${say.desk}</a><a href="${up}site/">${say.site}</a>`}
          <button class="theme" type="button" data-day="${day}" data-night="${night}" hidden>${night}</button>
        </header>
        <main id="content" tabindex="-1">
          ${trouble && html`<p class="trouble" role="alert">${say.unreadable({ trouble })}</p>`} ${content}
        </main>
        <p id="said" role="status"></p>
        <dialog id="elsewhere" aria-labelledby="elsewhere-title">
          <h2 id="elsewhere-title">${say.elsewhere}</h2>
          <p>${say.nothingLost}</p>
          <div class="both">
            <section aria-label="${say.inFile}">
              <h3>${say.inFile}</h3>
              <pre data-theirs tabindex="0"></pre>
            </section>
            <section aria-label="${say.yours}">
              <h3>${say.yours}</h3>
              <pre data-yours tabindex="0"></pre>
            </section>
          </div>
          <form method="dialog" class="acts">
            <button value="theirs">${say.leave}</button>
            <button value="mine">${say.putIn}</button>
          </form>
        </dialog>
      </body>
    </html>`;
  // As on the site's pages: number and unit are read in their order.
  return direction ? { html: changeTexts(made.html, isolateMeasures) } : made;
}

/** The buttons by which the day's last save is taken back and done again. */
export function againButtons(): Html {
  const { undo, redo } = heard("deskFrame");
  return html`<button type="button" data-again="undo">${undo}</button>
    <button type="button" data-again="redo">${redo}</button>`;
}
