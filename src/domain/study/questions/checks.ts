/**
 * Questions about checks and reasons: which answer a challenge asks for, which line a card lacks, why a step is done.
 */
import type { Check, Procedure, Step } from "../../../schema/collection.ts";
import { usesOf } from "../../parts/builds.ts";
import { numberInWords, numberOf } from "../../words/quantities.ts";
import { capital, plainText, sayInstruction } from "../../words/say.ts";
import { fromConfiguration, fromProcedure, type Ground, isUnmistakable, thingsOfStep } from "./ground.ts";
import { nearness, ownFirst, OWN } from "./near.ts";
import {
  type AnswerChoice,
  contentWords,
  makeQuestion,
  type MadeQuestion,
  readAlike,
  sharedWords,
  type QuestionSource,
} from "./question.ts";
import { heard } from "../../../words/heard.ts";
import { usableProcedures } from "../../parts/lookup.ts";

/** A check with where it stands. */
interface Placed {
  readonly check: Check;
  /** Its challenge and its answer as `readAlike` gives them. */
  readonly asks: string;
  readonly answers: string;
  readonly source: QuestionSource;
  readonly document: string;
}

/**
 * Which answer a challenge asks for. Wrong: the answer itself with another number or colour, as a look in a hurry has
 * it; answers to other challenges of the same document, of a neighbouring card or of a procedure near it, that share no
 * word of meaning with it. Not asked where the right one tells itself.
 */
export function askChecks(ground: Ground): MadeQuestion[] {
  const all = placedChecks(ground);
  return all.flatMap(({ check, asks, source, document }) => {
    const here = all.filter((each) => each.document === document);
    // The same challenge asked twice in one document with two answers has no one answer.
    if (here.filter((each) => each.asks === asks).length > 1) return [];
    const right = [...new Map(all.filter((each) => each.asks === asks).map((each) => [each.answers, each])).values()];
    const wrong = all
      .map((each) => ({ each, near: nearnessOfChecks(ground, source, each.source) }))
      .filter(({ near }) => near > 0)
      .sort((a, b) => b.near - a.near)
      .map(({ each }) => each)
      .filter((each) => each.asks !== asks && sharedWords(each.check.challenge, check.challenge) === 0)
      .filter((each) => right.every((other) => areUnlike(other, each)));
    const question = makeQuestion({
      kind: "check",
      platform: ground.platform.id,
      source,
      asks: { document, challenge: check.challenge },
      prompt: heard("questions").theChallengeIsWhat({ source: source.title, challenge: check.challenge }),
      key: [{ text: check.answer, means: check.challenge }],
      slips: slipsOf(check, all).filter(({ text }) => right.every(({ answers }) => answers !== readAlike(text))),
      wrong: wrong.map((each): AnswerChoice => ({ text: each.check.answer, means: each.check.challenge })),
      proof: heard("questions").wantsThisSeen({
        step: source.step === undefined ? heard("questions").theCard : heard("questions").step({ step: source.step }),
      }),
    });
    return question && !tellsItself(check, question) ? question : [];
  });
}

/** So many wrong answers are the right one with a word otherwise; the rest are others' answers. */
const MOST_SLIPS = 2;

/** The colours of lamps and marks that mean something (IEC 60073:2002, table 2; amber is its yellow, from memory). */
const COLOURS = ["red", "amber", "yellow", "green", "blue", "white"];

/**
 * A check's answer with one word otherwise: a number in words one less, or three for two, since the noun beside it
 * stands in the plural; a colour that another answer on the platform has. `four clicks, no yellow ring` -> `three
 * clicks, no yellow ring`. Empty where there is no such word.
 */
function slipsOf({ challenge, answer }: Check, all: readonly Placed[]): AnswerChoice[] {
  const words = answer.split(/(?<=\P{L})(?=\p{L})|(?<=\p{L})(?=\P{L})/u);
  const otherColours = COLOURS.filter((colour) => all.some(({ answers }) => answers.split(" ").includes(colour)));
  // What must not be there is not there in another colour or number either.
  const isDenied = (at: number) => /\b(?:no|not|none|nothing|without)\b[^,;]*$/i.test(words.slice(0, at).join(""));
  // `slots three and four` are two slots, and of `three of four` there are four.
  const isNamed = (at: number) =>
    ["and", "of"].includes(words[at - 2] ?? "") ||
    (words[at + 2] === "and" && numberOf(words[at + 4] ?? "") !== undefined);
  const otherwise = (word: string): string | undefined => {
    if (COLOURS.includes(word)) return otherColours.find((colour) => colour !== word);
    const figure = /^\p{Ll}+$/u.test(word) ? numberOf(word) : undefined;
    if (!figure || !/^(?:[2-9]|1[0-2])$/.test(figure)) return undefined;
    return numberInWords(figure === "2" ? 3 : Number(figure) - 1);
  };
  return words
    .flatMap((word, at): AnswerChoice[] => {
      const other = isDenied(at) || isNamed(at) ? undefined : otherwise(word);
      return other === undefined ? [] : [{ text: words.with(at, other).join(""), means: `${challenge}, ${other}` }];
    })
    .slice(0, MOST_SLIPS);
}

/** No answer is twice as long as all others, unless it is short. */
const SHORT_ANSWER = 30;

/** Whether the right answer is known without knowing it: it alone repeats the challenge, or is far longer than all. */
function tellsItself({ challenge, answer }: Check, { wrong }: MadeQuestion): boolean {
  const words = [...contentWords(challenge)].filter((word) => word.length > 3);
  const repeats = (text: string) => words.some((word) => readAlike(text).includes(word));
  const longest = Math.max(...wrong.map(({ text }) => text.length));
  return (
    (repeats(answer) && !wrong.some(({ text }) => repeats(text))) ||
    (answer.length > SHORT_ANSWER && answer.length > 2 * longest)
  );
}

/** How near one document's lines are to another's: 3 in the same one, 2 or 1 next to it, 0 far away. */
function nearnessOfChecks(ground: Ground, one: QuestionSource, other: QuestionSource): number {
  if (one.kind === other.kind && one.id === other.id) return 3;
  // A card's neighbours are the other cards, and what builds its arrangement.
  if (one.kind === "configuration" && other.kind === "configuration") return 2;
  const procedure = ground.platform.procedures.find(({ id }) => id === (one.kind === "procedure" ? one : other).id)!;
  if (one.kind === other.kind) return nearness(ground, procedure, other.id);
  const card = one.kind === "configuration" ? one.id : other.id;
  const { configurations, takesDown } = usesOf(ground.platform, procedure);
  return [...configurations, ...takesDown].some(({ id }) => id === card) ? 1 : 0;
}

/** Words that say that nothing is there: `bare` and `nothing lies there` are one answer. */
const NONE: ReadonlySet<string> = new Set(["bare", "empty", "nothing", "none", "no", "clear", "free"]);

/** Whether two answers say nothing in common, so that one can't pass for the other. */
function areUnlike(
  { check: { answer: a }, answers: one }: Placed,
  { check: { answer: b }, answers: other }: Placed,
): boolean {
  const saysNone = (text: string) => [...contentWords(text), ...text.split(" ")].some((word) => NONE.has(word));
  if (saysNone(a) && saysNone(b)) return false;
  return one !== other && sharedWords(a, b) === 0 && contentWords(a).size > 0 && contentWords(b).size > 0;
}

function placedChecks({ platform, arrangements }: Ground): Placed[] {
  const cards = arrangements
    .filter(({ options }) => options.length === 0)
    .flatMap(({ configuration }) =>
      configuration.checks.map((check) => ({
        check,
        ...formsOf(check),
        source: fromConfiguration(configuration, true),
        document: `configuration ${configuration.id}`,
      })),
    );
  const steps = usableProcedures(platform).flatMap((procedure) =>
    procedure.steps
      .filter((step) => step.procedure === procedure.id)
      .flatMap((step) =>
        step.checks.map((check) => ({
          check,
          ...formsOf(check),
          source: fromProcedure(procedure, step),
          document: `procedure ${procedure.id}`,
        })),
      ),
  );
  return [...cards, ...steps];
}

function formsOf({ challenge, answer }: Check): Pick<Placed, "asks" | "answers"> {
  return { asks: readAlike(challenge), answers: readAlike(answer) };
}

/**
 * Which challenge a card lacks. Wrong: challenges that are on other cards, or in procedures that build or take down its
 * arrangement, and not on this one.
 */
export function askMissingChecks(ground: Ground): MadeQuestion[] {
  const all = placedChecks(ground);
  return ground.arrangements
    .filter(({ options }) => options.length === 0)
    .flatMap(({ configuration }) => {
      const { checks } = configuration;
      const source = fromConfiguration(configuration, true);
      const others = all.filter(
        (each) =>
          nearnessOfChecks(ground, source, each.source) > 0 &&
          !checks.some((own) => sharedWords(own.challenge, each.check.challenge) > 0),
      );
      if (checks.length < 4) return [];
      return checks
        .filter(
          (check) => checks.filter((other) => readAlike(other.challenge) === readAlike(check.challenge)).length === 1,
        )
        .flatMap(
          (check) =>
            makeQuestion({
              kind: "missing",
              platform: ground.platform.id,
              source,
              asks: { card: configuration.id },
              prompt: heard("questions").theCardOfWhichChallenge({ configuration: configuration.title }),
              given: checks.filter((other) => other !== check).map(({ challenge }) => challenge),
              key: [{ text: check.challenge, means: check.challenge }],
              wrong: others.map(({ check: { challenge } }) => ({ text: challenge, means: challenge })),
              proof: heard("questions").theCardAsks({ answer: check.answer }),
            }) ?? [],
        );
    });
}

/** A step that gives its reason. */
interface Reasoned {
  readonly procedure: Procedure;
  readonly step: Step;
  readonly reason: string;
  /** What it moves and turns, and the incidents that it guards against. */
  readonly things: ReadonlySet<string>;
  /** The words of meaning in what it says. */
  readonly words: ReadonlySet<string>;
}

/**
 * Why a step is done. Wrong: reasons of other steps of the same procedure, or of those near it, that share no word of
 * meaning with this step and touch nothing that it moves, turns or guards against.
 */
export function askReasons(ground: Ground): MadeQuestion[] {
  const { platform } = ground;
  const places = new Set(platform.places.map(({ id }) => id));
  const steps = usableProcedures(platform).flatMap((procedure) =>
    procedure.steps
      .filter((step) => step.procedure === procedure.id && step.reason)
      .map((step): Reasoned => {
        const reason = reasonOf(step);
        return {
          procedure,
          step,
          reason,
          things: new Set(thingsOfStep(step).filter((thing) => !thing.startsWith("photo ") && !places.has(thing))),
          words: new Set([...contentWords(sayInstruction(step)), ...contentWords(reason)]),
        };
      }),
  );
  return steps.flatMap((own) => {
    const { procedure, step, reason } = own;
    if (!isUnmistakable(procedure.steps, step) || !reason) return [];
    const wrong = steps
      .map((other) => ({ other, near: nearness(ground, procedure, other.procedure.id) }))
      .filter(({ other, near }) => near > 0 && other !== own && isApart(own, other))
      .sort(
        (a, b) =>
          b.near - a.near || Math.abs(a.other.step.number - step.number) - Math.abs(b.other.step.number - step.number),
      );
    const choices = wrong.map(({ other, near }) => ({
      isOwn: near === OWN,
      choice: { text: other.reason, means: `${other.procedure.id}/${other.step.number}` },
    }));
    return (
      makeQuestion({
        kind: "reason",
        platform: platform.id,
        source: fromProcedure(procedure, step),
        asks: { procedure: procedure.id, step: String(step.number) },
        prompt: heard("questions").why({ procedure: procedure.title, step: sayInstruction(step) }),
        key: [{ text: reason, means: `${procedure.id}/${step.number}` }],
        wrong: ownFirst(
          choices.filter(({ isOwn }) => isOwn).map(({ choice }) => choice),
          choices.filter(({ isOwn }) => !isOwn).map(({ choice }) => choice),
        ),
        proof: heard("questions").stepGivesThisReason({ number: step.number }),
      }) ?? []
    );
  });
}

/** Whether another step's reason can't be this step's too. */
function isApart(own: Reasoned, other: Reasoned): boolean {
  const common = <Each>(one: ReadonlySet<Each>, two: ReadonlySet<Each>) => [...one].some((each) => two.has(each));
  return !common(own.things, other.things) && !common(own.words, contentWords(other.reason));
}

/** The author's reason for a step, as a sentence; "" if there is none. */
export function reasonOf({ reason }: Pick<Step, "reason">): string {
  return reason ? capital(plainText(reason.children).trim()) : "";
}
