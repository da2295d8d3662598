/** The table of directives: of each, how it is written, where it may stand, its attributes, and what it compiles to. */
import {
  checkAttributes,
  includeAttributes,
  itemLinkAttributes,
  moveAttributes,
  noAttributes,
  placeLinkAttributes,
  stepAttributes,
  turnAttributes,
} from "../../schema/files.ts";
import { directive } from "./directive.ts";
import type { Directive, Directives } from "../document.ts";
import { compileInclude } from "../procedure.ts";
import { compileAlert, compileLinkTo } from "./prose.ts";
import { compileCard, compileCheck, compileMove, compileStep, compileTurn } from "./step.ts";

function alert(name: string, says: string, words: string): Directive {
  return directive({
    form: "alert",
    stands: ["procedure", "step", "card", "page", "block"],
    attributes: noAttributes,
    label: true,
    instead: "Put it between the steps, or inside one",
    guide: { says, good: `:::${name}\n${words}\n:::`, bad: `:::${name}{level=high}\n${words}\n:::` },
    compile: compileAlert,
  });
}

function link(attributes: typeof itemLinkAttributes, says: string, good: string): Directive {
  return directive({
    form: "text",
    stands: ["line"],
    attributes,
    label: true,
    instead: "Put it into a sentence",
    guide: { says, good, bad: good.replace(/id=[^}]*/, "id=somewhere") },
    compile: compileLinkTo,
  });
}

const operation = { form: "leaf", stands: ["step"], label: false, instead: "Put it inside a step" } as const;

/** In the order in which a finding names them. */
const TABLE: Readonly<Record<string, Directive>> = {
  step: directive({
    form: "container",
    stands: ["procedure"],
    attributes: stepAttributes,
    label: true,
    instead: "Let it stand between the other steps, not inside something",
    guide: {
      says:
        "One instruction. Its first paragraph is the instruction, a paragraph that " +
        "begins `Why:` is the reason, the rest is " +
        "detail. Where a warning stands inside it, it is fenced with one colon more than the warning.",
      good:
        ':::step{#push-pins by=both critical takes="40 s"}\nPush the four pins in until each one clicks.\n\n' +
        "Why: one missing pin lets the capsule lift at the head end.\n:::",
      bad: ':::step{#push-pins by=both critical takes="40 s"}\n:::',
    },
    compile: compileStep,
  }),
  warning: alert(
    "warning",
    "What may injure people. It stands before the step that it belongs to.",
    "Two people lift the capsule.",
  ),
  caution: alert(
    "caution",
    "What may damage equipment. It stands before the step that it belongs to.",
    "A tilted capsule bends the pin guides.",
  ),
  note: alert("note", "What helps to know. It informs, and never instructs.", "The pins have a green collar."),
  move: directive({
    ...operation,
    attributes: moveAttributes,
    guide: {
      says: "Something changes its place: the only way in which an item does.",
      good: "::move{item=capsule-pin count=4 from=pin-tray to=capsule-seat}",
      bad: "::move{item=capsule-pin count=4 to=capsule-seat}",
    },
    compile: compileMove,
  }),
  turn: directive({
    ...operation,
    attributes: turnAttributes,
    guide: {
      says: "A fastening changes its state: the only way in which one does.",
      good: "::turn{fastening=base-pins to=in}",
      bad: "::turn{fastening=base-pins to=tight}",
    },
    compile: compileTurn,
  }),
  check: directive({
    form: "leaf",
    stands: ["step", "card"],
    attributes: checkAttributes,
    label: true,
    instead: "Put it inside a step, or in the body of a configuration or option",
    guide: {
      says:
        "A challenge, in brackets, with the answer that lets the crew go on. In a " +
        "configuration or option it is a line of the card.",
      good: '::check[Capsule pins]{by=second answer="four in, four locked"}',
      bad: "::check[Capsule pins]{by=second}",
    },
    compile: compileCheck,
  }),
  card: directive({
    ...operation,
    attributes: noAttributes,
    guide: {
      says: "The card of the arrangement is read in this step. Left out, the tool adds the reading at the end.",
      good: "::card",
      bad: "::card{which=newborn-capsule}",
    },
    compile: compileCard,
  }),
  include: directive({
    form: "leaf",
    stands: ["procedure"],
    attributes: includeAttributes,
    label: false,
    instead: "Let it stand between two steps of a procedure",
    guide: {
      says: "The steps of another procedure are done here.",
      good: "::include{procedure=confirm-band}",
      bad: "::include{procedure=confirm-the-band}",
    },
    compile: compileInclude,
  }),
  item: link(
    itemLinkAttributes,
    "A word of a sentence that leads to an item.",
    "Take the :item[pins]{id=capsule-pin} by the collar.",
  ),
  place: link(
    placeLinkAttributes,
    "A word of a sentence that leads to a place.",
    "They lie in the :place[tray]{id=pin-tray}.",
  ),
};

/** Every directive that authors may write, by name. */
export const DIRECTIVES: Directives = new Map(Object.entries(TABLE));
