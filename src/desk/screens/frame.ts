/** The frame of every screen of the desk. */
import type { Assets } from "../../site/assets.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";

interface Frame {
  readonly title: string;
  readonly assets: Assets;
  /** How many folders deep the screen's address is; unknown for addresses that the desk does not have. */
  readonly depth: number | undefined;
  /** Why the files can't be read at this moment. */
  readonly trouble?: string | undefined;
  /** The number of the reading that is shown. */
  readonly moment?: number;
}

/** A whole page. Its links are relative: the key stands in the address, and nowhere in a page. */
export function frame({ title, assets, depth, trouble, moment }: Frame, content: Html): Html {
  const up = "../".repeat(depth ?? 0) || "./",
    { day, night } = heard("frame");
  const nameOf = (name: string) => `${up}${assets.names.get(name) ?? ""}`;
  return html`<!doctype html>
    <html lang="en-GB" ${moment !== undefined && html`data-moment="${moment}"`}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>${title}</title>
        ${
          depth !== undefined &&
          html`<link rel="icon" href="${up}site/icon.svg" />
            <link rel="stylesheet" href="${nameOf("desk.css")}" />
            <script src="${nameOf("desk.js")}" data-desk="${up}"></script>`
        }
      </head>
      <body>
        <a class="skip" href="#content">To the content</a>
        <header class="desk-top">
          ${depth !== undefined && html`<a href="${up}">The desk</a><a href="${up}site/">The site</a>`}
          <button class="theme" type="button" data-day="${day}" data-night="${night}" hidden>${night}</button>
        </header>
        <main id="content" tabindex="-1">
          ${trouble && html`<p class="trouble" role="alert">The files can't be read at this moment: ${trouble}</p>`}
          ${content}
        </main>
        <p id="said" role="status"></p>
        <dialog id="elsewhere" aria-labelledby="elsewhere-title">
          <h2 id="elsewhere-title">The file was changed elsewhere</h2>
          <p>Nothing is lost and nothing was saved yet. This is what the file says now, and what you wrote.</p>
          <div class="both">
            <section aria-label="In the file now">
              <h3>In the file now</h3>
              <pre data-theirs tabindex="0"></pre>
            </section>
            <section aria-label="What you wrote">
              <h3>What you wrote</h3>
              <pre data-yours tabindex="0"></pre>
            </section>
          </div>
          <form method="dialog" class="acts">
            <button value="theirs">Leave the file as it is</button>
            <button value="mine">Put in what I wrote</button>
          </form>
        </dialog>
      </body>
    </html>`;
}
