/** The patient in the address, exact, for the engine. */
import type { Patient } from "../../domain/bands/bands.ts";
import { readAge, readWeight } from "../../domain/bands/entry.ts";
import { readPatient } from "./weight.ts";

/** The patient that the address names, with the words for it; `undefined` if it names none. */
export function patientInAddress(): { readonly patient: Patient; readonly text: string } | undefined {
  const carried = readPatient();
  const weight = carried && readWeight(carried.kg, "kg");
  if (weight?.kind !== "value") return undefined;
  const age = carried!.age ? readAge(carried!.age) : undefined;
  const known = age?.kind === "value" ? { age: age.value.age } : {};
  return {
    patient: { weight: weight.value.mass, ...known },
    text: age?.kind === "value" ? `${weight.value.text}, ${age.value.text}` : weight.value.text,
  };
}
