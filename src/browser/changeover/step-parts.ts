/** What one screen of the step-through shows: a step with what to press, or the count at the end. */
import type { Walk, WalkCount, WalkStop } from "../../domain/device/walk.ts";
import { sayWho } from "../../domain/words/say.ts";
import { sayList } from "../../schema/wording.ts";
import { wordsHere } from "../../words/heard.ts";
import { draw, element } from "../element.ts";

/** Nodes to show, and what is still to be pressed before the crew may go on. */
interface Part {
  readonly nodes: readonly Node[];
  readonly open: () => { readonly text: string; readonly place: HTMLElement } | undefined;
}

/** Whether the words name more than one person: neither one of the crew, nor anyone. */
const areSeveral = (who: string, { people }: Walk): boolean => !people.includes(who) && who !== sayWho([], []);

/** Warnings, cautions and notes of a stop, in order. */
export function alertParts({ alerts }: Pick<WalkStop, "alerts">): Node[] {
  const { walk: words } = wordsHere("walk"),
    signals = { warning: words.warning, caution: words.caution, note: words.note };
  return alerts.map(({ signal, text }) =>
    element(
      "div",
      { class: signal, role: "note" },
      element(
        "p",
        { class: "signal" },
        ...(signal === "warning" ? [triangle()] : []),
        element("span", {}, signals[signal]),
      ),
      element("p", {}, text),
    ),
  );
}

/** A stop: who, what, its warnings and pictures; its checks to be answered; at a hold, a pin for each person. */
export function stopPart(
  stop: WalkStop,
  walk: Walk,
  pictures: readonly Node[],
  isPressed: (name: string) => boolean,
  press: (name: string, on: boolean) => void,
): Part {
  const { walk: words } = wordsHere("walk");
  const side = stop.who === walk.people[0] ? "l" : stop.who === walk.people.at(-1) ? "r" : "all";
  const checks = stop.checks.map(({ challenge, answer, who }, index) =>
    pin(
      `check-${index}`,
      [
        element("span", { class: "ask-for" }, challenge),
        element("i", { "aria-hidden": "true" }),
        element("b", {}, answer),
        ...(who ? [element("em", {}, words[areSeveral(who, walk) ? "look" : "looks"]({ who }))] : []),
      ],
      isPressed,
      press,
    ),
  );
  const agreed = stop.hold
    ? walk.people.map((person) =>
        pin(`agrees-${person}`, [element("b", {}, words.agrees({ person }))], isPressed, press),
      )
    : [];
  const nodes: Node[] = [
    element(
      "p",
      { class: `th-who ${side}` },
      element("b", {}, stop.who),
      ...(stop.critical ? [element("span", { class: "crit" }, words.safetyCritical)] : []),
      element("span", { class: "takes" }, stop.takes),
    ),
    ...(stop.hold
      ? [
          element(
            "div",
            { class: "th-hold" },
            element("strong", {}, words.hold),
            element("span", {}, words.everybodyStops),
          ),
        ]
      : []),
    ...alertParts(stop),
    element(
      "h2",
      {},
      element("span", { class: stop.critical ? "th-no square" : "th-no" }, element("span", {}, String(stop.number))),
      element("span", {}, stop.text),
    ),
    ...laterOnes(stop, walk),
    ...pictures,
    ...(stop.detail.length > 0
      ? [element("div", { class: "th-detail" }, ...stop.detail.map((line) => element("p", {}, line)))]
      : []),
    ...(stop.acts.length > 0
      ? [element("ul", { class: "th-acts" }, ...stop.acts.map((act) => element("li", {}, act)))]
      : []),
    ...(checks.length > 0
      ? [element("div", { class: "th-checks", role: "group", "aria-label": words.pressWhenHeard }, ...checks)]
      : []),
    ...(agreed.length > 0
      ? [element("div", { class: "th-agree", role: "group", "aria-label": words.whoAgrees }, ...agreed)]
      : []),
    ...(stop.meanwhile.length > 0 && !stop.hold
      ? [
          element(
            "div",
            { class: "th-mean" },
            element("p", { class: "label" }, words.meanwhile),
            ...stop.meanwhile.map((line) => element("p", {}, line)),
          ),
        ]
      : []),
    element(
      "p",
      { class: "th-of small" },
      `${words.stepOf({ procedure: stop.title, step: stop.step })} `,
      element("span", { class: "code" }, stop.code),
    ),
  ];
  const open: Part["open"] = () => {
    const unheard = checks.find((each) => each.getAttribute("aria-pressed") !== "true");
    if (unheard)
      return {
        text: words.hearFirst({ challenge: stop.checks[checks.indexOf(unheard)]!.challenge }),
        place: unheard,
      };
    const silent = agreed.find((each) => each.getAttribute("aria-pressed") !== "true");
    return silent && { text: words.pressEach, place: silent };
  };
  return { nodes, open };
}

/**
 * Says which steps of a lower number are still to come: the order is that in which they begin, and whoever sees 29
 * after 27 would think that one was left out.
 */
function laterOnes(stop: WalkStop, { stops }: Walk): Node[] {
  const later = stops.slice(stops.indexOf(stop) + 1).flatMap(({ number }) => (number < stop.number ? [number] : []));
  if (later.length === 0) return [];
  const { walk: words } = wordsHere("walk");
  const said =
    later.length > 1 ? words.comeLater({ steps: sayList(later.map(String)) }) : words.comesLater({ step: later[0]! });
  return [element("p", { class: "th-later small" }, said)];
}

function triangle(): SVGElement {
  const svg = draw("svg", { viewBox: "0 0 30 28", "aria-hidden": "true" });
  svg.append(
    draw("path", {
      d: "M15 2L28.5 26H1.5Z",
      fill: "none",
      stroke: "currentColor",
      "stroke-width": "3",
      "stroke-linejoin": "round",
    }),
    draw("path", { d: "M15 10V18M15 21V24", stroke: "currentColor", "stroke-width": "3.4" }),
  );
  return svg;
}

/** The count at the end: each net part with its number and where it is now. */
export function countPart(
  count: readonly WalkCount[],
  isPressed: (name: string) => boolean,
  press: (name: string, on: boolean) => void,
): Part {
  const { walk: words } = wordsHere("walk");
  const piecesOf = (list: WalkCount["list"]) =>
    count.filter((each) => each.list === list).reduce((sum, each) => sum + each.count, 0);
  const rows = count.map(({ list, count: number, item, place, stowed, away }, index) => ({
    list,
    item,
    pin: pin(
      `count-${index}`,
      [
        element("b", { class: "th-number" }, String(number)),
        element(
          "span",
          {},
          element("b", {}, item),
          words.nowIn({ place }),
          ...(stowed ? [element("em", {}, words.beforeRolling)] : []),
          ...(away ? [element("em", {}, words.takerSays)] : []),
        ),
      ],
      isPressed,
      press,
    ),
  }));
  const nodes: Node[] = [
    element("h2", {}, words.countEvery),
    element("p", {}, words.countAloud),
    ...(["out", "in", "moved"] as const).flatMap((list) => {
      const own = rows.filter((row) => row.list === list);
      return own.length > 0
        ? [
            element("h3", {}, words[list]({ pieces: piecesOf(list) })),
            element("div", { class: "th-checks counts-of" }, ...own.map((row) => row.pin)),
          ]
        : [];
    }),
    ...(count.length === 0 ? [element("p", {}, words.nothingMoved)] : []),
  ];
  return {
    nodes,
    open: () => {
      const left = rows.find((row) => row.pin.getAttribute("aria-pressed") !== "true");
      return left && { text: words.notCounted({ item: left.item }), place: left.pin };
    },
  };
}

/** A row to press: a pin that fills, and words. */
function pin(
  name: string,
  words: readonly Node[],
  isPressed: (name: string) => boolean,
  press: (name: string, on: boolean) => void,
): HTMLButtonElement {
  const made = element(
    "button",
    { type: "button", class: "th-pin", "aria-pressed": String(isPressed(name)) },
    element("i", { class: "th-dot", "aria-hidden": "true" }),
    element("span", { class: "th-words" }, ...words),
  );
  made.addEventListener("click", () => {
    const on = made.getAttribute("aria-pressed") !== "true";
    made.setAttribute("aria-pressed", String(on));
    press(name, on);
  });
  return made;
}
