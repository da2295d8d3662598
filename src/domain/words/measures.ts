/** Measures as they are read: a number as the language writes it, and its unit by the table. */
import { writeDecimal } from "../../schema/spoken.ts";
import { heard } from "../../words/heard.ts";

/**
 * A measure as files write it (`7.2 kg`, `28 days`), in the words of whoever reads; a text that is none stays as it is.
 */
export function sayMeasure(text: string): string {
  const [, number = "", unit = ""] = /^(\d+(?:\.\d+)?) ([a-z]+)$/.exec(text) ?? [],
    count = Number(number);
  const said = writeDecimal(number);
  switch (unit) {
    case "kg":
      return heard("measures").kilograms({ number: said });
    case "g":
      return heard("measures").grams({ number: said });
    case "lb":
      return heard("measures").pounds({ number: said });
    case "day":
    case "days":
      return heard("measures").days({ count, number: said });
    case "week":
    case "weeks":
      return heard("measures").weeks({ count, number: said });
    case "month":
    case "months":
      return heard("measures").months({ count, number: said });
    case "year":
    case "years":
      return heard("measures").years({ count, number: said });
    default:
      return text;
  }
}

/** A number of kilograms, already written: `7.2 kg`. */
export function sayKilograms(number: string | number): string {
  return heard("measures").kilograms({ number });
}
