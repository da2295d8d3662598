/** Review dates as a calendar file. */
import type { APIRoute } from "astro";
import { reviewDates } from "../site/records/reviews.ts";
import { makeCalendar } from "../domain/records/calendar.ts";
import { slugOf } from "../schema/wording.ts";

/** The file. */
export const GET: APIRoute = ({ locals }) => {
  const { site, name } = locals.site.collection.service;
  const host = site && URL.canParse(site) ? new URL(site).hostname : `${slugOf(name) || "service"}.invalid`;
  return new Response(makeCalendar(`${name}: reviews`, host, reviewDates(locals.site)));
};
