/** Buttons that print the page. */

/** Shows every `[data-print]` and lets it print. */
export function startPrintButtons(): void {
  for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-print]")) {
    button.hidden = false;
    button.addEventListener("click", () => print());
  }
}
