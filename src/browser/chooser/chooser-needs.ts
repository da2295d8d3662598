/** The options that belong to a row of the chooser's table for some patients. */
import type { ChooserData } from "../../site/plans/chooser-data.ts";
import type { Band } from "../../schema/collection.ts";
import { holdsPatient, type Patient } from "../../domain/bands/bands.ts";
import { bandFrom } from "./chooser-band.ts";

/** The options that a patient needs with a row, with whom else they are for. */
export function neededFor(
  { requires }: Pick<ChooserData["rows"][number], "requires">,
  patient: Patient,
): { readonly option: string; readonly band: Band }[] {
  return requires
    .map(({ option, band }) => ({ option, band: bandFrom(band) }))
    .filter(({ band }) => holdsPatient(band, patient));
}
