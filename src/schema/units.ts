/** Exact units of weights and ages, so that nothing is rounded at the end of a band. */

/**
 * Units of mass in a kilogram: pounds to twelve decimals are whole (1 lb = 0.45359237 kg exactly, NIST SP 811, appendix
 * B.8).
 */
export const MASS_PER_KG = 10n ** 20n;
/** Units of mass in an avoirdupois pound. */
export const MASS_PER_LB = 45_359_237n * 10n ** 12n;
/** The units in which a mass is written and told, with what one of each is in units of mass. */
export const MASS_UNITS = { kg: MASS_PER_KG, g: MASS_PER_KG / 1000n, lb: MASS_PER_LB } as const;
/** Units of age in a day; a month is 365.25/12 days = 30.4375 days. */
export const AGE_PER_DAY = 10n ** 16n;
/** Units of age in a month, a twelfth of 365.25 days. */
export const AGE_PER_MONTH = 304_375n * 10n ** 12n;
/** The units in which an age is written and told, in the plural, with what one of each is in units of age. */
export const AGE_UNITS = {
  days: AGE_PER_DAY,
  weeks: 7n * AGE_PER_DAY,
  months: AGE_PER_MONTH,
  years: 12n * AGE_PER_MONTH,
} as const;
/** Seconds that a step takes when the author does not say. */
export const DEFAULT_STEP_SECONDS = 20;
/** The place of every platform where things are put down within reach for now. */
export const ASIDE = "aside";

/** For how many days a temporary amendment may run where the service does not say: common practice, no source. */
export const AMENDMENT_DAYS = 90;
