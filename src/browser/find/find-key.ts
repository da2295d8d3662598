/** `/` puts the cursor in the box that finds, as long as nobody is typing elsewhere. */

/** Listens for the key. */
export function startFindKey(): void {
  addEventListener("keydown", (event) => {
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey) return;
    const target = event.target as HTMLElement | null;
    if (target?.closest("input, textarea, select, [contenteditable]")) return;
    const box =
      document.querySelector<HTMLInputElement>("#find-page") ?? document.querySelector<HTMLInputElement>("#find-box");
    if (!box || box.offsetParent === null) return;
    event.preventDefault();
    box.focus();
    box.select();
  });
}
