/**
 * Makes another question paper from the number in the address's fragment, with the same marks on the page as the one
 * that is built in.
 */
import type { SentBank } from "../../site/study/questions.ts";
import { unpackBank } from "../../domain/study/bank.ts";
import { type PaperQuestion, drawPaper, letterOf, sayKey } from "../../domain/study/paper.ts";
import { wordsHere } from "../../words/heard.ts";
import { drawPicture } from "./practice-picture.ts";
import { textElement } from "./practice-page.ts";

/** As many as the built-in paper has. */
const QUESTIONS = document.querySelectorAll("[data-paper=questions]>li").length;
const sent = (globalThis as { rerigBank?: SentBank }).rerigBank;
const part = <T extends HTMLElement>(name: string) => document.querySelector<T>(`[data-paper=${name}]`)!;

if (sent) start(sent);

function start(bank: SentBank): void {
  const questions = unpackBank(bank.bank, bank.platform);
  const form = part<HTMLFormElement>("form");
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    location.hash = `paper=${encodeURIComponent(part<HTMLInputElement>("seed").value.trim() || "1")}`;
  });
  const make = () => {
    const seed = /^#paper=(.{1,60})$/.exec(location.hash)?.[1];
    if (seed === undefined) return;
    const number = readSeed(seed);
    draw(bank, drawPaper(questions, number, QUESTIONS), number);
  };
  addEventListener("hashchange", make);
  make();
}

function readSeed(text: string): string {
  try {
    return decodeURIComponent(text).slice(0, 12);
  } catch {
    return "1";
  }
}

function draw(bank: SentBank, paper: readonly PaperQuestion[], number: string): void {
  for (const place of document.querySelectorAll("[data-paper=number]")) place.textContent = number;
  part<HTMLInputElement>("seed").value = number;
  part("questions").replaceChildren(
    ...paper.map(({ question, choices }) => {
      const line = textElement("li", "");
      const asks = textElement("p", question.prompt);
      asks.className = "asks";
      line.append(asks);
      if (question.given.length)
        line.append(
          listOf(
            "given",
            question.given.map((given) => textElement("li", given)),
          ),
        );
      const photo = question.photo === undefined ? undefined : bank.photos[question.photo];
      if (photo) line.append(drawPicture(photo));
      line.append(
        listOf(
          "choice-list",
          choices.map((choice, at) => {
            const item = textElement("li", "");
            item.append(textElement("b", letterOf(at)), choice);
            return item;
          }),
        ),
      );
      return line;
    }),
  );
  part("sheet").replaceChildren(
    ...paper.map(({ question, choices }, at) => {
      const line = textElement("li", "");
      line.append(
        textElement("b", String(at + 1)),
        ...choices.map((_, letter) => sheetMark(question.kind === "order", letter)),
      );
      return line;
    }),
  );
  part("key").replaceChildren(
    ...paper.map((asked, at) => {
      const { proof, why, source } = asked.question;
      const line = textElement("li", ""),
        letter = textElement("b", sayKey(asked)),
        words = textElement("span", `${why} ${proof} `),
        small = textElement("span", wordsHere("asked").asked[source.critical ? "sourceCritical" : "source"](source));
      letter.className = "letter";
      small.className = "small";
      words.append(small);
      line.append(textElement("b", String(at + 1)), " ", letter, " ", words);
      return line;
    }),
  );
}

function sheetMark(isOrder: boolean, letter: number): HTMLElement {
  const mark = textElement("span", "");
  mark.className = isOrder ? "blank" : "pin-letter";
  if (!isOrder) {
    const pin = textElement("i", "");
    pin.setAttribute("aria-hidden", "true");
    mark.append(pin, letterOf(letter));
  }
  return mark;
}

function listOf(name: string, lines: readonly HTMLElement[]): HTMLElement {
  const list = textElement("ul", "");
  list.className = name;
  list.append(...lines);
  return list;
}
