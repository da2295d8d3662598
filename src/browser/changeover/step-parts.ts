/** What one screen of the step-through shows: a step with what to press, or the count at the end. */
import type { Walk, WalkCount, WalkStop } from "../../domain/device/walk.ts";
import { sayList } from "../../schema/wording.ts";
import { draw, element } from "../element.ts";

/** Nodes to show, and what is still to be pressed before the crew may go on. */
interface Part {
  readonly nodes: readonly Node[];
  readonly open: () => { readonly text: string; readonly place: HTMLElement } | undefined;
}

const SIGNALS = { warning: "WARNING", caution: "CAUTION", note: "Note" } as const;

/** Whether the words name more than one person. */
const areSeveral = (who: string): boolean => who === "Both" || who === "All" || who.includes(" and ");

/** Warnings, cautions and notes of a stop, in order. */
export function alertParts({ alerts }: Pick<WalkStop, "alerts">): Node[] {
  return alerts.map(({ signal, text }) =>
    element(
      "div",
      { class: signal, role: "note" },
      element(
        "p",
        { class: "signal" },
        ...(signal === "warning" ? [triangle()] : []),
        element("span", {}, SIGNALS[signal]),
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
  const side = stop.who === walk.people[0] ? "l" : stop.who === walk.people.at(-1) ? "r" : "all";
  const checks = stop.checks.map(({ challenge, answer, who }, index) =>
    pin(
      `check-${index}`,
      [
        element("span", { class: "ask-for" }, challenge),
        element("i", { "aria-hidden": "true" }),
        element("b", {}, answer),
        ...(who ? [element("em", {}, `${who} ${areSeveral(who) ? "look and answer" : "looks and answers"}`)] : []),
      ],
      isPressed,
      press,
    ),
  );
  const agreed = stop.hold
    ? walk.people.map((person) => pin(`agrees-${person}`, [element("b", {}, `${person} agrees`)], isPressed, press))
    : [];
  const nodes: Node[] = [
    element(
      "p",
      { class: `th-who ${side}` },
      element("b", {}, stop.who),
      ...(stop.critical ? [element("span", { class: "crit" }, "SAFETY-CRITICAL")] : []),
      element("span", { class: "takes" }, stop.takes),
    ),
    ...(stop.hold
      ? [
          element(
            "div",
            { class: "th-hold" },
            element("strong", {}, "HOLD"),
            element("span", {}, "Everybody stops. Nobody goes on until this is done."),
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
      ? [
          element(
            "div",
            { class: "th-checks", role: "group", "aria-label": "Challenge and answer: press when the answer is heard" },
            ...checks,
          ),
        ]
      : []),
    ...(agreed.length > 0
      ? [element("div", { class: "th-agree", role: "group", "aria-label": "Who agrees" }, ...agreed)]
      : []),
    ...(stop.meanwhile.length > 0 && !stop.hold
      ? [
          element(
            "div",
            { class: "th-mean" },
            element("p", { class: "label" }, "Meanwhile"),
            ...stop.meanwhile.map((line) => element("p", {}, line)),
          ),
        ]
      : []),
    element(
      "p",
      { class: "th-of small" },
      `${stop.title}, step ${stop.step}. `,
      element("span", { class: "code" }, stop.code),
    ),
  ];
  const open: Part["open"] = () => {
    const unheard = checks.find((each) => each.getAttribute("aria-pressed") !== "true");
    if (unheard)
      return {
        text: `First hear the answer: ${stop.checks[checks.indexOf(unheard)]!.challenge}. Then press it.`,
        place: unheard,
      };
    const silent = agreed.find((each) => each.getAttribute("aria-pressed") !== "true");
    return silent && { text: "This is a hold. Each person presses for themselves.", place: silent };
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
  const which = later.length > 1 ? `Steps ${sayList(later.map(String))} come` : `Step ${later[0]!} comes`;
  return [
    element(
      "p",
      { class: "th-later small" },
      `${which} after this one${later.length > 1 ? ": they begin" : ": it begins"} later.`,
    ),
  ];
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

const LISTS = { out: ["Out", "now in"], in: ["In", "now in"], moved: ["Moved", "now in"] } as const;

/** The count at the end: each net part with its number and where it is now. */
export function countPart(
  count: readonly WalkCount[],
  isPressed: (name: string) => boolean,
  press: (name: string, on: boolean) => void,
): Part {
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
          ` ${LISTS[list][1]} ${place}`,
          ...(stowed ? [element("em", {}, "before the wheels roll")] : []),
          ...(away ? [element("em", {}, "whoever took it there says so")] : []),
        ),
      ],
      isPressed,
      press,
    ),
  }));
  const nodes: Node[] = [
    element("h2", {}, "Count every part"),
    element("p", {}, "Count aloud, touch each piece that is here, then press. Do not count from memory."),
    ...(["out", "in", "moved"] as const).flatMap((list) => {
      const own = rows.filter((row) => row.list === list);
      return own.length > 0
        ? [
            element("h3", {}, `${LISTS[list][0]}: ${piecesOf(list)} pieces`),
            element("div", { class: "th-checks counts-of" }, ...own.map((row) => row.pin)),
          ]
        : [];
    }),
    ...(count.length === 0 ? [element("p", {}, "Nothing has changed its place.")] : []),
  ];
  return {
    nodes,
    open: () => {
      const left = rows.find((row) => row.pin.getAttribute("aria-pressed") !== "true");
      return left && { text: `Not counted yet: ${left.item}.`, place: left.pin };
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
