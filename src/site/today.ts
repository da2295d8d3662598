/** The day on which a command runs or a site is built. */
import { dayOf } from "../domain/words/say.ts";
import { isDate } from "../schema/quantities.ts";

/** Today as `YYYY-MM-DD` where the command runs. `RERIG_TODAY` gives another day, for trying what will be due. */
export function today(): string {
  const given = process.env["RERIG_TODAY"];
  if (given && isDate(given)) return given;
  return dayOf(new Date());
}
