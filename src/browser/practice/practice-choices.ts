/**
 * The answers of a question: one to choose, or lines to number in order. Both work with a finger in a glove and with
 * the keyboard alone.
 */
import type { PaperQuestion } from "../../domain/study/paper.ts";
import { wordsHere } from "../../words/heard.ts";
import { textElement } from "./practice-page.ts";

/** What a learner has chosen so far, and how to show what was right. */
export interface Chooser {
  /** Indices of what was chosen; `undefined` if it is not complete. */
  readonly chosen: () => readonly number[] | undefined;
  readonly reveal: () => void;
  /** Takes the answer with that text, as long as nothing is revealed; does nothing for lines in order. */
  readonly choose: (text: string) => void;
}

/** What is said of the choice at an index: its text, or of a picture its number. */
export function sayChoice({ question, choices }: PaperQuestion, at: number): string {
  return question.kind === "picture" ? wordsHere("asked").asked.picture({ number: at + 1 }) : choices[at]!;
}

/** Draws the answers into the place; those that are photos by `picture`. */
export function showChoices(
  place: HTMLElement,
  asked: PaperQuestion,
  picture: (id: string) => HTMLElement | undefined,
): Chooser {
  return asked.question.kind === "order" ? showLines(place, asked) : showOptions(place, asked, picture);
}

function showOptions(
  place: HTMLElement,
  asked: PaperQuestion,
  picture: (id: string) => HTMLElement | undefined,
): Chooser {
  const { question, choices, right } = asked,
    { asked: words } = wordsHere("asked");
  const options = choices.map((text, at) => {
    const label = textElement("label", "");
    label.className = "opt";
    const input = textElement("input", "");
    input.type = "radio";
    input.name = "answer";
    input.value = String(at);
    label.append(input, textElement("span", sayChoice(asked, at)));
    const shown = question.kind === "picture" ? picture(text) : undefined;
    if (shown) {
      label.classList.add("with-picture");
      label.append(shown);
    }
    return { label, input };
  });
  place.replaceChildren(...options.map(({ label }) => label));
  return {
    chosen: () => {
      const at = options.findIndex(({ input }) => input.checked);
      return at < 0 ? undefined : [at];
    },
    choose: (text) => {
      const input = options[choices.indexOf(text)]?.input;
      if (input && !input.disabled) input.checked = true;
    },
    reveal: () =>
      options.forEach(({ label, input }, at) => {
        input.disabled = true;
        const isKey = at === right[0];
        if (isKey || input.checked) label.append(mark(isKey ? words.right : words.wrong));
        label.classList.toggle("key", isKey);
      }),
  };
}

/**
 * Pressing the lines one after another numbers them; pressing a numbered one takes its number and the later ones away.
 */
function showLines(place: HTMLElement, { choices, right }: PaperQuestion): Chooser {
  const order: number[] = [],
    { asked: words } = wordsHere("asked");
  const lines = choices.map((text, at) => {
    const button = textElement("button", "");
    button.type = "button";
    button.className = "line";
    const number = textElement("b", "");
    button.append(number, textElement("span", text));
    button.addEventListener("click", () => {
      const placed = order.indexOf(at);
      if (placed < 0) order.push(at);
      else order.splice(placed);
      draw();
    });
    return { button, number };
  });
  const draw = () =>
    lines.forEach(({ button, number }, at) => {
      const placed = order.indexOf(at);
      number.textContent = placed < 0 ? "" : String(placed + 1);
      button.setAttribute(
        "aria-label",
        placed < 0
          ? words.noNumberYet({ line: choices[at]! })
          : words.isNumber({ number: placed + 1, line: choices[at]! }),
      );
      button.classList.toggle("placed", placed >= 0);
    });
  const help = textElement("p", words.pressInOrder);
  help.className = "small";
  place.replaceChildren(help, ...lines.map(({ button }) => button));
  draw();
  return {
    chosen: () => (order.length === choices.length ? order : undefined),
    choose: () => {},
    reveal: () =>
      lines.forEach(({ button }, at) => {
        button.disabled = true;
        button.append(mark(words.rightIs({ number: right.indexOf(at) + 1 })));
      }),
  };
}

function mark(text: string): HTMLElement {
  const made = textElement("em", text);
  made.className = "verdict";
  return made;
}
