/** Lines of a card that an option makes untrue. */
import { contradictionsOf, type Subject } from "../../domain/cards/subjects.ts";
import { type Rule } from "../../findings/finding.ts";
import type { Platform } from "../../schema/collection.ts";
import { isFittedInDoubt } from "../doubt.ts";

/** A card never asks for what an option that it allows has taken away. */
export const contradiction: Rule = {
  id: "card/contradiction",
  severity: "error",
  asks: "With every option, each line of a card is true, or a line of the option says that it takes its place.",
  why:
    "A line that cannot be answered teaches a crew to pass over the card; obeyed, it puts back what the option " +
    "took out.",
  source:
    "Burian, Barshi, Dismukes 2005, NASA/TM-2005-213462 (from memory: checklist items that do not fit the situation)",
  byPlatform: true,
  check({ platforms, service }, report, { damaged }) {
    for (const platform of platforms.filter(({ id }) => !isFittedInDoubt(id, damaged)))
      for (const configuration of platform.configurations) {
        if (configuration.status === "withdrawn") continue;
        for (const { record, check, subject, arrangement } of contradictionsOf(
          platform,
          configuration,
          service.otherNames,
        )) {
          const others = arrangement.options.filter((option) => option !== record);
          const option = others.find((each) => changes(platform, each.id, subject)) ?? others.at(-1)!;
          report(check.where, {
            message:
              `\`${check.challenge}\` is about ${sayKind(subject)} \`${subject.id}\`, which is another way ` +
              `with \`${others.map(({ title }) => title).join("`, `")}\` fitted, and no line there takes its place`,
            fix:
              `Add to ${option.file.split("/").slice(1).join("/")} the line that is true there, ` +
              `with \`replaces="${check.challenge}"\`, or say with \`about\` what this line is about`,
            cause: option.where,
          });
        }
      }
  },
};

const sayKind = ({ kind }: Subject): string => `the ${kind}`;

/** Whether an option fills or empties what a line is about. */
function changes({ options }: Platform, id: string, subject: Subject): boolean {
  const option = options.find((each) => each.id === id);
  return (
    option !== undefined &&
    (option.fitted.some(({ item, place }) => [item, place].includes(subject.id)) ||
      option.empty.some(({ place }) => place === subject.id))
  );
}
