/** The table of directives: of each, how it is written, where it may stand, its attributes, and what it compiles to. */
import {
  checkAttributes,
  includeAttributes,
  linkAttributes,
  moveAttributes,
  noAttributes,
  stepAttributes,
  turnAttributes,
} from "../schema/files.ts";
import { directive } from "./directive.ts";
import type { Directive, Directives } from "./document.ts";
import { compileInclude } from "./procedure.ts";
import { compileAlert, compileLinkTo } from "./prose.ts";
import { compileCard, compileCheck, compileMove, compileStep, compileTurn } from "./step.ts";

const alert = directive({
  form: "alert",
  stands: ["procedure", "step", "card", "page", "block"],
  attributes: noAttributes,
  label: true,
  instead: "Put it between the steps, or inside one",
  compile: compileAlert,
});

const link = directive({
  form: "text",
  stands: ["line"],
  attributes: linkAttributes,
  label: true,
  instead: "Put it into a sentence",
  compile: compileLinkTo,
});

const operation = { form: "leaf", stands: ["step"], label: false, instead: "Put it inside a step" } as const;

/** In the order in which a finding names them. */
const TABLE: Readonly<Record<string, Directive>> = {
  step: directive({
    form: "container",
    stands: ["procedure"],
    attributes: stepAttributes,
    label: true,
    instead: "Let it stand between the other steps, not inside something",
    compile: compileStep,
  }),
  warning: alert,
  caution: alert,
  note: alert,
  move: directive({ ...operation, attributes: moveAttributes, compile: compileMove }),
  turn: directive({ ...operation, attributes: turnAttributes, compile: compileTurn }),
  check: directive({
    form: "leaf",
    stands: ["step", "card"],
    attributes: checkAttributes,
    label: true,
    instead: "Put it inside a step, or in the body of a configuration or option",
    compile: compileCheck,
  }),
  card: directive({ ...operation, attributes: noAttributes, compile: compileCard }),
  include: directive({
    form: "leaf",
    stands: ["procedure"],
    attributes: includeAttributes,
    label: false,
    instead: "Let it stand between two steps of a procedure",
    compile: compileInclude,
  }),
  item: link,
  place: link,
};

/** Every directive that authors may write, by name. */
export const DIRECTIVES: Directives = new Map(Object.entries(TABLE));
