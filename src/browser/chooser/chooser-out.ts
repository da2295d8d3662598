/** What is out of service, as far as the chooser goes by it: it refuses what can't be built, and says why. */
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import { holdsPatient, type Patient } from "../../domain/bands/bands.ts";
import { blockedBy, type Spares } from "../../domain/tonight/blocked.ts";
import { bandFrom } from "./chooser-band.ts";
import { neededFor } from "./chooser-needs.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";
import { piecesOut, readOut } from "../tonight/out-store.ts";
import { sayWhy } from "../tonight/say-out.ts";

const kept = () => readOut(document.documentElement.dataset["platform"] ?? "");

/** Why an arrangement (`newborn-capsule+gas-shelf`) can't be built now; `undefined` if it can. */
export function whyNot(data: ChooserData, name: string): string | undefined {
  const out = kept(),
    blocking = blockedBy(sparesIn(data, name), piecesOut(out));
  return blocking.length > 0
    ? sayWhy(
        out.filter(({ id }) => blocking.includes(id)),
        Date.now(),
      )
    : undefined;
}

/**
 * Why no arrangement of a configuration can be built for a patient, whatever options are fitted: what stands in the way
 * of the one with the fewest. `undefined` if one can.
 */
export function whyNone(data: ChooserData, configuration: string, patient: Patient = {}): string | undefined {
  const needed = neededFor(
    data.rows.find(({ id }) => id === configuration)!,
    patient,
  ).map(({ option }) => option);
  const reasons = namesOf(data, configuration)
    .map((name) => ({ name, options: name.split("+").slice(1) }))
    .filter(
      ({ options }) =>
        needed.every((id) => options.includes(id)) &&
        options.every((id) => holdsPatient(bandFrom(data.options[id]!.band), patient)),
    )
    .map(({ name }) => whyNot(data, name));
  return reasons.every((reason) => reason !== undefined) ? reasons[0] : undefined;
}

/** Whether an option can be had with a configuration, with whatever others. */
export function canHave(data: ChooserData, configuration: string, option: string): boolean {
  return namesOf(data, configuration).some((name) => name.split("+").includes(option) && !whyNot(data, name));
}

/** Marks the arrangements that can't be built for anybody; the ways on to them stay, since their pages say it too. */
export function showGone(data: ChooserData): void {
  for (const section of document.querySelectorAll<HTMLElement>(".hang [data-for]")) {
    section.querySelector(".gone")?.remove();
    const why = whyNone(data, section.dataset["for"]!);
    if (why)
      section
        .querySelector(".about")
        ?.append(element("p", { class: "gone" }, wordsHere("choosing").choosing.cantBeBuiltWhy({ why })));
  }
}

/** What an arrangement can miss; of an unknown one, everything. */
function sparesIn({ spares: { items, of } }: ChooserData, name: string): Spares {
  const pairs = of[name] ?? [];
  return Object.fromEntries(
    Array.from({ length: pairs.length / 2 }, (_, at) => [items[pairs[2 * at]!]!, pairs[2 * at + 1]!]),
  );
}

/** Arrangements of a configuration, fewest options first. */
const namesOf = ({ spares }: ChooserData, configuration: string): string[] =>
  Object.keys(spares.of).filter((name) => name.split("+")[0] === configuration);
