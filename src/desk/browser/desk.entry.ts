/** Runs in the head of every screen of the desk. */
import { startTheme } from "../../browser/theme.ts";
import { startEdits } from "./edits.ts";
import { startRefreshing } from "./screen.ts";

document.documentElement.dataset["desk"] = document.currentScript?.dataset["desk"] ?? "";
startTheme();
document.addEventListener("DOMContentLoaded", () => {
  startRefreshing();
  startEdits();
});
