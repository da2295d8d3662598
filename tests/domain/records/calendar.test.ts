/** The calendar of review dates, read by a parser that did not make it and measured against RFC 5545. */
import fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { escapeText, foldLine, makeCalendar, type ReviewDate } from "../../../src/domain/records/calendar.ts";

const review = (over: Partial<ReviewDate> = {}): ReviewDate => ({
  id: "tern.procedures.seat-capsule.review",
  date: "2027-09-14",
  title: "Review FCR-T-02: Seat the capsule",
  text: "By this day.",
  changed: "2026-09-10",
  revision: 3,
  ...over,
});
const octets = (line: string) => new TextEncoder().encode(line).length;
/** The entries as ical.js reads them. */
const read = (text: string) =>
  new ICAL.Component(ICAL.parse(text))
    .getAllSubcomponents("vevent")
    .map((component) => ({ event: new ICAL.Event(component), component }));

describe("a calendar of review dates", () => {
  it("is what a general parser reads back: day, title, text, address, sequence", () => {
    const text = makeCalendar("Fennmark: reviews", "procedures.example.org", [
      review({ address: "https://procedures.example.org/tern/procedures/seat-capsule/review/" }),
    ]);
    const [{ event, component }] = read(text) as [ReturnType<typeof read>[number]];
    expect(event.summary).toBe("Review FCR-T-02: Seat the capsule");
    expect(event.uid).toBe("tern.procedures.seat-capsule.review@procedures.example.org");
    expect(event.startDate.isDate).toBe(true);
    expect(event.startDate.toString()).toBe("2027-09-14");
    expect(component.getFirstPropertyValue("url")).toBe(
      "https://procedures.example.org/tern/procedures/seat-capsule/review/",
    );
    expect(component.getFirstPropertyValue("sequence")).toBe(3);
    expect(String(component.getFirstPropertyValue("dtstamp"))).toBe("2026-09-10T00:00:00Z");
  });

  it(
    "has each required property once: VERSION and PRODID, UID and DTSTAMP, DTSTART as a DATE (RFC 5545, 3.6, " +
      "3.6.1, 3.8.2.4)",
    () => {
      const lines = makeCalendar("a", "example.org", [review()]).split("\r\n");
      for (const start of [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:",
        "UID:",
        "DTSTAMP:20260910T000000Z",
        "DTSTART;VALUE=DATE:20270914",
        "END:VCALENDAR",
      ])
        expect(
          lines.filter((line) => line.startsWith(start)),
          start,
        ).toHaveLength(1);
    },
  );

  it("ends every line in CRLF and is the same from the same dates, whenever it is made (RFC 5545, 3.1)", () => {
    const make = () => makeCalendar("a", "example.org", [review(), review({ id: "b" })]);
    expect(make()).toBe(make());
    expect(make().endsWith("\r\n")).toBe(true);
    expect(make().replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  });

  it(
    "escapes commas, semicolons, backslashes and line breaks, and no colon (RFC 5545, 3.3.11: the standard's " +
      "own example)",
    () => {
      // 3.3.11: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared." as a property value.
      expect(escapeText("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")).toBe(
        "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.",
      );
      expect(escapeText("a, b; c \\ d: e\r\nf")).toBe("a\\, b\\; c \\\\ d: e\\nf");
    },
  );

  it("folds at 75 octets between characters, and unfolding gives the line back (RFC 5545, 3.1)", () => {
    fc.assert(
      fc.property(
        fc
          .string({ unit: "grapheme", maxLength: 400 })
          .filter((text) => !text.includes("\uFFFD"))
          .map((text) => `SUMMARY:${escapeText(text)}`),
        (line) => {
          const folded = foldLine(line);
          for (const piece of folded.split("\r\n")) expect(octets(piece)).toBeLessThanOrEqual(75);
          expect(folded.replace(/\r\n[ \t]/g, "")).toBe(line);
          expect(folded).not.toContain("\uFFFD");
        },
      ),
    );
  });

  it("keeps a line of exactly 75 octets whole, and folds one of 76", () => {
    expect(foldLine("x".repeat(75))).toBe("x".repeat(75));
    expect(foldLine("x".repeat(76))).toBe(`${"x".repeat(75)}\r\n x`);
    expect(foldLine(`${"x".repeat(74)}é`)).toBe(`${"x".repeat(74)}\r\n é`);
  });

  it("gives any title and text back through a general parser", () => {
    const words = fc
      .string({ unit: "grapheme", minLength: 1, maxLength: 160 })
      .map((text) => text.replace(/[\u0000-\u001F\u007F]/g, ""))
      .filter((text) => text.trim() === text && text !== "");
    fc.assert(
      fc.property(words, fc.array(words, { minLength: 1, maxLength: 4 }), (title, lines) => {
        const [{ event }] = read(makeCalendar("a", "example.org", [review({ title, text: lines.join("\n") })])) as [
          ReturnType<typeof read>[number],
        ];
        expect(event.summary).toBe(title);
        expect(event.description).toBe(lines.join("\n"));
      }),
      { numRuns: 200 },
    );
  });
});
