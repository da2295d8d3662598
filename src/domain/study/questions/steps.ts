/** Questions about single steps: which one is safety-critical, who does it, where a thing is on its photo. */
import type { Photo, Step } from "../../../schema/collection.ts";
import { sayInstruction, sayWho } from "../../words/say.ts";
import { fromConfiguration, fromProcedure, type Ground, isUnmistakable } from "./ground.ts";
import { nearness } from "./near.ts";
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

/**
 * Which of these steps is safety-critical. Wrong: steps of the same procedure that are not, and that nothing else makes
 * grave: no hold, no incident, no warning, no line to be answered.
 */
export function askCritical({ platform }: Ground): MadeQuestion[] {
  return usableProcedures(platform).flatMap((procedure) => {
    const steps = procedure.steps.filter((step) => isUnmistakable(procedure.steps, step));
    const plain = steps.filter(
      ({ critical, hold, guards, alerts, checks }) =>
        !critical && !hold && guards.length === 0 && alerts.length === 0 && checks.length === 0,
    );
    return steps
      .filter(({ critical }) => critical)
      .flatMap(
        (step) =>
          makeQuestion({
            kind: "critical",
            platform: platform.id,
            source: fromProcedure(procedure, step),
            asks: { procedure: procedure.id },
            prompt: heard("questions").whichOfTheseSteps({ procedure: procedure.title }),
            key: [{ text: sayInstruction(step), means: String(step.number) }],
            wrong: [...plain]
              .sort((a, b) => Math.abs(a.number - step.number) - Math.abs(b.number - step.number))
              .map((other) => ({ text: sayInstruction(other), means: String(other.number) })),
            proof: heard("questions").stepIsSafetyCritical({ number: step.number }),
          }) ?? [],
      );
  });
}

/**
 * Who does a step: asked only where it takes more than one of them, or where nobody goes on until it is done. Who of
 * the crew turns which pin is as it was shared out, and not worth learning by heart. Wrong: every other way.
 */
export function askWho({ platform, service: { crew } }: Ground): MadeQuestion[] {
  const ways = [...crew.map(({ id }) => [id]), ...(crew.length > 1 ? [crew.map(({ id }) => id)] : [])];
  const means = (by: readonly string[]) => [...by].sort().join(" ");
  return usableProcedures(platform).flatMap((procedure) =>
    procedure.steps
      .filter(
        (step) =>
          step.critical &&
          step.by.length > 0 &&
          (step.by.length > 1 || step.hold) &&
          isUnmistakable(procedure.steps, step),
      )
      .flatMap((step) => {
        const choice = (by: readonly string[]): AnswerChoice => ({ text: sayWho(by, crew), means: means(by) });
        return (
          makeQuestion({
            kind: "who",
            platform: platform.id,
            source: fromProcedure(procedure, step),
            asks: { procedure: procedure.id, step: String(step.number) },
            prompt: heard("questions").whoDoes({ procedure: procedure.title, step: sayInstruction(step) }),
            key: [choice(step.by)],
            wrong: ways.filter((by) => means(by) !== means(step.by)).map(choice),
            proof: heard("questions").stepNames({ number: step.number, by: sayWho(step.by, crew).toLowerCase() }),
          }) ?? []
        );
      }),
  );
}

/** Which number on the photo marks this. Wrong: the other numbers on it. */
export function askPhotos(ground: Ground): MadeQuestion[] {
  return markedPhotos(ground)
    .filter(({ photo }) => photo.marks.length > 2)
    .flatMap(({ photo, source }) =>
      clearMarks(photo).flatMap(
        (mark) =>
          makeQuestion({
            kind: "photo",
            platform: ground.platform.id,
            source,
            asks: { photo: photo.id, label: mark.label },
            photo: photo.id,
            prompt: heard("questions").findIt({ label: mark.label }),
            key: [{ text: String(mark.n), means: mark.label }],
            wrong: photo.marks
              .filter(({ n }) => n !== mark.n)
              .map(({ n, label }) => ({ text: String(n), means: label })),
            proof: heard("questions").numberMarks({ n: mark.n }),
          }) ?? [],
      ),
    );
}

/**
 * What a number on the photo marks. Wrong: what its other numbers mark, and marks of photos of the same procedure or of
 * those near it, if they share no word of meaning with any here.
 */
export function askMarks(ground: Ground): MadeQuestion[] {
  const all = markedPhotos(ground);
  return all.flatMap(({ photo, source }) => {
    const procedure = ground.platform.procedures.find(({ id }) => source.kind === "procedure" && id === source.id);
    const elsewhere = all
      .filter((other) => other.photo !== photo && other.source.kind === "procedure")
      .map((other) => ({
        marks: other.photo.marks,
        near: procedure ? nearness(ground, procedure, other.source.id) : 0,
      }))
      .filter(({ near }) => near > 0)
      .sort((a, b) => b.near - a.near)
      .flatMap(({ marks }) => marks)
      .filter(({ label }) => photo.marks.every((mark) => sharedWords(mark.label, label) === 0));
    return clearMarks(photo).flatMap(
      (mark) =>
        makeQuestion({
          kind: "mark",
          platform: ground.platform.id,
          source,
          asks: { photo: photo.id, n: String(mark.n) },
          photo: photo.id,
          prompt: heard("questions").whatDoesNumber({ n: mark.n }),
          key: [{ text: mark.label, means: String(mark.n) }],
          wrong: [
            ...photo.marks.filter(({ n }) => n !== mark.n).map(({ n, label }) => ({ text: label, means: String(n) })),
            ...elsewhere.map(({ label }) => ({ text: label, means: "near" })),
          ],
          proof: heard("questions").numberNMarksLabel({ n: mark.n, label: mark.label }),
        }) ?? [],
    );
  });
}

/**
 * Which picture goes with a step that turns a fastening: the answers are ids of photos. Wrong: photos of steps that
 * turn the same fastening into another state. A photo that several steps show is one of them only if all turn it alike.
 */
export function askPictures({ platform }: Ground): MadeQuestion[] {
  const steps = usableProcedures(platform).flatMap((procedure) =>
    procedure.steps
      .filter((step) => step.procedure === procedure.id)
      .map((step) => ({ procedure, step, turn: onlyTurn(step) })),
  );
  const turns = new Map<string, Turn>();
  for (const { step, turn } of steps)
    for (const { id } of step.photos) turns.set(id, isSameTurn(turns.get(id) ?? turn, turn) ? turn : OTHERWISE);
  const photos = platform.photos.filter(
    ({ id, file, image }) => file !== undefined && image !== undefined && turns.get(id)?.fastening !== undefined,
  );
  return steps.flatMap(({ procedure, step, turn }) => {
    const key = photos.find(({ id }) => id === step.photos[0]?.id);
    if (!key || !turn.fastening || !isUnmistakable(procedure.steps, step)) return [];
    const wrong = photos.filter(({ id }) => {
      const other = turns.get(id)!;
      return other.fastening === turn.fastening && other.to !== turn.to;
    });
    return (
      makeQuestion({
        kind: "picture",
        platform: platform.id,
        source: fromProcedure(procedure, step),
        asks: { procedure: procedure.id, step: String(step.number) },
        prompt: heard("questions").whichPictureGoes({ procedure: procedure.title, step: sayInstruction(step) }),
        key: [{ text: key.id, means: key.id }],
        wrong: wrong.map(({ id }) => ({ text: id, means: id })),
        proof: heard("questions").itStandsAtStep({ number: step.number }),
      }) ?? []
    );
  });
}

/** The one fastening that a step turns, and into which state; empty where it turns none, or more than one. */
interface Turn {
  readonly fastening?: string;
  readonly to?: string;
}

const OTHERWISE: Turn = {};

const isSameTurn = (one: Turn, other: Turn): boolean => one.fastening === other.fastening && one.to === other.to;

function onlyTurn({ operations }: Step): Turn {
  const [first = OTHERWISE, ...others] = operations.filter((each) => each.kind === "turn");
  return others.every((each) => isSameTurn(each, first)) ? first : OTHERWISE;
}

interface Marked {
  readonly photo: Photo;
  readonly source: QuestionSource;
}

/** Photos with an image and marks, with the first step that shows each. */
function markedPhotos({ platform, arrangements }: Ground): Marked[] {
  const procedures = usableProcedures(platform);
  return platform.photos
    .filter(({ file, image, marks }) => file !== undefined && image !== undefined && marks.length > 0)
    .flatMap((photo) => {
      const shows = (step: Step) => step.photos.some(({ id }) => id === photo.id);
      const procedure = procedures.find(({ steps }) => steps.some(shows));
      const fallback = arrangements[0]?.configuration;
      const source = procedure
        ? fromProcedure(procedure, procedure.steps.find(shows))
        : fallback && fromConfiguration(fallback);
      return source ? [{ photo, source }] : [];
    });
}

/** Words that tell one of several apart and name nothing: where it is the third, only the step says what. */
const NAMELESS = new Set("first second third fourth fifth sixth small large left right upper lower".split(" "));

/** Marks whose label names a thing, and whose label and number are no other's on the photo. */
function clearMarks({ marks }: Photo): Photo["marks"] {
  return marks.filter(
    ({ n, label }) =>
      [...contentWords(label)].some((word) => !NAMELESS.has(word)) &&
      marks.filter((other) => readAlike(other.label) === readAlike(label) || other.n === n).length === 1,
  );
}
