/** Buttons that print the page, on the pages that have one. */
import { startPrintButtons } from "./print-button.ts";

startPrintButtons();
