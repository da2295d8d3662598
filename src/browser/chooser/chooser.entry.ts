/**
 * The entry of a weight on the home page. Reads the table aloud at once, and holds the arrangement only once the weight
 * has been read back where a slip would matter.
 */
import { wordsHere } from "../../words/heard.ts";
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import type { Choice } from "../../domain/bands/choose.ts";
import { choose, openAt, sayUsual, sayWeight } from "../../domain/bands/choose.ts";
import { formatDecimal, sayBand, sayRange } from "../../domain/bands/bands.ts";
import { readAge, readWeight, type AgeEntry, type AgeUnit, type WeightEntry } from "../../domain/bands/entry.ts";
import type { MassUnit } from "../../domain/bands/slips.ts";
import { MASS_PER_KG } from "../../schema/units.ts";
import { bandFrom } from "./chooser-band.ts";
import { type FirstQuestion, firstQuestionsFor, sayFirstQuestion } from "../../domain/bands/doubts.ts";
import { showCards } from "./chooser-card.ts";
import { askLink, showCarry, showFetch, type Now } from "./chooser-carry.ts";
import { neededFor } from "./chooser-needs.ts";
import { showGone, whyNone, whyNot } from "./chooser-out.ts";
import { showConfirming } from "./chooser-confirm.ts";
import { onOutChange } from "../tonight/out-store.ts";
import { halfBuiltInAddress, showHalfBuilt } from "./half-built.ts";
import { showNow } from "./chooser-now.ts";
import { sayBack, sayReading } from "./say-reading.ts";
import { capital } from "../../domain/words/say.ts";
import { element } from "../element.ts";
import { startFolderLinks } from "../find/folder-links.ts";
import { readPatient, showNeedle, showPatient, writePatient } from "./weight.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";

const form = document.querySelector<HTMLFormElement>("form.ask");
const source = document.getElementById("chooser-data")?.textContent;
if (form && source) start(form, JSON.parse(source) as ChooserData);

function start(form: HTMLFormElement, data: ChooserData): void {
  const { choosing } = wordsHere("choosing");
  const table = {
    service: bandFrom(data.service),
    rows: data.rows.map(({ id, title, band }) => ({ id, title, band: bandFrom(band) })),
    questions: data.questions.map(({ band, say, fetch }) => ({
      band: bandFrom(band),
      say,
      fetch: data.rows
        .filter(({ id }) => fetch.includes(id))
        .map((row) => ({ id: row.id, title: row.title, band: bandFrom(row.band) })),
    })),
  };
  const field = (name: string) => form.elements.namedItem(name) as HTMLInputElement | null;
  const answer = form.querySelector<HTMLElement>(".answer")!,
    sure = form.querySelector<HTMLElement>(".sure")!,
    next = form.querySelector<HTMLElement>(".next")!;
  const rail = document.querySelector<HTMLElement>(".top .rail");
  const unit = () =>
    ([...form.querySelectorAll<HTMLInputElement>("[name=unit]")].find(({ checked }) => checked)?.value || undefined) as
      MassUnit | undefined;
  const now = () => form.elements.namedItem("now") as HTMLSelectElement | null;
  const half = halfBuiltInAddress();
  const nowIs = (): Now => ({
    now: half?.from ?? now()?.value,
    base: form.dataset["base"]!,
    begun: half?.begun,
  });
  let confirmed = "",
    readBack = "";

  const update = () => {
    const isPounds = unit() === "lb",
      ounces = isPounds ? (field("ounces")?.value.trim() ?? "") : "";
    form.querySelector<HTMLElement>(".ounces")!.hidden = !isPounds;
    const typed = field("weight")!.value.trim();
    const weight = readWeight(ounces && typed ? [typed, "lb", ounces, "oz"].join(" ") : typed, unit());
    const age = readAge(field("age")?.value ?? "", (field("age-unit")?.value || undefined) as AgeUnit | undefined);
    const isEstimate = field("estimate")!.checked;
    sure.hidden = next.hidden = true;
    highlight([]);
    showConfirming(data, undefined);
    if (weight.kind !== "value" || age.kind === "ask") {
      setNeedle(weight.kind === "value" ? weight.value : undefined);
      writePatient(undefined);
      if (weight.kind !== "value") confirmed = "";
      if (weight.kind === "ask" || age.kind !== "value") readBack = "";
      if (weight.kind === "empty" && age.kind === "value") return sayAgeAlone(age.value);
      return say(
        weight.kind === "ask" ? weight.question : age.kind === "ask" ? age.question : choosing.hint,
        weight.kind === "empty" && age.kind !== "ask" ? "hint" : "ask",
      );
    }
    decide(weight.value, age.kind === "value" ? age.value : undefined, isEstimate);
  };

  const decide = (weight: WeightEntry, age: AgeEntry | undefined, isEstimate: boolean) => {
    setNeedle(weight);
    const asked = JSON.stringify([weight.text, age?.text, isEstimate]);
    if (readBack !== asked) readBack = "";
    const patient = { weight: weight.mass, ...(age ? { age: age.age } : {}) };
    const choice = choose(table, weight, age, { isEstimate, isReadBack: readBack !== "" });
    if (choice.kind !== "found" || choice.needsAge) (writePatient(undefined), setNeedle(weight), (confirmed = ""));
    if (choice.kind !== "outside") showConfirming(data, patient);
    if (choice.kind === "asked")
      return askFirst(choice.questions, () => {
        readBack = asked;
      });
    if (choice.kind === "outside") return say(sayOutside(choice, weight, age), "stop", choosing.notCarried);
    if (choice.kind === "nothing")
      return say(choosing.noneForWeight({ weight: sayWeight(table, weight) }), "stop", choosing.noArrangement);
    if (choice.needsAge)
      return say(
        choosing.ageDecides({
          weight: sayWeight(table, weight),
          arrangements: sayList(
            choice.rows.map(({ title }) => title),
            "or",
          ),
        }),
        "ask",
      );
    const gone = choice.rows.flatMap(({ id, title }) => {
      const why = whyNone(data, id, patient);
      return why ? [{ id, said: choosing.goneNow({ arrangement: title, why }) }] : [];
    });
    if (gone.length === choice.rows.length) {
      (writePatient(undefined), setNeedle(weight), (confirmed = ""));
      return sayGone(choosing.gone({ weight: sayWeight(table, weight), gone: gone.map(({ said }) => said).join(" ") }));
    }
    // What was agreed to: this weight for these arrangements, instead of those others. An age or an option that changes
    // none of it asks nothing again.
    const agreed = JSON.stringify([
      weight.text,
      choice.rows.map(({ id }) => id),
      choice.confirm.map(({ slip, ids }) => [slip, ids]),
      choice.unusual && age?.text,
    ]);
    const titles = sayList(
      choice.rows.map(({ title }) => title),
      "or",
    );
    const words = [
      choice.boundary,
      ...choice.because,
      choice.exactly && choosing.exactly({ weight: choice.exactly }),
      ...choice.rows.flatMap((row) =>
        neededFor(
          data.rows.find(({ id }) => id === row.id)!,
          patient,
        ).map(({ option, band }) =>
          choosing.withOption({
            band: capital(sayBand(band)),
            option: lowerFirst(data.options[option]!.title),
          }),
        ),
      ),
      ...choice.questions.map((question) => choosing.readBack({ question: sayFirstQuestion(question) })),
      ...gone.map(({ said }) => said),
    ]
      .filter(Boolean)
      .join(" ");
    if (confirmed !== agreed) confirmed = "";
    if ((choice.confirm.length > 0 || choice.unusual) && !confirmed) {
      writePatient(undefined);
      setNeedle(weight);
      say(words, "read", titles);
      return askIfSure(choice, weight, agreed, choice.unusual ? age : undefined);
    }
    const kg = formatDecimal(weight.mass, MASS_PER_KG);
    writePatient({ kg, ...(age ? { age: age.written } : {}) });
    setNeedle(weight);
    highlight(choice.rows.map(({ id }) => id));
    say(words, "held", titles);
    showCards(
      data,
      form.dataset["base"]!,
      choice.rows.map(({ id }) => id),
      patient,
    );
    const from = nowIs();
    const wanted = showCarry(data, choice.rows[0]!.id, patient, from);
    showNow(data, from);
    showNext(
      choice.rows.map(({ id }) => id).filter((id) => !gone.some((each) => each.id === id)),
      wanted,
      from,
    );
  };

  /**
   * The ways on from the answer, after what is on the platform now and the options: on a phone the arrangement's own
   * column is further down. With options they lead to the arrangement that was asked for, not to the bare one.
   */
  const showNext = (ids: readonly string[], wanted: string | undefined, from: Now) => {
    const options = wanted?.split("+").slice(1) ?? [],
      why = wanted && whyNot(data, wanted);
    if (why) {
      next.replaceChildren(element("span", {}, choosing.chooseOthers({ why })));
      next.hidden = false;
      return;
    }
    next.replaceChildren(
      ...ids.flatMap((id) =>
        [...document.querySelectorAll<HTMLElement>(`.hang [data-for="${id}"] .acts-row a`)].map((link) =>
          link.cloneNode(true),
        ),
      ),
    );
    if (options.length > 0 && from.now) {
      next.querySelector("a.over")?.remove();
      const names = sayList(options.map((id) => lowerFirst(data.options[id]!.title)));
      const link = askLink(from, wanted!, choosing.changeOverWith({ options: names }));
      link.classList.add("go", "over");
      next.append(link);
      // The arrangement's own column leads to the same: without what is needed there is no changeover for this patient.
      document.querySelector(`.hang [data-for="${wanted!.split("+")[0]!}"] a.over`)?.replaceWith(link.cloneNode(true));
    }
    next.hidden = next.children.length === 0;
    showPatient(readPatient());
  };

  /** Refused for what is out of service: the way to the page on which that is kept stands beside it. */
  const sayGone = (words: string) => {
    say(words, "stop", choosing.cantBeBuilt);
    answer.append(
      element("span", {}, " ", element("a", { href: `${form.dataset["base"]!}tonight/` }, choosing.whatIsOut)),
    );
    startFolderLinks(answer);
  };

  /** An age alone chooses nothing: it says what it leaves open, and what is asked for next. */
  const sayAgeAlone = (age: AgeEntry) => {
    const open = openAt(table, age),
      usual = sayUsual(age);
    // A question about the age itself is asked of every weight.
    const questions = firstQuestionsFor(table.questions, { age: age.age }).filter(
      ({ band }) => !band.weight.from && !band.weight.to,
    );
    if (readBack !== age.text) readBack = "";
    if (questions.length > 0 && open.length > 0 && !readBack)
      return askFirst(questions, () => {
        readBack = age.text;
      });
    if (open.length === 0) return say(choosing.noneForAge({ age: age.text }), "stop", choosing.notCarried);
    say(
      choosing.ageChoosesNone({
        open: open.map(({ title, band }) => `${title}, ${sayRange(band.weight)}`).join("; "),
      }) + (usual ? choosing.usualIsNoWeight({ usual }) : ""),
      "read",
      choosing.atAge({ age: age.text }),
    );
  };

  /** What the service asks of such a patient, and what to have at hand until then. Nothing else before. */
  const askFirst = (questions: readonly FirstQuestion[], agree: () => void) => {
    say("", "read", choosing.askFirst);
    answer.append(...questions.map((question) => element("span", {}, sayFirstQuestion(question))));
    showFetch(
      data,
      questions.flatMap(({ fetch }) => fetch.map(({ id }) => id)),
      now()?.value,
    );
    sure.querySelector("ul")!.replaceChildren();
    answerTo(choosing.yesReadBack, agree);
  };

  const answerTo = (words: string, agree: () => void) => {
    const yes = sure.querySelector<HTMLButtonElement>(".yes")!;
    yes.querySelector("span")!.textContent = words;
    yes.onclick = () => {
      agree();
      update();
      answer.tabIndex = -1;
      answer.focus();
    };
    sure.hidden = false;
  };

  /** `misfit`: the age that does not fit the weight; it is read back with it. */
  const askIfSure = (
    choice: Extract<Choice, { kind: "found" }>,
    weight: WeightEntry,
    agreed: string,
    misfit: AgeEntry | undefined,
  ) => {
    const titles = (ids: readonly string[]) =>
      sayList(
        data.rows.filter(({ id }) => ids.includes(id)).map(({ title }) => title),
        "or",
      );
    sure
      .querySelector("ul")!
      .replaceChildren(
        ...(misfit
          ? [
              element(
                "li",
                {},
                element("b", {}, choosing.ageDoesNotFit({ age: misfit.text, weight: weight.text })),
                " ",
                choosing.askForBoth({ usual: sayUsual(misfit) ?? "" }),
              ),
            ]
          : []),
        ...choice.confirm.map((other) =>
          element("li", {}, sayReading(other, weight, choosing), " ", element("b", {}, titles(other.ids))),
        ),
      );
    answerTo(choosing.yes({ said: sayBack(weight, choice.confirm, choosing, misfit?.text) }), () => {
      confirmed = agreed;
    });
  };

  const sayOutside = (choice: Extract<Choice, { kind: "outside" }>, weight: WeightEntry, age: AgeEntry | undefined) =>
    choice.of === "weight"
      ? choosing.weightOutside({ weight: sayWeight(table, weight), band: sayRange(table.service.weight) })
      : choosing.ageOutside({ age: age!.text, band: sayRange(table.service.age) });

  /** The place for the answer: a title only when something is held or stopped. */
  const say = (text: string, kind: "hint" | "ask" | "stop" | "read" | "held", title = "") => {
    answer.className = ["answer", kind].join(" ");
    answer.replaceChildren(...(title ? [element("b", {}, title)] : []), ...(text ? [element("span", {}, text)] : []));
    if (kind !== "held") (showCarry(data, undefined), showCards(data, form.dataset["base"]!, []));
  };

  const setNeedle = (weight: WeightEntry | undefined) => {
    if (rail) showNeedle(rail, weight && formatDecimal(weight.mass, MASS_PER_KG));
  };

  const highlight = (ids: readonly string[]) => {
    for (const section of document.querySelectorAll<HTMLElement>(".hang [data-for]"))
      section.classList.toggle("yes", ids.includes(section.dataset["for"]!));
    for (const segment of document.querySelectorAll<HTMLElement>(".top .seg"))
      segment.classList.toggle("here", ids.includes(segment.dataset["configuration"]!));
  };

  form.querySelector(".no")!.addEventListener("click", () => {
    field("weight")!.focus();
    field("weight")!.select();
  });
  form.addEventListener("input", update);
  // The read-back opens below the units: whoever has just said the unit is led to it where the screen is low.
  form.addEventListener("change", ({ target }) => {
    if (!sure.hidden && target instanceof HTMLInputElement && target.name === "unit")
      sure.scrollIntoView({ block: "nearest" });
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (!sure.hidden) sure.querySelector<HTMLButtonElement>(".yes")!.focus();
  });
  const carried = readPatient();
  if (carried) {
    // A weight from another page is entered again, but not taken as confirmed: the address may be another patient's.
    field("weight")!.value = carried.kg;
    form.querySelector<HTMLInputElement>("[name=unit][value=kg]")!.checked = true;
    if (carried.age && field("age"))
      [field("age")!.value = "", field("age-unit")!.value = ""] = [
        carried.age.split(" ")[0]!,
        carried.age.split(" ")[1]!.replace(/s?$/, "s"),
      ];
  }
  form.hidden = false;
  now()?.addEventListener("change", () => {
    showNow(data, nowIs());
    update();
  });
  if (half) showHalfBuilt(form, half, table.rows.find(({ id }) => id === half.from.split("+")[0])?.title ?? "");
  showNow(data, nowIs());
  const again = () => {
    showGone(data);
    update();
  };
  onOutChange(again);
  again();
}
