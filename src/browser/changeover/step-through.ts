/** Leads a crew through a changeover one step at a time. What holds is pressed by hand; nothing leaves the device. */
import { wordsHere } from "../../words/heard.ts";
import { writeHour } from "../../schema/spoken.ts";
import type { Walk, WalkStop } from "../../domain/device/walk.ts";
import { changeSince, marksOf } from "../../domain/device/walk-marks.ts";
import { writtenOf } from "../../domain/parts/reading.ts";
import { afterParts, keepRun } from "../after/after-walk.ts";
import { pressesOf } from "../after/presses.ts";
import { noteForm } from "../after/note-form.ts";
import { button, element } from "../element.ts";
import type { WayOn } from "./call-changed.ts";
import { railOfStops } from "./step-rail.ts";
import { alertParts, countPart, stopPart } from "./step-parts.ts";
import { dropWalk, keepWalk, onKeptElsewhere, readWalk } from "./walk-store.ts";

/** What a page gives for a walk. */
export interface Through {
  readonly walk: Walk;
  /** The pictures of a stop. */
  readonly picturesOf: (stop: WalkStop) => readonly Node[];
  /** What comes after the last step: the card to read. */
  readonly card: { readonly href: string; readonly title: string };
  /** Where to go if the call changes before a stop, or at the count. */
  readonly waysOn: (at: number) => readonly WayOn[];
  /** Seed of the drill that it is. */
  readonly drill?: number;
  /** What is told once so many stops are done, and the walk from there: only a drill knows it before. */
  readonly change?: { readonly at: number; readonly told: readonly string[]; readonly next: Through };
  /** What comes at the end, below planned and done. */
  readonly after?: () => readonly Node[];
  /** What was begun before it, as the address has it: the walk begins half-built. */
  readonly begun?: string;
}

/**
 * Puts the step-through of a page to work. `find` gives the walk, or a place in which to ask for which patient it is.
 */
export function startStepThrough(
  place: HTMLElement,
  find: () => Through | readonly { readonly label: string; readonly through: Through }[] | undefined,
): { readonly open: () => void; readonly resume: () => void } {
  let opened: HTMLElement | undefined,
    toldOld: string | null = null;
  const { walk: words } = wordsHere("walk");
  const close = () => {
    document.documentElement.classList.remove("stepping");
    place.hidden = true;
    place.replaceChildren();
    removeEventListener("keydown", onKey);
    opened?.focus();
  };
  const leave = (through: Through) => {
    dropWalk(through.walk.key);
    setStep(false);
    close();
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const press = (name: string) => place.querySelector<HTMLButtonElement>(`.th-${name}`)?.click();
    if (event.key === "ArrowRight") press("next");
    else if (event.key === "ArrowLeft") press("back");
  };
  const show = () => {
    const found = find();
    if (!found) return setStep(false);
    document.documentElement.classList.add("stepping");
    place.hidden = false;
    removeEventListener("keydown", onKey);
    addEventListener("keydown", onKey);
    const old = lapsed();
    if (old && old.textContent !== toldOld) return sayOld(old);
    if ("walk" in found) return walkThrough(place, found, leave, isOther);
    askFirst(
      [
        element("h2", { tabindex: "-1" }, words.which),
        element("p", {}, words.notSameForAll),
        element(
          "div",
          { class: "th-choices" },
          ...found.map(({ label, through }) => button(label, "go", () => walkThrough(place, through, leave, isOther))),
        ),
      ],
      [],
      "h2",
    );
  };
  const lapsed = () => document.querySelector("[data-lapsed]:not([hidden])");
  /**
   * Before each step, since a page may stay open over midnight: begins anew, and says why, if by now the page counts no
   * more or the walk is another one.
   */
  const isOther = ({ walk }: Through): boolean => {
    const found = find(),
      marks = marksOf(walk).join();
    const walks = !found ? [] : "walk" in found ? [found.walk] : found.map(({ through }) => through.walk);
    const isSame = walks.some((each) => each.key === walk.key && marksOf(each).join() === marks);
    if (!found || (isSame && (lapsed()?.textContent ?? toldOld) === toldOld)) return false;
    show();
    return true;
  };
  /** Before the first step: that the page counts no more since a day. */
  const sayOld = (old: Element) => {
    const goOn = () => {
      toldOld = old.textContent;
      show();
    };
    askFirst([old.cloneNode(true)], [button(words.allTheSame, "th-next", goOn)], ".th-back");
  };
  /** A screen before the steps, with what leads on from its foot beside the way out; `focus`: where a reader begins. */
  const askFirst = (parts: readonly Node[], on: readonly Node[], focus: string) => {
    place.className = ["through", "th-asks"].join(" ");
    place.replaceChildren(
      element("h1", { class: "hide" }, words.stepThrough),
      ...parts,
      element(
        "div",
        { class: "th-foot" },
        element(
          "div",
          { class: "th-buttons" },
          button(words.leave, "th-back", () => (setStep(false), close())),
          ...on,
        ),
      ),
    );
    place.querySelector<HTMLElement>(focus)!.focus();
  };
  addEventListener("popstate", () => {
    // The browser's own way back closes the view and keeps the place; only Leave and the end forget it.
    if (hasStep() === place.hidden) return hasStep() ? show() : close();
  });
  return {
    open: () => {
      opened = document.activeElement as HTMLElement;
      setStep(true);
      show();
    },
    resume: () => {
      if (hasStep()) show();
    },
  };
}

/** Whether the address asks for the step-through. */
function hasStep(): boolean {
  return location.hash
    .slice(1)
    .split("&")
    .some((part) => /^step=?$/.test(part));
}

/** Puts `step` into the address beside what is there, or takes it out. */
function setStep(on: boolean): void {
  const rest = location.hash
    .slice(1)
    .split("&")
    .filter((part) => part && !/^step=?$/.test(part));
  const hash = [...rest, ...(on ? ["step"] : [])].join("&");
  if (on === hasStep()) return;
  const address = `${location.pathname}${location.search}${hash ? `#${hash}` : ""}`;
  if (on) history.pushState(null, "", address);
  else history.replaceState(null, "", address);
}

/** What the foot of the page offers of a newer set, which nobody sees below a step: the walk goes on in it. */
function newerSet(): Node[] {
  const offer = document.querySelector<HTMLButtonElement>("saved-on-device button");
  if (!offer) return [];
  const { textContent: text } = offer.previousSibling ?? {};
  return [
    element(
      "p",
      { class: "note" },
      text ?? "",
      button(offer.textContent, "go", () => offer.click()),
    ),
  ];
}

/** Ends what the walk that was shown last listens to. */
let watching = new AbortController();

function walkThrough(
  place: HTMLElement,
  through: Through,
  leaveIt: (through: Through) => void,
  isOther: (through: Through) => boolean,
): void {
  const { walk, picturesOf, card, waysOn, change, after, ...of } = through,
    { count } = walk,
    stops = walk.stops.slice(0, change?.at),
    // Steps that are for other patients are left out, and keep their numbers.
    lastNumber = Math.max(0, ...walk.stops.map(({ number }) => number)),
    marks = marksOf(walk),
    leave = () => {
      if (kept) dropWalk(kept.key);
      leaveIt(through);
    },
    { walk: words } = wordsHere("walk");
  const kept = readWalk(walk.key, Date.now()),
    since = kept?.marks && changeSince(kept.marks, walk);
  let at = Math.min(kept?.at ?? 0, stops.length);
  // What was answered to another step, or under another number, is not answered to this one.
  const pressed = new Set((kept?.pressed ?? []).filter((name) => !since || Number(name.split("/")[0]) < since.from));
  const times = pressesOf(at > 0 && !since ? kept?.presses : undefined);
  let isKept = true,
    isElsewhere = false;
  const keep = () => {
    isKept = keepWalk(walk.key, { at, pressed: [...pressed], presses: times.all(), marks, when: Date.now() });
    if (kept && kept.key !== walk.key) dropWalk(kept.key);
  };
  const status = element("p", { class: "th-status", role: "status" });
  watching.abort();
  watching = new AbortController();
  onKeptElsewhere(
    walk.key,
    () => {
      isElsewhere = true;
      if (!place.hidden) status.textContent = words.elsewhereToo;
    },
    watching.signal,
  );
  /** Where the place of this walk is not kept, or not for this window alone, or its text is of a set of before. */
  const ofKeeping = () => [
    ...newerSet(),
    ...(isKept ? [] : [element("p", { class: "note" }, words.notKept)]),
    ...(isElsewhere ? [element("p", { class: "note" }, words.elsewhereToo)] : []),
  ];

  const go = (to: number) => {
    at = to;
    keep();
    if (!isOther(through)) show();
  };
  const press = (name: string, on: boolean) => {
    if (on) pressed.add(name);
    else pressed.delete(name);
    status.textContent = "";
    keep();
  };
  /** Goes back to a stop, and takes back every answer from there on. */
  const goBackTo = (to: number) => {
    for (const name of pressed) if (Number(name.split("/")[0]) >= to) pressed.delete(name);
    times.add("again", to);
    go(to);
  };
  const beginAnother = () => {
    times.forget();
    goBackTo(0);
  };
  const nextNumber = (index: number) =>
    index < walk.stops.length ? words.stepNumber({ number: walk.stops[index]!.number }) : words.theCount;

  /** A screen with its foot; the heading takes the focus, so that a reader of the screen hears it. */
  const screen = (name: string, parts: readonly Node[], foot: readonly Node[]) => {
    const top = element(
      "div",
      { class: "th-top" },
      element("h1", { class: "th-title" }, walk.title),
      button(words.leave, "th-leave", askToLeave),
    );
    place.className = ["through", name].join(" ");
    status.textContent = "";
    place.replaceChildren(
      top,
      railOfStops(walk, at),
      ...parts,
      element("div", { class: "th-foot" }, status, element("div", { class: "th-buttons" }, ...foot)),
    );
    scrollTo(0, 0);
    const heading = place.querySelector<HTMLElement>("h2");
    heading?.setAttribute("tabindex", "-1");
    heading?.focus();
  };

  const askToLeave = () =>
    screen(
      "th-asks",
      [element("h2", {}, words.leaveAsked), element("p", {}, words.isForgotten)],
      [button(words.leave, "th-back", leave), button(words.goOn, "th-next", show)],
    );

  const changed =
    waysOn(0).length > 0
      ? [
          element(
            "p",
            { class: "th-changed" },
            button(words.callChanged, "go", () => askChanged()),
          ),
        ]
      : [];
  const askChanged = () => {
    const links = waysOn(at).map(({ label, href }) => {
      const link = element("a", { class: "go", href }, label);
      // What is done so far goes on in the address; this walk is over.
      link.addEventListener("click", () => dropWalk(walk.key));
      return link;
    });
    screen(
      "th-asks",
      [
        element("h2", {}, words.callChanged),
        element("p", {}, words.stopBefore({ where: nextNumber(at) })),
        element("p", { class: "th-choices" }, ...links),
      ],
      [button(words.goOn, "th-next", show)],
    );
  };

  const show = () => {
    times.add("shown", at);
    if (at >= stops.length) return change ? showChange(change) : showCount();
    const stop = stops[at]!;
    const part = stopPart(
      stop,
      walk,
      picturesOf(stop),
      (name) => pressed.has(`${at}/${name}`),
      (name, on) => press(`${at}/${name}`, on),
    );
    const restart = element(
      "div",
      { class: "th-restart" },
      element(
        "p",
        {},
        element("b", {}, `${words.interrupted} `),
        stop.group === at ? words.beginsGroup : words.notFromMemory({ where: nextNumber(stop.group) }),
      ),
      ...(stop.group === at
        ? []
        : [button(words.backTo({ where: nextNumber(stop.group) }), "go", () => goBackTo(stop.group))]),
    );
    const forward = button(
      stop.hold ? words[walk.people.length === 2 ? "bothAgree" : "allAgree"] : words.done,
      "th-next",
      () => {
        const open = part.open();
        if (!open) {
          times.add("done", at);
          return go(at + 1);
        }
        status.textContent = open.text;
        open.place.focus();
      },
    );
    screen(
      ["th-stop", stop.hold ? "th-held" : "", stop.critical ? "th-critical" : ""].join(" "),
      [
        ...ofKeeping(),
        ...part.nodes,
        restart,
        ...changed,
        noteForm({ ...stop, platform: walk.platform, procedure: writtenOf(stop.procedure).procedure }),
      ],
      [...(at > 0 ? [button(words.back, "th-back", () => go(at - 1))] : []), forward],
    );
  };

  const showChange = ({ told, next }: NonNullable<Through["change"]>) =>
    screen(
      "th-asks",
      told.map((line, index) => element(index === 0 ? "h2" : "p", {}, line)),
      [
        button(words.back, "th-back", () => go(at - 1)),
        button(words.goOnFromHere, "th-next", () => {
          dropWalk(walk.key);
          // Kept at once, so that a reload does not begin the drill again.
          const begun = { at: 0, pressed: [], presses: [], marks: marksOf(next.walk), when: Date.now() };
          keepWalk(next.walk.key, begun);
          walkThrough(place, next, leaveIt, isOther);
        }),
      ],
    );

  const showCount = () => {
    const part = countPart(
      count,
      (name) => pressed.has(`${stops.length}/${name}`),
      (name, on) => press(`${stops.length}/${name}`, on),
    );
    const finish = button(words.counted, "th-next", () => {
      const open = part.open();
      if (!open) return showEnd();
      status.textContent = open.text;
      open.place.focus();
    });
    screen(
      "th-count",
      [...ofKeeping(), ...part.nodes, ...changed],
      [button(words.back, "th-back", () => go(at - 1)), finish],
    );
  };

  const showEnd = () => {
    times.add("done", at);
    const run = keepRun(walk, times.all(), of);
    dropWalk(walk.key);
    at = stops.length + 1;
    screen(
      "th-end",
      [
        element("h2", {}, words.everyStepDone),
        element("p", {}, words.noRelease),
        ...(walk.reading ? alertParts(walk.reading) : []),
        element("p", {}, element("b", {}, walk.reading?.text ?? words.readCard)),
        ...(walk.reading?.detail ?? []).map((line) => element("p", {}, line)),
        ...afterParts(walk, run),
        ...(after?.() ?? []),
      ],
      [button(words.close, "th-back", leave), element("a", { class: "th-next", href: card.href }, card.title)],
    );
    place.querySelector(".th-leave")?.remove();
  };

  const showResume = () => {
    const stop = stops[Math.min(at, stops.length - 1)]!,
      hour = writeHour(kept!.when);
    const start = at < stops.length ? stop.group : at;
    const another = button(words.anotherBegins, "go", beginAnother);
    if (since && since.from < at) return showChanged(hour);
    screen(
      "th-asks",
      [
        element("h2", {}, words.youWereAt({ where: nextNumber(at), last: lastNumber, hour })),
        ...(since ? [element("p", {}, words.changedAhead), changedList()] : []),
        element(
          "p",
          {},
          at < stops.length && start !== at ? words.betweenGoBack({ where: nextNumber(start) }) : words.betweenBegin,
        ),
        ...(start !== at && at < stops.length
          ? [
              element(
                "p",
                { class: "th-choices" },
                button(words.nothingBetween({ where: nextNumber(at) }), "go", show),
                another,
              ),
            ]
          : [element("p", { class: "th-choices" }, another)]),
      ],
      [
        button(
          start !== at && at < stops.length
            ? words.backTo({ where: nextNumber(start) })
            : words.goOnWith({ where: nextNumber(at) }),
          "th-next",
          () => (start !== at && at < stops.length ? goBackTo(start) : show()),
        ),
      ],
    );
  };

  /** The stops that say something new, as they stand now. */
  const changedList = () =>
    element(
      "ol",
      { class: "th-changes" },
      ...since!.anew.map(({ number, text }) => element("li", { value: String(number) }, text)),
    );

  /** Of what is done already something is no longer as it was: no way on but from there. */
  const showChanged = (hour: string) => {
    const start = stops[Math.min(since!.from, stops.length - 1)]!.group,
      where = nextNumber(start);
    screen(
      "th-asks",
      [
        element("h2", {}, words.changedSince({ hour })),
        ...(since!.anew.length > 0 ? [changedList()] : [element("p", {}, words.changedOrder)]),
        element("p", {}, words.doneByOld({ where })),
        element("p", { class: "th-choices" }, button(words.anotherBegins, "go", beginAnother)),
      ],
      [button(words.backTo({ where }), "th-next", () => goBackTo(start))],
    );
  };

  void keepAwake();
  if (kept && at > 0) {
    times.add("paused", at);
    showResume();
  } else show();
}

/** Asks the device not to darken the screen; it may refuse. */
async function keepAwake(): Promise<void> {
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    // Low battery, or not allowed here: the screen darkens as usual.
  }
}
