/** Keeps the screen and the live page as the files are, whoever changes them, without losing what is being written. */
import { Idiomorph } from "idiomorph";
import { heard } from "../../words/heard.ts";
import { displace } from "./based-on.ts";
import { deskAddress, say } from "./send.ts";
import { placesNow, stepsOn } from "./step-numbers.ts";

/** The newest reading that the desk has told of, or that a save made here. */
let shown = 0;
/** The reading that the screen was made of. */
let onScreen = 0;

const momentOf = ({ documentElement }: Document) => Number(documentElement.dataset["moment"] ?? 0);

/** Listens for newer readings of the files. */
export function startRefreshing(): void {
  // The desk says first which reading is the newest: what was changed since this screen was made is shown then.
  shown = onScreen = momentOf(document);
  const events = new EventSource(deskAddress("events"));
  events.addEventListener("message", ({ data }: MessageEvent<string>) => void showMoment(Number(data)));
  for (const form of ["input", "change"])
    document.addEventListener(form, ({ target }) => {
      if (target instanceof Element)
        target
          .closest<HTMLElement>("form[data-add], form[data-put], form[data-send], form[data-take]")
          ?.classList.add("begun");
    });
  document.addEventListener("click", ({ target }) => {
    const step = target instanceof Element ? target.closest<HTMLElement>("summary[data-page-step]") : null;
    if (step) showStep(step.dataset["pageStep"]!);
  });
}

let underWay = 0;

/** The screen says that it is busy (`aria-busy`, WAI-ARIA 1.2) until what was begun is done and shown. */
export async function whileBusy<T>(act: () => Promise<T>): Promise<T> {
  const say = () => document.querySelector("main")?.setAttribute("aria-busy", String(underWay > 0));
  underWay += 1;
  say();
  try {
    return await act();
  } finally {
    underWay -= 1;
    say();
  }
}

/** Shows a reading, unless it or a later one is shown already: the page first, then the screen with its findings. */
export async function showMoment(number: number): Promise<void> {
  if (number <= shown) return;
  shown = number;
  await whileBusy(() => Promise.all([reloadPage(), refreshScreen()]));
}

const frameOf = () => document.querySelector<HTMLIFrameElement>("#page iframe");

/** Loads the live page again; it stays where it was scrolled to. */
async function reloadPage(): Promise<void> {
  const frame = frameOf();
  if (!frame?.contentWindow) return;
  const loaded = new Promise((done) => frame.addEventListener("load", done, { once: true }));
  frame.contentWindow.location.reload();
  await loaded;
  frame.dataset["shown"] = String(shown);
}

function showStep(number: string): void {
  frameOf()?.contentDocument?.getElementById(`step-${number}`)?.scrollIntoView({ block: "start" });
}

let newest: Promise<void> = Promise.resolve();

/**
 * Puts the screen as the desk has it now in place; what is being written, and what is open, stays. Done when this
 * reading, or a later one that came meanwhile, is shown.
 */
export function refreshScreen(): Promise<void> {
  newest = whileBusy(putInPlace);
  return newest;
}

async function putInPlace(): Promise<void> {
  const answer = await fetch(location.href),
    screen = new DOMParser().parseFromString(await answer.text(), "text/html"),
    moment = momentOf(screen);
  const main = screen.querySelector("main"),
    old = document.querySelector("main");
  if (!main || !old) return say(heard("deskScript").notShown, true);
  if (moment > 0) {
    // A later reading is asked for, or shown already: this one is older than what was written since.
    if (moment < shown) return newest;
    if (moment < onScreen) return;
    onScreen = moment;
  }
  const before = stepsOn(old);
  Idiomorph.morph(old, main, {
    morphStyle: "outerHTML",
    // Only a field: of anything else that has the focus, such as the whole screen after a press beside its controls,
    // nothing inside would be put in place, and the screen would go on showing an older reading.
    ignoreActiveValue: document.activeElement?.matches("input, textarea, select") ?? false,
    callbacks: {
      beforeAttributeUpdated: (name: string, node: Element) =>
        !["open", "data-shown", "style", "aria-busy"].includes(name) &&
        // An edge that is being moved is where the writer has it, not where it was saved last.
        !(name === "data-edges" && node.querySelector(".begun")),
      // What was begun and not sent yet is the writer's.
      beforeNodeMorphed: (node: Node) => !(node instanceof Element && node.classList.contains("begun")),
    },
  });
  // Another program may have moved the steps, too.
  displace(placesNow(before, stepsOn(document)));
  document.dispatchEvent(new Event("refreshed"));
}
