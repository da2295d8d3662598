/** A step's photos: those it shows, those that it could, and a new one taken in. */
import type { Photo } from "../../../schema/collection.ts";
import { html, type Html } from "../../html.ts";
import { heard } from "../../../words/heard.ts";
import { act, type Changes } from "./controls.ts";
import type { StepContext } from "./step-form.ts";

/** `text`: what the step's attribute says. */
export function stepPhotos(
  { platform, procedure }: StepContext,
  step: number,
  text: string,
  change: Required<Omit<Changes, "as">>,
): Html {
  const shown = text.split(/\s+/).filter(Boolean),
    say = heard("deskPhotos"),
    others = platform.photos.filter(({ id, file }) => file && !shown.includes(id));
  return html`<fieldset class="photos">
    <legend>${say.photos}</legend>
    <ul>
      ${shown.map((id) => {
        const rest = shown.filter((each) => each !== id).join(" "),
          photo = platform.photos.find((each) => each.id === id);
        const off = [rest ? { ...change.edit, value: rest } : change.none];
        return html`<li>
          ${
            photo?.file
              ? html`<a href="../../../photos/${platform.id}/${id}/"
                  ><img
                    src="../../../photo/${platform.id}/${id}?v=${photo.image?.bytes ?? 0}"
                    alt=""
                    width="160"
                  /><span>${say.marksOf({ id })}</span></a
                >`
              : html`<span>${heard("deskForms").unknown({ id })}</span>`
          }
          ${act(say.takeOff, off, { name: say.takeOffWhich({ id }) })}
        </li>`;
      })}
    </ul>
    ${
      others.length > 0 &&
      html`<label class="field"
        ><span>${say.addOne}</span
        ><select data-edit="${JSON.stringify(change.edit)}" data-before="${shown.join(" ")}">
          <option value="">${heard("deskForms").choose}</option>
          ${others.map(({ id, alt }) => html`<option value="${id}">${alt ?? id}</option>`)}
        </select></label
      >`
    }
    ${takeForm({ id: `take-${step}`, label: say.takeNew }, "take-photo", {
      platform: platform.id,
      step: { file: procedure.file, number: step },
    })}
  </fieldset>`;
}

/** A picture that is still to be chosen, and what it shows. `more`: what else is asked. */
export function takeForm(
  {
    id,
    label,
    button = heard("deskPhotos").takeIn,
  }: { readonly id: string; readonly label: string; readonly button?: string },
  to: string,
  head: Readonly<Record<string, unknown>>,
  { alt = "", more }: { readonly alt?: string | undefined; readonly more?: Html } = {},
): Html {
  const say = heard("deskPhotos");
  return html`<details class="insert take" id="${id}">
    <summary>${label}</summary>
    <form data-take="${JSON.stringify({ to, head })}">
      <label class="field drop"
        ><span>${say.choose}</span
        ><input
          type="file"
          name="picture"
          required
          accept="image/jpeg,image/png,image/webp,image/heic,image/heif,.heic,.heif"
        /><small>${say.isStripped}</small></label
      >
      <canvas class="chosen" aria-hidden="true" hidden></canvas>
      <label class="field"
        ><span>${say.shows}</span><textarea name="alt" rows="2" required maxlength="2000">${alt}</textarea
        ><small>${say.showsHint}</small></label
      >
      ${more}
      <button type="submit">${button}</button>
    </form>
  </details>`;
}

/** The photos of a platform, each with its screen. */
export function photoShelf(photos: readonly Photo[], platform: string): Html {
  const say = heard("deskPhotos");
  return html`<details class="shelf-of-photos" id="photos-${platform}">
    <summary>${say.count({ photos: photos.length })}</summary>
    <ul class="shelf">
      ${photos.map(
        ({ id, alt, file }) =>
          html`<li>
            ${
              file
                ? html`<a href="photos/${platform}/${id}/">${alt ?? id}</a>`
                : html`<span>${say.noPicture({ id })}</span>`
            }
            <span class="code">${id}</span>
          </li>`,
      )}
    </ul>
    ${takeForm({ id: `take-${platform}`, label: say.takeNew }, "take-photo", { platform })}
  </details>`;
}
