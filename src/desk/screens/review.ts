/**
 * A document between its last word and its issue: what reviewers said of it, step by step, beside the page that they
 * read; who hands it in, approves and issues it; and how the next revision begins.
 */
import { authorOf } from "../../domain/records/author.ts";
import type { Issuable } from "../../domain/records/freeze.ts";
import { issueOf, issuesOf } from "../../domain/records/issues.ts";
import { isOpen, reviewsOn, stepOfRemark } from "../../domain/records/remarks.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { capital, sayDate, sayInstruction, sayNumber, sayStatus } from "../../domain/words/say.ts";
import { ownChange } from "../../rules/records.ts";
import type { Collection, Platform, ReviewRemark, Step } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import { documentsOf } from "../../site/records/revisions.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { act, area, line, oneOf } from "./controls.ts";
import { findingsList, sayCounts } from "./findings.ts";
import { frame } from "./frame.ts";
import { pagesOf } from "./page-of.ts";

/** What the screen shows. */
interface Reviewed {
  readonly moment: Moment;
  readonly platform: Platform;
  readonly document: Issuable;
  /** What a decision is based on: the hash of the text that this screen shows. */
  readonly hash: string;
  readonly assets: Assets;
  readonly trouble: string | undefined;
}

/** A remark with where it stands. */
interface Said {
  readonly remark: ReviewRemark;
  readonly file: string;
  readonly at: number;
}

const UP = "../../../";

/** The screen of one document's review, approval and issue. */
export function reviewScreen(shown: Reviewed): Html {
  const { moment, platform, document, assets, trouble, hash } = shown;
  const own = moment.findings().filter(({ file }) => file === document.file),
    said = saidOf(moment.files, document);
  const { page, review, difference } = pagesOf(moment, platform, document);
  const steps = "steps" in document ? document.steps : [];
  const atStep = (step: Step) => said.filter(({ remark }) => stepOfRemark(remark, document) === step),
    atNone = said.filter(({ remark }) => stepOfRemark(remark, document) === undefined);
  return frame(
    { title: `Review: ${document.title || document.id}`, assets, depth: 3, trouble, moment: moment.number },
    html`<div class="bench" data-file="${document.file}" data-hash="${hash}">
      <div class="write">
        <div class="desk-title">
          <h1>${document.title || document.id}</h1>
          <p class="tally">${document.code} · revision ${document.revision} · ${sayCounts(own)}</p>
          <p class="acts">
            <button type="button" data-again="undo">Undo</button> <button type="button" data-again="redo">Redo</button>
            ${"steps" in document && html`<a href="${UP}procedures/${document.platform}/${document.id}/">Write it</a>`}
            <a class="to-page" href="#page">To the page</a>
          </p>
        </div>
        ${roles(shown)} ${way(shown)} ${decision(shown, said)}
        ${
          own.length > 0 &&
          html`<section aria-labelledby="found">
            <h2 id="found">What the checks say of it</h2>
            ${findingsList(own, { up: UP, files: moment.files })}
          </section>`
        }
        <section aria-labelledby="remarks">
          <h2 id="remarks">
            Remarks${said.length > 0 && `: ${sayNumber(said.filter(isUnanswered).length, "open one")}`}
          </h2>
          <div class="remarked">
            <h3>The whole document</h3>
            ${atNone.map((each) => remarkOf(each, document))} ${remarkForm(shown, said)}
          </div>
          <ol class="remarked-steps">
            ${steps.map(
              (step) =>
                html`<li class="remarked" id="step-${step.number}">
                  <p><b class="at">${step.number}</b> ${sayInstruction(step)}</p>
                  ${atStep(step).map((each) => remarkOf(each, document))} ${remarkForm(shown, said, step)}
                </li>`,
            )}
          </ol>
        </section>
      </div>
      <div class="page" id="page">
        <p class="acts">
          <a href="${UP}site/${page}" target="live">The page</a>
          <a href="${UP}site/${review}" target="live">What an approver signs</a>
          ${difference && html`<a href="${UP}site/${difference}" target="live">Before and after, step by step</a>`}
        </p>
        <iframe name="live" src="${UP}site/${page}" title="${document.title}, as a reviewer reads it"></iframe>
      </div>
    </div>`,
  );
}

const isUnanswered = ({ remark }: Said) => isOpen(remark);

/** Remarks on the present revision. */
function saidOf(files: Collection, document: Issuable): readonly Said[] {
  return reviewsOn(files, document).flatMap(({ file, remarks }) => remarks.map((remark, at) => ({ remark, file, at })));
}

/** Where it stands: four pins on a rail, filled as far as it has come. */
function way({ moment, document }: Reviewed): Html {
  const { status, effective, approvedBy } = document,
    issues = issuesOf(moment.files, document),
    isIssued = issueOf(moment.files, document) !== undefined;
  const reached = isIssued ? 4 : ["draft", "in review", "approved"].indexOf(status) + 1;
  const stations: readonly (readonly [string, string])[] = [
    ["Written", authorOf(document) ?? "nobody named yet"],
    ["In review", reached >= 2 ? "handed in" : "not handed in"],
    [
      "Approved",
      reached >= 3 ? `${approvedBy ?? "nobody named"}, from ${effective ? sayDate(effective) : "no day"}` : "not yet",
    ],
    ["Issued", isIssued ? "frozen" : issues.length > 0 ? `revision ${issues.at(-1)!.revision} counts` : "not yet"],
  ];
  return html`<ol
    class="way"
    aria-label="Where revision ${document.revision} stands: ${isIssued ? "issued" : sayStatus(status)}"
  >
    ${stations.map(
      ([name, says], at) =>
        html`<li class="${at < reached ? "held" : "open"}"><b>${name}</b> <span>${says}</span></li>`,
    )}
  </ol>`;
}

/** What can be decided next. */
function decision(shown: Reviewed, said: readonly Said[]): Html {
  const { moment, document } = shown;
  if (document.status === "withdrawn") return html`<p>It is withdrawn: nobody is asked to approve it.</p>`;
  if (document.status === "draft") return handIn(shown);
  if (document.status === "in review") return approval(shown, said);
  return issueOf(moment.files, document) ? raise(shown) : issue(shown);
}

const based = ({ document, hash }: Reviewed): Html =>
  html`<input type="hidden" name="document" value="${document.platform}/${document.id}" />
    <input type="hidden" name="basedOn" value="${hash}" />`;

/**
 * Roles that the collection names, to choose from. They stand outside the forms: where a form gives way to another one,
 * the browser's morphing does not come to an end over an id that both hold.
 */
function roles({ moment: { files }, document }: Reviewed): Html {
  const all = files.platforms.flatMap(documentsOf).flatMap(({ owner, approvedBy }) => [owner, approvedBy]);
  const names = [document.owner, ...all, ...files.service.crew.map(({ name }) => name)].filter(
    (each) => each !== undefined,
  );
  return html`<datalist id="roles">
    ${[...new Set(names)].map((name) => html`<option value="${name}"></option>`)}
  </datalist>`;
}

function decide(title: string, sends: string, content: Html): Html {
  return html`<section class="decide" aria-labelledby="next">
    <h2 id="next">${title}</h2>
    <form data-send="${sends}" class="fields" id="${sends}">${content}</form>
  </section>`;
}

function handIn(shown: Reviewed): Html {
  const { document } = shown,
    isExplained = document.revision === 1 || ownChange(document) !== undefined;
  return decide(
    "Hand it in for review",
    "hand-in",
    html`${based(shown)} ${line("Who wrote it: a role", authorOf(document) ?? "", "owner", ANOTHER)}
      ${
        !isExplained &&
        html`${area(`What revision ${document.revision} changes`, "", "summary", "In a sentence")}
        ${area("Why", "", "reason")}`
      } <button type="submit">Hand it in</button>`,
  );
}

const ANOTHER = { hint: "Another one approves it", list: "roles" };
const YEAR = 365;

function approval(shown: Reviewed, said: readonly Said[]): Html {
  const { moment, document } = shown,
    open = said.filter(isUnanswered).length;
  return html`${decide(
      "Approve it",
      "approve",
      html`${based(shown)}
        ${
          open > 0 &&
          html`<p class="wide">
            <b>${capital(sayNumber(open, "remark waits", "remarks wait"))} for an answer</b>: before that nobody
            approves it.
          </p>`
        }
        ${line("Who approves: a role", "", "role", {
          hint: `Not ${authorOf(document) ?? "whoever wrote it"}, who wrote it`,
          list: "roles",
        })}
        ${line("It counts from", document.effective ?? moment.day, "effective", { type: "date" })}
        ${line("Looked at again by", laterThan(document.reviewBy, moment.day), "reviewBy", { type: "date" })}
        <p class="small wide">It is a record, not a lock: it says who took it on, for everybody to see.</p>
        <button type="submit">Approve revision ${document.revision}</button>`,
    )}
    <p class="acts">
      ${act("Give it back to whoever wrote it", [{ kind: "set-field", path: ["status"], value: "draft" }])}
    </p>`;
}

/** The day in the file, unless it comes too soon; else a year on. */
function laterThan(given: string | undefined, day: string): string {
  return given !== undefined && given > addDays(day, 30) ? given : addDays(day, YEAR);
}

function issue(shown: Reviewed): Html {
  const { moment, document } = shown,
    errors = moment.findings().filter(({ severity }) => severity === "error");
  return html`${decide(
      "Issue it",
      "issue",
      html`<input type="hidden" name="document" value="${document.platform}/${document.id}" />
        <p class="wide">
          Frozen, it counts from ${document.effective ? sayDate(document.effective) : "the first day"}, with the cards
          that change with it. What is issued is never changed again: the next change is another revision.
        </p>
        <button type="submit">Issue revision ${document.revision}</button>`,
    )}
    ${
      errors.length > 0 &&
      html`<h3>Errors that are in its way</h3>
        <p>Nothing is issued from a collection that has errors.</p>
        ${findingsList(errors, { up: UP, files: moment.files })}`
    }
    <p class="acts">
      ${act("Take the approval back", [
        { kind: "set-field", path: ["status"], value: "in review" },
        ...(document.approvedBy === undefined ? [] : [{ kind: "remove-field", path: ["approved-by"] }]),
      ])}
    </p>`;
}

function raise(shown: Reviewed): Html {
  const { document } = shown;
  return decide(
    "Change it",
    "raise",
    html`${based(shown)}
      <p class="wide">
        Revision ${document.revision} counts until revision ${document.revision + 1} is approved and issued, whatever is
        written meanwhile.
      </p>
      ${line("Who changes it: a role", document.owner ?? "", "by", { list: "roles" })}
      ${area("What changes", "", "summary", "In a sentence: it stands in the notice that everybody reads")}
      ${area("Why", "", "reason")}
      ${oneOf(
        "Must people be signed off again?",
        "signOffs",
        "",
        [
          { value: "", name: "As worked out from what changed" },
          { value: "again", name: "Yes, again" },
          { value: "stand", name: "No, sign-offs stand" },
        ],
        "signOffs",
      )}
      <button type="submit">Begin revision ${document.revision + 1}</button>`,
  );
}

function remarkOf({ remark, file, at }: Said, document: Issuable): Html {
  const isLost = remark.step !== undefined && stepOfRemark(remark, document) === undefined;
  return html`<div class="remark ${isOpen(remark) ? "open" : "held"}" id="${idOf(file)}-${at}">
    ${isLost && html`<p class="small">Of a step that is no longer there</p>`}
    <p><b>${remark.by}</b>, ${sayDate(remark.date)}: ${remark.text}</p>
    ${
      remark.answer === undefined
        ? html`<form data-send="answer">
            <input type="hidden" name="file" value="${file}" /><input type="hidden" name="at" value="${at}" /><input
              type="hidden"
              name="said"
              value="${remark.text}"
            />
            ${area("Answer: what was changed, or why nothing was", "", "answer")}
            <button type="submit">Answer</button>
          </form>`
        : html`<p><b>Answered${remark.answered && `, ${sayDate(remark.answered)}`}</b>: ${remark.answer}</p>`
    }
  </div>`;
}

const idOf = (file: string) => file.replace(/[^a-z0-9]+/gi, "-");

/** A remark that is still to be written. Who said the last one is likely to say the next. */
function remarkForm({ document }: Reviewed, said: readonly Said[], step?: Step): Html {
  const name =
    step === undefined ? "" : step.id !== undefined && step.procedure === document.id ? step.id : String(step.number);
  return html`<details class="insert">
    <summary>${step === undefined ? "Say something of the whole" : `Say something of step ${step.number}`}</summary>
    <form data-send="remark">
      <input type="hidden" name="document" value="${document.platform}/${document.id}" />
      ${step !== undefined && html`<input type="hidden" name="step" value="${name}" />`}
      ${line("Who you are: a role or a name", said.at(-1)?.remark.by ?? "", "by", { list: "roles" })}
      ${area("What you noticed", "", "text")}
      <button type="submit">Leave the remark</button>
    </form>
  </details>`;
}
