/** Results are worked out once for the records that they belong to. */
import { expect, it } from "vitest";
import { remember } from "../../../src/domain/words/remember.ts";

it("works a result out once for the same records, and again for others, equal ones too", () => {
  let worked = 0;
  const sum = remember((a: { n: number }, b: { n: number }) => (worked += 1) * 100 + a.n + b.n);
  const [one, two] = [{ n: 1 }, { n: 2 }];
  expect([sum(one, two), sum(one, two), sum(two, one), sum(one, one), sum({ n: 1 }, two)]).toEqual([
    103, 103, 203, 302, 403,
  ]);
  expect(worked).toBe(4);
});

it("remembers that there is nothing, and not what was thrown", () => {
  let asked = 0;
  const none = remember((_: object) => void (asked += 1));
  const key = {};
  none(key);
  none(key);
  expect(asked).toBe(1);
  const fails = remember((_: object) => {
    throw new Error(String((asked += 1)));
  });
  expect(() => fails(key)).toThrow("2");
  expect(() => fails(key)).toThrow("3");
});
