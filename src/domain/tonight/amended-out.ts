/** What temporary amendments take out of service on the day of a collection: what is left, and who says so. */
import type { Platform } from "../../schema/collection.ts";
import { lowerFirst, sayList, smallFirst } from "../../schema/wording.ts";
import { amendmentsToCome } from "../force/amendments.ts";
import { sayDays, stateOn } from "../words/days.ts";
import { remember } from "../words/remember.ts";
import { blockedBy } from "./blocked.ts";
import { sparesOf, without } from "./out-of-service.ts";
import { heard } from "../../words/heard.ts";

/** The platform with what is left while amendments run; the very same one where they take nothing. */
export const leftOf = /* @__PURE__ */ remember((platform: Platform): Platform =>
  platform.out ? without(platform, platform.out) : platform,
);

/**
 * Why an arrangement can't be built on a day, `YYYY-MM-DD`, that is the platform's: `cradle strap is out of service,
 * temporary amendment FCR-T-A1, effective from …`; `undefined` if it can, or if it is none.
 */
export function whyOut(platform: Platform, arrangement: string, day: string): string | undefined {
  const spares = sparesOf(platform).get(arrangement),
    ids = spares && platform.out ? blockedBy(spares, platform.out) : [];
  if (ids.length === 0) return undefined;
  const running = amendmentsToCome(platform, day).filter((amendment) => stateOn(day, amendment) === "running");
  return sayList(
    ids.map((id) => {
      const by = running.find(({ out }) => out.some((each) => each.id === id));
      const name = lowerFirst(platform.items.find((item) => item.id === id)?.name ?? id);
      return heard("withoutIt").isOutOfService({
        name,
        number: by ? heard("withoutIt").temporaryAmendment({ number: by.number, by: smallFirst(sayDays(by)) }) : "",
      });
    }),
  );
}
