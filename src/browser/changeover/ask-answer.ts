/**
 * The answer to what was asked: times, what to fetch and count, who does what when, made of the same parts as a
 * changeover's page.
 */
import type { Crew, Platform } from "../../schema/collection.ts";
import type { Changeover } from "../../domain/parts/changeover.ts";
import { countParts, listFetches } from "../../domain/parts/counts.ts";
import { pageOfProcedure } from "../../domain/parts/reading.ts";
import { layoutScore } from "../../drawing/score.ts";
import { sayDuration, sayInstruction, sayMinutes, sayNumber, sayRole, sayWho } from "../../domain/words/say.ts";
import { sayList } from "../../schema/wording.ts";
import { sayAlone, sayBest, sayCritical } from "../../domain/time/say-timeline.ts";
import type { Timeline } from "../../domain/time/timeline.ts";
import { partNames, type Walk } from "../../domain/device/walk.ts";
import { element } from "../element.ts";

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
}

/** The nodes that show a plan. */
export function showPlan(
  { changeover, timeline, patients }: Answer,
  { platform, crew, root, many, open }: Around,
): Node[] {
  const { steps, procedures } = changeover,
    names = partNames(platform);
  const pieces = (item: string, count: number) => `${count > 1 ? `${count} × ` : ""}${names.item(item)}`;
  const counts = countParts(changeover, platform),
    fetches = listFetches(steps, platform);
  const through = element("button", { type: "button", class: "go main" }, "Step through it");
  through.addEventListener("click", open);
  const runs = element(
    "ol",
    { class: "runs" },
    ...procedures.map(({ id, title, code, revision }, at) =>
      element(
        "li",
        {},
        element("b", {}, String(at + 1)),
        element("a", { href: `${root}${platform.id}/procedures/${id}/` }, title),
        element("span", { class: "small" }, element("span", { class: "code" }, code), `, revision ${revision}`),
      ),
    ),
  );
  const facts = element(
    "dl",
    { class: "facts" },
    element("dt", {}, crew.length === 2 ? "Two people" : crew.length === 1 ? "Time" : `${crew.length} people`),
    element("dd", {}, sayDuration(timeline.elapsed)),
    ...(crew.length > 1 ? [element("dt", {}, "Alone"), element("dd", {}, sayAlone(timeline))] : []),
    element("dt", {}, "For"),
    element("dd", {}, patients),
  );
  const table = (
    title: string,
    way: string,
    rows: readonly { item: string; count: number; place: string; note?: string | undefined }[],
    none: string,
  ) =>
    element(
      "section",
      {},
      element("h3", {}, title),
      rows.length === 0
        ? element("p", { class: "none" }, none)
        : countTable(
            way,
            rows.map((row) => ({ ...row, item: names.item(row.item), place: names.place(row.place) })),
          ),
    );
  const back = counts.out.filter(({ stowed }) => stowed);
  return [
    ...(many ? [element("h3", { class: "patients" }, `For patients ${patients}`)] : []),
    element(
      "p",
      { class: "for" },
      `The shortest way: ${sayNumber(procedures.length, "procedure")}, ${steps.length} ` +
        `steps, ${sayNumber(steps.filter(({ step }) => step.hold).length, "hold")}.`,
    ),
    element("div", { class: "ask-head" }, facts, element("p", { class: "acts-row" }, through)),
    runs,
    ...(changeover.undone.length > 0
      ? [
          element(
            "p",
            { class: "undone" },
            element("b", {}, "Done and undone on the way. "),
            changeover.undone
              .map(
                ({ item, count, from }) =>
                  `${count} × ${names.item(item)} leaves ${names.place(from)} and comes back to it`,
              )
              .join("; "),
          ),
        ]
      : []),
    element(
      "div",
      { class: "counts" },
      table(
        "Fetch first",
        "Stands in",
        fetches.map(({ item, place, count, before }) => ({ item, place, count, note: `before step ${before + 1}` })),
        "Nothing: all that is needed travels with it.",
      ),
      table(
        "Count out",
        "Goes to",
        counts.out.map(({ item, to, count, stowed }) => ({
          item,
          place: to,
          count,
          note: stowed ? "before the wheels roll" : undefined,
        })),
        "Nothing comes off.",
      ),
      table(
        "Count in",
        "Goes to",
        counts.into.map(({ item, from, to, count }) => ({ item, place: to, count, note: `from ${names.place(from)}` })),
        "Nothing goes on.",
      ),
      ...(counts.moved.length > 0
        ? [
            table(
              "Move",
              "Goes to",
              counts.moved.map(({ item, from, to, count }) => ({
                item,
                place: to,
                count,
                note: `from ${names.place(from)}`,
              })),
              "",
            ),
          ]
        : []),
    ),
    ...(back.length > 0
      ? [
          element(
            "p",
            { class: "must-back" },
            element("b", {}, `Before the ${platform.name} rolls: `),
            `${sayList(back.map(({ item, count, to }) => `${pieces(item, count)} back in the ${names.place(to)}`))}. ` +
              "Count them aloud.",
          ),
        ]
      : []),
    element("h3", {}, "Who does what, when"),
    ...drawScore(timeline, crew, (procedure, step) => `${root}${pageOfProcedure(platform.id, procedure)}#step-${step}`),
    element(
      "div",
      { class: "told-time" },
      element("div", {}, element("p", {}, sayCritical(timeline)), element("p", {}, sayBest(timeline))),
    ),
  ];
}

function countTable(
  way: string,
  rows: readonly {
    readonly item: string;
    readonly count: number;
    readonly place: string;
    readonly note?: string | undefined;
  }[],
): HTMLElement {
  const pegs = (item: string, count: number) =>
    element(
      "span",
      { class: "pegs" },
      ...Array.from({ length: count <= 8 ? count : 1 }, (_, at) => [
        ...(at === 4 ? [element("br", {})] : []),
        element(
          "label",
          {},
          element("input", {
            type: "checkbox",
            "aria-label": count > 1 && count <= 8 ? `${item}, ${at + 1} of ${count}` : item,
          }),
        ),
      ]).flat(),
    );
  return element(
    "table",
    { class: "parts counted" },
    element(
      "thead",
      {},
      element(
        "tr",
        {},
        element("th", { scope: "col" }, "Item"),
        element("th", { scope: "col" }, way),
        element("th", { scope: "col", class: "n" }, "Count"),
      ),
    ),
    element(
      "tbody",
      {},
      ...rows.map(({ item, count, place, note }) =>
        element(
          "tr",
          {},
          element("th", { scope: "row" }, item, ...(note ? [element("small", {}, note)] : [])),
          element("td", { class: "to" }, place),
          element("td", { class: "n" }, pegs(item, count), " ", element("span", { class: "count" }, String(count))),
        ),
      ),
    ),
    element(
      "tfoot",
      {},
      element(
        "tr",
        {},
        element("th", { scope: "row", colspan: "2" }, "Pieces"),
        element("td", { class: "n" }, String(rows.reduce((sum, { count }) => sum + count, 0))),
      ),
    ),
  );
}

/** The score as `Score.astro` draws it. */
function drawScore(
  timeline: Timeline,
  crew: readonly Crew[],
  addressOf: (procedure: string, step: number) => string,
): Node[] {
  const score = layoutScore(
      timeline,
      crew.map(({ id }) => id),
      ({ step }) => sayInstruction(step),
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
          ...(seconds * score.pxPerSecond >= 34
            ? [
                element(
                  "span",
                  {},
                  `waits ${sayDuration(seconds)}` +
                    (wait.forPersons.length > 0 ? ` for ${sayList(wait.forPersons.map(sayRole))}` : ""),
                ),
              ]
            : []),
        ),
        { t: top, d: seconds, from: lane, to: lane },
      ),
    );
    const blocks = part.blocks.map(
      ({ timed: { step, index, critical, by, procedure, start }, from, to, top, seconds, tight }) => {
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
              element("a", { href: addressOf(procedure.id, step.number) }, sayInstruction(step)),
              ...(critical ? [element("span", { class: "hide" }, " Sets the total.")] : []),
            ),
            element(
              "em",
              {},
              ...(step.critical ? [element("b", {}, "SAFETY-CRITICAL")] : []),
              element(
                "span",
                {},
                `${sayWho(by, crew)}, ${sayDuration(seconds)}`,
                element("span", { class: "at" }, ` from ${sayMinutes(start)}`),
              ),
            ),
          ),
          { t: top, d: seconds, from, to },
        );
      },
    );
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
    const check = part.hold?.step.checks[0];
    if (part.hold)
      rows.push(
        element(
          "div",
          { role: "listitem", class: "stop" },
          element("strong", {}, "HOLD"),
          element("span", {}, check ? `${check.challenge}: ${check.answer}` : "Nobody goes on until this is done"),
          element("em", {}, `the clock stands until ${of === 2 ? "both" : "all"} agree`),
        ),
      );
  });
  return [
    lanes,
    set(element("div", { class: `score scaled${crowded}`, role: "list" }, ...rows), { scale: score.pxPerSecond, of }),
  ];
}
