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
import { wordsHere } from "../../words/heard.ts";

const { held: words } = wordsHere("held");
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
  button.textContent = held ? (newer ? words.bringNewer : words.lookForNewer) : words.add;
  write(
    "size",
    site ? words[held ? "sizeOfChange" : "size"]({ size: sayBytes(site.bytes), files: site.count }) : words.noSignal,
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
  write("compared", words[days ? "comparedAgo" : "comparedToday"]({ moment: sayMoment(compared), days }));
  write("version", held.version);
  write("held-size", words.heldSize({ size: sayBytes(held.bytes), files: held.count }));
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
          ? words.gone
          : now.revision > revision
            ? words.newerRevision({ revision: now.revision })
            : now.card?.code !== card?.code
              ? words.anotherCard({ code: now.card?.code ?? words.noCard })
              : words.current;
      for (const cell of [code, link, sayCard(revision, card), state]) {
        const box = document.createElement("td");
        box.append(cell);
        row.append(box);
      }
      return row;
    }),
  );
}

function sayCard(revision: number, card: SavedCard | undefined): string {
  if (!card) return String(revision);
  const { code, edition } = card;
  return edition === undefined
    ? words.revisionCard({ revision, code })
    : words.revisionEdition({ revision, code, edition });
}

async function add(): Promise<void> {
  keepChoice("yes");
  write("said", words.asking);
  try {
    // Browsers may clear what a site keeps when space is short, unless they have been asked not to.
    await navigator.storage?.persist?.();
    const registration = await addToDevice();
    if (registration.waiting) {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
      registration.waiting.postMessage({ rerig: "switch" });
    } else if (!registration.installing && registration.active) {
      write("said", words.newest);
      await draw();
    }
  } catch {
    write("said", words.noAnswer);
  }
}

async function remove(): Promise<void> {
  const button = part("remove");
  if (button.dataset["sure"] !== "yes") {
    button.dataset["sure"] = "yes";
    button.textContent = words.removeAgain;
    return;
  }
  delete button.dataset["sure"];
  button.textContent = words.remove;
  await removeFromDevice();
  write("said", words.removed);
  await draw();
}

function onMessage(message: Message): void {
  const bar = part<HTMLProgressElement>("progress");
  if (message.rerig === "progress") {
    bar.hidden = false;
    bar.max = message.bytes;
    bar.value = message.done;
    write(
      "said",
      words.progress({
        done: sayBytes(message.done),
        bytes: sayBytes(message.bytes),
        files: message.files,
        all: message.of,
      }),
    );
  }
  if (message.rerig === "failed") {
    bar.hidden = true;
    // The set before stays until the newer one is whole, so that for a while both stand on the device.
    write("said", message.isFull ? words.noRoom : words.notComplete({ message: message.message.replace(/\.$/, "") }));
  }
  if (message.rerig === "active" || message.rerig === "whole") {
    bar.hidden = true;
    write("said", message.rerig === "active" ? words.saved : words.whole);
    void draw();
  }
}
