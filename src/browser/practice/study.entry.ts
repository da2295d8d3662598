/**
 * Procedures studied one step at a time, and the list of what is to be studied: what this device’s reader has been
 * through, in which revision.
 */
import { wordsHere } from "../../words/heard.ts";
import { PracticeStore } from "./practice-store.ts";
import { dayOf, sayDate } from "../../domain/words/say.ts";

const lesson = document.querySelector<HTMLElement>("[data-lesson]");
if (lesson) startLesson(lesson);
const path = document.querySelector<HTMLElement>("[data-study-path]");
if (path) void sayStudied(path);

function startLesson(lesson: HTMLElement): void {
  const steps = [...lesson.querySelectorAll<HTMLElement>("[data-lesson-step]")];
  const numbers = [...lesson.querySelectorAll("[data-lesson-walk] a")];
  const piece = (name: string) => lesson.querySelector<HTMLElement>(`[data-lesson-${name}]`)!;
  if (steps.length < 2) return void keepStudied(lesson);
  const { asked: words } = wordsHere("asked");
  let all = false;
  const at = () =>
    Math.max(
      0,
      steps.findIndex(({ id }) => `#${id}` === location.hash),
    );
  const draw = (focus: boolean) => {
    const now = at();
    steps.forEach((step, index) => {
      step.hidden = !all && index !== now;
    });
    numbers.forEach((number, index) => {
      if (!all && index === now) number.setAttribute("aria-current", "step");
      else number.removeAttribute("aria-current");
    });
    piece("back").hidden = all || now === 0;
    piece("on").hidden = all || now === steps.length - 1;
    piece("all").textContent = all ? words.oneStepAtATime : words.allSteps;
    piece("end").hidden = !all && now < steps.length - 1;
    if (now === steps.length - 1) keepStudied(lesson);
    if (focus && !all) steps[now]!.querySelector<HTMLElement>(".do")?.focus();
  };
  const go = (by: number) => {
    location.hash = steps[at() + by]!.id;
  };
  for (const name of ["walk", "turn"]) piece(name).hidden = false;
  piece("back").addEventListener("click", () => go(-1));
  piece("on").addEventListener("click", () => go(1));
  piece("all").addEventListener("click", () => {
    all = !all;
    draw(false);
  });
  addEventListener("hashchange", () => {
    all = false;
    draw(true);
  });
  // On paper every step is printed.
  addEventListener("beforeprint", () =>
    steps.forEach((step) => {
      step.hidden = false;
    }),
  );
  addEventListener("afterprint", () => draw(false));
  draw(false);
}

let kept = false;

function keepStudied(lesson: HTMLElement): void {
  if (kept) return;
  kept = true;
  const { lesson: key, title, revision } = lesson.dataset;
  void PracticeStore.open()
    .then((store) =>
      store.study({ key: key!, title: title!, revision: Number(revision), at: new Date().toISOString() }),
    )
    .catch(() => undefined);
}

async function sayStudied(path: HTMLElement): Promise<void> {
  const studied = await PracticeStore.open()
    .then((store) => store.readStudied())
    .catch(() => undefined);
  const { asked: words } = wordsHere("asked");
  for (const stop of path.querySelectorAll<HTMLElement>("[data-document]")) {
    const found = studied?.get(`${path.dataset["platform"]} ${stop.dataset["document"]}`);
    if (!found) continue;
    const current = found.revision >= Number(stop.dataset["revision"]);
    const day = sayDate(dayOf(new Date(found.at)));
    stop.querySelector("[data-been]")!.textContent = current
      ? words.studied({ date: day })
      : words.studiedBefore({ revision: found.revision });
  }
}
