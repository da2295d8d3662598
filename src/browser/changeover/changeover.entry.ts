/** A changeover's page: with a weight in the address only what is for that patient, and the step-through. */
import { wordsHere } from "../../words/heard.ts";
import type { WalkData } from "../../site/plans/walks.ts";
import { holdsPatient } from "../../domain/bands/bands.ts";
import { leaveOut } from "../../domain/device/for-patient.ts";
import { bandFrom } from "../chooser/chooser-band.ts";
import { element } from "../element.ts";
import { standingToday } from "../amendments.ts";
import { patientInAddress } from "../chooser/patient.ts";
import { waysOn } from "./call-changed.ts";
import { startStepThrough, type Through } from "./step-through.ts";
import { readPatient, writePatient } from "../chooser/weight.ts";
import type { BandData } from "../../site/plans/chooser-data.ts";
import { sayList } from "../../schema/wording.ts";

const refused = document.querySelector<HTMLElement>(".refused"),
  place = document.getElementById("step");
if (refused && place) start(refused, place);

function start(refused: HTMLElement, place: HTMLElement): void {
  const { through: fixed, asking: words } = wordsHere("through", "asking");
  const plans = [...document.querySelectorAll<HTMLElement>(".plan-of")].map((section) => {
    const data = JSON.parse(section.querySelector(".walk-data")!.textContent!) as WalkData;
    const bands = data.cells.map(bandFrom);
    // By the day on which somebody looks: a temporary amendment begins and ends by itself.
    return { section, prefix: data.prefix, only: data.only, bands, today: () => standingToday(data.walks) };
  });
  const said = document.querySelector<HTMLElement>(".for-whom-now"),
    open = document.querySelector<HTMLButtonElement>("[data-step-through]");
  const card = document.querySelector<HTMLAnchorElement>('.acts-row a[href*="/cards/"]');
  const fitting = () => {
    const chosen = patientInAddress();
    return plans.filter(({ bands }) => !chosen || bands.some((band) => holdsPatient(band, chosen.patient)));
  };
  /** The steps of a plan that are not for the patient who is chosen. */
  const notFor = ({ only }: (typeof plans)[number]) => {
    const chosen = patientInAddress();
    return new Set(
      only.flatMap(([number, whom]) => (chosen && !holdsPatient(bandFrom(whom), chosen.patient) ? [number] : [])),
    );
  };
  const throughOf = (plan: (typeof plans)[number]): Through => {
    const { walk: whole, led } = plan.today(),
      walk = leaveOut(whole, notFor(plan), led);
    return {
      walk,
      card: { href: card?.href ?? "", title: card?.textContent ?? words.card },
      waysOn: (at) =>
        waysOn({ from: place.dataset["from"]!, begun: [], standing: place.dataset["standing"] }, walk, at),
      picturesOf: ({ number }) => {
        const plates = document.querySelector(`#${plan.prefix}step-${number} > .plates`)?.cloneNode(true) as
          Element | undefined;
        for (const image of plates?.querySelectorAll("img.on-paper") ?? []) image.remove();
        for (const image of plates?.querySelectorAll("img") ?? []) image.loading = "eager";
        return plates ? [plates] : [];
      },
    };
  };
  const through = startStepThrough(place, () => {
    const shown = fitting();
    if (shown.length === 0) return undefined;
    return shown.length === 1
      ? throughOf(shown[0]!)
      : shown.map((plan) => ({
          label: plan.section.querySelector(".patients")?.textContent ?? plan.today().walk.title,
          through: throughOf(plan),
        }));
  });

  const needs = JSON.parse(refused.dataset["needs"]!) as { band: BandData; option: string; title: string }[];
  const apply = () => {
    const chosen = patientInAddress(),
      shown = fitting();
    for (const plan of plans) {
      plan.section.hidden = !shown.includes(plan);
      const left = notFor(plan);
      for (const [number] of plan.only) {
        const id = `${plan.prefix}step-${number}`;
        for (const part of [
          document.getElementById(id),
          plan.section.querySelector(`.score a[href="#${id}"]`)?.closest<HTMLElement>("[role=listitem]"),
        ])
          if (part) part.hidden = left.has(number);
      }
    }
    const groups = document.querySelector<HTMLElement>(".groups");
    if (groups) groups.hidden = shown.length < 2;
    const isRefused = chosen !== undefined && plans.length > 0 && shown.length === 0;
    refused.hidden = !isRefused;
    refused.replaceChildren();
    if (isRefused) {
      const other = element("button", { type: "button", class: "go" }, fixed.takeAway);
      other.addEventListener("click", () => {
        writePatient(undefined);
        apply();
      });
      const needed = needs.filter(({ band }) => holdsPatient(bandFrom(band), chosen.patient));
      const names = sayList(needed.map(({ title }) => title));
      if (needed.length > 0) {
        const link = element(
          "a",
          { class: "go", href: `${refused.dataset["ask"]!}${needed.map(({ option }) => `+${option}`).join("")}` },
          words.changeOverWith({ options: names }),
        );
        refused.append(
          element(
            "p",
            {},
            element("b", {}, `${fixed.notWithout} `),
            words.needs({ weight: chosen.text, options: names }),
          ),
          link,
          other,
        );
        const fields = { kg: readPatient()!.kg, ...(readPatient()!.age ? { age: readPatient()!.age! } : {}) };
        link.href += `&${new URLSearchParams(fields)}`;
      } else
        refused.append(
          element(
            "p",
            {},
            element("b", {}, `${fixed.notForThis}. `),
            words.notInBand({
              weight: chosen.text,
              arrangement: JSON.parse(refused.dataset["to"]!) as string,
              band: refused.dataset["band"] ?? "",
            }),
          ),
          other,
        );
    }
    if (said) {
      said.hidden = !chosen || isRefused;
      said.textContent = chosen ? fixed.onlyThese({ told: chosen.text }) : "";
    }
    if (open) open.hidden = shown.length === 0;
  };
  open?.addEventListener("click", through.open);
  startFolds();
  addEventListener("hashchange", apply);
  apply();
  through.resume();
}

/** The rows of procedures: all opened or folded at once; a step that the address names is never left folded. */
function startFolds(): void {
  const stages = [...document.querySelectorAll<HTMLDetailsElement>(".stage")];
  const name = (button: HTMLElement) => {
    const isOpen = stages.every((stage) => stage.open);
    button.textContent = button.dataset[isOpen ? "closeAll" : "openAll"]!;
    return isOpen;
  };
  const buttons = [...document.querySelectorAll<HTMLButtonElement>(".open-all")];
  for (const button of buttons) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const isOpen = name(button);
      for (const stage of stages) stage.open = !isOpen;
    });
  }
  for (const stage of stages) stage.addEventListener("toggle", () => buttons.forEach(name));
  const openNamed = () => {
    const named = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const fold = named?.closest("details");
    if (!fold || fold.open) return;
    fold.open = true;
    named!.scrollIntoView();
  };
  addEventListener("hashchange", openNamed);
  openNamed();
}
