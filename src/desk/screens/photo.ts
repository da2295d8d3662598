/** One photo: its picture with marks, arrows and crop to be moved, what it shows in words, and another in its place. */
import { contentOfIssue } from "../../domain/records/freeze.ts";
import { photosIn } from "../../domain/records/pictures.ts";
import { arrowShape } from "../../drawing/arrow.ts";
import type { Photo, Platform } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import { contentHash } from "../disk/keep-states.ts";
import type { Moment } from "../reader.ts";
import { act, line } from "./forms/controls.ts";
import { findingsList, tallyOf } from "./findings.ts";
import { againButtons, frame } from "./frame.ts";
import { type ArrowEntry, isCropped, marksIn, nextNumber, type MarkEntry } from "./photo-marks.ts";
import { pagesOf } from "./page-of.ts";
import { renameForm } from "./forms/rename-form.ts";
import { takeForm } from "./forms/step-photos.ts";

/** What the screen shows. */
interface Shown {
  readonly moment: Moment;
  readonly platform: Platform;
  readonly photo: Photo;
  /** The sidecar as it is now; absent where there is none. */
  readonly text: string | undefined;
  /** Hash of the picture's file. */
  readonly image: string;
  readonly assets: Assets;
  readonly trouble: string | undefined;
}

/** Width of the drawing that lies over the picture, in its own units, as on the site. */
const WIDTH = 420;

/** The screen of one photo, of which there is a picture. */
export function photoScreen(shown: Shown): Html {
  const { moment, platform, photo, text, assets, trouble } = shown,
    sidecar = photo.sidecar ?? `${platform.id}/photos/${photo.id}.yaml`;
  const findings = moment.findings().filter(({ file }) => file === sidecar || file === photo.file),
    uses = usesOf(platform, photo),
    title = photo.alt ?? photo.id;
  const first = uses[0],
    marks = marksIn(text);
  return frame(
    { title: heard("deskFrame").ofDesk({ title }), assets, depth: 3, trouble, moment },
    html`<div class="bench" data-file="${sidecar}" data-hash="${text === undefined ? "" : contentHash(text)}">
      <div class="write">
        <div class="desk-title">
          <h1>${title}</h1>
          <p class="tally">${tallyOf(findings, moment.findings(), "../../../")}</p>
          <p class="acts">
            ${againButtons()}
            ${text !== undefined && html`<a href="../../../text/${sidecar}">${heard("deskFrame").wordsAsText}</a>`}
            ${first && html`<a class="to-page" href="#page">${heard("deskFrame").toPage}</a>`}
          </p>
          ${usesList(platform, uses)}
        </div>
        ${findingsList(findings)}
        ${marks ? bench(shown, marks.spots, marks.arrows) : html`<p class="trouble">${heard("deskPhotos").broken}</p>`}
        ${others(shown, uses.length > 0)}
      </div>
      ${
        first &&
        html`<div class="page" id="page">
          <iframe
            src="../../../site/${pagesOf(moment, platform, first.procedure).page}#step-${first.number}"
            title="${heard("deskSteps").pageOf({ title: first.procedure.title })}"
          ></iframe>
        </div>`
      }
    </div>`,
  );
}

interface Use {
  readonly procedure: Platform["procedures"][number];
  readonly number: number;
}

/** The steps that show a photo, each once, where they are written. */
function usesOf({ procedures }: Platform, { id }: Photo): readonly Use[] {
  return procedures.flatMap((procedure) =>
    procedure.steps
      .filter(({ photos, where }) => where.file === procedure.file && photos.some((each) => each.id === id))
      .map(({ number }) => ({ procedure, number })),
  );
}

function usesList({ id }: Platform, uses: readonly Use[]): Html {
  return uses.length === 0
    ? html`<p>${heard("deskPhotos").unused}</p>`
    : html`<p class="acts">
        ${uses.map(
          ({ procedure, number }) =>
            html`<a href="../../../procedures/${id}/${procedure.id}/#step-${number}"
              >${heard("deskPhotos").step({ procedure: procedure.title || procedure.id, step: number })}</a
            >`,
        )}
      </p>`;
}

/** Picture, marks and words. */
function bench(shown: Shown, spots: readonly MarkEntry[], arrows: readonly ArrowEntry[]): Html {
  return html`${stage(shown, spots, arrows)} ${marksForm(shown, spots, arrows)} ${wordsForm(shown)}`;
}

/** The picture with all that can be moved on it. Where each lies is in `data-`; the browser puts it there. */
function stage({ platform, photo, image }: Shown, spots: readonly MarkEntry[], arrows: readonly ArrowEntry[]): Html {
  const { width = 4, height = 3 } = photo.image ?? {},
    next = nextNumber(spots),
    say = heard("deskPhotos"),
    tall = Math.round((WIDTH * height) / width),
    { crop } = photo;
  const [right, bottom] = [crop.x + crop.width, crop.y + crop.height];
  const numbers = new Map(arrows.map(({ index }, at) => [index, at + 1]));
  const edges = [
    ["left", say.leftEdge, crop.x, "left"],
    ["top", say.upperEdge, crop.y, "top"],
    ["right", say.rightEdge, right, "left"],
    ["bottom", say.lowerEdge, bottom, "top"],
  ] as const;
  return html`<section aria-labelledby="stage-title" class="stage">
    <h2 id="stage-title">${say.onPicture}</h2>
    <p id="how-moved">${say.howMoved}</p>
    <div
      class="picture"
      id="picture"
      data-edges="${[crop.x, crop.y, right, bottom].join(" ")}"
      data-next="${next}"
      data-next-name="${say.newMarkNumber({ mark: next })}"
      data-next-asks="${say.pointsAtWhat({ mark: next })}"
    >
      <img
        src="../../../photo/${platform.id}/${photo.id}/large?v=${image.slice(0, 12)}"
        alt="${photo.alt ?? ""}"
        width="${width}"
        height="${height}"
        draggable="false"
      />
      <svg viewBox="0 0 ${WIDTH} ${tall}" aria-hidden="true">
        <path class="veil" fill-rule="evenodd" d="" />
        ${arrows.map(
          ({ index, ends: [x1, y1, x2, y2] }) =>
            html`<path
              class="arrow"
              data-arrow="${index}"
              d="${arrowShape([x1 * WIDTH, y1 * tall], [x2 * WIDTH, y2 * tall])}"
            />`,
        )}
      </svg>
      ${edges.map(
        ([side, name, at, from]) =>
          html`<div
            class="handle edge ${side}"
            id="edge-${side}"
            role="slider"
            tabindex="0"
            aria-orientation="${from === "left" ? "horizontal" : "vertical"}"
            aria-label="${name}"
            aria-describedby="how-moved"
            aria-valuemin="0"
            aria-valuemax="100"
            aria-valuenow="${percent(at)}"
            aria-valuetext="${sayPlace(from, at)}"
          ></div>`,
      )}
      ${arrows.map(({ index, ends }) =>
        [0, 1].map(
          (end) =>
            html`<button
              type="button"
              class="handle tip"
              id="tip-${index}-${end}"
              data-index="${index}"
              data-end="${end}"
              data-x="${ends[end * 2]!}"
              data-y="${ends[end * 2 + 1]!}"
              data-name="${say[end === 0 ? "tail" : "head"]({ arrow: numbers.get(index)! })}"
              aria-describedby="how-moved"
            ></button>`,
        ),
      )}
      ${spots.map((spot) =>
        spotOf(spot, spot.label ? say.markLabelled({ mark: spot.n, label: spot.label }) : say.mark({ mark: spot.n })),
      )}
      ${spotOf({ n: String(next), x: 0.5, y: 0.5 }, say.newMarkNumber({ mark: next }))}
    </div>
    <output id="where-moved">${say.nothingMoved}</output>
    <p class="acts">
      <button type="button" id="begin-mark">${say.newMark}</button>
      <button type="button" id="add-arrow">${say.newArrow}</button>
      ${isCropped(photo) && act(say.showWhole, [{ kind: "remove-field", path: ["crop"] }])}
    </p>
    <form id="new-mark" class="part" hidden>
      <label class="field"
        ><span>${say.pointsAtWhat({ mark: next })}</span
        ><input name="label" autocomplete="off" required maxlength="200"
      /></label>
      <span class="acts"
        ><button type="submit">${say.putMarkIn}</button
        ><button type="button" id="leave-mark">${say.leaveIt}</button></span
      >
    </form>
  </section>`;
}

function sayPlace(from: "left" | "top", at: number): string {
  const say = heard("deskScript");
  return from === "left" ? say.fromLeft({ x: percent(at) }) : say.fromTop({ y: percent(at) });
}

/** A mark that can be moved; one without an `index` is still to be named, and hidden until then. */
function spotOf({ index, n, x, y }: Omit<MarkEntry, "index" | "label"> & { index?: number }, name: string): Html {
  return html`<button
    type="button"
    class="handle spot"
    id="spot-${index ?? "new"}"
    ${index !== undefined && html`data-index="${index}"`}
    data-x="${x}"
    data-y="${y}"
    data-name="${name}"
    aria-describedby="how-moved"
    ${index === undefined && html`hidden`}
  >
    <span aria-hidden="true">${n}</span>
  </button>`;
}

function marksForm({ photo }: Shown, spots: readonly MarkEntry[], arrows: readonly ArrowEntry[]): Html | false {
  const remove = (index: number, last: boolean) =>
    last ? { kind: "remove-field", path: ["marks"] } : { kind: "remove-field", path: ["marks", index] };
  const isLast = spots.length + arrows.length === 1,
    say = heard("deskPhotos");
  return (
    spots.length + arrows.length > 0 &&
    html`<section aria-labelledby="marks-title" class="marks">
      <h2 id="marks-title">${say.marks}</h2>
      ${spots.map(({ index, n, x, y, label }) => {
        const path = (field: string) => ({ edit: { kind: "set-field", path: ["marks", index, field] } });
        return html`<fieldset class="part" id="mark-${index}">
          <legend>${say.mark({ mark: n })}</legend>
          ${line(say.pointsAt, label, path("label"))} ${line(say.number, n, path("n"), { type: "number" })}
          ${fractionField(say.fromLeft, index, "x", x)} ${fractionField(say.fromTop, index, "y", y)}
          <span class="acts"
            >${act(say.takeMarkOff, [remove(index, isLast)], { name: say.takeMarkOffWhich({ mark: n }) })}</span
          >
        </fieldset>`;
      })}
      ${arrows.map(
        ({ index }, at) =>
          html`<p class="acts">${act(say.takeArrowOff({ arrow: at + 1 }), [remove(index, isLast)])}</p>`,
      )}
      ${isCropped(photo) && html`<p class="small">${say.staysInside}</p>`}
    </section>`
  );
}

const percent = (fraction: number) => Number((fraction * 100).toFixed(1));

function fractionField(label: string, index: number, axis: "x" | "y", value: number): Html {
  return html`<label class="field"
    ><span>${label}</span
    ><input
      type="number"
      min="0"
      max="100"
      step="0.1"
      value="${percent(value)}"
      data-spot="${index}"
      data-axis="${axis}"
  /></label>`;
}

/** What is to be seen, since when, and of which items. */
function wordsForm({ platform, photo }: Shown): Html {
  const field = (name: string) => ({
      edit: { kind: "set-field", path: [name] },
      none: { kind: "remove-field", path: [name] },
    }),
    seen = photo.shows.map(({ id }) => id),
    say = heard("deskPhotos");
  return html`<section aria-labelledby="words-title" class="fields">
    <h2 id="words-title" class="wide">${say.inWords}</h2>
    <label class="field wide"
      ><span>${say.shows}</span
      ><textarea rows="2" data-edit="${JSON.stringify(field("alt").edit)}">${photo.alt ?? ""}</textarea>
    </label>
    ${line(say.takenOn, photo.taken ?? "", field("taken"), { type: "date" })}
    <details id="seen" class="wide">
      <summary>${say.itemsSeen({ items: seen.length })}</summary>
      <fieldset data-list="shows">
        <legend>${say.olderThan}</legend>
        ${platform.items.map(
          ({ id, name }) =>
            html`<label class="tick"
              ><input type="checkbox" value="${id}" ${seen.includes(id) && html`checked`} />${name}</label
            >`,
        )}
      </fieldset>
    </details>
  </section>`;
}

/** Another picture in its place; taking it out of the collection. */
function others({ moment, platform, photo, text, image }: Shown, isUsed: boolean): Html {
  const frozen = issuesWith(moment, photo),
    basedOn = { image, sidecar: text === undefined ? null : contentHash(text) };
  const head = { platform: platform.id, id: photo.id },
    say = heard("deskPhotos");
  return html`<section aria-labelledby="other-title" class="others">
    <h2 id="other-title">${say.another}</h2>
    ${frozen.length > 0 && html`<p>${say.wasIssued({ documents: frozen.join(", ") })}</p>`}
    ${takeForm(
      { id: "replace", label: say.replace, button: say.putInPlace },
      "replace-photo",
      { ...head, basedOn },
      {
        alt: photo.alt,
        more: html`<fieldset class="one-of">
          <legend>${say.marksAndCrop}</legend>
          <label><input type="radio" name="marks" value="drop" checked /><span>${say.beginAnew}</span></label>
          <label><input type="radio" name="marks" value="keep" /><span>${say.keepThem}</span></label>
        </fieldset>`,
      },
    )}
    ${renameForm({
      files: moment.files,
      what: "photo",
      platform: platform.id,
      id: photo.id,
      screen: `photos/${platform.id}/{}/`,
    })}
    ${
      !isUsed &&
      frozen.length === 0 &&
      html`<p class="acts">
        <button type="button" data-remove="${JSON.stringify({ ...head, basedOn })}" data-ask="${say.askTakeOut}">
          ${say.takeOut}
        </button>
      </p>`
    }
  </section>`;
}

/** The newest issue of each document that shows a photo. */
function issuesWith({ files }: Moment, { platform, id }: Photo): readonly string[] {
  const newest = new Map<string, { readonly title: string; readonly revision: number }>();
  for (const issue of files.issued) {
    const content = issue.platform === platform ? contentOfIssue(issue) : undefined;
    if (
      content &&
      photosIn(content).some((each) => each.id === id) &&
      issue.revision > (newest.get(issue.id)?.revision ?? 0)
    )
      newest.set(issue.id, { title: content.title, revision: issue.revision });
  }
  return [...newest.values()].map(({ title, revision }) => heard("deskPhotos").issue({ title, revision }));
}
