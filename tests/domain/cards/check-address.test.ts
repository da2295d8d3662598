/** Typed check codes: forgiving where people mix symbols up, exact about what is wrong. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addressOfCode, readCode } from "../../../src/domain/cards/check-address.ts";
import { codeOf } from "../../../src/domain/cards/check-code.ts";

const codes = fc.string().map(codeOf);

describe("a typed check code", () => {
  it("is read whatever the case, spaces and hyphens, with O for 0 and I or L for 1 (Crockford, Base 32)", () => {
    fc.assert(
      fc.property(codes, fc.constantFrom("O", "o"), fc.constantFrom("I", "l", "L", "i"), (code, zero, one) => {
        const typed = ` ${code.toLowerCase().replaceAll("0", zero).replaceAll("1", one).replace("-", " - ")} `;
        expect(readCode(typed)).toEqual({ ok: true, code });
      }),
    );
  });

  it(
    "with one wrong symbol, or two neighbours exchanged, is never taken for another (Crockford: a check symbol " +
      "modulo 37, a prime above 32)",
    () => {
      const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
      fc.assert(
        fc.property(codes, fc.nat(5), fc.nat(31), (code, at, symbol) => {
          const symbols = [...code.replace("-", "")];
          const before = symbols[at];
          symbols[at] = alphabet[symbol]!;
          expect(readCode(symbols.join("")).ok).toBe(before === alphabet[symbol]);
        }),
      );
      fc.assert(
        fc.property(codes, fc.nat(4), (code, at) => {
          const symbols = [...code.replace("-", "")],
            [a, b] = [symbols[at]!, symbols[at + 1]!];
          [symbols[at], symbols[at + 1]] = [b, a];
          expect(readCode(symbols.join("")).ok).toBe(a === b);
        }),
      );
    },
  );

  it.each([
    ["", "Type the six symbols"],
    ["7K3U-F2", "Symbol 4, “U”, is never in a check code. Is it a V?"],
    ["7K3F", "six symbols; this has 4"],
    ["7K3F-QSA", "six symbols; this has 7"],
    ["7K3F-Q$", "Symbol 6, “$”"],
    ["7K3F-QO", "The last symbol, “O”, does not fit"],
  ])("`%s` is refused: %s", (typed, because) => {
    const read = readCode(typed);
    expect(read.ok ? "" : read.because).toContain(because);
  });

  it(
    "has an address of capitals and figures only, for a QR code in alphanumeric mode (ISO/IEC 18004, 45 " +
      "characters)",
    () => {
      fc.assert(
        fc.property(codes, (code) => {
          expect(addressOfCode(code)).toMatch(/^C\/[0-9A-Z]{6}\/$/);
        }),
      );
      expect(addressOfCode("7K3F-QS")).toBe("C/7K3FQS/");
    },
  );
});
