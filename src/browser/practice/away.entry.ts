/**
 * Away since a day: of what the page holds, the changes since then in what the reader is signed for, ten at most. Day
 * and ticks stay on this device.
 */
import { wordsHere } from "../../words/heard.ts";
import { keepKey, readKey } from "../kept.ts";
import { siteKey } from "../site-root.ts";
import { linesSince, MOST_MISSED } from "./away-lines.ts";

interface Away {
  readonly since: string;
  readonly signed: readonly string[];
}

const part = <Kind extends HTMLElement>(name: string) => document.querySelector<Kind>(`[data-away=${name}]`)!;
const form = part<HTMLFormElement>("form");
const key = `${siteKey("rerig-away")}${form.dataset["platform"]}`;
const day = form.querySelector<HTMLInputElement>("[name=since]")!;
const ticks = [...form.querySelectorAll<HTMLInputElement>("[name=signed]")];
const lines = [...part("list").querySelectorAll<HTMLElement>(":scope > li")];

const kept = readKept();
day.value = kept.since;
for (const tick of ticks) tick.checked = kept.signed.includes(tick.value);
form.hidden = false;
form.addEventListener("submit", (event) => {
  event.preventDefault();
  take();
});
form.addEventListener("input", take);
draw(kept);

/** Keeps what the form says, and shows what follows from it. */
function take(): void {
  const now: Away = { since: day.value, signed: ticks.filter(({ checked }) => checked).map(({ value }) => value) };
  keepKey(key, JSON.stringify(now));
  draw(now);
}

function draw({ since, signed }: Away): void {
  const { asked: words } = wordsHere("asked");
  const { shown, left } = linesSince(
    lines.map((line) => ({
      line,
      document: line.dataset["document"]!,
      until: line.dataset["until"]!,
      known: Number(line.dataset["known"]),
      isLast: line.dataset["last"] !== undefined,
    })),
    since,
    new Set(signed),
  );
  const chosen = new Set(shown.map(({ line }) => line));
  for (const line of lines) line.hidden = !chosen.has(line);
  part("signed").textContent = signed.length === 0 ? words.everything : words.documents({ count: signed.length });
  part("count").textContent =
    since === ""
      ? words.sayWhen
      : shown.length === 0
        ? words.nothingChanged
        : left > 0
          ? words.mostMatter({ most: MOST_MISSED, left })
          : words.changesSince({ changes: shown.length });
}

function readKept(): Away {
  try {
    const read = JSON.parse(readKey(key) ?? "{}") as Partial<Away>;
    return {
      since: typeof read.since === "string" ? read.since : "",
      signed: Array.isArray(read.signed) ? read.signed.filter((each) => typeof each === "string") : [],
    };
  } catch {
    return { since: "", signed: [] };
  }
}
