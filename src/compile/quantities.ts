/** The readers of quantities, where commands and rules look for them; they stand in the schema, since the shapes of the files need them. */
export { parseAge, parseDate, parseDuration, parseForce, parseKg, parseLength, parseMass, parseRange } from "../schema/quantities.ts";
export type { Quantity, RangeKind, Reading } from "../schema/quantities.ts";
