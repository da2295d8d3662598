/** Rule bands/outside-service. */
import { covers, meet, meetBands } from "../../domain/bands/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";
import { hasDamage } from "./damage.ts";
import { heard } from "../../words/heard.ts";

/**
 * A configuration is only for patients that the service carries, as is what the service asks about; a procedure for one
 * of them at least.
 */
export const outsideService: Rule = {
  id: "bands/outside-service",
  severity: "error",
  asks: "A configuration is only for patients that the service carries, a procedure for one of them at least.",
  why: "A card for a patient who is never carried is a card that nobody has practised.",
  source: "common practice, no source",
  byPlatform: true,
  check({ service, platforms }, report, { damaged }) {
    for (const doubt of service.doubts ?? [])
      for (const key of ["weight", "age"] as const) {
        const range = doubt.band[key];
        if (covers(service.band[key], range) || (!range.from && !range.to)) continue;
        report(whereOf(doubt, key), {
          message: `\`doubt\` asks about \`${range.text}\`, and the service carries \`${service.band[key].text}\``,
          fix: `Keep it inside \`${service.band[key].text}\`: nobody else is ever entered`,
          actual: range.text,
          expected: [`inside ${service.band[key].text}`],
        });
      }
    for (const platform of platforms.filter((each) => !hasDamage(each, damaged))) {
      for (const procedure of platform.procedures) {
        if (procedure.status === "withdrawn" || meetBands(procedure.band, service.band)) continue;
        const key = meet(procedure.band.weight, service.band.weight) ? "age" : "weight",
          { text } = procedure.band[key];
        report(whereOf(procedure, key), {
          message:
            `\`${procedure.id}\` is for \`${text}\`, and the service carries nobody of them: ` +
            `\`${service.band[key].text}\``,
          fix: heard("bandFindings").changeToCarried({ key }),
          actual: text,
          expected: [`inside ${service.band[key].text}`],
        });
      }
      for (const configuration of platform.configurations)
        for (const key of ["weight", "age"] as const) {
          const range = configuration.band[key];
          if (covers(service.band[key], range) || (key === "age" && !range.from && !range.to)) continue;
          report(whereOf(configuration, key), {
            message:
              `\`${configuration.id}\` is \`${range.text}\`, and the service carries ` +
              `\`${service.band[key].text}\``,
            fix: `Keep it inside \`${service.band[key].text}\`, or widen \`${key}\` in service.yaml`,
            actual: range.text,
            expected: [`inside ${service.band[key].text}`],
          });
        }
    }
  },
};
