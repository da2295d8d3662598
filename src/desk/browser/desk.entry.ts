/** Runs in the head of every screen of the desk. */
import { startTheme } from "../../browser/theme.ts";
import { startEdits } from "./edits.ts";
import { startPhoto } from "./photo.ts";
import { startRefreshing } from "./screen.ts";
import { startTaking } from "./take-photo.ts";

document.documentElement.dataset["desk"] = document.currentScript?.dataset["desk"] ?? "";
startTheme();
document.addEventListener("DOMContentLoaded", () => {
  startRefreshing();
  startEdits();
  startTaking();
  startPhoto();
});
