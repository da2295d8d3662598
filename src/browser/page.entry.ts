/**
 * Runs in the head of every page, before anything is drawn: the theme, the weight in the address, links when opened
 * from a folder, the date on paper, what is out of service. Other scripts take from it what they say and how.
 */
import { lend } from "./lend.ts";
import { startTheme } from "./theme.ts";
import { startFolderLinks } from "./find/folder-links.ts";
import { startFindKey } from "./find/find-key.ts";
import { startPrintDate } from "./print-date.ts";
import { startPatient } from "./chooser/weight.ts";
import { startAmendments } from "./amendments.ts";
import { startOutBar } from "./tonight/out-bar.ts";

lend();
startTheme();
document.addEventListener("DOMContentLoaded", () => {
  startAmendments();
  startOutBar();
  startFolderLinks();
  startPrintDate();
  startPatient();
  startFindKey();
});
