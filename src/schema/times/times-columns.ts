/** The columns and marks of the file of times and notes, apart from its shape: devices need no schema. */

/** What a row of the CSV is; `whole` is the last one, and its number says how many rows stand before it. */
export type TimesRow = "step" | "counted" | "note" | "whole";

/** The columns of the CSV, in order. */
export const TIMES_COLUMNS = [
  "row",
  "collection",
  "id",
  "day",
  "platform",
  "from",
  "to",
  "begun",
  "drill",
  "number",
  "procedure",
  "revision",
  "step",
  "back",
  "takes",
  "start",
  "end",
  "took",
  "done",
  "interrupted",
  "words",
] as const;

/** The last cell of a whole CSV. */
export const TIMES_END = "end";

/** The first field of the JSON, which says what it is. */
export const TIMES_MARK = "rerig-times";
