/**
 * The printed card for exactly the patient who was chosen for, where lines are not the same for all of a
 * configuration's patients.
 */
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import { holdsPatient, sayBand, type Patient } from "../../domain/bands/bands.ts";
import { bandFrom } from "./chooser-band.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";
import { startFolderLinks } from "../find/folder-links.ts";
import { readPatient, showPatient } from "./weight.ts";

/**
 * Adds to each chosen arrangement the links to the cards that are for this patient: several while an age that divides
 * them is not known. Takes them away without a patient.
 */
export function showCards(data: ChooserData, base: string, ids: readonly string[], patient: Patient = {}): void {
  const { choosing } = wordsHere("choosing");
  for (const section of document.querySelectorAll<HTMLElement>(".hang [data-for]")) {
    for (const old of section.querySelectorAll("a.part")) old.remove();
    const row = data.rows.find(({ id }) => id === section.dataset["for"]),
      place = section.querySelector(".acts-row");
    if (!row?.cards || !place || !ids.includes(row.id)) continue;
    const fits = row.cards
      .map(({ band, address }) => ({ band: bandFrom(band), address }))
      .filter(({ band }) => holdsPatient(band, patient));
    place.append(
      ...fits.map(({ band, address }) =>
        element("a", { class: "go part", href: base + address }, choosing.cardOnly({ band: sayBand(band) })),
      ),
    );
  }
  if (ids.length === 0) return;
  showPatient(readPatient());
  startFolderLinks();
}
