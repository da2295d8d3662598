/** *Something is not as it says*: a line at a step, kept on this device. */
import { dayOf } from "../../domain/words/say.ts";
import { heard } from "../../words/heard.ts";
import { element } from "../element.ts";
import { keepAfter, newId } from "./after-store.ts";

/** Longer than this is for the educator's ear, not for a line at a step. */
const MOST_LETTERS = 300;

/** Which step it is about. */
interface NotedStep {
  readonly platform: string;
  readonly procedure: string;
  readonly revision: number;
  readonly step: number;
}

/**
 * A fold with a field for the words, which is made when it is first opened; nothing is kept until its button is
 * pressed. `kept` is called after that.
 */
export function noteForm(noted: NotedStep, kept?: () => void): HTMLElement {
  const summary = element("summary", {}, heard("after").notAsItSays);
  const fold = element("details", { class: "step-note" }, summary);
  summary.addEventListener("click", () => fold.append(...noteFields(noted, kept)), { once: true });
  return fold;
}

function noteFields({ platform, procedure, revision, step }: NotedStep, kept?: () => void): Node[] {
  const words = element("textarea", { rows: "3", maxlength: String(MOST_LETTERS) }),
    said = element("p", { role: "status", class: "note-said" }),
    keep = element("button", { type: "button", class: "go" }, heard("after").keepNote);
  keep.addEventListener("click", () => {
    const text = words.value.replace(/\s+/g, " ").trim();
    if (text === "") {
      said.textContent = heard("after").writeNote;
      words.focus();
      return;
    }
    const isKept = keepAfter({
      note: { id: newId(), day: dayOf(new Date()), platform, procedure, revision, step, words: text },
    });
    words.value = "";
    said.textContent = isKept ? heard("after").noteKept : heard("after").noteNotKept;
    kept?.();
  });
  return [
    element(
      "label",
      {},
      element("b", {}, heard("after").whatIsNot),
      " ",
      element("span", {}, heard("after").noNames),
      words,
    ),
    keep,
    said,
  ];
}
