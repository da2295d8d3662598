/**
 * Runs in the head of every page, before anything is drawn: the theme, the weight in the address, links when opened
 * from a folder, the date on paper.
 */
import { startTheme } from "./theme.ts";
import { startFolderLinks } from "./find/folder-links.ts";
import { startFindKey } from "./find/find-key.ts";
import { startPrintDate } from "./print-date.ts";
import { startPatient } from "./chooser/weight.ts";

startTheme();
document.addEventListener("DOMContentLoaded", () => {
  startFolderLinks();
  startPrintDate();
  startPatient();
  startFindKey();
});
