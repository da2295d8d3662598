/** Frozen issues that someone edited. */
import { isAsIssued } from "../../domain/cards/editions.ts";
import { isAsWritten } from "../../domain/records/frozen.ts";
import { mislabelled } from "../../domain/records/freeze.ts";
import { pathOfPicture, picturesOf } from "../../domain/records/pictures.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";

/**
 * A frozen issue is as `rerig issue` wrote it: its hash fits its content, its name fits what it is, and the small
 * pictures that it keeps are there and unaltered.
 */
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
    const pictures = new Map((collection.pictures ?? []).map((picture) => [nameIn(picture.file), picture])),
      told = new Set<string>();
    for (const issue of collection.issued)
      for (const [photo, picture] of picturesOf(issue)) {
        const path = pathOfPicture(issue.platform, picture),
          there = pictures.get(path);
        if (told.has(path) || there?.sha256 === picture.sha256) continue;
        told.add(path);
        report(issue.where, {
          message:
            `The small picture of \`${photo}\` that this frozen issue keeps ` +
            (there ? "is another one now" : "is gone"),
          fix: `Put back \`issued/${path}\` as it was issued, from your version control or from a backup`,
        });
      }
    for (const edition of collection.editions ?? [])
      if (!isAsIssued(edition))
        report(whereOf(edition, "hash"), {
          message: "This frozen edition of a card was edited, or has another card's name",
          fix: "Put back the file as it was issued; what the card is to print anew is another edition",
        });
  },
};

/** Where a picture lies within the folder of issues. */
function nameIn(file: string): string {
  return file.split("/").slice(-3).join("/");
}
