/**
 * The page about this device: which set it holds, how old that is, what is newer; buttons to add, renew and remove it.
 */
import type { HeldSet, SavedCard, SavedSetHead } from "../../schema/offline.ts";
import {
  addToDevice,
  canKeep,
  compareWithSite,
  daysBetween,
  heldHere,
  isOld,
  keepChoice,
  lastCompared,
  type Message,
  removeFromDevice,
  sayBytes,
  sayMoment,
} from "./device.ts";

const part = <T extends HTMLElement>(name: string) => document.querySelector<T>(`[data-device=${name}]`)!;
const show = (name: string, shown: boolean) => {
  part(name).hidden = !shown;
};
const write = (name: string, text: string) => {
  part(name).textContent = text;
};

if (location.hash === "#not-here") show("not-here", true);
if (canKeep()) void start();
else if (location.protocol === "file:") show("folder", true);
else show("cannot", true);

async function start(): Promise<void> {
  show("app", true);
  navigator.serviceWorker.addEventListener("message", ({ data }: MessageEvent<Message>) => onMessage(data));
  part("add").addEventListener("click", () => void add());
  part("remove").addEventListener("click", () => void remove());
  await draw();
}

async function draw(): Promise<void> {
  const held = await heldHere();
  const site = await compareWithSite(held);
  await drawHeld(held, site);
  const newer = Boolean(held && site && site.version !== held.version);
  show("newer", newer);
  const button = part("add");
  button.textContent = held ? (newer ? "Bring in the newer set" : "Look for a newer set") : "Add to this device";
  write(
    "size",
    site
      ? `${sayBytes(site.bytes)} in ${site.count} files${held ? "; only what changed is fetched" : ""}.`
      : "No signal: the size of the site’s set is not known now.",
  );
  show("remove", Boolean(held));
}

async function drawHeld(held: HeldSet | undefined, site: SavedSetHead | undefined): Promise<void> {
  show("none", !held);
  show("held", Boolean(held));
  if (!held) return;
  const now = new Date(),
    compared = await lastCompared(held),
    days = daysBetween(compared, now);
  write("saved", sayMoment(new Date(held.saved)));
  write("built", sayMoment(new Date(`${held.built}T00:00:00`)).replace(/,.*/, ""));
  write("compared", `${sayMoment(compared)}${days ? `, ${days} day${days === 1 ? "" : "s"} ago` : ", today"}`);
  write("version", held.version);
  write("held-size", `${sayBytes(held.bytes)} in ${held.count} files`);
  show("old", isOld(compared, now));
  const newest = new Map(site?.documents.map((document) => [document.address, document]));
  part("documents").replaceChildren(
    ...held.documents.map(({ code, title, revision, address, card }) => {
      const row = document.createElement("tr");
      const link = document.createElement("a");
      link.href = (document.documentElement.dataset["home"] ?? "") + address;
      link.textContent = title;
      const now = newest.get(address);
      const state = !site
        ? ""
        : now === undefined
          ? "no longer on the site"
          : now.revision > revision
            ? `revision ${now.revision} on the site`
            : now.card?.code !== card?.code
              ? `another card on the site: ${now.card?.code ?? "none"}`
              : "current";
      for (const cell of [code, link, `${revision}${sayCard(card)}`, state]) {
        const box = document.createElement("td");
        box.append(cell);
        row.append(box);
      }
      return row;
    }),
  );
}

function sayCard(card: SavedCard | undefined): string {
  return card ? `, card ${card.code}${card.edition === undefined ? "" : `, edition ${card.edition}`}` : "";
}

async function add(): Promise<void> {
  keepChoice("yes");
  write("said", "Asking the site …");
  try {
    // Browsers may clear what a site keeps when space is short, unless they have been asked not to.
    await navigator.storage?.persist?.();
    const registration = await addToDevice();
    if (registration.waiting) {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
      registration.waiting.postMessage({ rerig: "switch" });
    } else if (!registration.installing && registration.active) {
      write("said", "This device holds the newest set.");
      await draw();
    }
  } catch {
    write("said", "The site did not answer. What this device holds stays in use.");
  }
}

async function remove(): Promise<void> {
  const button = part("remove");
  if (button.dataset["sure"] !== "yes") {
    button.dataset["sure"] = "yes";
    button.textContent = "Press again to remove it";
    return;
  }
  delete button.dataset["sure"];
  button.textContent = "Remove from this device";
  await removeFromDevice();
  write("said", "Removed. Your practice stays on this device; it is reset on the page Practise.");
  await draw();
}

function onMessage(message: Message): void {
  const bar = part<HTMLProgressElement>("progress");
  if (message.rerig === "progress") {
    bar.hidden = false;
    bar.max = message.bytes;
    bar.value = message.done;
    write("said", `${sayBytes(message.done)} of ${sayBytes(message.bytes)}, ${message.files} of ${message.of} files.`);
  }
  if (message.rerig === "failed") {
    bar.hidden = true;
    write(
      "said",
      `Not complete: ${message.message}. What is here already is kept for the next try; the set in use is untouched.`,
    );
  }
  if (message.rerig === "active" || message.rerig === "whole") {
    bar.hidden = true;
    write("said", message.rerig === "active" ? "Saved. This device can go without a signal." : "The set is whole.");
    void draw();
  }
}
