/**
 * Marks, ends of arrows and the edges of what is shown are moved on the picture, by pointer and by the arrow keys. A
 * line below says where each is; it is saved when it is let go, or when the keys have rested.
 */
import { arrowShape } from "../../drawing/arrow.ts";
import { heard } from "../../words/heard.ts";
import { begin, end } from "./based-on.ts";
import { change } from "./edits.ts";
import { refreshScreen } from "./screen.ts";

const picture = () => document.querySelector<HTMLElement>("#picture")!;
const handles = () => [...picture().querySelectorAll<HTMLElement>(".handle")];
const form = () => document.querySelector<HTMLFormElement>("#new-mark")!;
const fresh = () => document.querySelector<HTMLElement>("#spot-new")!;

/** A twentieth of the picture is the least that can be shown. */
const LEAST = 0.05;
const STEP = 0.01;
const SMALL_STEP = 0.001;
/** How long the keys rest before what they moved is saved. */
const REST_MS = 700;

type Side = "left" | "top" | "right" | "bottom";
const SIDES: readonly Side[] = ["left", "top", "right", "bottom"];

/** Puts the picture of a photo's screen to work; does nothing on other screens. */
export function startPhoto(): void {
  if (!document.querySelector("#picture")) return;
  putAll();
  document.addEventListener("refreshed", () => document.querySelector("#picture") && putAll());
  document.addEventListener("pointerdown", grab);
  document.addEventListener("keydown", moveByKey);
  document.addEventListener("focusin", ({ target }) => {
    if (target instanceof HTMLElement && target.matches("#picture .handle")) sayWhere(target);
  });
  document.addEventListener("focusout", ({ target }) => {
    if (target instanceof HTMLElement && target.matches("#picture .handle.moved")) void letGo(target);
  });
  document.addEventListener("click", press);
  document.addEventListener("submit", ({ target }) => {
    if (target instanceof HTMLFormElement && target.id === "new-mark") addMark();
  });
  document.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement) changed(target);
  });
}

/** What is moved, its place by fractions of the whole picture. */
const at = ({ dataset }: HTMLElement) => [Number(dataset["x"]), Number(dataset["y"])] as const;
/** Left, upper, right and lower edge of what is shown. */
const edges = () => picture().dataset["edges"]!.split(" ").map(Number) as [number, number, number, number];
const sideOf = ({ id }: HTMLElement): Side | undefined => SIDES.find((side) => id === `edge-${side}`);
const round = (value: number) => Number(value.toFixed(3));
const between = (value: number, least: number, most: number) => Math.min(Math.max(value, least), most);
const percent = (value: number) => Number((value * 100).toFixed(1));

/** Puts each where its numbers say. Its style is set by script: the policy allows none in the page. */
function putAll(): void {
  const [left, top, right, bottom] = edges(),
    middles = { left: [left, (top + bottom) / 2], right: [right, (top + bottom) / 2], top: [(left + right) / 2, top] };
  for (const handle of handles()) {
    const side = sideOf(handle),
      [x, y] = side ? ({ ...middles, bottom: [(left + right) / 2, bottom] }[side] as [number, number]) : at(handle);
    handle.style.left = `${x * 100}%`;
    handle.style.top = `${y * 100}%`;
    handle.classList.toggle("leans", x > 0.85);
    handle.classList.toggle("low", y < 0.15);
    if (!side)
      handle.setAttribute(
        "aria-label",
        heard("deskScript").where({ name: handle.dataset["name"]!, place: where(handle) }),
      );
    else {
      const place = edges()[SIDES.indexOf(side)]!;
      handle.setAttribute("aria-valuenow", String(Number((place * 100).toFixed(1))));
      handle.setAttribute("aria-valuetext", where(handle));
    }
  }
  // Which number comes next is not the writer's, who may have begun with the mark before.
  const { next, nextName, nextAsks } = picture().dataset;
  fresh().dataset["name"] = nextName;
  fresh().querySelector("span")!.textContent = next!;
  form().querySelector("label span")!.textContent = nextAsks!;
  const svg = picture().querySelector("svg")!,
    { width, height } = svg.viewBox.baseVal;
  svg
    .querySelector(".veil")!
    .setAttribute(
      "d",
      `M0 0H${width}V${height}H0ZM${left * width} ${top * height}H${right * width}V${bottom * height}H${left * width}Z`,
    );
  for (const path of svg.querySelectorAll<SVGPathElement>("[data-arrow]")) {
    const [from, to] = [0, 1].map((end) => at(document.getElementById(`tip-${path.dataset["arrow"]}-${end}`)!));
    path.setAttribute("d", arrowShape([from![0] * width, from![1] * height], [to![0] * width, to![1] * height]));
  }
}

function where(handle: HTMLElement): string {
  const side = sideOf(handle),
    say = heard("deskScript");
  if (side) {
    const share = percent(edges()[SIDES.indexOf(side)]!);
    return side === "top" || side === "bottom" ? say.fromTop({ y: share }) : say.fromLeft({ x: share });
  }
  const [x, y] = at(handle);
  return say.fromLeftAndTop({ x: percent(x), y: percent(y) });
}

function sayWhere(handle: HTMLElement): void {
  const name = sideOf(handle) ? handle.getAttribute("aria-label") : handle.dataset["name"];
  document.querySelector("#where-moved")!.textContent = heard("deskScript").where({
    name: name ?? "",
    place: where(handle),
  });
}

/** Moves one thing as far as it may go: marks stay in what is shown, and an edge stops at the outermost mark. */
function moveTo(handle: HTMLElement, x: number, y: number): void {
  const side = sideOf(handle),
    now = edges();
  handle.classList.add("moved", "begun");
  begin(handle);
  if (!side) {
    // One that lay outside already may stay there on the other axis.
    const [oldX, oldY] = at(handle);
    if (x !== oldX) handle.dataset["x"] = String(round(between(x, now[0], now[2])));
    if (y !== oldY) handle.dataset["y"] = String(round(between(y, now[1], now[3])));
  } else {
    const axis = side === "left" || side === "right" ? 0 : 1,
      own = SIDES.indexOf(side),
      marked = handles()
        .filter((each) => !sideOf(each) && !each.hidden)
        .map((each) => at(each)[axis]);
    // Those that the screen does not have yet hold an edge, too.
    marked.push(...Array.from(comingIn, (place) => place[axis]));
    const value = axis === 0 ? x : y;
    now[own] = round(
      own < 2
        ? between(value, 0, Math.min(now[own + 2]! - LEAST, ...marked))
        : between(value, Math.max(now[own - 2]! + LEAST, ...marked), 1),
    );
    picture().dataset["edges"] = now.join(" ");
  }
  putAll();
  sayWhere(handle);
}

function grab(event: PointerEvent): void {
  const handle = event.target instanceof Element ? event.target.closest<HTMLElement>("#picture .handle") : null;
  if (!handle || event.button !== 0) return;
  const box = picture().getBoundingClientRect(),
    side = sideOf(handle),
    now = edges();
  const [x, y] = side ? [now[side === "right" ? 2 : 0], now[side === "bottom" ? 3 : 1]] : at(handle);
  // What is held stays under the pointer as it was taken.
  const from = { x: event.clientX, y: event.clientY };
  const drag = (next: PointerEvent) =>
    moveTo(handle, round(x + (next.clientX - from.x) / box.width), round(y + (next.clientY - from.y) / box.height));
  const end = () => {
    handle.removeEventListener("pointermove", drag);
    for (const kind of ["pointerup", "pointercancel"] as const) handle.removeEventListener(kind, end);
    if (handle.classList.contains("moved")) void letGo(handle);
  };
  handle.setPointerCapture(event.pointerId);
  handle.addEventListener("pointermove", drag);
  for (const kind of ["pointerup", "pointercancel"] as const) handle.addEventListener(kind, end);
}

const WAYS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
let rest: ReturnType<typeof setTimeout> | undefined;

function moveByKey(event: KeyboardEvent): void {
  const handle = event.target instanceof HTMLElement && event.target.matches("#picture .handle") ? event.target : null;
  if (event.key === "Escape" && !form().hidden) return endNew();
  const way = WAYS[event.key];
  if (!handle || !way || event.ctrlKey || event.altKey || event.metaKey) return;
  event.preventDefault();
  const step = event.shiftKey ? SMALL_STEP : STEP,
    side = sideOf(handle),
    now = edges();
  const [x, y] = side ? [now[side === "right" ? 2 : 0], now[side === "bottom" ? 3 : 1]] : at(handle);
  moveTo(handle, round(x + way[0] * step), round(y + way[1] * step));
  clearTimeout(rest);
  rest = setTimeout(() => void letGo(handle), REST_MS);
}

/** How many saves of a handle are on their way: until the last is done, it is where the writer has it. */
const saving = new WeakMap<HTMLElement, number>();

/** Saves where something is now. */
async function letGo(handle: HTMLElement): Promise<void> {
  if (!handle.classList.contains("moved")) return;
  clearTimeout(rest);
  handle.classList.remove("moved");
  if (handle === fresh()) return;
  saving.set(handle, (saving.get(handle) ?? 0) + 1);
  await savePlace(handle);
  saving.set(handle, saving.get(handle)! - 1);
  if (saving.get(handle) === 0 && !handle.classList.contains("moved")) {
    handle.classList.remove("begun");
    end(handle);
  }
}

async function savePlace(handle: HTMLElement): Promise<void> {
  const { index = "", end } = handle.dataset,
    path = ["marks", Number(index)];
  const value = (name: "x" | "y") => ({ kind: "set-field", path: [...path, name], value: handle.dataset[name]! });
  if (sideOf(handle)) await change(cropEdits(), handle);
  else if (end === undefined) await change([value("x"), value("y")], handle);
  else await change([{ kind: "set-field", path: [...path, "arrow"], value: endsOf(index) }], handle);
}

const endsOf = (index: string) =>
  [0, 1].flatMap((end) => at(document.getElementById(`tip-${index}-${end}`)!).map(String));

function cropEdits() {
  const [left, top, right, bottom] = edges();
  // Taken away by a button of its own: the whole picture may be written too.
  const value = { x: left, y: top, width: round(right - left), height: round(bottom - top) };
  const texts = Object.fromEntries(Object.entries(value).map(([name, each]) => [name, String(each)]));
  return [{ kind: "set-field", path: ["crop"], value: texts }];
}

function press({ target, clientX, clientY }: MouseEvent): void {
  if (!(target instanceof Element)) return;
  const [left, top, right, bottom] = edges();
  if (target.closest("#picture > img, #picture > svg")) {
    const box = picture().getBoundingClientRect(),
      [x, y] = [(clientX - box.left) / box.width, (clientY - box.top) / box.height];
    beginNew(x, y, () => form().querySelector<HTMLInputElement>("[name=label]")!);
  } else if (target.closest("#begin-mark")) beginNew((left + right) / 2, (top + bottom) / 2, fresh);
  else if (target.closest("#leave-mark")) endNew();
  else if (target.closest("#add-arrow")) {
    const [x, y] = [(left + right) / 2, (top + bottom) / 2],
      [w, h] = [right - left, bottom - top];
    // Off the middle, where a new mark begins.
    const arrow = [x - w * 0.35, y - h * 0.35, x - w * 0.2, y - h * 0.2].map((each) => String(round(each)));
    void change([{ kind: "insert-entry", path: ["marks"], value: { arrow } }]);
  }
}

/** Where the marks stand that are being put in: the screen does not show them yet. */
const comingIn = new Set<readonly [number, number]>();
/** The marks before are put in, and shown, when this is done. */
let adding: Promise<void> = Promise.resolve();
/** The mark that the form is for, or was for last; one that is sent is sent by no second press of Enter. */
let inForm = { isSent: true };
/** Marks that could not be saved, whose writer had gone on meanwhile. */
const refused: { readonly label: string; readonly place: readonly [number, number] }[] = [];

/**
 * Shows a mark that is still to be named, at once: what is typed next is its name, whether or not the mark before is
 * put in already. What comes from the desk meanwhile leaves it as it is.
 */
function beginNew(x: number, y: number, focus: () => HTMLElement): void {
  if (inForm.isSent) {
    inForm = { isSent: false };
    form().reset();
  }
  for (const each of [form(), fresh()]) {
    each.hidden = false;
    each.classList.add("begun");
  }
  fresh().dataset["x"] = "-1";
  fresh().dataset["y"] = "-1";
  moveTo(fresh(), x, y);
  fresh().classList.remove("moved");
  focus().focus();
}

function endNew(): void {
  // Whoever has gone on to something else stays there.
  const isHere = form().contains(document.activeElement) || document.activeElement === fresh();
  form().reset();
  for (const each of [form(), fresh()]) {
    each.hidden = true;
    each.classList.remove("begun", "moved");
    end(each);
  }
  if (isHere) document.querySelector<HTMLElement>("#begin-mark")!.focus();
  askAgain();
}

function addMark(): void {
  const label = String(new FormData(form()).get("label")).trim();
  if (!label || inForm.isSent) return;
  const place = at(fresh()),
    mark = inForm;
  mark.isSent = true;
  comingIn.add(place);
  // Which number it gets is known when the one before is shown.
  adding = adding.then(() => putIn(label, place, mark)).finally(() => comingIn.delete(place));
}

async function putIn(label: string, place: readonly [number, number], mark: typeof inForm): Promise<void> {
  const [x, y] = place,
    value = { n: picture().dataset["next"]!, x: String(x), y: String(y), label },
    isSaved = await change([{ kind: "insert-entry", path: ["marks"], value }], fresh());
  // Until the screen has it as a mark of its own, no edge may be moved past it.
  if (isSaved) await refreshScreen();
  const isLeft = inForm !== mark || form().hidden;
  if (!isSaved && isLeft) refused.push({ label, place });
  else if (!isSaved) mark.isSent = false;
  // Its writer may have begun with the next one.
  if (isSaved && !isLeft) endNew();
  else if (form().hidden) askAgain();
}

/** Shows a mark again that could not be saved, as it was, when its writer has done with the one begun since. */
function askAgain(): void {
  const mark = refused.shift();
  if (!mark) return;
  const name = () => form().querySelector<HTMLInputElement>("[name=label]")!;
  beginNew(...mark.place, name);
  name().value = mark.label;
}

/** A number typed for a mark; the items that are to be seen. */
function changed(input: HTMLInputElement): void {
  const { spot, axis } = input.dataset,
    handle = spot === undefined ? null : document.getElementById(`spot-${spot}`);
  if (handle && input.value !== "" && input.validity.valid) {
    const [x, y] = at(handle),
      value = round(Number(input.value) / 100);
    moveTo(handle, axis === "x" ? value : x, axis === "y" ? value : y);
    void letGo(handle);
  }
  const list = input.closest<HTMLElement>("[data-list]"),
    path = list && [list.dataset["list"]!];
  if (!list || !path) return;
  const value = [...list.querySelectorAll<HTMLInputElement>("input:checked")].map((each) => each.value);
  void change([value.length > 0 ? { kind: "set-field", path, value } : { kind: "remove-field", path }]);
}
