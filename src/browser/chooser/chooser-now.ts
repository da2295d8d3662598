/** What is on the platform now: every arrangement's link leads from there, and keeps the patient in the address. */
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import { askLink, type Now } from "./chooser-carry.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";
import { startFolderLinks } from "../find/folder-links.ts";
import { readPatient, showPatient } from "./weight.ts";
import { lowerFirst } from "../../schema/wording.ts";

/**
 * Points the changeover link of each arrangement at the one that starts from `now`, or from what was begun since;
 * without `now` they stay as they are.
 */
export function showNow(data: ChooserData, now: Now): void {
  const from = data.rows.find(({ id }) => id === now.now?.split("+")[0]);
  if (!from) return;
  const { choosing } = wordsHere("choosing");
  for (const section of document.querySelectorAll<HTMLElement>(".hang [data-for]")) {
    const to = section.dataset["for"]!,
      row = section.querySelector(".acts-row");
    const old = section.querySelector("a.over");
    if ((to === from.id && !now.begun) || !row) {
      old?.remove();
      continue;
    }
    const link = now.begun
      ? askLink(now, to, choosing.changeOverFromHere)
      : element(
          "a",
          { href: `${now.base}changeovers/${from.id}--${to}/` },
          choosing.changeOverFrom({ arrangement: lowerFirst(from.title) }),
        );
    link.classList.add("go", "over");
    if (old) old.replaceWith(link);
    else row.append(link);
  }
  showPatient(readPatient());
  startFolderLinks();
}
