/** What holds something, and no line of the card is about it. */
import { cardContentOf } from "../../domain/cards/card-content.ts";
import { contentsInForce } from "../../domain/cards/cards-issued.ts";
import { notLookedAt, type Subject } from "../../domain/cards/subjects.ts";
import type { ConfigurationContent } from "../../domain/records/content.ts";
import { contentOf } from "../../domain/records/freeze.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import type { Platform } from "../../schema/collection.ts";
import { isInDoubt } from "../doubt.ts";

/** Every fastening that holds something, every brake and every item that holds a patient is looked at on the card. */
export const notLookedAtRule: Rule = {
  id: "card/not-looked-at",
  severity: "warning",
  asks: "Every fastening that holds something, every brake and every item that holds a patient has a line on the card.",
  why: "What no line names is looked at by nobody once the trolley is built.",
  source: "Common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const { platforms, service } = collection;
    for (const platform of platforms.filter(({ id }) => !isInDoubt(id, damaged))) {
      const seen = new Set<string>();
      for (const configuration of platform.configurations) {
        if (configuration.status !== "approved") continue;
        const { lines, options } = cardContentOf(
          contentOf(configuration, platform) as ConfigurationContent,
          contentsInForce(platform),
        );
        const looked = [...lines, ...options.flatMap((option) => option.lines)].flatMap((line) =>
          line.kind === "hold" ? line.checks : [],
        );
        for (const { record, subjects } of notLookedAt(platform, configuration, looked, service.otherNames)) {
          const key = `${record.file} ${subjects.map(({ id }) => id).join(" ")}`;
          if (seen.has(key)) continue;
          seen.add(key);
          report(whereOf(record, "title"), {
            message:
              `No line of the card of \`${configuration.title}\` is about ` +
              subjects.map((subject) => nameOf(platform, subject)).join(", "),
            fix: "Add a `::check` for each, or name it in `about` of the line that looks at it",
          });
        }
      }
    }
  },
};

function nameOf({ items, fastenings }: Platform, { kind, id }: Subject): string {
  const record = kind === "item" ? items.find((each) => each.id === id) : fastenings.find((each) => each.id === id);
  return `\`${record?.name ?? id}\` (\`${id}\`)`;
}
