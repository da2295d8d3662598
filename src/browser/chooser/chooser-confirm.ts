/** The steps that confirm the patient and the band, beside the chooser's answer: whole, for this patient alone. */
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import type { Patient } from "../../domain/bands/bands.ts";
import { stepsOfPatient } from "../../domain/parts/confirming.ts";
import { bandFrom } from "./chooser-band.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";

/** Shows the steps for a patient; hides them without one, or where the platform names no such procedure. */
export function showConfirming({ confirms }: ChooserData, patient: Patient | undefined): void {
  const section = document.querySelector<HTMLElement>(".ask .confirming");
  if (!section || !confirms) return;
  section.hidden = patient === undefined;
  if (!patient) return;
  const steps = stepsOfPatient(
    confirms.steps.map((step) => ({ ...step, band: bandFrom(step.band) })),
    patient,
  );
  section
    .querySelector("ol")!
    .replaceChildren(
      ...steps.map(({ who, text, detail, reason, alerts, checks, critical }) =>
        element(
          "li",
          critical ? { class: "critical" } : {},
          ...alerts.map((alert) => element("p", {}, element("b", {}, alert.signal.toUpperCase()), ` ${alert.text}`)),
          element("p", {}, element("i", {}, `${who}: `), element("b", {}, text)),
          ...detail.map((line) => element("p", {}, line)),
          ...(reason ? [element("p", { class: "why" }, wordsHere("choosing").choosing.why({ reason }))] : []),
          ...checks.map((check) =>
            element(
              "p",
              { class: "check" },
              `${check.challenge}? ${check.answer}${check.who ? ` (${check.who})` : ""}`,
            ),
          ),
        ),
      ),
    );
}
