/** Dates of expiry and service as a calendar file. */
import type { Collection } from "../../schema/collection.ts";
import { slugOf } from "../../schema/wording.ts";
import { calendarHost, makeCalendar, type ReviewDate } from "../records/calendar.ts";
import { readyDates } from "./readiness.ts";
import { heard } from "../../words/heard.ts";

/**
 * The calendar of a collection's dates, the same bytes for the same files. Its text says what is looked at, of what and
 * where; an entry keeps its UID when the date moves, and its sequence is the date, so that the later one is taken (RFC
 * 5545, 3.8.7.4).
 */
export function readyCalendar({ service, platforms }: Pick<Collection, "service" | "platforms">): string {
  const seen = new Map<string, number>();
  const dates = readyDates(platforms).map(({ platform, of, line: { look, until } }): ReviewDate => {
    const name = [platform.id, of.id, slugOf(look), "until"].join("."),
      nth = (seen.get(name) ?? 0) + 1;
    seen.set(name, nth);
    return {
      id: nth === 1 ? name : `${name}.${nth}`,
      date: until,
      title: `${of.name}: ${look}`,
      text: heard("readiness").goodUntilThisDay({ whichPlatform: platform.name, of: of.name }),
      ...(service.site ? { address: `${service.site}${platform.id}/ready/` } : {}),
      // The files do not say when a line was written; no clock is read for it.
      changed: "1970-01-01",
      revision: Number(until.replaceAll("-", "")),
      category: heard("readiness").expiry,
    };
  });
  return makeCalendar(
    heard("readiness").datesOfEquipment({ service: service.name }),
    calendarHost(service),
    dates,
    heard("readiness").datesOfEquipment2,
  );
}
