/**
 * A chosen weight travels in the address alone (`#kg=7.2&age=8+months`): every rail shows it, every link carries it on,
 * nothing is kept.
 */
import { placeOnRail } from "../../drawing/rail.ts";
import { sayNear } from "../../domain/bands/say-mass.ts";
import { MASS_PER_KG } from "../../schema/units.ts";

/** What the address says of the patient. */
interface CarriedPatient {
  /** Kilograms as a plain decimal number. */
  readonly kg: string;
  /** `8 months`. */
  readonly age?: string;
}

/** The patient in the address; `undefined` if there is none or it makes no sense. */
export function readPatient(hash = location.hash): CarriedPatient | undefined {
  const fields = new URLSearchParams(hash.slice(1));
  const kg = fields.get("kg"),
    age = fields.get("age");
  if (!kg || !/^\d{1,5}(\.\d{1,12})?$/.test(kg) || Number(kg) <= 0) return undefined;
  return age && /^\d{1,5}(\.\d{1,4})? (days?|weeks?|months?|years?)$/.test(age) ? { kg, age } : { kg };
}

/** Puts a patient into the address, or takes it out, without a new entry in the history. */
export function writePatient(patient: CarriedPatient | undefined): void {
  // What was left half-built is of the platform, not of the patient: it stays.
  const fields = location.hash
    .slice(1)
    .split("&")
    .filter((part) => /^(from|begun)=/.test(part));
  if (patient)
    fields.push(new URLSearchParams({ kg: patient.kg, ...(patient.age ? { age: patient.age } : {}) }).toString());
  const hash = fields.length > 0 ? `#${fields.join("&")}` : "";
  history.replaceState(history.state, "", `${location.pathname}${location.search}${hash}`);
  showPatient(patient);
}

/** Shows the needle on every rail of the page and carries the weight on in every link to another page of the site. */
export function showPatient(patient: CarriedPatient | undefined): void {
  for (const rail of document.querySelectorAll<HTMLElement>(".rail[data-from]")) showNeedle(rail, patient?.kg);
  for (const link of document.querySelectorAll<HTMLAnchorElement>("a[href]")) {
    if (
      link.origin !== location.origin ||
      link.protocol !== location.protocol ||
      link.getAttribute("href")!.startsWith("#")
    )
      continue;
    const hash = link.hash;
    if (hash && !hash.startsWith("#kg=")) continue;
    link.hash = patient
      ? new URLSearchParams({ kg: patient.kg, ...(patient.age ? { age: patient.age } : {}) }).toString()
      : "";
  }
}

/**
 * Sets the needle of one rail to a plain decimal number of kilograms; hides it without one. Its label is rounded for
 * reading, never over an end of a band.
 */
export function showNeedle(rail: HTMLElement, kg: string | undefined): void {
  const needle = rail.querySelector<HTMLElement>(".needle");
  if (!needle) return;
  needle.hidden = kg === undefined;
  if (kg === undefined) return;
  const x = placeOnRail({ fromKg: Number(rail.dataset["from"]), toKg: Number(rail.dataset["to"]) }, Number(kg));
  needle.style.setProperty("--x", String(x));
  needle.classList.toggle("late", x > 85);
  needle.querySelector("b")!.textContent = sayNear(
    massOf(kg),
    (rail.dataset["ends"] ?? "").split(" ").filter(Boolean).map(massOf),
  );
}

/** The exact mass of a plain decimal number of kilograms, in units of `End`. */
function massOf(kg: string): bigint {
  const [whole = "0", part = ""] = kg.split(".");
  return (BigInt(whole + part) * MASS_PER_KG) / 10n ** BigInt(part.length);
}

/** Shows what the address says, now and when it changes. */
export function startPatient(): void {
  const show = () => showPatient(readPatient());
  show();
  addEventListener("hashchange", show);
}
