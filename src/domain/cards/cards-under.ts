/** Which cards a temporary amendment lies over. */
import type { Amendment, Configuration, Platform } from "../../schema/collection.ts";
import { usesOf } from "../parts/builds.ts";

/**
 * The configurations whose cards an amendment lies over, in the platform's order: those that a procedure of it builds
 * or takes down, alone or with an option, and those that fit an item which it takes out of service. Empty if none.
 */
export function cardsUnder({ amends, out }: Amendment, platform: Platform): Configuration[] {
  const uses = platform.procedures
    .filter(({ id, revision }) => amends.some((each) => each.procedure === id && each.revision === revision))
    .map((procedure) => usesOf(platform, procedure));
  const ids = new Set(
      uses.flatMap(({ configurations, takesDown }) => [...configurations, ...takesDown].map(({ id }) => id)),
    ),
    options = new Set(uses.flatMap((each) => each.options.map(({ id }) => id)));
  const fits = ({ fitted }: Pick<Configuration, "fitted">) =>
    fitted.some(({ item }) => out.some(({ id }) => id === item));
  for (const option of platform.options) if (fits(option)) options.add(option.id);
  return platform.configurations.filter(
    (configuration) =>
      configuration.status === "approved" &&
      (ids.has(configuration.id) || fits(configuration) || configuration.options.some(({ id }) => options.has(id))),
  );
}
