/** What a step says that was made of two: nothing that either of them said is lost in silence. */
import { parseDuration } from "../../schema/quantities.ts";
import { DEFAULT_STEP_SECONDS } from "../../schema/units.ts";
import { heard } from "../../words/heard.ts";
import { Refusal } from "../disk/refusal.ts";
import type { AttributeValues } from "./edit.ts";
import type { StepOutline } from "./outline.ts";

/** One value for the whole step, with what it says in the words of a form. */
const SHARED = { by: "whoDoesIt", weight: "whichWeight", age: "whichAge" } as const;
type Differing = (typeof SHARED)[keyof typeof SHARED] | (typeof EITHER)[keyof typeof EITHER];
/** Lists of words, those of both steps. */
const LISTS = ["photo", "guards", "after"];
/** What either says, if they do not say two things. */
const EITHER = { unnoticed: "whyNobody", replaces: "whichReplaced" } as const;

/**
 * The attributes of the first step that change when it is joined with the second. Throws a `Refusal` where they say two
 * things of which one would be lost. `named`: ids of steps that something else in the file names.
 */
export function joinedAttributes(first: StepOutline, second: StepOutline, named: ReadonlySet<string>): AttributeValues {
  const [one, two] = [first.attributes, second.attributes],
    joined: Record<string, string | true> = {};
  const say = heard("deskRefused"),
    refuse = (what: Differing) => new Refusal(say.differ({ what: say[what] }));
  for (const [name, what] of Object.entries(SHARED)) if (one[name] !== two[name]) throw refuse(what);
  for (const [name, what] of Object.entries(EITHER)) {
    if (one[name] !== undefined && two[name] !== undefined && one[name] !== two[name]) throw refuse(what);
    if (two[name] !== undefined) joined[name] = two[name];
  }
  for (const name of ["critical", "hold"]) if (isSet(two[name]) && !isSet(one[name])) joined[name] = true;
  for (const name of LISTS) {
    const all = new Set(
      [...wordsOf(one[name]), ...wordsOf(two[name])].filter((id) => name !== "after" || id !== one["id"]),
    );
    if (all.size > wordsOf(one[name]).length) joined[name] = [...all].join(" ");
  }
  if (one["takes"] !== undefined || two["takes"] !== undefined)
    joined["takes"] = `${secondsOf(one["takes"]) + secondsOf(two["takes"])} s`;
  const id = two["id"];
  if (id !== undefined && one["id"] === undefined) joined["id"] = id;
  else if (typeof id === "string" && named.has(id)) throw new Refusal(say.namesSecond({ id }));
  return joined;
}

const isSet = (value: string | true | undefined) => value !== undefined && value !== "false";
const wordsOf = (value: string | true | undefined) => (typeof value === "string" ? (value.match(/\S+/g) ?? []) : []);

function secondsOf(takes: string | true | undefined): number {
  if (takes === undefined) return DEFAULT_STEP_SECONDS;
  const read = parseDuration(String(takes));
  if (!read.ok) throw new Refusal(heard("deskRefused").howLong);
  return read.value;
}
