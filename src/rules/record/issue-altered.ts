/** Frozen issues that someone edited. */
import { isAsIssued } from "../../domain/cards/editions.ts";
import { isAsWritten } from "../../domain/records/frozen.ts";
import { mislabelled } from "../../domain/records/freeze.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";

/** A frozen issue is as `rerig issue` wrote it: its hash fits its content, and its name fits what it is. */
export const issueAltered: Rule = {
  id: "record/issue-altered",
  severity: "error",
  asks: "A frozen issue under `issued/` stays as it was written.",
  why: "The frozen issue is what a card in the folder and a sign-off are compared with.",
  source: "ISO 9001:2015, 7.5.3 (records are protected from unintended alteration)",
  check(collection, report) {
    for (const issue of collection.issued) {
      const fix = "Put back the file as it was issued; to change the words, raise the revision and issue that";
      if (!isAsWritten(issue))
        report(whereOf(issue, "hash"), {
          message: "This frozen issue was edited: its content does not fit its `hash`",
          fix,
        });
      else if (mislabelled(issue)) {
        const { head, content } = issue,
          inside = content as Readonly<Record<string, unknown>>;
        const edited = ["platform", "id", "revision"].find((key) => head && head[key] !== inside[key]);
        report(edited ? whereOf(issue, edited) : issue.where, {
          message: edited
            ? `The head of this frozen issue was edited: its \`${edited}\` is not that of its content`
            : "This frozen issue says that it is another document than its content and its file name say",
          fix,
        });
      }
    }
    for (const edition of collection.editions ?? [])
      if (!isAsIssued(edition))
        report(whereOf(edition, "hash"), {
          message: "This frozen edition of a card was edited, or has another card's name",
          fix: "Put back the file as it was issued; what the card is to print anew is another edition",
        });
  },
};
