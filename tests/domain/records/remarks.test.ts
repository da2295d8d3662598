/**
 * Who may approve a revision: another person than the author, when every remark has its answer (ISO 9001:2015, 7.5.2 c
 * asks for review and approval; that the approver is another person is common practice, no source). Invented documents.
 */
import { describe, expect, it } from "vitest";
import { isOpen, remarksOn, stepOfRemark, whyNotApproved } from "../../../src/domain/records/remarks.ts";
import type { Procedure, ReviewRemark, Review } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

const { platforms } = await readCollection("tests/fixtures/collections/sled");
const where = { file: "reviews/a.yaml", line: 4, column: 5 };
const approved = platforms[0]!.procedures.find(({ id }) => id === "fit-oxygen")!;
const document: Procedure = { ...approved, status: "in review" };
const remark: ReviewRemark = { by: "Lead medic", date: "2026-01-12", text: "Which way?", where, at: {} };
const reviewOf = (remarks: readonly ReviewRemark[], revision = 1): Review => ({
  file: where.file,
  platform: document.platform,
  document: document.id,
  revision,
  remarks,
  where,
  at: {},
});
const approval = { role: "Rescue lead", effective: "2026-06-01" };

describe("a role", () => {
  it("other than the author approves what has no open remark", () => {
    expect(whyNotApproved({}, document, approval)).toEqual([]);
    expect(whyNotApproved({ reviews: [reviewOf([{ ...remark, answer: "Away" }])] }, document, approval)).toEqual([]);
  });

  it("that wrote the revision does not, however it is spelled", () => {
    expect(whyNotApproved({}, document, { ...approval, role: " training  OFFICER " })).toEqual([
      "Training officer wrote revision 1. Somebody else approves it.",
    ]);
  });

  it("is told of each remark without an answer, of this revision alone", () => {
    expect(
      whyNotApproved({ reviews: [reviewOf([remark, { ...remark, answer: "Away" }])] }, document, approval),
    ).toEqual(["One remark has no answer: Lead medic (reviews/a.yaml, line 4)."]);
    expect(whyNotApproved({ reviews: [reviewOf([remark])] }, { ...document, revision: 2 }, approval)).toEqual([
      "No entry of `changes` says what revision 2 changed. Add one.",
    ]);
  });

  it("approves nothing twice, nothing withdrawn, and nothing that would be reviewed before it counts", () => {
    expect(whyNotApproved({}, approved, approval)).toHaveLength(1);
    expect(whyNotApproved({}, { ...document, status: "withdrawn" }, approval)).toHaveLength(1);
    expect(whyNotApproved({}, document, { ...approval, reviewBy: "2026-06-01" })).toEqual([
      "Its next review, 2026-06-01, is not after 2026-06-01. Give a later day.",
    ]);
    const { reviewBy: _, ...undated } = document;
    expect(whyNotApproved({}, undated, approval)).toEqual(["It has no day of its next review. Give one."]);
  });

  it("does not let a revision count before it was made", () => {
    const change = { revision: 1, date: "2026-07-01", by: "Training officer", summary: "…", where, at: {} };
    expect(whyNotApproved({}, { ...document, changes: [change] }, approval)).toHaveLength(1);
  });
});

describe("a remark", () => {
  it("is about a step by its number or its id, or about the whole document", () => {
    expect(stepOfRemark({ ...remark, step: "1" }, document)).toBe(document.steps[0]);
    expect(stepOfRemark({ ...remark, step: "no-such-step" }, document)).toBeUndefined();
    expect(stepOfRemark(remark, document)).toBeUndefined();
  });

  it("belongs to the revision that was read", () => {
    const reviews = [reviewOf([remark]), reviewOf([remark, remark], 2)];
    expect(remarksOn({ reviews }, document)).toEqual([remark]);
    expect(remarksOn({}, document)).toEqual([]);
    expect([remark, { ...remark, answer: "Away" }].map(isOpen)).toEqual([true, false]);
  });
});
