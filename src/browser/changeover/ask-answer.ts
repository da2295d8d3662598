/**
 * The answer to what was asked: times, what to fetch and count, who does what when, made of the same parts as a
 * changeover's page.
 */
import { heard, wordsHere } from "../../words/heard.ts";
import type { Crew, Platform } from "../../schema/collection.ts";
import type { Changeover } from "../../domain/states/changeover.ts";
import { pageOfProcedure, sayPlanned } from "../../domain/parts/reading.ts";
import { layoutScore } from "../../drawing/score.ts";
import { sayThe, sayDuration, sayMinutes, sayRole, sayWho } from "../../domain/words/say.ts";
import {
  sayAgreement,
  sayAlone,
  sayBest,
  sayCritical,
  sayElapsed,
  sayHold,
  sayPlaced,
  sayWaiting,
} from "../../domain/time/say-timeline.ts";
import {
  type CountedRow,
  type CountedTable,
  pinsOf,
  totalOf,
  viewChangeover,
  walkOf,
} from "../../domain/time/changeover-view.ts";
import type { Timeline } from "../../domain/time/timeline.ts";
import type { Walk } from "../../domain/device/walk.ts";
import { isPair } from "../../domain/words/crew.ts";
import { button, element } from "../element.ts";

/** One plan of an answer. */
export interface Answer {
  readonly changeover: Changeover;
  readonly timeline: Timeline;
  readonly walk: Walk;
  /** The patients whom it is for, in words. */
  readonly patients: string;
}

interface Around {
  readonly platform: Platform;
  readonly crew: readonly Crew[];
  /** Way to the site's root. */
  readonly root: string;
  /** Whether there are plans for other patients beside it. */
  readonly many: boolean;
  readonly open: () => void;
  /** Address of the printed card of the steps; none from a half-built state, which nobody meets twice. */
  readonly printed: string | undefined;
}

/** The nodes that show a plan. */
export function showPlan(
  { changeover, timeline, patients }: Answer,
  { platform, crew, root, many, open, printed }: Around,
): Node[] {
  const { steps, procedures } = changeover;
  const view = viewChangeover(changeover, platform);
  const { asking: words } = wordsHere("asking");
  const through = button(words.stepThroughIt, "go", open);
  through.classList.add("main");
  const runs = element(
    "ol",
    { class: "runs" },
    ...procedures.map(({ id, title, code, revision }, at) =>
      element(
        "li",
        {},
        element("b", {}, String(at + 1)),
        element("a", { href: root + pageOfProcedure(platform.id, id) }, title),
        element("span", { class: "small" }, element("span", { class: "code" }, code), words.revision({ revision })),
      ),
    ),
  );
  const facts = element(
    "dl",
    { class: "facts" },
    element(
      "dt",
      {},
      isPair(crew) ? words.twoPeople : crew.length === 1 ? words.time : words.people({ count: crew.length }),
    ),
    element("dd", {}, sayElapsed(timeline)),
    ...(crew.length > 1 ? [element("dt", {}, words.alone), element("dd", {}, sayAlone(timeline))] : []),
    element("dt", {}, words.for),
    element("dd", {}, patients),
  );
  return [
    ...(many
      ? [element("h3", { class: "patients" }, wordsHere("through").through.forPatients({ bands: patients }))]
      : []),
    element(
      "p",
      { class: "for" },
      words.shortest({
        procedures: procedures.length,
        steps: steps.length,
        holds: steps.filter(({ step }) => step.hold).length,
      }),
    ),
    element(
      "div",
      { class: "ask-head" },
      facts,
      element(
        "p",
        { class: "acts-row" },
        through,
        ...(printed ? [element("a", { class: "go", href: printed }, words.cardOfSteps)] : []),
      ),
    ),
    element(
      "p",
      { class: "ask-no-card" },
      element("b", {}, `${words.noCard} `),
      printed ? words.printedFromCard : words.throughOnDevice,
    ),
    runs,
    ...(view.undone ? [element("p", { class: "undone" }, element("b", {}, `${words.undone} `), view.undone)] : []),
    element(
      "div",
      { class: "counts" },
      ...view.tables.map((table) =>
        countSection(table, table.id === "fetch" ? drawWalk(walkOf(view, platform), platform) : []),
      ),
    ),
    ...(view.back
      ? [
          element(
            "p",
            { class: "must-back" },
            element("b", {}, `${words.beforeRolling({ which: sayThe(platform.name) })} `),
            view.back,
          ),
        ]
      : []),
    element("h3", {}, words.whoWhatWhen),
    ...drawScore(timeline, crew, (procedure, step) => `${root}${pageOfProcedure(platform.id, procedure)}#step-${step}`),
    element(
      "div",
      { class: "told-time" },
      element("div", {}, element("p", {}, sayCritical(timeline)), element("p", {}, sayBest(timeline))),
    ),
  ];
}

/** The stores in the order of the walk, from the platform on. */
function drawWalk(stops: ReturnType<typeof walkOf>, { name }: Platform): Node[] {
  if (stops.length === 0) return [];
  return [
    element(
      "ol",
      { class: "store-walk" },
      element("li", {}, name),
      ...stops.map(({ placeName, count, walkSeconds }) =>
        element(
          "li",
          {},
          element("b", {}, placeName),
          " ",
          element("span", {}, heard("toCount").piecesThere({ count })),
          ...(walkSeconds === undefined
            ? []
            : [" ", element("span", {}, heard("toCount").oneWay({ time: sayMinutes(walkSeconds) }))]),
        ),
      ),
    ),
  ];
}

function countSection(
  { title, about, way, done, total, none, rows }: CountedTable,
  walk: readonly Node[],
): HTMLElement {
  const { asking: words } = wordsHere("asking");
  const pegs = (row: CountedRow) =>
    element(
      "span",
      { class: "pegs" },
      ...pinsOf(row, done).flatMap((name, at) => [
        ...(at === 4 ? [element("br", {})] : []),
        element("label", {}, element("input", { type: "checkbox", "aria-label": name })),
      ]),
    );
  if (rows.length === 0) return element("section", {}, element("h3", {}, title), element("p", { class: "none" }, none));
  const head = element(
    "tr",
    {},
    element("th", { scope: "col" }, words.item),
    element("th", { scope: "col" }, way),
    element("th", { scope: "col", class: "n" }, words.count),
  );
  const body = rows.map((row) =>
    element(
      "tr",
      {},
      element("th", { scope: "row" }, row.itemName, ...(row.note ? [element("small", {}, row.note)] : [])),
      element("td", { class: "to" }, row.strong ? element("b", {}, row.placeName) : row.placeName),
      element("td", { class: "n" }, pegs(row), " ", element("span", { class: "count" }, String(row.count))),
    ),
  );
  const foot = element(
    "tr",
    {},
    element("td", { colspan: "2" }, element("b", {}, total)),
    element("td", { class: "n" }, String(totalOf(rows))),
  );
  return element(
    "section",
    {},
    element("h3", {}, title),
    element("p", { class: "small" }, about),
    ...walk,
    element(
      "table",
      { class: "parts count-table" },
      element("thead", {}, head),
      element("tbody", {}, ...body),
      element("tfoot", {}, foot),
    ),
  );
}

/** The score as `Score.astro` draws it. */
function drawScore(
  timeline: Timeline,
  crew: readonly Crew[],
  addressOf: (procedure: string, step: number) => string,
): Node[] {
  const { asking: words } = wordsHere("asking");
  const score = layoutScore(
      timeline,
      crew.map(({ id }) => id),
      sayPlanned,
    ),
    of = Math.max(1, score.lanes.length);
  const set = (node: HTMLElement, values: Readonly<Record<string, number>>) => {
    for (const [name, value] of Object.entries(values)) node.style.setProperty(`--${name}`, String(value));
    return node;
  };
  const crowded = of > 2 ? " crowded" : "";
  const lanes = set(
    element(
      "div",
      { class: `lanes timed${crowded}` },
      ...score.lanes.map((lane) =>
        element("div", {}, sayRole(lane), element("span", {}, crew.find(({ id }) => id === lane)?.name ?? "")),
      ),
    ),
    { of },
  );
  const rows: Node[] = [];
  score.parts.forEach((part, at) => {
    const ticks = part.ticks.map((tick) =>
      set(
        element(
          "span",
          {
            class: `tick${tick.top === 0 ? " first" : ""}${tick.at === score.elapsed && part.hold ? " final" : ""}`,
            "aria-hidden": "true",
          },
          sayMinutes(tick.at),
        ),
        { t: tick.top },
      ),
    );
    const waits = part.waits.map(({ wait, lane, top, seconds }) =>
      set(
        element(
          "div",
          { class: "wait", "aria-hidden": "true" },
          ...(seconds * score.pxPerSecond >= 34 ? [element("span", {}, sayWaiting(wait))] : []),
        ),
        { t: top, d: seconds, from: lane, to: lane },
      ),
    );
    const blocks = part.blocks.map(({ timed, from, to, top, seconds, tight, waited }) => {
      const { step, index, critical, by, procedure, start } = timed;
      const edges = critical ? `${from < of / 2 ? " edge-l" : ""}${to >= of / 2 ? " edge-r" : ""}` : "";
      return set(
        element(
          "div",
          {
            role: "listitem",
            class:
              `blk laid${step.critical ? " critical" : ""}${from === to ? " single" : ""}` +
              `${tight ? " tight" : ""}${edges}`,
          },
          element("b", {}, element("i", {}, String(index + 1))),
          element(
            "span",
            { class: "told" },
            element("a", { href: addressOf(procedure.id, step.number) }, sayPlanned(timed)),
            element("span", { class: "hide" }, sayPlaced(critical, waited)),
          ),
          element(
            "em",
            {},
            ...(step.critical ? [element("b", {}, words.safetyCritical)] : []),
            element(
              "span",
              {},
              `${sayWho(by, crew)}, ${sayDuration(seconds)}`,
              element("span", { class: "at" }, words.fromMinute({ minute: sayMinutes(start) })),
            ),
          ),
        ),
        { t: top, d: seconds, from, to },
      );
    });
    rows.push(
      set(
        element(
          "div",
          { class: `score-part${at > 0 && score.parts[at - 1]!.hold ? " held" : ""}` },
          ...ticks,
          ...waits,
          ...blocks,
        ),
        { d: part.end - part.start },
      ),
    );
    if (part.hold)
      rows.push(
        element(
          "div",
          { role: "listitem", class: "stop" },
          element("strong", {}, words.hold),
          element("span", {}, sayHold(part.hold)),
          element("em", {}, sayAgreement(of)),
        ),
      );
  });
  return [
    lanes,
    set(element("div", { class: `score scaled${crowded}`, role: "list" }, ...rows), { scale: score.pxPerSecond, of }),
  ];
}
