/** Runs in the head of every screen of the desk: the theme, and a fresh screen when the files have changed. */
import { startTheme } from "../../browser/theme.ts";
startTheme();
