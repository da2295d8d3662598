/** Check codes that belong to no card. */
import { isValidCode } from "../../domain/cards/check-code.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { copiesOf } from "../copies.ts";
import { isInDoubt } from "../doubt.ts";

/** Every `check` of a copy is the code of a card that was issued. */
export const unknownCheck: Rule = {
  id: "card/unknown-check",
  severity: "warning",
  asks: "The check code of a copy belongs to an issue of that card.",
  why: "A code that belongs to no card was copied wrongly, or the card was never issued.",
  source: "Douglas Crockford, Base 32: one wrong symbol, or two exchanged, never fit the check symbol",
  when: ({ folders }) => folders.some(({ copies }) => copies.length > 0),
  check(collection, report, { today, damaged }) {
    for (const { folder, copy, title, platform, current, found, changeover } of copiesOf(collection, today)) {
      // A changeover's older card is unknown and not misread: card/folder-stale says so.
      if (!copy.check || found || (isValidCode(copy.check) && (changeover || isInDoubt(platform, damaged)))) continue;
      report(whereOf(copy, "check"), {
        message: isValidCode(copy.check)
          ? `No issue of “${title}” has the check code \`${copy.check}\``
          : `\`${copy.check}\` is no check code: its last symbol does not fit the others`,
        fix:
          `Read the code again from copy ${copy.copy} in “${folder.name}”` +
          (current && !isInDoubt(platform, damaged) ? `; the card in force has ${current.code}` : ""),
      });
    }
  },
};
