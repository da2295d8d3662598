/** Drills on the device: the sheets of any number, and the changeover of its key one step at a time. */
import { heard, wordsHere } from "../../words/heard.ts";
import type { AskData } from "../../site/plans/walks.ts";
import type { DrillQuestion } from "../../site/plans/drill-data.ts";
import { type Drill, type DrillLeg, drillOf, type DrillService } from "../../domain/after/drill.ts";
import { type MissedTold, sayDrill, sayNews, stepsMissable } from "../../domain/after/say-drill.ts";
import { writeBegun } from "../../domain/tonight/begun-text.ts";
import type { Begun } from "../../domain/tonight/from-here.ts";
import { unpackPlatform } from "../../domain/device/pack.ts";
import { layWalk } from "../../domain/device/walk.ts";
import { platesFrom } from "../changeover/picture.ts";
import { startStepThrough, type Through } from "../changeover/step-through.ts";
import { readWalk } from "../changeover/walk-store.ts";
import { bandFrom } from "../chooser/chooser-band.ts";
import { element } from "../element.ts";

/** Numbers that somebody can say and write down. */
const MOST_DRAWN = 10_000;

const form = document.querySelector<HTMLFormElement>(".drill-form"),
  source = document.getElementById("ask-data")?.textContent;
if (form && source) start(form, JSON.parse(source) as AskData);

function start(form: HTMLFormElement, { pack, pictures }: AskData): void {
  const { platform, crew, service: band } = unpackPlatform(pack),
    root = form.dataset["root"]!,
    slips = JSON.parse(document.getElementById("drill-slips")!.textContent!) as MissedTold,
    told = JSON.parse(document.getElementById("drill-questions")!.textContent!) as readonly DrillQuestion[];
  const service: DrillService = {
    band,
    crew,
    questions: told.map((question) => ({
      band: bandFrom(question.band),
      say: question.say,
      fetch: platform.configurations.filter(({ id }) => question.fetch.includes(id)),
    })),
  };
  const input = form.querySelector("input")!,
    another = form.querySelector<HTMLButtonElement>("[data-drill=another]")!,
    step = form.querySelector<HTMLButtonElement>("[data-drill=step]")!;
  let drill: Drill | undefined;

  const fill = (id: string, title: string, blocks: SheetBlocks) =>
    document.getElementById(id)!.replaceChildren(...sheetParts(title, blocks));
  const show = (seed: number) => {
    input.value = String(seed);
    drill = drillOf(platform, service, seed);
    if (!drill) return;
    const { title, crew: forCrew, key } = sayDrill(drill, platform, crew, wordsHere("drill").drill, slips);
    fill("drill-crew", heard("drillSheet").sheetForCrew({ title }), forCrew);
    fill("drill-key", heard("drillSheet").sheetForRunner({ title }), key);
    step.hidden = drill.key.kind === "nobody";
  };
  /** The number stands in the address, so that a reload shows the same drill. */
  const write = (seed: number) => {
    history.replaceState(history.state, "", `${location.pathname}${location.search}#seed=${seed}`);
    show(seed);
  };
  const read = () => {
    const [, seed = "1"] = /(?:^|[#&])seed=(\d{1,9})(?:&|$)/.exec(location.hash) ?? [];
    show(Number(seed));
  };
  const through = startStepThrough(document.getElementById("step")!, (): Through | undefined => {
    if (drill?.key.kind !== "changeover") return undefined;
    const { key } = drill,
      { change } = key;
    if (!change) return throughOf(key, drill, "to its end");
    const { begun, after } = change,
      next = throughOf(change, drill, "changed", wordOf(begun));
    // Where the change was told already, a reload goes on from there.
    if (readWalk(next.walk.key, Date.now())) return next;
    return {
      ...throughOf(key, drill, "to the change"),
      change: { at: after, told: sayNews(change, wordsHere("drill").drill), next },
    };
  });
  const throughOf = (leg: DrillLeg, whole: Drill, part: string, begun?: string): Through => {
    const { seed } = whole,
      { changeover, timeline, to } = leg;
    const walk = layWalk(changeover, timeline, platform, crew, heard("drillSheet").drillNumber({ seed }));
    return {
      // A drill is kept apart from the same changeover done in earnest.
      walk: { ...walk, key: `drill ${seed} ${part} ${walk.key}` },
      drill: seed,
      ...(begun ? { begun } : {}),
      waysOn: () => [],
      after: () => keyParts(whole),
      card: {
        href: `${root}${platform.id}/cards/${to.configuration.id}/`,
        title: heard("drillSheet").cardOf({ title: to.configuration.title }),
      },
      picturesOf: platesFrom(pictures, `${root}photos/${platform.id}`),
    };
  };
  /** After the last step: the key, and for each step that somebody marks as missed what that would have done. */
  const keyParts = (whole: Drill): Node[] => [
    element(
      "section",
      { class: "drill-missed" },
      element("h3", {}, heard("drillSheet").wasAnythingMissed),
      element("p", {}, heard("drillSheet").markEachMissed),
      element(
        "ul",
        {},
        ...stepsMissable(whole, slips).map(({ text, told }) => {
          const box = element("input", { type: "checkbox" }),
            said = element("ul", { role: "status" });
          box.addEventListener("change", () =>
            said.replaceChildren(...(box.checked ? told.map((line) => element("li", {}, line)) : [])),
          );
          return element("li", {}, element("label", {}, box, element("span", {}, text)), said);
        }),
      ),
    ),
    element(
      "section",
      { class: "drill-sheet" },
      ...sheetParts(heard("drillSheet").theKey, sayDrill(whole, platform, crew, wordsHere("drill").drill, slips).key),
    ),
  ];
  const writeAsked = () => {
    if (/^\d{1,9}$/.test(input.value)) write(Number(input.value));
  };
  input.addEventListener("change", writeAsked);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    writeAsked();
  });
  another.addEventListener("click", () => write(crypto.getRandomValues(new Uint32Array(1))[0]! % MOST_DRAWN));
  step.addEventListener("click", through.open);
  // The key is printed too, on a sheet of its own, whether it is open or not.
  addEventListener("beforeprint", () => (document.querySelector<HTMLDetailsElement>(".drill-key")!.open = true));
  addEventListener("hashchange", read);
  form.hidden = false;
  read();
  through.resume();
}

type SheetBlocks = ReturnType<typeof sayDrill>["crew"];

/** A sheet as the page has it from the beginning. */
function sheetParts(title: string, blocks: SheetBlocks): Node[] {
  return [
    element("h2", {}, title),
    ...blocks.map(({ heading, lines }) =>
      element(
        "section",
        {},
        element("h3", {}, heading),
        element("ul", {}, ...lines.map((line) => element("li", {}, line))),
      ),
    ),
  ];
}

/** What was begun, as the word that an address has. */
function wordOf({ steps, done }: Begun): string {
  return writeBegun(
    steps.map(({ procedure, step }, at) => ({ procedure: procedure.id, step: step.number, isDone: done.has(at) })),
  );
}
