/** Day and night: the device's wish, unless this reader has chosen; the choice stays on this device. */
import { takeTheme } from "./night-picture.ts";

const KEY = "rerig-theme";
type Theme = "day" | "night";

/** Applies the kept choice at once, so that nothing flashes, and puts the button to work. */
export function startTheme(): void {
  const kept = readChoice();
  if (kept) document.documentElement.dataset["theme"] = kept;
  // Pictures that are read in must not be fetched first by the device's wish.
  const early = kept && new MutationObserver(() => takeTheme(document));
  early?.observe(document, { childList: true, subtree: true });
  document.addEventListener("DOMContentLoaded", () => {
    early?.disconnect();
    if (kept) takeTheme(document);
    for (const button of document.querySelectorAll<HTMLButtonElement>("button.theme")) {
      button.hidden = false;
      label(button);
      button.addEventListener("click", () => {
        const next = isNight() ? "day" : "night";
        document.documentElement.dataset["theme"] = next;
        takeTheme(document);
        keepChoice(next);
        label(button);
      });
    }
  });
}

function isNight(): boolean {
  const chosen = document.documentElement.dataset["theme"];
  return chosen ? chosen === "night" : matchMedia("(prefers-color-scheme: dark)").matches;
}

/** The button names what a press brings. */
function label(button: HTMLButtonElement): void {
  button.textContent = button.dataset[isNight() ? "day" : "night"]!;
}

/** Storage may be closed (private windows, folders): then the choice lasts for the page. */
function readChoice(): Theme | undefined {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === "day" || kept === "night" ? kept : undefined;
  } catch {
    return undefined;
  }
}

function keepChoice(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // Nothing to do: the theme holds for this page.
  }
}
