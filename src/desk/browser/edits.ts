/** Sends what is entered, chosen and pressed on a screen as changes of its file. */
import { heard } from "../../words/heard.ts";
import { begin, bench, displace, end, follow, isDisplaced, ownerOf, putBack, stepAt, takeBase } from "./based-on.ts";
import { composedText } from "./compose.ts";
import { refreshScreen, showMoment, whileBusy } from "./screen.ts";
import type { ChangeOutcome } from "../outcome.ts";
import { slugOf } from "../../schema/wording.ts";
import { deskAddress, say, send } from "./send.ts";
import { placesNow, renumberedBy, stepsOn } from "./step-numbers.ts";

type Edit = Readonly<Record<string, unknown>>;

/** Puts the screen's controls to work. */
export function startEdits(): void {
  for (const kind of ["input", "change"])
    document.addEventListener(kind, ({ target }) => target instanceof Element && begun(ownerOf(target)), true);
  document.addEventListener("change", ({ target }) => {
    if (!(
      target instanceof HTMLInputElement ||
      target instanceof HTMLSelectElement ||
      target instanceof HTMLTextAreaElement
    ))
      return;
    const edit = changeOf(target);
    if (edit) void change([edit], ownerOf(target));
  });
  document.addEventListener("submit", (event) => {
    const form = event.target as HTMLFormElement;
    // What is asked in a dialog is answered by closing it.
    if (form.method === "dialog") return;
    event.preventDefault();
    if (form.dataset["add"]) void add(form);
    else if (form.dataset["put"]) void put(form);
    else if (form.dataset["send"]) void sendForm(form);
  });
  document.addEventListener("click", ({ target }) => {
    const button = target instanceof Element ? target.closest<HTMLButtonElement>("button") : null;
    if (button?.dataset["edits"]) void press(button);
    else if (button?.dataset["again"]) void goBack(button.dataset["again"]);
  });
}

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** The change that a control makes; nothing for one of a form that is sent as a whole, or that is not whole yet. */
function changeOf(control: Control): Edit | undefined {
  const field = control.closest<HTMLElement>("[data-compose]") ?? control,
    { edit, none, as = "value", before } = field.dataset;
  if (edit === undefined) return undefined;
  const isTick = field === control && control.type === "checkbox";
  const value =
    field !== control
      ? composedText(field)
      : isTick
        ? (control as HTMLInputElement).checked || ""
        : control.value.trim();
  if (value === undefined) return undefined;
  if (value === "")
    return none === undefined ? (as === "value" ? undefined : { ...parse(edit), [as]: "" }) : parse(none);
  return { ...parse(edit), [as]: before && typeof value === "string" ? `${before} ${value}` : value };
}

const parse = (text: string) => JSON.parse(text) as Edit;

/** A form whose writer has emptied it again is begun no more. */
function begun(owner: Element): void {
  const isEmptied =
    owner instanceof HTMLFormElement &&
    [...owner.querySelectorAll<HTMLInputElement | HTMLTextAreaElement>("input, textarea")].every(
      (each) => each.value === each.defaultValue,
    );
  if (isEmptied) end(owner);
  else begin(owner);
}

/** Changes of the steps' order that are not shown yet: what is pressed until then means other steps. */
let renumbering = 0;

/** Says it where what is asked for would reach another step than the one that was meant. */
function isAmiss(owner?: Element): boolean {
  const { displaced, inOrder } = bench().dataset,
    said = isDisplaced(owner) ? displaced : renumbering > 0 ? inOrder : undefined;
  if (said !== undefined) say(said, true);
  return said !== undefined;
}

/** Says that what was begun stands at another step now; nothing is saved then. */
function sayDisplaced(): false {
  say(bench().dataset["displaced"] ?? "", true);
  return false;
}

async function untilShown(saving: Promise<unknown>): Promise<void> {
  renumbering += 1;
  try {
    await saving;
    await refreshScreen();
  } finally {
    renumbering -= 1;
  }
}

/** Takes the last change of the day back, or does it again: which steps it moves is not known here. */
function goBack(address: string): Promise<void> {
  const body = () => ({ file: bench().dataset["file"] });
  return untilShown(sendBased(address, body, undefined, undefined, [() => undefined]));
}

async function press(button: HTMLButtonElement): Promise<void> {
  const { edits, ask, then } = button.dataset;
  if (isAmiss()) return;
  if (ask && !confirm(ask)) return;
  if ((await change(JSON.parse(edits!) as Edit[])) && then !== undefined) location.href = deskAddress(then);
}

/** An entry of a list, or one that has a name, put in with what its controls hold. */
async function put(form: HTMLFormElement): Promise<void> {
  const { put: edit = "", first, then } = form.dataset,
    { path, ...rest } = parse(edit) as { readonly path: readonly (string | number)[] };
  const fields = valuesOf(form);
  if (!fields) return say(heard("deskScript").halfFilled, true);
  const bare = fields[""],
    value = bare ?? fields;
  const key = nameIn(form, fields["name"]);
  if (key === "" || (bare === undefined && Object.keys(fields).length === 0 && key === undefined) || bare === "")
    return say(heard("deskScript").nothingChosen, true);
  const made =
    first !== undefined
      ? { ...rest, path, value: [...(JSON.parse(first) as unknown[]), value] }
      : { ...rest, path: key === undefined ? path : [...path, key], value };
  if (!(await change([made], form))) return;
  form.classList.remove("begun");
  form.reset();
  form.closest<HTMLDetailsElement>("details.insert")?.removeAttribute("open");
  if (then !== undefined && key !== undefined) location.href = deskAddress(then + encodeURIComponent(key));
}

/** By which an entry is called: as it is written or chosen, else made from its name; `undefined` where it has none. */
function nameIn(form: HTMLFormElement, name: unknown): string | undefined {
  const key = form.querySelector<HTMLInputElement | HTMLSelectElement>("[name=key]");
  return key ? key.value.trim() || slugOf(typeof name === "string" ? name : "") : undefined;
}

/**
 * What the controls of a form hold, by field; `""` is the field of a value that has none. A control that is left empty
 * gives no field, unless it is a list. `undefined` where several controls that make one text are not whole.
 */
function valuesOf(form: HTMLFormElement): Readonly<Record<string, unknown>> | undefined {
  const values: Record<string, unknown> = {};
  for (const control of form.querySelectorAll<HTMLElement>(
    "[name^='f:'], [name^='l:'], [data-name^='f:'], [data-name^='l:']",
  )) {
    const called = control.dataset["name"] ?? control.getAttribute("name")!,
      text = control.dataset["compose"] ? composedText(control) : (control as Control).value.trim();
    if (text === undefined) return undefined;
    const words =
      control instanceof HTMLInputElement ? text.split(/\s*,\s*/).filter(Boolean) : text === "" ? [] : [text];
    if (called.startsWith("l:")) values[called.slice(2)] = words;
    else if (text !== "") values[called.slice(2)] = text;
  }
  return values;
}

/** A part or a step that is put in; what its fields hold are its attributes, `text` its text. */
async function add(form: HTMLFormElement): Promise<void> {
  if (isAmiss(form)) return;
  const edit = parse(form.dataset["add"]!) as Edit & { readonly new: Edit };
  const attributes: Record<string, string> = {};
  let text: string | undefined;
  for (const [name, value] of new FormData(form)) {
    const words = String(value).trim();
    if (name === "text") text = words;
    else if (name === "turn") {
      const [fastening = "", ...state] = words.split(" ");
      Object.assign(attributes, { fastening, to: state.join(" ") });
    } else if (words !== "" && !(name === "count" && words === "1")) attributes[name] = words;
  }
  const made = { ...edit, new: { ...edit.new, attributes, ...(text === undefined ? {} : { text }) } };
  if (await change([made], form)) {
    form.classList.remove("begun");
    form.reset();
    form.closest<HTMLDetailsElement>("details.insert")?.removeAttribute("open");
  }
}

/** A form that is sent to an address of its own; `data-whole`: it holds all that the screen's file says. */
async function sendForm(form: HTMLFormElement, base?: string): Promise<boolean> {
  const { send: address = "", whole } = form.dataset;
  const sent = () => Object.fromEntries(new FormData(form));
  const outcome = await sendBased(
    address,
    (basedOn) => ({ ...sent(), ...(whole === undefined ? {} : { file: bench().dataset["file"], basedOn }) }),
    form,
    base,
  );
  if ("changed" in outcome) return ask(outcome, String(sent()["text"]), (hash) => sendForm(form, hash));
  if (!("saved" in outcome)) return false;
  form.classList.remove("begun");
  if (whole === undefined) form.reset();
  form.closest<HTMLDetailsElement>("details.insert")?.removeAttribute("open");
  if (outcome.address !== undefined) location.href = deskAddress(outcome.address);
  // The newer reading may have been shown before, with this form left as it was begun.
  else await refreshScreen();
  return true;
}

/** Sends changes of the screen's file, begun with `owner`; whether they were saved. */
export async function change(edits: readonly Edit[], owner?: Element, base?: string): Promise<boolean> {
  if (isDisplaced(owner)) return sayDisplaced();
  const renumbered = edits.flatMap((edit) => renumberedBy(edit) ?? []),
    step = owner ? stepAt(owner) : 0,
    before = stepsOn(document);
  const sending = sendBased(
    "edit",
    (basedOn) => ({ file: bench().dataset["file"], basedOn, edits }),
    owner,
    base,
    renumbered,
  );
  if (renumbered.length > 0) void untilShown(sending);
  const outcome = await sending;
  if (!("changed" in outcome)) return "saved" in outcome;
  // The steps may have been moved elsewhere: then these words would come into another one.
  await refreshScreen();
  if (owner && step > 0 && placesNow(before, stepsOn(document))(step) !== step) return sayDisplaced();
  const yours = edits.map(({ value, text, kind }) => String(value ?? text ?? kind)).join("\n\n");
  if (await ask(outcome, yours, (hash) => change(edits, owner, hash))) return true;
  // What was left as it is elsewhere is shown; a form that was begun stays as its writer has it.
  await refreshScreen();
  return false;
}

/**
 * Sends what rests on a state of the screen's file: on that on which `owner` was begun, or on `base`. What else was
 * begun on the same follows it when it is saved. `renumbered`: what becomes of the steps' numbers then.
 */
export async function sendBased(
  address: string,
  body: (basedOn: string | null) => unknown,
  owner?: Element,
  base?: string,
  renumbered: readonly ((step: number) => number | undefined)[] = [],
): Promise<ChangeOutcome> {
  let basedOn: string | null = null;
  const sending = send(address, () => {
    const begunOn = takeBase(owner);
    basedOn = base ?? begunOn;
    return body(basedOn);
  });
  const outcome = await finish(sending, (hash) => {
    for (const each of renumbered) displace(each);
    follow(basedOn, hash, renumbered.length > 0);
  });
  const isKept = "refused" in outcome || ("changed" in outcome && owner?.classList.contains("begun"));
  if (owner && isKept) putBack(owner, basedOn);
  return outcome;
}

/** Says what became of a change, and shows it; `onSaved` is told the state of the file that it was saved as. */
export function finish(
  sending: Promise<ChangeOutcome>,
  onSaved: (hash: string) => void = () => undefined,
): Promise<ChangeOutcome> {
  return whileBusy(() => sayOutcome(sending, onSaved));
}

async function sayOutcome(sending: Promise<ChangeOutcome>, onSaved: (hash: string) => void): Promise<ChangeOutcome> {
  say(heard("deskScript").saving);
  const outcome = await sending;
  if ("refused" in outcome)
    say(
      heard("deskScript")
        .notSaved({ why: `${outcome.refused}.` })
        .replace(/\.\.$/, "."),
      true,
    );
  else if ("saved" in outcome) {
    if (outcome.hash !== null) onSaved(outcome.hash);
    say(heard("deskScript").saved);
    // Not waited for: what is written next must not be cleared away when the page has come.
    void showMoment(outcome.number);
  } else say(heard("deskScript").changedElsewhere, true);
  return outcome;
}

/** Shows what the file says now beside what was to be saved; saves it again on that if the writer says so. */
export async function ask(
  { theirs, hash }: Extract<ChangeOutcome, { changed: true }>,
  yours: string,
  again: (hash: string) => Promise<boolean>,
): Promise<boolean> {
  const dialog = document.querySelector<HTMLDialogElement>("#elsewhere")!;
  dialog.querySelector("[data-theirs]")!.textContent = theirs ?? heard("deskScript").fileGone;
  dialog.querySelector("[data-yours]")!.textContent = yours;
  dialog.querySelector<HTMLButtonElement>("[value=mine]")!.hidden = hash === null;
  dialog.returnValue = "";
  dialog.showModal();
  await new Promise((done) => dialog.addEventListener("close", done, { once: true }));
  if (dialog.returnValue !== "mine" || hash === null) return false;
  return again(hash);
}
