/** Offers what is kept of runs and notes as a file, and to take it off the device. */
import { heard } from "../../words/heard.ts";
import type { TimesFile } from "../../schema/times/times.ts";
import { sayList } from "../../schema/wording.ts";
import { timesCsv, timesJson } from "../../domain/after/times-file.ts";
import { dayOf } from "../../domain/words/say.ts";
import { button, element } from "../element.ts";
import { forgetAfter, readAfter } from "./after-store.ts";

/** `1 run and 2 notes`. */
const sayKeptTimes = ({ runs, notes }: Pick<TimesFile, "runs" | "notes">): string =>
  sayList([
    ...(runs.length ? [heard("after").runs({ runs: runs.length })] : []),
    ...(notes.length ? [heard("after").notes({ notes: notes.length })] : []),
  ]);

/**
 * A place that says what the device keeps of runs and notes and offers the file; `show` fills it anew.
 * `isKept`: whether the device took what was last given to it.
 */
export function keptOnDevice(isKept: boolean): { readonly place: HTMLElement; readonly show: () => void } {
  const place = element("div", { class: "after-kept" });
  const show = () => {
    const now = readAfter();
    place.replaceChildren(
      ...(isKept ? [] : [element("p", { class: "note" }, heard("after").saveItNow)]),
      ...(now.runs.length + now.notes.length > 0
        ? [element("p", {}, heard("after").onThisDevice({ kept: sayKeptTimes(now) })), ...fileParts(show)]
        : [element("p", { role: "status" }, heard("after").nothingIsKept)]),
    );
  };
  return { place, show };
}

/** Buttons that save the file, and one that takes everything off the device; `changed` is called after that. */
function fileParts(changed: () => void): Node[] {
  const forget = button(heard("after").takeOff, "go", () => {
    if (forget.dataset["sure"] === undefined) {
      forget.dataset["sure"] = "";
      forget.textContent = heard("after").takeOffAgain;
      return;
    }
    forgetAfter();
    changed();
  });
  return [
    element(
      "div",
      { class: "after-file" },
      button(heard("after").saveTable, "go", () => save("csv", "text/csv", `\ufeff${timesCsv(readAfter())}`)),
      button(heard("after").saveFile, "go", () => save("json", "application/json", timesJson(readAfter()))),
      forget,
    ),
    element("p", { class: "small" }, heard("after").kept),
  ];
}

function save(ending: string, type: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = element("a", { href: address, download: `times-${dayOf(new Date())}.${ending}` });
  document.body.append(link);
  link.click();
  link.remove();
  // The browser reads it when it has asked where to: not before.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
