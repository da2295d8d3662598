/** Spans of days, as what is temporary holds on them; a device asks them with its own clock. */
import type { Service } from "../../schema/collection.ts";
import { AMENDMENT_DAYS } from "../../schema/units.ts";
import { sayDate } from "./say.ts";
import { heard } from "../../words/heard.ts";

/** A span of days, `YYYY-MM-DD`, its first and last day included; an end that is empty is open. */
export interface Days {
  readonly from: string;
  readonly until: string;
}

/** Whether a span holds a day. */
export function holdsOn({ from, until }: Days, day: string): boolean {
  return from <= day && (until === "" || day <= until);
}

/** What is in force of a document, or of a card, from a later day on. */
export interface Lapse {
  readonly days: Days;
  readonly title: string;
  /** Absent for what is withdrawn, and for a card. */
  readonly revision?: number;
  /** The check code of the card that takes the place of another. */
  readonly card?: string;
  /** Address of the newer text, where the set holds it. */
  readonly address?: string;
}

/** Spans as one word for each, `2026-11-28/2026-12-11`; an open end is empty. */
export function writeDays(spans: readonly Days[]): string {
  return spans.map(({ from, until }) => `${from}/${until}`).join(" ");
}

/** The spans again; none of an empty text. */
export function readDays(text: string): Days[] {
  return text
    .split(" ")
    .filter(Boolean)
    .map((word) => {
      const [from = "", until = ""] = word.split("/");
      return { from, until };
    });
}

/** `Effective from 28 Nov 2026, expires after 11 Dec 2026`; both days count. */
export function sayDays({ from, until }: Days): string {
  return heard("days").effectiveFromExpiresAfter({ from: sayDate(from), until: sayDate(until) });
}

/** For how many days a service lets a temporary amendment run, first and last day counted. */
export function amendmentDaysOf({ amendmentDays = AMENDMENT_DAYS }: Pick<Service, "amendmentDays">): number {
  return amendmentDays;
}

/** Whether a temporary amendment is still to come, runs or has lapsed on a day. */
export function stateOn(day: string, { from, until }: Days): "coming" | "running" | "lapsed" {
  return day < from ? "coming" : day > until ? "lapsed" : "running";
}

/** What stands beside a temporary amendment that does not run on a day; `undefined` for one that does. */
export function sayNotRunning(day: string, days: Days): string | undefined {
  const state = stateOn(day, days);
  if (state === "running") return undefined;
  return state === "lapsed"
    ? heard("days").expiredItsLastDay({ until: sayDate(days.until) })
    : heard("days").notYetEffective({ from: sayDate(days.from) });
}
