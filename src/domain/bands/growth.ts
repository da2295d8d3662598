/**
 * What children of an age usually weigh, to ask back an age and a weight that do not go together. It judges nothing and
 * estimates no weight: outside the outermost lines of the published tables the entry is read back, that is all.
 *
 * Values: WHO Child Growth Standards, weight-for-age, by age in days (0 to 1826; Methods and development, 2006, ISBN 92
 * 4 154693 X), and WHO reference 2007, weight-for-age (61 to 120 months; de Onis et al., Bull WHO 2007;85:660-7), as L,
 * M (kg) and S at some ages. A line at k standard deviations is `M(1 + L·S·k)^(1/L)` (ibid., chapter 7).
 */
import { AGE_PER_DAY, AGE_PER_MONTH } from "../../schema/units.ts";
import { kgOf } from "./bands.ts";

type Lms = readonly [l: number, m: number, s: number];
const DAYS_PER_MONTH = Number(AGE_PER_MONTH) / Number(AGE_PER_DAY);
/** Days, then boys, then girls. */
const TABLE: readonly (readonly [days: number, boys: Lms, girls: Lms])[] = [
  [0, [0.3487, 3.3464, 0.14602], [0.3809, 3.2322, 0.14171]],
  [30, [0.2303, 4.4525, 0.13413], [0.1727, 4.1716, 0.13738]],
  [61, [0.1969, 5.5714, 0.12382], [0.0959, 5.1315, 0.12998]],
  [91, [0.174, 6.369, 0.11732], [0.0407, 5.8393, 0.12622]],
  [183, [0.1256, 7.9389, 0.10957], [-0.0759, 7.3016, 0.12204]],
  [274, [0.0917, 8.9019, 0.10881], [-0.1507, 8.2259, 0.12199]],
  [365, [0.0645, 9.646, 0.10925], [-0.2022, 8.9462, 0.12267]],
  [548, [0.021, 10.9393, 0.1112], [-0.2637, 10.2324, 0.12309]],
  [731, [-0.0137, 12.1548, 0.11427], [-0.2942, 11.4809, 0.1239]],
  [1096, [-0.0689, 14.3443, 0.12116], [-0.3201, 13.8518, 0.1292]],
  [1461, [-0.1131, 16.3489, 0.12759], [-0.3361, 16.0697, 0.13884]],
  [1826, [-0.1506, 18.3352, 0.13517], [-0.3518, 18.2179, 0.14821]],
  [72 * DAYS_PER_MONTH, [-0.318, 20.5137, 0.13372], [-0.5013, 20.1639, 0.149]],
  [84 * DAYS_PER_MONTH, [-0.4402, 22.8915, 0.13759], [-0.5347, 22.374, 0.15556]],
  [96 * DAYS_PER_MONTH, [-0.5482, 25.4163, 0.14344], [-0.5627, 25.0262, 0.16186]],
  [108 * DAYS_PER_MONTH, [-0.6337, 28.1092, 0.15233], [-0.5833, 28.204, 0.16764]],
  [120 * DAYS_PER_MONTH, [-0.6764, 31.1586, 0.16305], [-0.5958, 31.8578, 0.17262]],
];
/** The outermost lines that the tables print, in standard deviations. */
const OUTERMOST = 3;
/** Children born early are lighter than every line of tables of those born at term (common practice, no source). */
const EARLY_DAYS = 183;

/** A line of the tables in kilograms: `sd` standard deviations from the median, by L, M and S. */
export function lineOf([l, m, s]: Lms, sd: number): number {
  return l === 0 ? m * Math.exp(s * sd) : m * (1 + l * s * sd) ** (1 / l);
}

/**
 * The weights between the outermost lines at an age (units of `End`), in kilograms, the wider of boys and girls,
 * straight between the ages in the table. `fromKg` is 0 in the first half year, for those born early. `undefined` above
 * ten years.
 *
 * Example: at one year from 6.3 to 13.3 kg.
 */
export function usualWeights(age: bigint): { readonly fromKg: number; readonly toKg: number } | undefined {
  const days = Number(age) / Number(AGE_PER_DAY),
    after = TABLE.findIndex(([at]) => at >= days);
  if (after < 0) return undefined;
  const lines = ([, ...both]: (typeof TABLE)[number]) => ({
    from: Math.min(...both.map((lms) => lineOf(lms, -OUTERMOST))),
    to: Math.max(...both.map((lms) => lineOf(lms, OUTERMOST))),
  });
  const high = TABLE[after]!,
    low = TABLE[Math.max(0, after - 1)]!;
  const share = high[0] === low[0] ? 0 : (days - low[0]) / (high[0] - low[0]);
  const between = (a: number, b: number) => a + (b - a) * share;
  const [one, two] = [lines(low), lines(high)];
  return { fromKg: days < EARLY_DAYS ? 0 : between(one.from, two.from), toKg: between(one.to, two.to) };
}

/** Whether a weight (units of `End`) lies outside the usual ones for the age; `false` where no table reaches. */
export function isUnusual(mass: bigint, age: bigint): boolean {
  const usual = usualWeights(age),
    kg = kgOf(mass);
  return usual !== undefined && (kg < usual.fromKg || kg > usual.toKg);
}
