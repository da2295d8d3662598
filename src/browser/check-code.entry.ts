/**
 * The box for a check code: reads what was typed as people type it, says which symbol is wrong, and opens the card's
 * page.
 */
import { readCode } from "../domain/cards/check-address.ts";
import { sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";

const box = document.querySelector<HTMLElement>("check-code");
const form = box?.querySelector("form"),
  input = box?.querySelector("input"),
  said = box?.querySelector<HTMLElement>("#code-said");
if (box && form && input && said) {
  box.hidden = false;
  const find = (code: string) =>
    [...document.querySelectorAll<HTMLAnchorElement>("a[data-code]")].find((link) => link.dataset["code"] === code);
  const say = (text: string, wrong: boolean) => {
    said.textContent = text;
    input.setAttribute("aria-invalid", String(wrong));
  };
  const check = () => {
    const read = readCode(input.value);
    if (!read.ok) return say(read.because, true);
    const link = find(read.code);
    if (!link) return say(sayUnknown(read.code), true);
    say(heard("checkCode").openingItsPage({ code: read.code }), false);
    // A click, so that it also works from a folder without a server.
    link.click();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    check();
  });
  // A code that came with the address, from a search or from a form without this script.
  const given = new URLSearchParams(location.search).get("code");
  if (given) {
    input.value = given;
    check();
  }
}

/** What a code means that no card of this page has: a page that was saved can't know what was issued after its day. */
function sayUnknown(code: string): string {
  const isSaved = document.documentElement.dataset["asked"] === "no" || location.protocol === "file:",
    date = sayDate(box!.dataset["built"]!);
  return isSaved ? heard("checkCode").notInSavedSet({ code, date }) : heard("checkCode").noCardEverHad({ code });
}
