/**
 * Says on every page of a platform what is out of service, and on the page of an arrangement or a changeover whether it
 * can still be built. `html[data-platform]`: whose page it is; `html[data-spares]`: what its
 * arrangements can miss, the one without options first.
 */
import { blockedBy, type Spares } from "../../domain/tonight/blocked.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";
import { startFolderLinks } from "../find/folder-links.ts";
import { onOutChange, piecesOut, readOut } from "./out-store.ts";
import { sayKept, sayWhy } from "./say-out.ts";

/** Shows the bar, and again whenever another page of the site changes what is kept. */
export function startOutBar(): void {
  showOutBar();
  onOutChange(showOutBar);
}

/** Shows, changes or takes away the bar, as the device now keeps it. */
function showOutBar(): void {
  const { platform, spares, home = "./" } = document.documentElement.dataset;
  document.querySelector(".out-now")?.remove();
  const kept = platform ? readOut(platform) : [];
  // The page on which it is said shows it already.
  if (!platform || kept.length === 0 || document.querySelector(".out-form")) return;
  const { out: words } = wordsHere("out"),
    now = Date.now(),
    reasons = spares ? (JSON.parse(spares) as Spares[]).map((each) => blockedBy(each, piecesOut(kept))) : [];
  const bare = reasons[0] ?? [],
    isGone = bare.length > 0 && reasons.every((items) => items.length > 0);
  const link = element("a", { href: `${home}${platform}/tonight/` }, words.tonight);
  const bar = element(
    "aside",
    { class: `out-now${isGone ? " no" : ""}`, "aria-label": words.outOfService },
    ...(bare.length > 0
      ? [
          element("b", {}, isGone ? words.cantBeBuilt : words.notWithoutOptions),
          ` ${sayWhy(
            kept.filter(({ id }) => bare.includes(id)),
            now,
          )}. `,
        ]
      : [element("b", {}, words.outAre), ` ${kept.map((each) => sayKept(each, now)).join("; ")}. `]),
    link,
  );
  startFolderLinks(bar);
  document.querySelector("header.top")?.before(bar);
}
