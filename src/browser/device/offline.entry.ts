/**
 * On every page: keeps the site on this device, brings in a newer set when there is one whole, and says so in the foot.
 */
import {
  addToDevice,
  canKeep,
  compareWithSite,
  heldHere,
  isClockBehind,
  isOld,
  isSparing,
  lastCompared,
  type Message,
  readChoice,
  sayMoment,
} from "./device.ts";
import { homeAddress } from "../site-root.ts";
import { dayOf, sayDate } from "../../domain/words/say.ts";
import { sayOrigin } from "./origin.ts";
import { heard } from "../../words/heard.ts";

/** Whether somebody has begun to use this page; whether it offers a newer set. */
let touched = false,
  isOffered = false;
for (const sign of ["pointerdown", "keydown", "wheel", "touchmove"])
  addEventListener(
    sign,
    () => {
      touched = true;
    },
    { once: true, passive: true },
  );

if (canKeep()) void start();

async function start(): Promise<void> {
  navigator.serviceWorker.addEventListener("message", ({ data }: MessageEvent<Message>) => onMessage(data));
  await sayHeld();
  const { asked, built } = document.documentElement.dataset;
  if (asked && built) tellOrigin(built, false);
  navigator.serviceWorker.controller?.postMessage({ rerig: "which" });
  if (readChoice() === "no" || (isSparing() && readChoice() !== "yes")) return;
  try {
    const registration = await addToDevice();
    switchIfReady(registration);
    registration.addEventListener("updatefound", () =>
      registration.installing?.addEventListener("statechange", () => switchWhenAlone(registration)),
    );
  } catch {
    // No signal, or the browser refuses: what is held stays in use.
  }
  await sayNewer();
}

/** Says on top of a page what it is beside the saved set, and in the foot that the site has a newer set. */
async function sayNewer(): Promise<void> {
  const held = await heldHere();
  // Where nothing is kept there is nothing to compare: the desk's pages have no set to ask for.
  if (!held) return;
  const now = await compareWithSite(held);
  tellOrigin(held.built, now === undefined || now.version === held.version);
  if (now && now.version !== held.version)
    say(heard("savedSet").newerOnSite({ older: older(held.built) }), thisDevice());
}

const older = (built: string) => heard("savedSet").answersFrom({ date: sayDate(built) });
const thisDevice = () => heard("savedSet").thisDevice;

function tellOrigin(built: string, newest: boolean): void {
  const text = sayOrigin(document.documentElement.dataset, sayDate(built), newest);
  const main = document.querySelector("main");
  if (text && main && !main.querySelector("of-set:not(.clock)")) main.prepend(boxOf(text));
}

function boxOf(text: string): HTMLElement {
  const box = document.createElement("of-set");
  box.setAttribute("role", "status");
  box.textContent = text;
  return box;
}

/** Says above everything that the clock is wrong: a page shows by it which amendment runs and which revision counts. */
function tellClock(built: string): void {
  const now = new Date();
  document.querySelector("of-set.clock")?.remove();
  if (!isClockBehind({ built }, now)) return;
  const box = boxOf(heard("savedSet").clockBehind({ today: sayDate(dayOf(now)), built: sayDate(built) }));
  box.className = "clock";
  document.querySelector("main")?.prepend(box);
}

/**
 * A newer set that was whole before this page was opened is used as soon as the browser lets the worker of the set
 * before it go (Chromium: once that
 * has had nothing to do for half a minute); `keepUp` then shows the page anew. When a reader asked for it, the page is
 * shown anew in any case.
 */
function switchIfReady(registration: ServiceWorkerRegistration, asked = false): void {
  const { waiting } = registration;
  if (!waiting || !navigator.serviceWorker.controller) return;
  if (asked) {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    say(heard("savedSet").takenIntoUse, thisDevice());
  }
  waiting.postMessage({ rerig: "switch" });
}

/** A newer set that became whole while this page is open waits for the next page; the foot offers it. */
function switchWhenAlone(registration: ServiceWorkerRegistration): void {
  if (!registration.waiting || !navigator.serviceWorker.controller) return;
  isOffered = true;
  say(heard("savedSet").newerIsReady, heard("savedSet").useItNow, () => switchIfReady(registration, true));
}

function onMessage(message: Message): void {
  // The last word of saving may come after the state of the worker that saved.
  if (message.rerig === "progress" && !isOffered)
    say(
      heard("savedSet").saving({ percent: Math.floor((100 * message.done) / Math.max(1, message.bytes)) }),
      thisDevice(),
    );
  if (message.rerig === "failed")
    void heldHere().then((held) =>
      held
        ? say(heard("savedSet").notSavedWhole({ older: older(held.built) }), thisDevice(), undefined, true)
        : say(heard("savedSet").notSavedYet, thisDevice()),
    );
  if (message.rerig === "active") void sayHeld().then(() => keepUp(message.version));
}

/**
 * A page of another set than the one in use: shown anew while nobody has touched it, else the foot says so and offers
 * it.
 */
function keepUp(version: string): void {
  const { set } = document.documentElement.dataset;
  if (!set || set === version) return;
  if (!touched) location.reload();
  else say(heard("savedSet").pageOfSetBefore, heard("savedSet").showAnew, () => location.reload(), true);
}

async function sayHeld(): Promise<void> {
  const held = await heldHere();
  if (!held) return;
  tellClock(held.built);
  const compared = await lastCompared(held);
  const old = isOld(compared, new Date());
  say(
    old ? heard("savedSet").mayBeOld({ moment: sayMoment(compared) }) : "",
    heard("savedSet").savedAt({ moment: sayMoment(new Date(held.saved)) }),
    undefined,
    old,
  );
}

function say(text: string, action: string, press?: () => void, old = false): void {
  for (const place of document.querySelectorAll<HTMLElement>("saved-on-device")) {
    const link = document.createElement(press ? "button" : "a");
    link.textContent = action;
    if (press) link.addEventListener("click", press);
    else link.setAttribute("href", `${homeAddress()}device/`);
    place.classList.toggle("old", old);
    place.replaceChildren(text && `${text} `, link);
  }
}
