/** Options wanted and what to fetch for them, once an arrangement is chosen. */
import type { CarryData, ChooserData } from "../../site/plans/chooser-data.ts";
import { holdsPatient, type Patient, sayBand } from "../../domain/bands/bands.ts";
import { areApart } from "../../domain/parts/arrangements.ts";
import { bandFrom } from "./chooser-band.ts";
import { neededFor } from "./chooser-needs.ts";
import { canHave, whyNot } from "./chooser-out.ts";
import { element } from "../element.ts";
import { heard, wordsHere } from "../../words/heard.ts";
import { withIndex } from "../find/folder-links.ts";
import { readPatient } from "./weight.ts";
import { lowerFirst } from "../../schema/wording.ts";

/** What is on the platform now, and the way to the platform's pages. */
export interface Now {
  readonly now: string | undefined;
  readonly base: string;
  /** What was begun since `now`, as one word, where the platform is half-built. */
  readonly begun?: string | undefined;
}

let shown = "";

/**
 * Shows options and the list for a configuration and this patient; hides them without one. Options stay chosen while
 * the configuration does. Answers with the arrangement that is wanted: `newborn-capsule+gas-shelf`.
 */
export function showCarry(
  data: ChooserData,
  configuration: string | undefined,
  patient: Patient = {},
  now?: Now,
): string | undefined {
  const section = document.querySelector<HTMLElement>(".carry"),
    wanted = document.querySelector<HTMLElement>(".ask .wanted");
  if (!section || !wanted) return configuration;
  section.hidden = configuration === undefined;
  wanted.hidden = configuration === undefined;
  if (configuration === undefined) {
    shown = "";
    return undefined;
  }
  const row = data.rows.find(({ id }) => id === configuration)!;
  const choices = wanted.querySelector<HTMLElement>(".choices")!;
  const needed = neededFor(row, patient);
  const ids = row.options.filter((id) => data.options[id] && holdsPatient(bandFrom(data.options[id].band), patient));
  const gone = ids.filter((id) => !canHave(data, configuration, id));
  const key = JSON.stringify([configuration, ids, needed.map(({ option }) => option), gone]);
  const { choosing } = wordsHere("choosing");
  if (shown !== key) {
    shown = key;
    choices.replaceChildren(
      ...ids.map((id) => {
        const need = needed.find(({ option }) => option === id);
        const box = element("input", { type: "checkbox", value: id });
        // What a patient needs is fitted, not chosen.
        if (need) box.checked = box.disabled = true;
        return element(
          "label",
          { class: "choice" },
          box,
          element(
            "span",
            {},
            data.options[id]!.title,
            ...(need ? [choosing.alwaysFor({ band: sayBand(need.band) })] : []),
            ...(gone.includes(id) ? [choosing.notNow] : []),
          ),
        );
      }),
    );
  }
  wanted.hidden = ids.length === 0;
  const name = arrangementWanted(
    data,
    choices,
    configuration,
    needed.map(({ option }) => option),
    gone,
  );
  fill(data, section, name, now);
  return name;
}

/** The configuration with the options that are ticked; those that can't be with them can't be ticked. */
function arrangementWanted(
  data: ChooserData,
  choices: HTMLElement,
  configuration: string,
  needed: readonly string[],
  gone: readonly string[],
): string {
  const optionOf = (id: string) => ({ id, notWith: data.options[id]!.notWith });
  const boxes = [...choices.querySelectorAll<HTMLInputElement>("input")];
  const wanted = boxes.filter(({ checked }) => checked).map(({ value }) => value);
  for (const box of boxes) {
    const own = optionOf(box.value);
    box.disabled =
      needed.includes(box.value) ||
      (!box.checked && gone.includes(box.value)) ||
      (!box.checked && wanted.some((id) => areApart(own, optionOf(id))));
  }
  const order = data.rows.find(({ id }) => id === configuration)!.options;
  return [configuration, ...wanted.sort((a, b) => order.indexOf(a) - order.indexOf(b))].join("+");
}

/** What to have at hand while a question of the service is open: the lists of these configurations, none chosen. */
export function showFetch(data: ChooserData, configurations: readonly string[], now: string | undefined): void {
  const section = document.querySelector<HTMLElement>(".carry"),
    rows = data.rows.filter(({ id }) => configurations.includes(id));
  if (!section || rows.length === 0) return;
  const { choosing } = wordsHere("choosing");
  section.hidden = false;
  const standing = data.rows.find(({ id }) => id === data.standing?.split("+")[0]);
  section.querySelector(".lists")!.replaceChildren(
    ...rows.map(({ id, title }) => {
      const fetch = data.carry[id]?.fetch ?? [];
      return fetch.length && id !== now
        ? list(title, fetch)!
        : element(
            "section",
            {},
            element("h3", {}, title),
            element("p", {}, id === (now ?? standing?.id) ? choosing.standsOnIt : choosing.nothingFromStore),
          );
    }),
    ...(standing
      ? [element("p", { class: "small" }, choosing.countedFrom({ arrangement: lowerFirst(standing.title) }))]
      : []),
  );
}

function fill(data: ChooserData, section: HTMLElement, name: string, now?: Now): void {
  const carry = data.carry[name],
    { choosing } = wordsHere("choosing");
  const standing = data.rows.find(({ id }) => id === data.standing?.split("+")[0]);
  const lists = section.querySelector<HTMLElement>(".lists")!;
  if (now?.begun)
    return lists.replaceChildren(element("p", {}, choosing.halfBuilt, " ", askLink(now, name, choosing.fetchFromHere)));
  if (now?.now && now.now !== standing?.id)
    return lists.replaceChildren(
      element(
        "p",
        {},
        choosing.isOnIt({ arrangement: data.rows.find(({ id }) => id === now.now)!.title }),
        " ",
        askLink(now, name, choosing.fetchFromThere),
      ),
    );
  if (!standing) return lists.replaceChildren(element("p", {}, choosing.noneStanding));
  const why = whyNot(data, name);
  if (why) return lists.replaceChildren(element("p", {}, choosing.cantBeBuiltWhy({ why })));
  if (!carry) return lists.replaceChildren(element("p", {}, choosing.notTogether));
  const parts = [
    list(choosing.fetch, carry.fetch),
    list(choosing.move, carry.move),
    list(choosing.takeBack, carry.back),
  ].filter((part) => part !== undefined);
  const whole =
    now?.now && parts.length ? [element("p", { class: "small" }, askLink(now, name, choosing.justThis))] : [];
  lists.replaceChildren(
    ...(parts.length ? parts : [element("p", {}, choosing.waitsLikeThis)]),
    element("p", { class: "small" }, choosing.countedNoOrder({ arrangement: lowerFirst(standing.title) })),
    ...whole,
  );
}

/** Leads to the page that works out any changeover, asking for this one and for the patient in the address. */
export function askLink({ now, base, begun }: Now, to: string, text: string): HTMLElement {
  const patient = readPatient(),
    half = begun ? `&begun=${begun}` : "",
    fields = patient ? `&${new URLSearchParams({ kg: patient.kg, ...(patient.age ? { age: patient.age } : {}) })}` : "";
  const link = element("a", { href: `${base}changeovers/#from=${now!}${half}&to=${to}${fields}` }, text);
  if (location.protocol === "file:") link.href = withIndex(link.href);
  return link;
}

function list(title: string, entries: readonly CarryData[]): HTMLElement | undefined {
  if (entries.length === 0) return undefined;
  const rows = entries.map(([count, item, from, to]) =>
    element(
      "li",
      {},
      element("b", { class: "n" }, `${count} ×`),
      " ",
      element("b", {}, item),
      element("span", {}, heard("turning").fromTo({ from, to })),
    ),
  );
  return element("section", {}, element("h3", {}, title), element("ul", {}, ...rows));
}
