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
    document.status === "approved" &&
      `Revision ${document.revision} is approved already. Raise \`revision\` before anything else is approved.`,
    document.status === "withdrawn" && "It is withdrawn. Set its status to `in review` first.",
    author === undefined && "It names no owner and nobody who made the change. Add `owner`.",
    author !== undefined &&
      isSameName(author, role) &&
      `${author} wrote revision ${document.revision}. Somebody else approves it.`,
    document.revision > 1 &&
      !change &&
      `No entry of \`changes\` says what revision ${document.revision} changed. Add one.`,
    open.length > 0 &&
      `${open.length === 1 ? "One remark has" : `${open.length} remarks have`} no answer: ` +
        `${open.map(({ by, where }) => `${by} (${where.file}, line ${where.line})`).join("; ")}.`,
    change !== undefined &&
      change.date !== "" &&
      effective < change.date &&
      `It would count from ${effective}, before it was changed on ${change.date}. Give a later day.`,
    "steps" in document && next === undefined && "It has no day of its next review. Give one.",
    next !== undefined && next <= effective && `Its next review, ${next}, is not after ${effective}. Give a later day.`,
  ];
  return why.filter((each) => each !== false);
}
