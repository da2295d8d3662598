/**
 * A single value as a control: what the file says stands in it, whatever it is (HTML, 4.10.5.1.7: the control of a date
 * is emptied of what is no date).
 */
import { describe, expect, it } from "vitest";
import { valueField } from "../../src/desk/screens/forms/value-field.ts";

const dayField = (value: string) =>
  valueField({ label: "Review by", sort: { entered: "date" } as never, value, changes: "review-by", offered: [] }).html;

describe("the control of a day", () => {
  it("is one of days while the file has a day of the calendar, or none", () => {
    for (const day of ["", "2026-11-28", "2028-02-29"]) expect(dayField(day), day).toContain('type="date"');
  });
  it("is a line of text that shows what the file has instead", () => {
    for (const words of ["2026-02-29", "2026-13-01", "28 Nov 2026"]) {
      expect(dayField(words), words).not.toContain('type="date"');
      expect(dayField(words), words).toContain(`value="${words}"`);
    }
  });
});
