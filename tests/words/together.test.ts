/** No line ends between a number and its unit, or within a code. */
import { expect, test } from "vitest";
import { piecesOf } from "../../src/words/together.ts";

const whole = (text: string) => piecesOf(text).flatMap((piece) => (piece.whole ? [piece.text] : []));

// SI Brochure, 9th edition (2019), 5.4.3: the number stands before the unit, with a space between them that is read as
// the sign of multiplication; 5.4.7 for the per cent sign.
test.each([
  ["from 1.2 kg to under 5 kg", ["1.2 kg", "5 kg"]],
  ["Print at 100 %, with no headers.", ["100 %"]],
  ["430 l in 86 min", ["430 l", "86 min"]],
  // Not a unit, but the beginning of a word; not a number, but the end of a name.
  ["3 lines, 2 minutes, 12 months", []],
  ["line B2 kg", []],
])("keeps the measures of “%s” together", (text, measures) => {
  expect(whole(text)).toEqual(measures);
});

// Invented: the codes of the demo.
test.each([
  ["in force is TV87-8R, of FCR-T-C1.", ["TV87-8R", "FCR-T-C1"]],
  ["a well-kept list, X-ray, Air-To-Air", []],
])("keeps the codes of “%s” together", (text, codes) => {
  expect(whole(text)).toEqual(codes);
});

test("the pieces are the text", () => {
  for (const text of ["", "5 kg", "Copy TV87-8R of 5 kg or 20 lb", "no code"])
    expect(
      piecesOf(text)
        .map((piece) => piece.text)
        .join(""),
    ).toBe(text);
});
