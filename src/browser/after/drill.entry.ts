/** Drills on the device: the sheets of any number, and the changeover of its key one step at a time. */
import type { AskData } from "../../site/plans/walks.ts";
import type { DrillQuestion } from "../../site/plans/drill-data.ts";
import { type Drill, drillOf, type DrillService } from "../../domain/after/drill.ts";
import { sayDrill } from "../../domain/after/say-drill.ts";
import { unpackPlatform } from "../../domain/device/pack.ts";
import { layWalk } from "../../domain/device/walk.ts";
import { platesFrom } from "../changeover/picture.ts";
import { startStepThrough, type Through } from "../changeover/step-through.ts";
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

  const fill = (id: string, title: string, blocks: ReturnType<typeof sayDrill>["crew"]) =>
    document
      .getElementById(id)!
      .replaceChildren(
        element("h2", {}, title),
        ...blocks.map(({ heading, lines }) =>
          element(
            "section",
            {},
            element("h3", {}, heading),
            element("ul", {}, ...lines.map((line) => element("li", {}, line))),
          ),
        ),
      );
  const show = (seed: number) => {
    input.value = String(seed);
    drill = drillOf(platform, service, seed);
    if (!drill) return;
    const { title, crew: forCrew, key } = sayDrill(drill, platform, crew);
    fill("drill-crew", `${title}: for the crew`, forCrew);
    fill("drill-key", `${title}: for whoever runs it`, key);
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
    const { seed } = drill,
      { changeover, timeline, to } = drill.key;
    const walk = layWalk(changeover, timeline, platform, crew, `Drill ${seed}`);
    return {
      // A drill is kept apart from the same changeover done in earnest.
      walk: { ...walk, key: `drill ${seed} ${walk.key}` },
      drill: seed,
      waysOn: () => [],
      card: {
        href: `${root}${platform.id}/cards/${to.configuration.id}/`,
        title: `${to.configuration.title} card`,
      },
      picturesOf: platesFrom(pictures, `${root}photos/${platform.id}`),
    };
  });
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
