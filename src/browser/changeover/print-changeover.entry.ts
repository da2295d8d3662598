/** Lays the card of a changeover out that the address asks for, as the site's own cards are laid out. */
import { wordsHere } from "../../words/heard.ts";
import type { PrintData } from "../../site/plans/walks.ts";
import { sayBand } from "../../domain/bands/bands.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { unpackPlatform } from "../../domain/device/pack.ts";
import { plansBetween } from "../../domain/time/plans.ts";
import { dayOf } from "../../domain/words/say.ts";
import { formatFor } from "../../paper/card-format.ts";
import { layoutCard } from "../../paper/card-layout.ts";
import { printChangeover } from "../../paper/changeover-card.ts";
import { drawCard } from "../../paper/draw-card.ts";
import { patientInAddress } from "../chooser/patient.ts";
import { endsNow } from "../tonight/left-now.ts";
import { sayWhy } from "../tonight/say-out.ts";

const source = document.getElementById("print-data")?.textContent;
if (source) start(JSON.parse(source) as PrintData);

function start({ pack, paper }: PrintData): void {
  const { platform, crew, service } = unpackPlatform(pack, dayOf(new Date())),
    format = formatFor(paper),
    { through: fixed, asking: words } = wordsHere("through", "asking");
  const heading = document.getElementById("card-title")!,
    none = document.getElementById("card-none")!,
    back = document.getElementById("card-back") as HTMLAnchorElement,
    sheets = document.getElementById("card-sheets")!;
  const page = back.href.split("#")[0]!;

  const show = () => {
    const fields = new URLSearchParams(location.hash.slice(1).replaceAll("+", "%2B"));
    const ends = endsNow(platform, fields.get("from") ?? "", fields.get("to") ?? "");
    const chosen = patientInAddress();
    back.href = page + location.hash;
    sheets.replaceChildren();
    none.hidden = false;
    if (ends.kind === "blocked") {
      none.textContent = words.cantBeBuiltWhy({ why: sayWhy(ends.by, Date.now()) });
      return;
    }
    if (ends.kind === "unknown" || ends.from === ends.to) {
      none.textContent = words.chooseTwo;
      return;
    }
    const { from, to, model } = ends;
    const plans = plansBetween(model, { band: service, crew }, from, to, chosen?.patient);
    const without = plans.filter(({ changeover }) => !changeover);
    none.hidden = plans.length > 0 && without.length === 0;
    none.textContent =
      plans.length === 0
        ? fixed.carriesNone({ band: sayBand(to.band) })
        : fixed.noWay({
            bands: joinBands(without.flatMap(({ cells }) => cells.map(({ band }) => band)))
              .map(sayBand)
              .join("; "),
          });
    const cards = plans.flatMap(({ cells, changeover }) =>
      changeover
        ? [printChangeover({ service: { crew } }, platform, changeover, cells, { onlyOn: dayOf(new Date()) })]
        : [],
    );
    if (cards[0]) document.title = heading.textContent = words.cardOf({ title: cards[0].title });
    const html = cards.map((card) => drawCard(card, layoutCard(card, format), { duplex: cards.length > 1 })).join("\n");
    // Every text in it is escaped where it is drawn.
    sheets.append(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
  };
  addEventListener("hashchange", show);
  show();
}
