/** Runs in the head of every page, before anything is drawn: the theme, links when opened from a folder, the date on paper. */
import { startTheme } from "./theme.ts";
import { startFolderLinks } from "./folder-links.ts";
import { startPrintDate } from "./print-date.ts";

startTheme();
document.addEventListener("DOMContentLoaded", () => {
  startFolderLinks();
  startPrintDate();
});
