/** What reviewers said of a document, and whether somebody may approve it: from the files, without version control. */
import type {
  Collection,
  Configuration,
  Controlled,
  Option,
  Procedure,
  Review,
  ReviewRemark,
  Step,
} from "../../schema/collection.ts";
import { authorOf, isSameName } from "./author.ts";
import { heard } from "../../words/heard.ts";

/** The files of remarks on a document's present revision, in their order. */
export function reviewsOn({ reviews = [] }: Pick<Collection, "reviews">, document: Controlled): readonly Review[] {
  return reviews.filter(
    (review) =>
      review.platform === document.platform && review.document === document.id && review.revision === document.revision,
  );
}

/** The remarks on a document's present revision, in the order of the files. */
export function remarksOn(collection: Pick<Collection, "reviews">, document: Controlled): readonly ReviewRemark[] {
  return reviewsOn(collection, document).flatMap(({ remarks }) => remarks);
}

/** Whether nobody has answered a remark yet. */
export function isOpen({ answer }: ReviewRemark): boolean {
  return answer === undefined;
}

/** The step that a remark is about, by id or number; `undefined` for the whole document, and where there is none. */
export function stepOfRemark({ step }: ReviewRemark, document: Procedure | Configuration | Option): Step | undefined {
  return step !== undefined && "steps" in document
    ? document.steps.find((each) =>
        /^\d+$/.test(step) ? each.number === Number(step) : each.procedure === document.id && each.id === step,
      )
    : undefined;
}

/** What an approval writes into a document's head. */
export interface Approval {
  /** Who approves: a role or a name. */
  readonly role: string;
  /** `YYYY-MM-DD`, from which the revision counts. */
  readonly effective: string;
  /** `YYYY-MM-DD`; absent to keep the document's own. */
  readonly reviewBy?: string | undefined;
}

/**
 * Why a role may not approve a document's present revision, each a sentence for a person; empty if it may. Common
 * practice, no source: another person than the author approves, when every remark has its answer.
 */
export function whyNotApproved(
  collection: Pick<Collection, "reviews">,
  document: Procedure | Configuration | Option,
  { role, effective, reviewBy }: Approval,
): string[] {
  const author = authorOf(document),
    change = document.changes.findLast(({ revision }) => revision === document.revision),
    open = remarksOn(collection, document).filter(isOpen),
    next = reviewBy ?? document.reviewBy;
  const why: (string | false)[] = [
    document.status === "approved" && heard("approving").revisionIsApprovedAlready({ revision: document.revision }),
    document.status === "withdrawn" && heard("approving").itIsWithdrawnSet,
    author === undefined && heard("approving").itNamesNoOwner,
    author !== undefined &&
      isSameName(author, role) &&
      heard("approving").wroteRevisionSomebodyElse({ author, revision: document.revision }),
    document.revision > 1 && !change && heard("approving").noEntryOfChanges({ revision: document.revision }),
    open.length > 0 &&
      heard("approving").oneRemarkHas({
        open: open.length,
        open2: open
          .map(({ by, where }) => heard("approving").line({ by, file: where.file, line: where.line }))
          .join("; "),
      }),
    change !== undefined &&
      change.date !== "" &&
      effective < change.date &&
      heard("approving").itWouldCount({ effective, date: change.date }),
    "steps" in document && next === undefined && heard("approving").itHasNoDay,
    next !== undefined && next <= effective && heard("approving").itsNextReview({ next, effective }),
  ];
  return why.filter((each) => each !== false);
}
