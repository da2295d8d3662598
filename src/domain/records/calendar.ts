/** Dates as an iCalendar file (RFC 5545), the same for the same files whenever it is made. */
import type { Service } from "../../schema/collection.ts";
import { slugOf } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";

/** A date on which a document has to have been reviewed. */
export interface ReviewDate {
  /** What tells it from every other, and stays the same when the date moves. */
  readonly id: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly title: string;
  readonly text: string;
  /** Absolute address of the document's page; absent if the service has no site. */
  readonly address?: string;
  /**
   * The day on which what the entry says was last changed, `YYYY-MM-DD`: the entry's stamp, so that no clock is read.
   */
  readonly changed: string;
  /** Raised with the document, so that a calendar takes the later date (RFC 5545, 3.8.7.4). */
  readonly revision: number;
  /** What sort of date it is; `REVIEW` if left out. */
  readonly category?: string;
}

/** What UIDs of a service's calendars end in: the host of its site, else a name that no host can have (RFC 2606, 2). */
export function calendarHost({ site, name }: Pick<Service, "site" | "name">): string {
  return site && URL.canParse(site) ? new URL(site).hostname : `${slugOf(name) || "service"}.invalid`;
}

/**
 * A calendar of whole-day entries. Lines end in CRLF and are folded at 75 octets (3.1), texts are escaped (3.3.11),
 * dates are DATE values (3.3.4). `host` ends the UIDs (3.8.4.7).
 */
export function makeCalendar(
  name: string,
  host: string,
  dates: readonly ReviewDate[],
  product = heard("fieldLines").reviewDates,
): string {
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    `PRODID:-//Rerig//${product}//EN`,
    "CALSCALE:GREGORIAN",
    `X-WR-CALNAME:${escapeText(name)}`,
    ...dates.flatMap((each) => eventLines(each, host)),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${foldLine(line)}\r\n`).join("");
}

function eventLines(
  { id, date, title, text, address, changed, revision, category = heard("fieldLines").review }: ReviewDate,
  host: string,
): string[] {
  return [
    "BEGIN:VEVENT",
    `UID:${escapeText(`${id}@${host}`)}`,
    `DTSTAMP:${basicDate(changed)}T000000Z`,
    `SEQUENCE:${revision}`,
    `DTSTART;VALUE=DATE:${basicDate(date)}`,
    `SUMMARY:${escapeText(title)}`,
    `DESCRIPTION:${escapeText(text)}`,
    ...(address ? [`URL:${address}`] : []),
    `CATEGORIES:${category}`,
    "TRANSP:TRANSPARENT",
    "END:VEVENT",
  ];
}

/**
 * A TEXT value: backslash, semicolon, comma and line breaks escaped (RFC 5545, 3.3.11); control characters, which it
 * may not hold, are left out.
 */
export function escapeText(text: string): string {
  return text
    .replace(/\r\n?/g, "\n")
    .replace(/[\u0000-\u0008\u000B-\u001F\u007F]/g, "")
    .replace(/[\\;,]/g, (sign) => `\\${sign}`)
    .replace(/\n/g, "\\n");
}

/**
 * A content line in pieces of at most 75 octets, each but the first begun with a space (RFC 5545, 3.1). No character is
 * cut in two.
 */
export function foldLine(line: string): string {
  const pieces: string[] = [];
  let piece = "",
    octets = 0;
  for (const character of line) {
    const length = octetsOf(character);
    // The space that begins a further piece counts.
    if (octets + length > 75) {
      pieces.push(piece);
      piece = "";
      octets = 1;
    }
    piece += character;
    octets += length;
  }
  return [...pieces, piece].join("\r\n ");
}

/** Octets of a character in UTF-8 (RFC 3629). */
function octetsOf(character: string): number {
  const point = character.codePointAt(0)!;
  return point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
}

/** `2026-09-14` as `20260914` (ISO 8601-1 basic format). */
function basicDate(date: string): string {
  return date.replaceAll("-", "");
}
