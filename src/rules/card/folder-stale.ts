/** Copies in folders that a newer card has replaced. */
import type { FolderCopy } from "../../schema/collection.ts";
import { auditFolders, titleOfCopy } from "../../paper/folder-audit.ts";
import { isValidCode } from "../../domain/cards/check-code.ts";
import { sayDate } from "../../domain/words/say.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import { copiesOf } from "../copies.ts";
import { isInDoubt } from "../doubt.ts";

/**
 * Every copy in a folder is the card in force. Known by its check code, or, without one, by the day on which it was
 * placed. The card in force today is still
 * right when the next one takes effect on a later day, and that next one may lie there already. Of a changeover only
 * the cards of today are known. The card for one arrangement (`configuration+option`) is as old as its configuration's.
 */
export const folderStale: Rule = {
  id: "card/folder-stale",
  severity: "warning",
  asks: "Every copy in a folder is the card that is in force.",
  why: "The folder is what is opened in flight, and the old card looks like the new one.",
  source: "AS9100D 7.5.3.2 e (prevention of the unintended use of obsolete documented information)",
  when: ({ folders }) => folders.some(({ copies }) => copies.length > 0),
  check(collection, report, { today, damaged }) {
    for (const known of copiesOf(collection, today)) {
      const { folder, copy, title, platform, current, found, isRight, changeover } = known;
      if (isInDoubt(platform, damaged)) continue;
      if (known.isOfNone) {
        report(whereOf(copy, "card"), {
          message:
            `Copy ${copy.copy} of “${title}” in “${folder.name}” is the card of no arrangement: one of these ` +
            "options is none of the configuration's, or they can't be together",
          fix: "Take it out of the folder and out of folders.yaml, or write the options with which it is the card",
        });
        continue;
      }
      if (changeover && copy.check && !found && isValidCode(copy.check)) {
        const codes = changeover.join(" or ");
        report(whereOf(copy, "check"), {
          message:
            `Copy ${copy.copy} of “${title}” in “${folder.name}” is not the card of today, which has ` +
            `the check code ${codes}`,
          fix:
            `Print the changeover's card for the same patients, put it in as copy ${copy.copy}, destroy the old ` +
            "one, and write down the new code and the day",
        });
      }
      if (!current || isRight) continue;
      const fix =
        `Print the card with the check code ${current.code}, put it in as copy ${copy.copy}, destroy the old ` +
        "one, and write down the new code and the day";
      if (found)
        report(whereOf(copy, "check"), {
          message:
            `Copy ${copy.copy} of “${title}” in “${folder.name}” is an old card` +
            `${found.from ? ` of ${sayDate(found.from)}` : ""}: the one in force has the check code ${current.code}`,
          fix,
        });
      else if (!copy.check && copy.placed && current.from && copy.placed < current.from)
        report(whereOf(copy, "placed"), {
          message:
            `Copy ${copy.copy} of “${title}” in “${folder.name}” was placed on ${sayDate(copy.placed)}, ` +
            `before the card in force from ${sayDate(current.from)}`,
          fix,
        });
    }
    // What is to be pulled, with nothing in its place, the audit of the folders says: `rerig folders` says the same.
    for (const { folder, copies } of auditFolders(collection, today))
      for (const { copy, state } of copies) {
        if (state !== "withdrawn" || isOfNoArrangement(copy) || isInDoubt(copy.platform!, damaged)) continue;
        const said = heard("folderFindings");
        report(whereOf(copy, "card"), {
          message: said.noLongerUsed({
            copy: copy.copy,
            title: titleOfCopy(collection, copy),
            folder: folder.name,
          }),
          fix: said.pull({ copy: copy.copy }),
        });
      }

    function isOfNoArrangement(copy: FolderCopy): boolean {
      return copiesOf(collection, today).some((known) => known.copy === copy && known.isOfNone);
    }
  },
};
