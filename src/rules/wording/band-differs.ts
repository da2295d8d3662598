/** A band in an answer beside the band that the data give. */
import { isSameRange } from "../../domain/bands/bands.ts";
import { standingChecks, subjectsOf } from "../../domain/cards/subjects.ts";
import { validArrangements } from "../../domain/parts/arrangements.ts";
import { nameInText } from "../../domain/words/names.ts";
import { type Report, type Rule, whereOf } from "../../findings/finding.ts";
import { parseRange } from "../../schema/quantities.ts";
import { TERMS } from "../../schema/terms.ts";
import type { Check, Collection, Platform, Range, Service } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";
import { isFittedInDoubt } from "../doubt.ts";
import { isEnglish, ownSteps } from "../texts.ts";

/**
 * A line about the patient's weight says the band of its configuration, or of the arrangement that an option makes of
 * it; a check of a step says its step's band or that of some configuration. Looks at answers that are a band and
 * nothing else, to challenges that name the patient (in the service's word) or the weight; what is written on a thing
 * may be another range.
 */
export const bandDiffers: Rule = {
  id: "wording/band-differs",
  severity: "warning",
  asks: "The weights that a line about the patient gives in words are those of the band.",
  why: "One of the two is wrong. The program chooses by the band, the crew looks at the line, and nobody sees both.",
  source: "Common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const { service } = collection;
    if (!isEnglish(service)) return;
    const isKnown = ({ id }: Platform) => !isFittedInDoubt(id, damaged);
    for (const platform of collection.platforms.filter(isKnown)) checkCards(platform, collection, report);
    for (const { step, platform } of ownSteps(collection, damaged)) {
      if (!isKnown(platform)) continue;
      const bands = [step.band.weight, ...platform.configurations.map(({ band }) => band.weight)];
      for (const check of step.checks) {
        const said = saidIn(check, platform, service);
        if (said && !bands.some((band) => isSameRange(band, said)))
          report(whereOf(check, "answer"), {
            message: heard("bandFindings").saysNone({ said: said.text }),
            fix: heard("bandFindings").answerMeant,
            actual: check.answer,
          });
      }
    }
  },
};

function checkCards(platform: Platform, { service }: Collection, report: Report): void {
  const lines = new Map<Check, Range[]>();
  for (const arrangement of validArrangements(platform)) {
    if (arrangement.configuration.status === "withdrawn") continue;
    const { band, configuration, options } = arrangement,
      right = [configuration.band, band, ...options.map((option) => option.band)].map(({ weight }) => weight);
    for (const check of standingChecks(arrangement)) lines.set(check, [...(lines.get(check) ?? []), ...right]);
  }
  for (const [check, bands] of lines) {
    const said = saidIn(check, platform, service);
    if (!said || bands.some((band) => isSameRange(band, said))) continue;
    const [{ text }] = bands as [Range],
      right = check.answer.includes(",") ? text.replace(" to under ", ", under ").replace(" up to ", ", up to ") : text;
    report(whereOf(check, "answer"), {
      message: heard("bandFindings").saysOther({ said: said.text, right: text }),
      fix: heard("bandFindings").answerRight({ right }),
      actual: check.answer,
      expected: [right],
    });
  }
}

/** The weights that a line about the patient gives; `undefined` where it is about something else, or says more. */
function saidIn(check: Check, platform: Platform, service: Service): Range | undefined {
  const { answer, challenge } = check;
  if (!/\d/.test(answer) || subjectsOf(check, platform, service.otherNames).length > 0) return undefined;
  const { one, many } = service.words?.patient ?? TERMS.patient;
  if (!new RegExp([one, many, "weight"].map(nameInText).join("|"), "iu").test(challenge)) return undefined;
  const read = parseRange(
    answer.replace(/,\s+(?=under\b)/i, " to ").replace(/,\s+(?=to under\b|up to\b)/i, " "),
    "weight",
  );
  return read.ok ? read.value : undefined;
}
