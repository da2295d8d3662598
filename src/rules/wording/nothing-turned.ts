/** Instructions that order to turn something and turn nothing, so that no proof knows of it. */
import { escapePattern } from "../../domain/words/names.ts";
import { remember } from "../../domain/words/remember.ts";
import { subjectsOf } from "../../domain/cards/subjects.ts";
import { modelOf } from "../../domain/states/model.ts";
import { standsAt } from "../../domain/states/stands.ts";
import type { Collection, Fastening, Paragraph, Platform, Step, Where } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { isFittedInDoubt } from "../doubt.ts";
import { isEnglish, ownSteps } from "../texts.ts";
import { sentencesOf } from "../words.ts";

/** Verbs that turn by themselves. */
const TURNING =
  "open|shut|close|lock|unlock|plug|unplug|release|switch|engage|disengage|fasten|unfasten|buckle|unbuckle|clip|" +
  "unclip|latch|unlatch|clamp|unclamp|secure|undo|screw|unscrew|connect|disconnect|loosen|tighten";
/** Verbs that turn only with a word for where to: a pull at a lever may be there to feel that it holds. */
const MOVING = "turn|pull|push|press|set|put|let|take|fold|swing|draw|slide|flip|snap|lift|lower|raise|apply|kick";
const WHERE_TO =
  "(?:in|out|on|off|up|down|home|open|shut|closed|flat|clockwise|anticlockwise|over|across|until|to (?:locked|open|" +
  "shut|on|off|standby)|by (?:a|half a|one) (?:quarter|turn))";
const CONDITION = "(?:(?:when|if|once|after|before|as soon as|with|while)\\b[^,]*,\\s*)?";
const ADVERB = "(?:(?:slowly|gently|firmly|again|first|now|carefully|fully|only|both)\\s+)*";
const PARTICLE = "(?:(?:in|out|on|off|up|down|home|back)\\s+)?";
/** What stands between the verb and the name: `each of the`, `the handle of the`, `all four`. */
const BETWEEN =
  "(?:(?:the|a|an|both|each|every|all|its|your|left|right|one|two|three|four|five|six|\\d+|other|first|last)\\s+)*" +
  "(?:(?:of\\s+)?(?:the|both|all|these)\\s+)*" +
  "(?:(?:handles?|levers?|knobs?|keys?|wheels?|tabs?|pedals?|buttons?|ones?|ends?)\\s+of\\s+" +
  "(?:the\\s+|both\\s+|each\\s+)*)?" +
  "(?:(?:two|three|four|five|six|\\d+)\\s+)?";

/** A step that orders to open, shut, lock or plug in something that the platform knows has a `::turn` for it. */
export const nothingTurned: Rule = {
  id: "wording/nothing-turned",
  severity: "warning",
  asks: "A step that orders to open, shut, lock, plug in, switch or release a fastening also turns it.",
  why:
    "What is only said is known to no proof: the valve that a procedure opens and never shuts, and the brake that it " +
    "lets off and never puts on, are found only where the step turns them.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    if (!isEnglish(collection.service)) return;
    const platforms = new Map(collection.platforms.map((platform) => [platform.id, platform]));
    for (const { step, procedure } of ownSteps(collection, damaged)) {
      const platform = platforms.get(procedure.platform);
      if (!platform || isFittedInDoubt(platform.id, damaged)) continue;
      const ordered = findOrdered(step.instruction, namesOf(platform));
      if (!ordered) continue;
      const { fastenings, words, where } = ordered;
      const isTurned = step.operations.some((act) => act.kind === "turn" && fastenings.includes(act.fastening));
      if (isTurned || (ordered.canFeel && fastenings.every((id) => feels(collection, platform, step, id)))) continue;
      const record = platform.fastenings.find(({ id }) => id === fastenings[0])!;
      report(where, {
        message: `\`${words}\` orders to turn \`${record.id}\`, and the step turns nothing of that name`,
        fix:
          `Add \`::turn{fastening=${record.id} to=…}\` (${record.states.join(" or ")}), and turn it back where it ` +
          "has to stand otherwise in the end; if nothing is turned, say what is done to it",
      });
    }
  },
};

/**
 * Whether a step can only feel that a fastening holds: it is secure already wherever the step is begun, as far as the
 * proof knows (nothing of a procedure that runs nowhere, which is found by itself), and a line of the step asks how it
 * stands.
 */
function feels({ service }: Collection, platform: Platform, step: Step, id: string): boolean {
  const isAsked = step.checks.some((check) =>
    subjectsOf(check, platform, service.otherNames).some((subject) => subject.id === id),
  );
  if (!isAsked) return false;
  const { secure } = platform.fastenings.find((each) => each.id === id)!;
  return [...standsAt(modelOf(platform), service.band, step, id)].every((state) => state === secure);
}

/** How fastenings are called in running text, longest first, with the ids of those that a name means. */
type Called = readonly { readonly name: string; readonly fastenings: readonly string[] }[];

const namesOf = remember(({ fastenings, items, places }: Platform) =>
  namesOfFastenings(
    fastenings,
    [...items, ...places].map(({ name }) => name),
  ),
);

/**
 * The names of fastenings in the singular and the plural; also the last word alone (`valve` of `oxygen valves`) where
 * only one fastening and nothing else (`others`) ends with it.
 */
export function namesOfFastenings(
  fastenings: readonly Pick<Fastening, "id" | "name">[],
  others: readonly string[],
): Called {
  const names = new Map<string, Set<string>>();
  const add = (name: string, id: string) => names.set(name, (names.get(name) ?? new Set()).add(id));
  const lastOf = (name: string) => singular(name.toLowerCase().split(/\s+/).at(-1)!);
  for (const { id, name } of fastenings) {
    add(singular(name.toLowerCase()), id);
    const last = lastOf(name);
    const isAlone =
      fastenings.filter((other) => lastOf(other.name) === last).length === 1 &&
      !others.some((other) => lastOf(other) === last);
    if (isAlone) add(last, id);
  }
  return [...names]
    .map(([name, ids]) => ({ name, fastenings: [...ids] }))
    .sort((a, b) => b.name.length - a.name.length);
}

const singular = (name: string) => name.replace(/(ch|sh|x|ss)es$/, "$1").replace(/([^s])s$/, "$1");

/** An order to turn something. */
interface Ordered {
  /** The fastenings that its words can mean. */
  readonly fastenings: readonly string[];
  readonly words: string;
  readonly where: Where;
  /** Whether a hand that does so to what is secure already only feels that it holds: `press the lever down`. */
  readonly canFeel: boolean;
}

const orderOf = remember((called: Called) => {
  const name = `(${called.map((each) => escapePattern(each.name)).join("|")})(?:e?s)?\\b(?!\\s+lamp)`;
  return new RegExp(
    `(?:^|[,;:]\\s*(?:and\\s+|then\\s+)*|\\band\\s+(?:then\\s+)?|\\bthen\\s+)${ADVERB}` +
      `((?:${TURNING})\\s+${PARTICLE}${BETWEEN}${name}|(${MOVING})\\s+(${PARTICLE})${BETWEEN}${name})`,
    "dgi",
  );
});

/** The first order of an instruction to turn a fastening, with the words that give it; `undefined` if there is none. */
export function findOrdered(instruction: Paragraph, called: Called): Ordered | undefined {
  if (called.length === 0) return undefined;
  const order = orderOf(called);
  for (const sentence of sentencesOf(instruction)) {
    const lead = new RegExp(`^(?:then\\s+)?${CONDITION}(?:then\\s+)?`, "i").exec(sentence.text)?.[0].length ?? 0;
    const text = sentence.text.slice(lead);
    for (const match of text.matchAll(order)) {
      const [from, to] = match.indices![1]!;
      const isMove = match[3] !== undefined;
      const rest = text.slice(to);
      // A pull on something feels whether it holds; only `put on` and `let on` turn by that word.
      const isLed = match[4] && !/^(?:pull|push|press|draw)\s+on\b/i.test(match[1]!);
      if (isMove && !isLed && !new RegExp(`^(?:\\s+\\w+)?\\s+${WHERE_TO}\\b`, "i").test(rest)) continue;
      // `put the pins into the tray`, `set the tray down beside the lead`: those are moves.
      if (isMove && /^\s+(?:into|onto|on to|to the)\b/i.test(rest)) continue;
      const said = (match[2] ?? match[5])!.toLowerCase(),
        { fastenings } = called.find((each) => each.name === said)!;
      return {
        fastenings,
        words: match[1]!,
        where: sentence.whereAt(lead + from, to - from),
        canFeel: /^(?:pull|push|press|draw)\b/i.test(match[1]!),
      };
    }
  }
  return undefined;
}
