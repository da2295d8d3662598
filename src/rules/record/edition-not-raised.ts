/** Edits of equipment, platform or service that change a card. */
import { editionsOf } from "../../domain/cards/editions.ts";
import { sayList } from "../../schema/wording.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { isInDoubt } from "../doubt.ts";
import { daysOfCards, dueCards } from "../../paper/card-editions.ts";

/**
 * Everything that a card prints was frozen with its edition: what prints something else, on today or on the day of an
 * issue that is still coming, is another edition. A card of which no edition was ever issued is not judged.
 */
export const editionNotRaised: Rule = {
  id: "record/edition-not-raised",
  severity: "error",
  asks: "Once an edition of a card is issued, it prints the same until the next edition.",
  why: "Two cards with the same edition are in use, and nobody can tell the laminated one from the page.",
  source: "ISO 9001:2015, 7.5.3.2 c (control of changes)",
  byPlatform: true,
  check(collection, report, { today, damaged }) {
    if (!collection.editions?.length) return;
    const told = new Set<string>();
    for (const due of dueCards(collection, daysOfCards(collection, today))) {
      const { platform, configuration, day, last, differs } = due;
      const name = `${platform.id}/${configuration.id}`;
      if (editionsOf(collection, platform.id, configuration.id).length === 0) continue;
      if (isInDoubt(platform.id, damaged) || told.has(name)) continue;
      told.add(name);
      const written = platform.configurations.find(({ id }) => id === configuration.id) ?? configuration;
      report(whereOf(written, "title"), {
        message:
          `The card of \`${configuration.title}\` no longer prints what its ` +
          `${last ? `edition ${last.edition}` : "editions"} froze${day > today ? ` (from ${day} on)` : ""}: ` +
          `${sayList(differs.length > 0 ? differs : ["cards of some of its patients"])}`,
        fix: "Issue the next edition with `rerig issue`, or take back the edit of equipment, platform or service",
        ...(last ? { cause: last.where } : {}),
      });
    }
  },
};
