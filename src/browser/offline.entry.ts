/** On every page: keeps the site on this device, brings in a newer set when there is one whole, and says so in the foot. */
import { addToDevice, canKeep, compareWithSite, heldHere, homeAddress, isOld, isSparing, lastCompared, type Message, readChoice, sayMoment } from "./device.ts";

if (canKeep()) void start();

async function start(): Promise<void> {
  navigator.serviceWorker.addEventListener("message", ({ data }: MessageEvent<Message>) => onMessage(data));
  await sayHeld();
  if (readChoice() === "no" || (isSparing() && readChoice() !== "yes")) return;
  try {
    const registration = await addToDevice();
    switchIfReady(registration);
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", () => switchWhenAlone(registration)));
  } catch {
    // No signal, or the browser refuses: what is held stays in use.
  }
  await compareWithSite(await heldHere());
}

/** A newer set that was whole before this page was opened is used at once: nobody has begun to read. */
function switchIfReady(registration: ServiceWorkerRegistration): void {
  const { waiting } = registration;
  if (!waiting || !navigator.serviceWorker.controller) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage({ rerig: "switch" });
}

/** A newer set that became whole while this page is open waits for the next page; the foot offers it. */
function switchWhenAlone(registration: ServiceWorkerRegistration): void {
  if (registration.waiting && navigator.serviceWorker.controller) say("A newer set is ready. ", "Use it now", () => switchIfReady(registration));
}

function onMessage(message: Message): void {
  if (message.rerig === "progress") say(`Saving on this device: ${Math.floor((100 * message.done) / Math.max(1, message.bytes))} %. `, "This device");
  if (message.rerig === "failed") void heldHere().then((held) => (held ? sayHeld() : say("Not saved on this device yet. ", "This device")));
  if (message.rerig === "active") void sayHeld();
}

async function sayHeld(): Promise<void> {
  const held = await heldHere();
  if (!held) return;
  const compared = await lastCompared(held);
  const old = isOld(compared, new Date());
  say(old ? `May be old: last compared with the site on ${sayMoment(compared)}. ` : "", `Saved on this device ${sayMoment(new Date(held.saved))}`, undefined, old);
}

function say(text: string, action: string, press?: () => void, old = false): void {
  for (const place of document.querySelectorAll<HTMLElement>("saved-on-device")) {
    const link = document.createElement(press ? "button" : "a");
    link.textContent = action;
    if (press) link.addEventListener("click", press);
    else link.setAttribute("href", `${homeAddress()}device/`);
    place.classList.toggle("old", old);
    place.replaceChildren(text, link);
  }
}
