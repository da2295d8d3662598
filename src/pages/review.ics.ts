/** Review dates as a calendar file. */
import type { APIRoute } from "astro";
import { reviewDates } from "../site/records/reviews.ts";
import { calendarHost, makeCalendar } from "../domain/records/calendar.ts";

/** The file. */
export const GET: APIRoute = ({ locals }) => {
  const { service } = locals.site.collection;
  return new Response(
    makeCalendar(
      locals.words.review.calendarTitle({ name: service.name }),
      calendarHost(service),
      reviewDates(locals.site),
    ),
  );
};
