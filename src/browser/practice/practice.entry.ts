/**
 * Practice in the browser: a round of questions, what came of it, and the learner's own record. Everything stays on
 * this device.
 */
import type { SentBank } from "../../site/study/questions.ts";
import { type SentQuestion, unpackBank } from "../../domain/study/bank.ts";
import type { QuestionKind } from "../../domain/study/questions/question.ts";
import { drawsFrom } from "../../domain/numbers/chance.ts";
import { type Askable, askOne, type PaperQuestion, isRight } from "../../domain/study/paper.ts";
import { type Chooser, sayChoice, showChoices } from "./practice-choices.ts";
import { drawHome } from "./practice-home.ts";
import { drawPicture } from "./practice-picture.ts";
import { drawGapPlan } from "./practice-plan.ts";
import { PracticeStore } from "./practice-store.ts";
import { heard, wordsHere } from "../../words/heard.ts";
import { textElement, homeOf, part, show } from "./practice-page.ts";
import { chooseRound, gradeCard, type Kept, REFRESHER_QUESTIONS } from "./schedule.ts";

const ROUND_QUESTIONS = 12;
/** Kinds of question whose right answer is a step. */
const SAY_STEPS: ReadonlySet<string> = new Set(["next", "order", "missing"] satisfies QuestionKind[]);

const sent = (globalThis as { rerigBank?: SentBank }).rerigBank;
if (sent) void start(sent);
else show("lost", true);

async function start(bank: SentBank): Promise<void> {
  const { asked: words } = wordsHere("asked");
  const questions = unpackBank(bank.bank, bank.platform);
  const byId = new Map(questions.map((question) => [question.id, question]));
  let store: PracticeStore | undefined;
  try {
    store = await PracticeStore.open();
  } catch {
    // Without a database a round still works; nothing of it is kept.
  }
  let kept = (await store?.readKept()) ?? new Map<string, Kept>();
  // Draws differ from round to round; on a paper they come from the seed.
  const draw = drawsFrom(`${Date.now()} ${questions.length}`);
  let manner: "refresher" | "round" = "refresher";

  const home = async () => {
    kept = (await store?.readKept()) ?? kept;
    for (const name of ["play", "end"]) show(name, false);
    for (const name of ["home", "intro", "numbers"]) show(name, true);
    await drawHome({ bank, questions, kept, store, redraw: home });
  };

  const begin = (how: "refresher" | "round") => {
    manner = how;
    const about = document.querySelector<HTMLInputElement>("input[name=about]:checked")?.value ?? "";
    const candidates = questions
      .filter(({ source }) => about === "" || `${source.kind} ${source.id}` === about)
      .map(({ id, kind, source, worth, key }) => ({
        id,
        kind,
        says: [
          ...(source.step === undefined ? [] : [`${source.id} ${source.step}`]),
          ...(SAY_STEPS.has(kind) ? key.map(({ text }) => text) : []),
        ],
        critical: source.critical,
        document: source.id,
        worth: worth.points,
        firstWeek: worth.firstWeek,
      }));
    const ids = chooseRound(
      candidates,
      kept,
      new Date(),
      how === "refresher" ? REFRESHER_QUESTIONS : ROUND_QUESTIONS,
      how,
      draw,
    );
    const asked = ids.flatMap((id) => {
      const question = byId.get(id);
      return question ? [askOne(question, draw)] : [];
    });
    if (asked.length === 0) return;
    for (const name of ["home", "end", "intro", "numbers"]) show(name, false);
    show("play", true);
    play(asked);
  };

  const keep = async ({ question }: PaperQuestion, right: boolean) => {
    const { id, source, prompt } = question;
    const before = kept.get(id);
    const entry: Kept = {
      id,
      platform: bank.platform,
      document: `${source.kind} ${source.id}`,
      title: source.title,
      revision: source.revision,
      prompt,
      answered: (before?.answered ?? 0) + 1,
      missed: (before?.missed ?? 0) + (right ? 0 : 1),
      card: gradeCard(before?.card, right, new Date()),
    };
    kept.set(id, entry);
    try {
      await store?.keep(entry);
      await store?.study({
        key: `${bank.platform} ${entry.document}`,
        title: entry.title,
        revision: entry.revision,
        at: new Date().toISOString(),
      });
    } catch {
      // Full, or taken away while the page is open: from here on nothing is kept, and the page says so.
      store = undefined;
      part("because").append(smallText(words.keepsNothing));
    }
  };

  const play = (asked: readonly PaperQuestion<SentQuestion>[]) => {
    const answers: boolean[] = [];
    let chooser: Chooser;
    const turn = () => {
      const at = answers.length;
      const current = asked[at];
      if (!current) return end(asked, answers);
      drawWalk(asked.length, answers, at);
      part("count").textContent = words.questionOf({ number: at + 1, all: asked.length });
      part("prompt").textContent = current.question.prompt;
      const { drawn } = current.question,
        plan = drawn && bank.plans[drawn.arrangement];
      show("given", !plan && current.question.given.length > 0);
      part("given").replaceChildren(...current.question.given.map((line) => textElement("li", line)));
      part("because").replaceChildren();
      show("answer", true);
      show("leave", true);
      show("next", false);
      chooser = showChoices(part("choices"), current, (id) => {
        const answer = bank.photos[id];
        return answer && drawPicture({ ...answer, marks: [] });
      });
      const photo = current.question.photo === undefined ? undefined : bank.photos[current.question.photo];
      const isPressed = current.question.kind === "photo";
      show("press", isPressed);
      show("picture", photo !== undefined || plan !== undefined);
      part("picture").classList.toggle("asked", photo !== undefined || plan !== undefined);
      part("picture").replaceChildren(
        ...(photo ? [drawPicture(photo, isPressed ? (n) => chooser.choose(String(n)) : undefined)] : []),
        ...(plan ? [drawGapPlan(plan, drawn.item, current.question.given)] : []),
      );
      part("prompt").focus();
    };
    part<HTMLFormElement>("form").onsubmit = (event) => {
      event.preventDefault();
      const current = asked[answers.length]!;
      const chosen = chooser.chosen();
      if (!chosen)
        return void part("because").replaceChildren(
          textElement("p", current.question.kind === "order" ? words.numberFirst : words.chooseFirst),
        );
      const right = isRight(current, chosen);
      answers.push(right);
      chooser.reveal();
      explain(current, right);
      for (const name of ["answer", "leave"]) show(name, false);
      show("next", true);
      part("next").textContent = answers.length < asked.length ? words.nextQuestion : words.howItWent;
      part("next").focus();
      drawWalk(asked.length, answers, answers.length - 1);
      void keep(current, right);
    };
    part("next").onclick = turn;
    part("leave").onclick = () => (answers.length ? end(asked, answers) : void home());
    turn();
  };

  const end = (asked: readonly PaperQuestion[], answers: readonly boolean[]) => {
    show("play", false);
    show("end", true);
    const right = answers.filter(Boolean).length;
    part("score").textContent = words.rightOf({ right, all: answers.length });
    const missed = asked.filter((_, at) => answers[at] === false);
    part("again").replaceChildren(
      ...missed.map(({ question }) => {
        const line = textElement("li", `${question.prompt} `);
        line.append(linkTo(question, words.readAgain));
        return line;
      }),
    );
    part("score").focus();
  };

  const linkTo = ({ source }: Askable, text: string) => {
    const folder = source.kind === "procedure" ? "procedures" : "configurations";
    const link = textElement("a", text);
    const file = location.protocol === "file:" ? "index.html" : "",
      step = source.step === undefined ? "" : `#step-${source.step}`;
    link.setAttribute("href", `${homeOf()}${bank.platform}/${folder}/${source.id}/${file}${step}`);
    return link;
  };

  const explain = (asked: PaperQuestion<SentQuestion>, isGood: boolean) => {
    const { question, right } = asked;
    const { source, proof, why, shows, worth } = question;
    const proven = textElement("p", `${proof} `);
    proven.append(linkTo(question, words.sourceTitle(source)));
    const key = right.map((index) => sayChoice(asked, index)).join(` ${heard("turning").arrow} `);
    part("because").replaceChildren(
      textElement(
        "strong",
        isGood ? words.yes : question.kind === "order" ? words.notThisOrder : words.noRightIs({ right: key }),
      ),
      ...(why ? [textElement("p", why)] : []),
      proven,
      ...(worth.because.length ? [smallText(words.whyAsked({ because: worth.because.join(" ") }))] : []),
    );
    // The picture of the step is shown with its answer, never before it.
    const photo = shows === undefined ? undefined : bank.photos[shows];
    if (photo) {
      show("picture", true);
      part("picture").replaceChildren(drawPicture(photo));
    }
  };

  part("refresher").onclick = () => begin("refresher");
  part("round").onclick = () => begin("round");
  part("more").onclick = () => begin(manner);
  part("home-again").onclick = () => void home();
  const wanted = new URLSearchParams(location.hash.slice(1)).get("about");
  for (const input of document.querySelectorAll<HTMLInputElement>("input[name=about]"))
    if (input.value === wanted) input.checked = true;
  await home();
}

function smallText(text: string): HTMLElement {
  const made = textElement("p", text);
  made.className = "small";
  return made;
}

/** Pins for the questions of a round: filled when answered. */
function drawWalk(count: number, answers: readonly boolean[], now: number): void {
  const { asked: words } = wordsHere("asked");
  part("walk").replaceChildren(
    ...Array.from({ length: count }, (_, at) => {
      const line = textElement("li", "");
      const pin = textElement("i", "");
      if (at === now && answers[at] === undefined) pin.textContent = String(at + 1);
      const says =
        answers[at] === undefined
          ? at === now
            ? words.questionNow
            : words.questionToCome
          : answers[at]
            ? words.questionRight
            : words.questionWrong;
      line.className = answers[at] === undefined ? (at === now ? "now" : "todo") : answers[at] ? "right" : "wrong";
      const said = textElement("span", says({ number: at + 1 }));
      said.className = "hide";
      pin.setAttribute("aria-hidden", "true");
      line.append(pin, said);
      return line;
    }),
  );
}
