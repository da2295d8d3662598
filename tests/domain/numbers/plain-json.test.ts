/** JSON without dust: what is written is what was meant, and nothing else is touched. */
import { describe, expect, it } from "vitest";
import { plainJson } from "../../../src/domain/numbers/plain-json.ts";

describe("results as JSON", () => {
  it.each([
    [0.1 + 0.2, "0.3"],
    [1170.6000000000001, "1170.6"],
    [8.2, "8.2"],
    [0.000000123, "1.23e-7"],
    [9007199254740991, "9007199254740991"],
    ["0.30000000000000004", '"0.30000000000000004"'],
  ])("writes %s as %s", (value, text) => expect(plainJson(value, 0)).toBe(text));
});
