/** Any changeover with any options, worked out on the device by the same engine that built the site. */
import { wordsHere } from "../../words/heard.ts";
import type { AskData } from "../../site/plans/walks.ts";
import type { Band } from "../../schema/collection.ts";
import { type Arrangement, isFor, optionsMissing, sayArrangement } from "../../domain/parts/arrangements.ts";
import { sayBand } from "../../domain/bands/bands.ts";
import { arrangementNamed } from "../../domain/states/changeover.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { nameOption, standingArrangement } from "../../domain/parts/lookup.ts";
import { modelOf } from "../../domain/states/model.ts";
import { sayElapsed } from "../../domain/time/say-timeline.ts";
import { dayOf } from "../../domain/words/say.ts";
import { unpackPlatform } from "../../domain/device/pack.ts";
import { plansBetween } from "../../domain/time/plans.ts";
import { planTimeline } from "../../domain/time/timeline.ts";
import { layWalk } from "../../domain/device/walk.ts";
import { type Answer, showPlan } from "./ask-answer.ts";
import { element } from "../element.ts";
import { startFolderLinks, withIndex } from "../find/folder-links.ts";
import { patientInAddress } from "../chooser/patient.ts";
import { platesFrom } from "./picture.ts";
import { readBegun } from "../../domain/tonight/begun-text.ts";
import { askedOf } from "./asked.ts";
import { STANDS_DOWN, waysOn, weightEntry } from "./call-changed.ts";
import { onOutChange } from "../tonight/out-store.ts";
import { sayBegun, sayWhy } from "../tonight/say-out.ts";
import { startStepThrough, type Through } from "./step-through.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { showPatient, readPatient } from "../chooser/weight.ts";

/**
 * Search steps for whom to give the steps that name nobody. Without such steps no search is needed: the bound is then
 * the one that needs none.
 */
const BUDGET = 1000;

const form = document.querySelector<HTMLFormElement>("form.ask-over"),
  source = document.getElementById("ask-data")?.textContent;
if (form && source) start(form, JSON.parse(source) as AskData);

function start(form: HTMLFormElement, { pack, pictures }: AskData): void {
  const { through: fixed, asking: words, walk } = wordsHere("through", "asking", "walk");
  const unpackFor = (on: string) => {
    const { platform, crew, service } = unpackPlatform(pack, on);
    return { day: on, platform, crew, service, model: modelOf(platform) };
  };
  let { day, platform, crew, service, model } = unpackFor(dayOf(new Date()));
  const roles = crew.map(({ id }) => id),
    standing = standingArrangement(platform)?.name;
  const place = document.getElementById("answer-of")!,
    root = form.dataset["root"]!,
    said = form.querySelector<HTMLElement>(".for-whom-now")!,
    half = form.querySelector<HTMLElement>(".half-built")!,
    status = form.querySelector("[role=status]")!;
  const select = (side: "from" | "to") => form.querySelector<HTMLSelectElement>(`select[name=${side}]`)!;
  const boxes = (side: "from" | "to") => [...form.querySelectorAll<HTMLInputElement>(`[data-side=${side}] input`)];
  const nameOf = (side: "from" | "to") =>
    [
      select(side).value,
      ...boxes(side)
        .filter(({ checked }) => checked)
        .map(({ value }) => value),
    ].join("+");
  const sayCells = (cells: readonly { readonly band: Band }[]) =>
    joinBands(cells.map(({ band }) => band))
      .map(sayBand)
      .join("; ");
  let answers: readonly Answer[] = [];

  const fillOptions = (side: "from" | "to", chosen: readonly string[]) => {
    const id = select(side).value;
    const options = platform.options.filter((option) => arrangementNamed(model, `${id}+${option.id}`));
    const order = platform.configurations.find((each) => each.id === id)?.options.map((option) => option.id) ?? [];
    options.sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id));
    form.querySelector(`[data-side=${side}]`)!.replaceChildren(
      ...options.map((option) => {
        const box = element("input", { type: "checkbox", value: option.id });
        box.checked = chosen.includes(option.id);
        return element("label", { class: "choice" }, box, element("span", {}, option.title));
      }),
    );
    allowOptions(side);
  };
  /** An option is closed while it can't be together with those chosen. */
  const allowOptions = (side: "from" | "to") => {
    for (const box of boxes(side))
      box.disabled = !box.checked && !arrangementNamed(model, `${nameOf(side)}+${box.value}`);
  };

  const say = (kind: string, title: string, text: string) => {
    answers = [];
    status.textContent = `${title}${title && text ? ". " : ""}${text}`;
    place.hidden = title === "";
    place.className = ["ask-answer", kind].join(" ");
    place.replaceChildren(...(title ? [element("h2", {}, title), element("p", {}, text)] : []));
  };

  const answer = () => {
    const chosen = patientInAddress(),
      asked = askedOf(
        platform,
        { band: service, crew },
        { from: nameOf("from"), to: nameOf("to"), begun: begunWord(), standsDown: standsDown() },
      );
    said.hidden = !chosen;
    said.textContent = chosen ? fixed.chosenBefore({ told: chosen.text }) : "";
    showBegun();
    if (select("to").value === "") return say("", "", "");
    if (asked.kind === "unknown") return say("stop", words.notTogether, words.takeOneAway);
    if (asked.kind === "lost") return say("stop", words.notKnown, words.haveChanged);
    if (asked.kind === "blocked")
      return say("stop", words.cantBeBuilt, words.chooseAnother({ why: sayWhy(asked.by, Date.now()) }));
    const { from, to, broken, begun } = asked;
    if (from === to && !begun && broken.length > 0)
      return say("stop", words.notToBeUsed, words.belongsThere({ why: sayWhy(broken, Date.now()) }));
    if (from === to && !begun)
      return say("held", words.nothingToDo, words.isOnAlready({ arrangement: sayArrangement(to) }));
    const weights = weightEntry();
    if (begun && !chosen && to.name !== standing && weights !== undefined) {
      say("ask", walk.which, `${fixed.weightDecides} `);
      const entry = element(
        "a",
        { class: "go", href: `${weights}#from=${from.name}&begun=${begunWord()}` },
        words.enterWeight,
      );
      if (location.protocol === "file:") entry.href = withIndex(entry.href);
      return place.append(element("p", { class: "acts-row" }, entry));
    }
    const missing = chosen ? optionsMissing(to, chosen.patient) : [];
    if (missing.length > 0)
      return say(
        "stop",
        fixed.belongs,
        words.needsToo({
          weight: chosen!.text,
          options: sayList(missing.map((id) => nameOption(platform, id))),
        }),
      );
    if (chosen && !isFor(to, chosen.patient))
      return say(
        "stop",
        fixed.notForThis,
        words.notInBand({ weight: chosen.text, arrangement: sayArrangement(to), band: sayBand(to.band) }),
      );
    const began = performance.now();
    const plans = asked.plansFor(chosen?.patient);
    const title = words.fromTo({
      from: begun ? words.fromHere : sayArrangement(from),
      to: lowerFirst(sayArrangement(to)),
    });
    if (plans.length === 0) return say("stop", words.notCarried, fixed.carriesNone({ band: sayBand(to.band) }));
    answers = plans.flatMap(({ cells, changeover }): Answer[] => {
      if (!changeover) return [];
      const timeline = planTimeline(
          changeover.steps,
          roles,
          platform,
          changeover.steps.some(({ step }) => step.by.length === 0) ? BUDGET : 0,
        ),
        patients = standsDown()
          ? words.standingDown
          : chosen
            ? fixed.told({ told: chosen.text })
            : plans.length === 1
              ? sayBand(to.band)
              : sayCells(cells);
      return [
        {
          changeover,
          timeline,
          patients,
          walk: layWalk(changeover, timeline, platform, crew, plans.length > 1 ? `${title}, ${patients}` : title),
        },
      ];
    });
    const took = performance.now() - began;
    const none = plans.filter(({ changeover }) => !changeover);
    const told = answers.map(
      ({ timeline, changeover, patients: whom }) =>
        (plans.length > 1 ? words.forWhom({ whom }) : "") +
        words.timeAndSteps({ time: sayElapsed(timeline), steps: changeover.steps.length }),
    );
    status.textContent = words.answerBelow({ title, told: told.join("; ") || words.noWay });
    place.hidden = false;
    place.className = "ask-answer";
    place.dataset["ms"] = took.toFixed(1);
    const bare =
      to.options.length + from.options.length === 0 && !begun
        ? `${platform.id}/changeovers/${from.name}--${to.name}/`
        : undefined;
    place.replaceChildren(
      element("h2", { tabindex: "-1" }, title),
      ...(broken.length > 0
        ? [
            element(
              "p",
              { class: "undone" },
              element("b", {}, `${words.standsThere} `),
              words.takenOff({ why: sayWhy(broken, Date.now()) }),
            ),
          ]
        : []),
      ...none.map(({ cells }) =>
        element(
          "p",
          { class: "undone" },
          element("b", {}, `${words.noWayBegun} `),
          fixed.noWayFor({ bands: sayCells(cells) }),
        ),
      ),
      ...answers.flatMap((each, at) =>
        showPlan(each, {
          platform,
          crew,
          root,
          many: plans.length > 1,
          open: () => ((chosenPlan = at), through.open()),
          printed: begun || standsDown() ? undefined : printedAt(from, to),
        }),
      ),
      ...(bare ? [element("p", { class: "after-all" }, element("a", { href: root + bare }, words.pageOfIt))] : []),
      element(
        "p",
        { class: "small" },
        took < 1 ? words.workedOutAtOnce : words.workedOut({ milliseconds: took.toFixed(0) }),
      ),
    );
    showPatient(readPatient());
    startFolderLinks(place);
  };

  /** The printed card of what is asked, for the patient if there is one. */
  const printedAt = (from: Arrangement, to: Arrangement) => {
    const kg = readPatient();
    const fields = { from: from.name, to: to.name, ...(kg ? { kg: kg.kg, ...(kg.age ? { age: kg.age } : {}) } : {}) };
    return `${root}${platform.id}/changeovers/print/#${new URLSearchParams(fields).toString().replaceAll("%2B", "+")}`;
  };
  /** What was begun, as the address has it; empty if nothing was. */
  const begunWord = () => new URLSearchParams(location.hash.slice(1)).get("begun") ?? "";
  const standsDown = () => location.hash.slice(1).split("&").includes(STANDS_DOWN);
  /** A half-built platform stands in no arrangement: it is said in the place of the choice of what is on it. */
  const showBegun = () => {
    const word = begunWord(),
      steps = word ? (readBegun(word) ?? []) : [],
      last = steps.findLast(({ isDone }) => isDone);
    form.classList.toggle("half", word !== "");
    const title = platform.procedures.find(({ id }) => id === last?.procedure)?.title;
    half.hidden = word === "";
    half.querySelector("span")!.textContent =
      sayBegun(steps, platform.configurations.find(({ id }) => id === select("from").value)?.title ?? "") +
      (title ? words.lastStep({ step: last!.step, procedure: title }) : ".");
  };
  /** A page of the site, with the patient, also when it is opened from a folder. */
  const addressOf = (page: string) => {
    const kg = readPatient(),
      whole = new URL(root + page, location.href);
    if (kg) whole.hash = new URLSearchParams({ kg: kg.kg, ...(kg.age ? { age: kg.age } : {}) }).toString();
    return location.protocol === "file:" ? withIndex(whole.href) : whole.href;
  };
  let chosenPlan = 0;
  const throughOf = ({ walk, changeover }: Answer): Through => {
    const to = arrangementNamed(model, changeover.to)!.configuration;
    return {
      walk,
      begun: begunWord(),
      waysOn: (at) => waysOn({ from: nameOf("from"), begun: readBegun(begunWord()) ?? [], standing }, walk, at),
      card: { href: addressOf(`${platform.id}/cards/${to.id}/`), title: words.cardTitle({ arrangement: to.title }) },
      picturesOf: platesFrom(pictures, `${root}photos/${platform.id}`),
    };
  };
  /** A temporary amendment may begin or end while the page is open. */
  const goByToday = () => {
    const now = dayOf(new Date());
    if (now === day) return false;
    ({ day, platform, crew, service, model } = unpackFor(now));
    answer();
    return true;
  };
  const through = startStepThrough(document.getElementById("step")!, () => {
    goByToday();
    return answers[chosenPlan] ? throughOf(answers[chosenPlan]!) : undefined;
  });

  /** What is asked stands in the address, so that a reload asks the same. */
  const write = () => {
    const fields = location.hash
      .slice(1)
      .split("&")
      .filter((part) => part && part !== STANDS_DOWN && !/^(from|to)=|^step=?$/.test(part));
    if (select("to").value) fields.unshift(`from=${nameOf("from")}`, `to=${nameOf("to")}`);
    history.replaceState(
      history.state,
      "",
      `${location.pathname}${location.search}${fields.length ? `#${fields.join("&")}` : ""}`,
    );
  };
  const read = () => {
    const fields = new URLSearchParams(location.hash.slice(1).replaceAll("+", "%2B"));
    for (const side of ["from", "to"] as const) {
      const [id, ...options] = (fields.get(side) ?? "").split("+");
      if (id && [...select(side).options].some(({ value }) => value === id)) select(side).value = id;
      fillOptions(side, options);
    }
    chosenPlan = 0;
    answer();
  };
  form.addEventListener("change", ({ target }) => {
    const side = (target as HTMLElement).closest("fieldset")!.querySelector("select")!.name as "from" | "to";
    if (target === select(side)) fillOptions(side, []);
    allowOptions(side);
    chosenPlan = 0;
    write();
    answer();
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  addEventListener("hashchange", read);
  onOutChange(() => {
    // Whoever steps through is not disturbed.
    if (document.getElementById("step")!.hidden && !goByToday()) answer();
  });
  /**
   * Looks into each target once while the crew still reads the question: what the engine has found out then serves the
   * answer.
   */
  const prepare = (targets: readonly Arrangement[]) => {
    const [next, ...rest] = targets,
      from = arrangementNamed(model, nameOf("from"));
    if (!next || !from) return;
    if (next !== from) plansBetween(model, { band: service, crew }, from, next, patientInAddress()?.patient);
    setTimeout(prepare, 30, rest);
  };
  form.hidden = false;
  read();
  setTimeout(
    prepare,
    300,
    model.arrangements.filter(({ options }) => options.length === 0),
  );
  through.resume();
}
