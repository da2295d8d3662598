/**
 * Makes another question paper from the number in the address's fragment, with the same marks on the page as the one
 * that is built in.
 */
import type { SentBank } from "../../site/study/questions.ts";
import { unpackBank } from "../../domain/study/bank.ts";
import { type Asked, drawPaper, letterOf, sayKey } from "../../domain/study/paper.ts";
import { drawPicture } from "./practice-picture.ts";
import { element } from "./practice-page.ts";

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

function draw(bank: SentBank, paper: readonly Asked[], number: string): void {
  for (const place of document.querySelectorAll("[data-paper=number]")) place.textContent = number;
  part<HTMLInputElement>("seed").value = number;
  part("questions").replaceChildren(
    ...paper.map(({ question, choices }) => {
      const line = element("li", "");
      const asks = element("p", question.prompt);
      asks.className = "asks";
      line.append(asks);
      if (question.given.length)
        line.append(
          listOf(
            "given",
            question.given.map((given) => element("li", given)),
          ),
        );
      const photo = question.photo === undefined ? undefined : bank.photos[question.photo];
      if (photo) line.append(drawPicture(photo));
      line.append(
        listOf(
          "choice-list",
          choices.map((choice, at) => {
            const item = element("li", "");
            item.append(element("b", letterOf(at)), choice);
            return item;
          }),
        ),
      );
      return line;
    }),
  );
  part("sheet").replaceChildren(
    ...paper.map(({ question, choices }, at) => {
      const line = element("li", "");
      line.append(
        element("b", String(at + 1)),
        ...choices.map((_, letter) => sheetMark(question.kind === "order", letter)),
      );
      return line;
    }),
  );
  part("key").replaceChildren(
    ...paper.map((asked, at) => {
      const { proof, source } = asked.question;
      const line = element("li", ""),
        letter = element("b", sayKey(asked)),
        words = element("span", `${proof} `),
        small = element(
          "span",
          `${source.code}, revision ${source.revision}${source.critical ? ", safety-critical" : ""}`,
        );
      letter.className = "letter";
      small.className = "small";
      words.append(small);
      line.append(element("b", String(at + 1)), " ", letter, " ", words);
      return line;
    }),
  );
}

function sheetMark(isOrder: boolean, letter: number): HTMLElement {
  const mark = element("span", "");
  mark.className = isOrder ? "blank" : "pin-letter";
  if (!isOrder) {
    const pin = element("i", "");
    pin.setAttribute("aria-hidden", "true");
    mark.append(pin, letterOf(letter));
  }
  return mark;
}

function listOf(name: string, lines: readonly HTMLElement[]): HTMLElement {
  const list = element("ul", "");
  list.className = name;
  list.append(...lines);
  return list;
}
