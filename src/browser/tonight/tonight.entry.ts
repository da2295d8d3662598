/** Out of service: pins pressed are kept on this device, and what that leaves is worked out at once, ways last. */
import { wordsHere } from "../../words/heard.ts";
import type { TonightData } from "../../site/plans/tonight-data.ts";
import { unpackPlatform } from "../../domain/device/pack.ts";
import { withLines } from "../../domain/device/pack-lines.ts";
import type { OutOfService } from "../../domain/tonight/blocked.ts";
import { type otherWays, otherWaysByPair, stillPossible } from "../../domain/tonight/out-of-service.ts";
import { type SaidBlock, sayOtherWays, sayStillPossible } from "../../domain/tonight/say-out-of-service.ts";
import { dayOf } from "../../domain/words/say.ts";
import { sayList } from "../../schema/wording.ts";
import { element } from "../element.ts";
import { keepOut } from "./keep-out.ts";
import { onOutChange, piecesOut, readKept, readOut, type KeptItem } from "./out-store.ts";
import { sayKept, sayOutBy } from "./say-out.ts";

/** How long the ways are worked out until a press is heard: what takes 50 ms is felt (W3C Long Tasks API, 2024). */
const TURN_MS = 30;

type WaysByPair = ReturnType<typeof otherWaysByPair>;
type WaysOfPair = ReturnType<typeof otherWays>;

const form = document.querySelector<HTMLFormElement>("form.out-form"),
  source = document.getElementById("tonight-data")?.textContent;
if (form && source) start(form, JSON.parse(source) as TonightData);

function start(form: HTMLFormElement, { pack, lines, otherNames }: TonightData): void {
  const { tonight: words } = wordsHere("tonight");
  const unpackNow = () => {
    const unpacked = unpackPlatform(pack, dayOf(new Date()));
    return {
      platform: withLines(unpacked.platform, lines),
      service: { band: unpacked.service, crew: unpacked.crew, otherNames },
    };
  };
  let { platform, service } = unpackNow();
  const find = <Type extends HTMLElement = HTMLElement>(selector: string) => form.querySelector<Type>(selector)!;
  const said = find(".said"),
    ways = find(".ways"),
    status = find(".leaves-now"),
    back = find<HTMLButtonElement>(".all-back");
  const rows = [...form.querySelectorAll<HTMLElement>("[data-item]")];
  let kept: readonly KeptItem[] = readKept(platform.id),
    isKept = true,
    asked = 0;

  /** How many of a row's item are out, as its pins or its figure say. */
  const countIn = (row: HTMLElement): number => {
    const figure = row.querySelector<HTMLInputElement>("input[type=number]");
    if (!figure) return row.querySelectorAll("input:checked").length;
    return Math.min(Math.max(0, Math.trunc(Number(figure.value) || 0)), Number(row.dataset["of"]));
  };
  const show = () => {
    const now = Date.now();
    const gone = readOut(platform.id, kept);
    for (const row of rows) {
      const amended = gone.find(({ id, by }) => by !== undefined && id === row.dataset["item"]);
      const entry = kept.find(({ id }) => id === row.dataset["item"]),
        shown = amended ?? entry,
        count = entry?.count ?? 0;
      // Which of equal pieces is out makes no difference: pins already pressed stay as they are.
      if (countIn(row) !== count) {
        const figure = row.querySelector<HTMLInputElement>("input[type=number]");
        if (figure) figure.value = String(count);
        row
          .querySelectorAll<HTMLInputElement>("input[type=checkbox]")
          .forEach((box, at, all) => (box.checked = at >= all.length - count));
      }
      row.querySelector(".since")!.textContent = !shown
        ? ""
        : amended
          ? words.allOut({ since: sayOutBy(shown, now) })
          : sayOutBy(shown, now);
    }
    const [known, lost] = [true, false].map((isListed) =>
      gone.filter(({ id }) => platform.items.some((item) => item.id === id) === isListed),
    ) as [KeptItem[], KeptItem[]];
    document.querySelector(".not-listed")?.remove();
    if (lost.length > 0) {
      const items = sayList(lost.map((entry) => sayKept(entry, now)));
      form.before(element("p", { class: "not-in-use not-listed", role: "status" }, words.noLongerListed({ items })));
    }
    answer(piecesOut(known));
  };

  const answer = (out: OutOfService) => {
    const began = performance.now(),
      mine = (asked += 1);
    back.hidden = kept.length === 0;
    form.classList.toggle("some", out.size > 0);
    ways.replaceChildren();
    if (out.size === 0) {
      said.replaceChildren();
      status.textContent = words.allThere;
      return;
    }
    const left = stillPossible(platform, service, out);
    status.textContent =
      words.stillBuilt({
        arrangements: left.possible.length,
        all: left.possible.length + left.lost.length,
        whom: left.nobodyFor.length ? words.some : words.every,
      }) + (isKept ? "" : words.nothingKept);
    said.replaceChildren(...blocksOf(sayStillPossible(platform, service, out)));
    form.dataset["ms"] = (performance.now() - began).toFixed(1);
    ways.replaceChildren(element("p", { class: "small" }, words.workingOut));
    setTimeout(workOutWays, 0, otherWaysByPair(platform, service, out), mine);
  };

  /** A few pairs at a time, so that a press, and whoever leaves, is answered while the ways are worked out. */
  const workOutWays = (pairs: WaysByPair, mine: number, found: WaysOfPair = []) => {
    if (mine !== asked) return;
    const until = performance.now() + TURN_MS;
    for (let pair = pairs.next(); ; pair = pairs.next()) {
      if (pair.done) return showWays(found);
      found.push(...pair.value);
      if (performance.now() > until) break;
    }
    setTimeout(workOutWays, 0, pairs, mine, found);
  };
  const showWays = (found: WaysOfPair) => {
    const blocks = sayOtherWays(found, words);
    ways.replaceChildren(...(blocks.length ? blocksOf(blocks) : [element("p", { class: "small" }, words.asBefore)]));
    form.dataset["ways"] = String(found.length);
  };

  const keep = (items: readonly KeptItem[]) => {
    delete form.dataset["ways"];
    kept = items;
    isKept = keepOut(platform.id, items);
    show();
  };
  form.addEventListener("change", ({ target }) => {
    const row = (target as HTMLElement).closest<HTMLElement>("[data-item]");
    if (!row) return;
    const id = row.dataset["item"]!,
      { name, count: of } = platform.items.find((item) => item.id === id)!,
      count = countIn(row),
      before = kept.find((entry) => entry.id === id);
    const entry = count > 0 ? [{ id, name, count, of, since: before?.since ?? Date.now() }] : [];
    const order = new Map(platform.items.map((item, at) => [item.id, at]));
    keep(
      [...kept.filter((other) => other.id !== id), ...entry].toSorted(
        (a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0),
      ),
    );
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  back.addEventListener("click", () => {
    keep([]);
    find("input").focus();
  });
  onOutChange(() => {
    ({ platform, service } = unpackNow());
    // Of what the device refused only this page knows.
    if (isKept) kept = readKept(platform.id);
    show();
  });
  form.hidden = false;
  // By the names and numbers of this set. What a crew said of an item that is no longer listed stays until they take it
  // back: the part is as broken as it was, whatever it is called now.
  keep(
    kept.map((entry) => {
      const item = platform.items.find(({ id }) => id === entry.id);
      return item ? { ...entry, name: item.name, of: item.count, count: Math.min(entry.count, item.count) } : entry;
    }),
  );
}

function blocksOf(blocks: readonly SaidBlock[]): HTMLElement[] {
  return blocks.map(({ heading, lines, isLoss }) =>
    element(
      "section",
      isLoss ? { class: "no" } : {},
      element("h3", {}, heading.replaceAll("'", "’")),
      element("ul", {}, ...lines.map((line) => element("li", {}, line))),
    ),
  );
}
