/**
 * A document between its last word and its issue: what reviewers said of it, step by step, beside the page that they
 * read; who hands it in, approves and issues it; and how the next revision begins.
 */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import { authorOf } from "../../domain/records/author.ts";
import { issueOf, issuesOf } from "../../domain/records/issues.ts";
import { isOpen, reviewsOn, stepOfRemark } from "../../domain/records/remarks.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { sayDate, sayInstruction, sayStatus } from "../../domain/words/say.ts";
import { ownChange } from "../../rules/records.ts";
import type { Collection, Platform, ReviewRemark, Step } from "../../schema/collection.ts";
import type { Assets } from "../../site/assets.ts";
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import { heard } from "../../words/heard.ts";
import { html, type Html } from "../html.ts";
import type { Moment } from "../reader.ts";
import { act, area, line, oneOf } from "./forms/controls.ts";
import { findingsList, tallyOf } from "./findings.ts";
import { againButtons, frame } from "./frame.ts";
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

const sayOf = ({ moment }: Pick<Reviewed, "moment">): Words["deskReview"] => wordsFor(moment.files.service).deskReview;

/** The screen of one document's review, approval and issue. */
export function reviewScreen(shown: Reviewed): Html {
  const { moment, platform, document, assets, trouble, hash } = shown,
    say = sayOf(shown);
  const own = moment.findings().filter(({ file }) => file === document.file),
    said = saidOf(moment.files, document);
  const { page, review, difference } = pagesOf(moment, platform, document);
  const isProcedure = "steps" in document,
    steps = isProcedure ? document.steps : [];
  const atStep = (step: Step) => said.filter(({ remark }) => stepOfRemark(remark, document) === step),
    atNone = said.filter(({ remark }) => stepOfRemark(remark, document) === undefined);
  return frame(
    { title: say.title({ title: document.title || document.id }), assets, depth: 3, trouble, moment },
    html`<div class="bench" data-file="${document.file}" data-hash="${hash}">
      <div class="write">
        <div class="desk-title">
          <h1>${document.title || document.id}</h1>
          <p class="tally">
            ${document.code} · ${say.revision({ revision: document.revision })} · ${tallyOf(own, moment.findings(), UP)}
          </p>
          <p class="acts">
            ${againButtons()}
            ${isProcedure && html`<a href="${UP}procedures/${document.platform}/${document.id}/">${say.write}</a>`}
            <a class="to-page" href="#page">${heard("deskFrame").toPage}</a>
          </p>
        </div>
        ${roles(shown)} ${way(shown)} ${decision(shown, said)}
        ${
          own.length > 0 &&
          html`<section aria-labelledby="found">
            <h2 id="found">${say.found}</h2>
            ${findingsList(own, { up: UP, files: moment.files })}
          </section>`
        }
        <section aria-labelledby="remarks">
          <h2 id="remarks">
            ${said.length > 0 ? say.remarksOpen({ open: said.filter(isUnanswered).length }) : say.remarks}
          </h2>
          <div class="remarked">
            <h3>${say.whole}</h3>
            ${atNone.map((each) => remarkOf(say, each, document))} ${remarkForm(shown, said)}
          </div>
          <ol class="remarked-steps">
            ${steps.map(
              (step) =>
                html`<li class="remarked" id="step-${step.number}">
                  <p><b class="at">${step.number}</b> ${sayInstruction(step)}</p>
                  ${atStep(step).map((each) => remarkOf(say, each, document))} ${remarkForm(shown, said, step)}
                </li>`,
            )}
          </ol>
        </section>
      </div>
      <div class="page" id="page">
        <p class="acts">
          <a href="${UP}site/${page}" target="live">${say.page}</a>
          <a href="${UP}site/${review}" target="live">${say.signed}</a>
          ${difference && html`<a href="${UP}site/${difference}" target="live">${say.difference}</a>`}
        </p>
        <iframe name="live" src="${UP}site/${page}" title="${say.pageOf({ title: document.title })}"></iframe>
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
  const say = sayOf({ moment }),
    { status, effective, approvedBy } = document,
    issues = issuesOf(moment.files, document),
    isIssued = issueOf(moment.files, document) !== undefined;
  const reached = isIssued ? 4 : ["draft", "in review", "approved"].indexOf(status) + 1;
  const stations: readonly (readonly [string, string])[] = [
    [say.written, authorOf(document) ?? say.nobodyYet],
    [say.inReview, reached >= 2 ? say.handedIn : say.notHandedIn],
    [
      say.approved,
      reached >= 3
        ? say.approvedFrom({ by: approvedBy ?? say.nobody, day: effective ? sayDate(effective) : say.noDay })
        : say.notYet,
    ],
    [
      say.issued,
      isIssued ? say.frozen : issues.length > 0 ? say.counts({ revision: issues.at(-1)!.revision }) : say.notYet,
    ],
  ];
  return html`<ol
    class="way"
    aria-label="${say.stands({ revision: document.revision, where: isIssued ? say.issued : sayStatus(status) })}"
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
  if (document.status === "withdrawn") return html`<p>${sayOf(shown).withdrawn}</p>`;
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
    say = sayOf(shown),
    isExplained = document.revision === 1 || ownChange(document) !== undefined;
  return decide(
    say.handIn,
    "hand-in",
    html`${based(shown)} ${line(say.whoWrote, authorOf(document) ?? "", "owner", { hint: say.another, list: "roles" })}
      ${
        !isExplained &&
        html`${area(say.whatChanges({ revision: document.revision }), "", "summary", say.inASentence)}
        ${area(say.why, "", "reason")}`
      } <button type="submit">${say.handInNow}</button>`,
  );
}

const YEAR = 365;

function approval(shown: Reviewed, said: readonly Said[]): Html {
  const { moment, document } = shown,
    say = sayOf(shown),
    open = said.filter(isUnanswered).length;
  return html`${decide(
      say.approve,
      "approve",
      html`${based(shown)} ${open > 0 && html`<p class="wide"><b>${say.waits({ open })}</b>: ${say.waitsSo}</p>`}
        ${line(say.whoApproves, "", "role", {
          hint: say.notAuthor({ author: authorOf(document) ?? say.whoever }),
          list: "roles",
        })}
        ${line(say.countsFrom, document.effective ?? moment.day, "effective", { type: "date" })}
        ${line(say.lookedAt, laterThan(document.reviewBy, moment.day), "reviewBy", { type: "date" })}
        <p class="small wide">${say.isRecord}</p>
        <button type="submit">${say.approveNow({ revision: document.revision })}</button>`,
    )}
    <p class="acts">${act(say.giveBack, [{ kind: "set-field", path: ["status"], value: "draft" }])}</p>`;
}

/** The day in the file, unless it comes too soon; else a year on. */
function laterThan(given: string | undefined, day: string): string {
  return given !== undefined && given > addDays(day, 30) ? given : addDays(day, YEAR);
}

function issue(shown: Reviewed): Html {
  const { moment, document } = shown,
    say = sayOf(shown),
    errors = moment.findings().filter(({ severity }) => severity === "error");
  return html`${decide(
      say.issue,
      "issue",
      html`<input type="hidden" name="document" value="${document.platform}/${document.id}" />
        <p class="wide">${say.willCount({ day: document.effective ? sayDate(document.effective) : say.firstDay })}</p>
        <button type="submit">${say.issueNow({ revision: document.revision })}</button>`,
    )}
    ${
      errors.length > 0 &&
      html`<h3>${say.inTheWay}</h3>
        <p>${say.noErrors}</p>
        ${findingsList(errors, { up: UP, files: moment.files })}`
    }
    <p class="acts">
      ${act(say.takeBack, [
        { kind: "set-field", path: ["status"], value: "in review" },
        ...(document.approvedBy === undefined ? [] : [{ kind: "remove-field", path: ["approved-by"] }]),
      ])}
    </p>`;
}

function raise(shown: Reviewed): Html {
  const { document } = shown,
    say = sayOf(shown);
  return decide(
    say.change,
    "raise",
    html`${based(shown)}
      <p class="wide">${say.countsUntil({ revision: document.revision, next: document.revision + 1 })}</p>
      ${line(say.whoChanges, document.owner ?? "", "by", { list: "roles" })}
      ${area(say.what, "", "summary", say.whatHint)} ${area(say.why, "", "reason")}
      ${oneOf(
        say.signOffs,
        "signOffs",
        "",
        [
          { value: "", name: say.asWorkedOut },
          { value: "again", name: say.signOffsAgain },
          { value: "stand", name: say.signOffsStand },
        ],
        "signOffs",
      )}
      <button type="submit">${say.raiseNow({ revision: document.revision + 1 })}</button>`,
  );
}

function remarkOf(say: Words["deskReview"], { remark, file, at }: Said, document: Issuable): Html {
  const isLost = remark.step !== undefined && stepOfRemark(remark, document) === undefined;
  return html`<div class="remark ${isOpen(remark) ? "open" : "held"}" id="${idOf(file)}-${at}">
    ${isLost && html`<p class="small">${say.lostStep}</p>`}
    <p><b>${remark.by}</b>, ${sayDate(remark.date)}: ${remark.text}</p>
    ${
      remark.answer === undefined
        ? html`<form data-send="answer">
            <input type="hidden" name="file" value="${file}" /><input type="hidden" name="at" value="${at}" /><input
              type="hidden"
              name="said"
              value="${remark.text}"
            />
            ${area(say.answerHint, "", "answer")}
            <button type="submit">${say.answer}</button>
          </form>`
        : html`<p>
            <b>${remark.answered ? say.answeredOn({ day: sayDate(remark.answered) }) : say.answered}</b>:
            ${remark.answer}
          </p>`
    }
  </div>`;
}

const idOf = (file: string) => file.replace(/[^a-z0-9]+/gi, "-");

/** A remark that is still to be written. Who said the last one is likely to say the next. */
function remarkForm({ moment, document }: Reviewed, said: readonly Said[], step?: Step): Html {
  const say = sayOf({ moment }),
    name =
      step === undefined ? "" : step.id !== undefined && step.procedure === document.id ? step.id : String(step.number);
  return html`<details class="insert">
    <summary>${step === undefined ? say.ofWhole : say.ofStep({ step: step.number })}</summary>
    <form data-send="remark">
      <input type="hidden" name="document" value="${document.platform}/${document.id}" />
      ${step !== undefined && html`<input type="hidden" name="step" value="${name}" />`}
      ${line(say.whoYouAre, said.at(-1)?.remark.by ?? "", "by", { list: "roles" })} ${area(say.noticed, "", "text")}
      <button type="submit">${say.leave}</button>
    </form>
  </details>`;
}
