/**
 * The first view of practice: what is due, what has changed since it was studied, which questions are void, and the
 * learner's record.
 */
import type { SentBank } from "../../site/study/questions.ts";
import type { SentQuestion } from "../../domain/study/bank.ts";
import { wordsHere } from "../../words/heard.ts";
import { textElement, homeOf, part, show } from "./practice-page.ts";
import { type PracticeStore, readExport } from "./practice-store.ts";
import { findVoid, isDue, isKnown, type Kept } from "./schedule.ts";
import { dayOf, sayDate } from "../../domain/words/say.ts";

interface Home {
  readonly bank: SentBank;
  readonly questions: readonly SentQuestion[];
  readonly kept: ReadonlyMap<string, Kept>;
  /** Absent where the browser keeps nothing. */
  readonly store: PracticeStore | undefined;
  readonly redraw: () => Promise<void>;
}

/** Draws the view and puts its buttons to work. */
export async function drawHome(home: Home): Promise<void> {
  const { bank, questions, kept, store } = home,
    { asked: words } = wordsHere("asked");
  const ids = new Set(questions.map(({ id }) => id));
  const known = [...kept.values()].filter(({ id }) => ids.has(id));
  const now = new Date();
  const due = known.filter(({ card }) => isDue(card, now)).length;
  const firstWeek = questions.filter(({ worth }) => worth.firstWeek);
  const isHeld = ({ id }: SentQuestion) => {
    const entry = kept.get(id);
    return entry !== undefined && isKnown(entry.card);
  };
  const held = firstWeek.filter(isHeld).length;
  part("due").replaceChildren(
    figure(words.heldOf({ held, all: firstWeek.length }), words.firstWeekYours),
    ...(due > 0 ? [figure(String(due), words.askedAgain({ due }))] : []),
  );
  part("week").replaceChildren(
    ...firstWeek
      .toSorted((a, b) => b.worth.points - a.worth.points)
      .map((question) => {
        const line = textElement("li", question.prompt);
        const why = textElement("span", ` ${question.worth.because.join(" ")}`);
        why.className = "small";
        line.append(why);
        if (isHeld(question)) line.append(textElement("b", words.yours));
        return line;
      }),
  );
  await drawChanges(home, ids);
  const answers = known.reduce((sum, { answered }) => sum + answered, 0);
  part("record").textContent = !store
    ? words.keepsNothing
    : answers === 0
      ? words.nothingYet
      : words.answersTo({ answers, questions: known.length, when: sayNext(known, now) });
  for (const name of ["export", "import", "reset"]) part<HTMLButtonElement>(name).disabled = !store;
  if (store) putToWork(home, store, bank.platform);
}

function figure(count: string, words: string): HTMLElement {
  const line = textElement("p", "");
  line.append(textElement("b", count), ` ${words}`);
  return line;
}

function sayNext(known: readonly Kept[], now: Date): string {
  const next = Math.min(...known.map(({ card }) => Date.parse(card.due)));
  return next <= now.getTime() ? wordsHere("asked").asked.now : sayDate(dayOf(new Date(next)));
}

/** Documents that were studied in an earlier revision, and questions that are no longer asked as they were. */
async function drawChanges({ bank, kept, store, redraw }: Home, ids: ReadonlySet<string>): Promise<void> {
  const { asked: words } = wordsHere("asked");
  const studied = (await store?.readStudied()) ?? new Map();
  const changed = bank.documents.filter(
    ({ kind, id, revision }) => (studied.get(`${bank.platform} ${kind} ${id}`)?.revision ?? revision) < revision,
  );
  const gone = findVoid(kept.values(), bank.platform, ids);
  show("changes", changed.length > 0 || gone.length > 0);
  const lines = changed.map(({ kind, id, title, code, revision }) => {
    const line = textElement(
      "li",
      words.isNowRevision({
        document: title,
        code,
        revision,
        studied: studied.get(`${bank.platform} ${kind} ${id}`)!.revision,
      }),
    );
    const link = textElement("a", words.readWhatChanged);
    const at = kind === "procedure" ? `procedures/${id}/history/` : `configurations/${id}/`;
    link.href = `${homeOf()}${bank.platform}/${at}${location.protocol === "file:" ? "index.html" : ""}`;
    line.append(link);
    return line;
  });
  const voids = gone.map(({ title, revision, prompt }) =>
    textElement("li", words.answeredIn({ document: title, revision, question: prompt })),
  );
  const parts: HTMLElement[] = [];
  if (lines.length) parts.push(textElement("h2", words.changedSince), list(lines));
  if (voids.length) {
    const drop = textElement("button", words.forgetThese);
    drop.type = "button";
    drop.className = "go";
    drop.onclick = () => void store?.drop(gone.map(({ id }) => id)).then(redraw);
    parts.push(
      textElement("h2", words.areVoid({ count: voids.length })),
      textElement("p", words.noLongerSame),
      list(voids),
      drop,
    );
  }
  part("changes").replaceChildren(...parts);
}

function list(lines: readonly HTMLElement[]): HTMLElement {
  const made = textElement("ul", "");
  made.append(...lines);
  return made;
}

function putToWork({ redraw }: Home, store: PracticeStore, platform: string): void {
  const said = part("said"),
    { asked: words } = wordsHere("asked");
  part("export").onclick = () =>
    void store.exportAll(new Date()).then((content) => {
      const link = textElement("a", "");
      link.href = URL.createObjectURL(new Blob([JSON.stringify(content)], { type: "application/json" }));
      link.download = `practice-${platform}-${content.exported.slice(0, 10)}.json`;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
      said.textContent = words.savedAs({ file: link.download });
    });
  const input = part<HTMLInputElement>("import");
  input.onchange = () =>
    void input.files?.[0]?.text().then(async (text) => {
      const content = readExport(text, words);
      input.value = "";
      if (typeof content === "string") return void (said.textContent = content);
      const { taken } = await store.importAll(content);
      await redraw();
      said.textContent = words.takenIn({ taken, all: content.kept.length });
    });
  const reset = part<HTMLButtonElement>("reset");
  delete reset.dataset["sure"];
  reset.textContent = words.forgetEverything;
  reset.onclick = () => {
    if (reset.dataset["sure"] !== "yes") {
      reset.dataset["sure"] = "yes";
      reset.textContent = words.forgetAgain;
      return;
    }
    void store
      .reset()
      .then(redraw)
      .then(() => {
        said.textContent = words.forgotten;
      });
  };
}
