/** Rule plan/required-not-allowed. */
import type { Band, Configuration, Option, Platform, Requirement } from "../../schema/collection.ts";
import { areApart, listArrangements } from "../../domain/parts/arrangements.ts";
import { meetBands, sayBand, shareOf } from "../../domain/bands/bands.ts";
import { whereOf, type Report, type Rule } from "../../findings/finding.ts";
import { isFittedInDoubt } from "../doubt.ts";
import { heard } from "../../words/heard.ts";

/** An option that some patients need can be fitted for all of them, whatever else is fitted for them. */
export const requiredNotAllowed: Rule = {
  id: "plan/required-not-allowed",
  severity: "error",
  asks: "An option that some patients need can be fitted for all of them, also with each of their other options.",
  why:
    "Where `requires` asks for an option and `not-with`, a band or a count forbids it, two instructions contradict " +
    "each other at the bedside, and one of them is broken.",
  source: "common practice, no source",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const platform of platforms.filter((each) => !isFittedInDoubt(each.id, damaged)))
      for (const configuration of platform.configurations)
        for (const requirement of configuration.requires ?? []) checkOne(platform, configuration, requirement, report);
  },
};

function checkOne(platform: Platform, configuration: Configuration, requirement: Requirement, report: Report): void {
  const { where } = requirement,
    band = meetBands(configuration.band, requirement.band),
    options = configuration.options.flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? []),
    option = options.find(({ id }) => id === requirement.option);
  if (!option) return;
  if (!band)
    return report(where, {
      message: heard("requirementFindings").forNone({
        option: option.id,
        band: sayBand(requirement.band),
        configuration: configuration.id,
        own: sayBand(configuration.band),
      }),
      fix: heard("requirementFindings").nameItsOwn({ configuration: configuration.id }),
    });
  if (configuration.status === "approved" && option.status !== "approved")
    return report(where, {
      message: heard("requirementFindings").notApproved({ option: option.id, band: sayBand(band) }),
      fix: heard("requirementFindings").approveIt({ option: option.id }),
    });
  if (shareOf(option.band, band) !== "all")
    return report(where, {
      message: heard("requirementFindings").onlyForOthers({
        option: option.id,
        band: sayBand(band),
        own: sayBand(option.band),
      }),
      fix: heard("requirementFindings").nameTheSame,
    });
  const problemOf = (set: readonly Option[]) =>
    listArrangements(platform).find(
      (each) =>
        each.configuration === configuration &&
        each.options.length === set.length &&
        set.every((one) => each.options.includes(one)),
    )?.problems[0];
  const alone = problemOf([option]);
  if (alone)
    return report(where, {
      message: heard("requirementFindings").cantBeFitted({
        option: option.id,
        band: sayBand(band),
        why: alone.message,
      }),
      fix: alone.fix,
    });
  for (const other of options.filter((each) => each !== option && each.status === option.status)) {
    const both: Band | undefined = meetBands(other.band, band);
    if (!both) continue;
    const problem = problemOf([option, other]);
    if (areApart(option, other))
      report(other.notWith.includes(option.id) ? whereOf(other, "not-with") : whereOf(option, "not-with"), {
        message: heard("requirementFindings").apart({
          other: other.id,
          band: sayBand(both),
          option: option.id,
        }),
        fix: heard("requirementFindings").letOneBeForOthers({ other: other.id, option: option.id }),
        cause: where,
      });
    else if (problem && !problemOf([other]))
      report(where, {
        message: heard("requirementFindings").cantBeTogether({
          option: option.id,
          band: sayBand(both),
          other: other.id,
          why: problem.message,
        }),
        fix: problem.fix,
      });
  }
}
