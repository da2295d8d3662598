/** Puts the day of printing on the paper, in letters, so that no one reads 03/04 the wrong way round. */
import { dayOf, sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";

/** Fills every `.printed-on` and the margin of the page when the reader prints. */
export function startPrintDate(): void {
  addEventListener("beforeprint", () => {
    const today = sayDate(dayOf(new Date()));
    for (const place of document.querySelectorAll(".printed-on")) place.textContent = today;
    document.documentElement.style.setProperty("--printed-on", `"${heard("frame").printedOn} ${today}"`);
  });
}
