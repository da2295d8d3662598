/** Dates of expiry and service as a calendar file. */
import type { APIRoute } from "astro";
import { readyCalendar } from "../domain/ready/ready-calendar.ts";

/** The file. */
export const GET: APIRoute = ({ locals }) => new Response(readyCalendar(locals.site.collection));
