/** Questions about single steps: which one is safety-critical, who does it, where a thing is on its photo. */
import { sayInstruction, sayWho } from "../say.ts";
import { fromConfiguration, fromProcedure, type Ground, isUnmistakable } from "./ground.ts";
import { type Choice, makeQuestion, type Question, readAlike } from "./question.ts";

/** Which of these steps is safety-critical. Wrong: steps of the same procedure that are not. */
export function askCritical({ platform }: Ground): Question[] {
  return approved(platform).flatMap((procedure) => {
    const steps = procedure.steps.filter((step) => isUnmistakable(procedure.steps, step));
    const plain = steps.filter(({ critical }) => !critical);
    return steps.filter(({ critical }) => critical).flatMap((step) => makeQuestion({
      kind: "critical", platform: platform.id, source: fromProcedure(procedure, step), asks: { procedure: procedure.id },
      prompt: `${procedure.title}. Which of these steps is safety-critical?`,
      key: [{ text: sayInstruction(step), means: String(step.number) }],
      wrong: [...plain].sort((a, b) => Math.abs(a.number - step.number) - Math.abs(b.number - step.number)).map((other) => ({ text: sayInstruction(other), means: String(other.number) })),
      proof: `Step ${step.number} is marked safety-critical; none of the others is.`,
    }) ?? []);
  });
}

/** Who does a step. Wrong: every other way to share it among the crew. */
export function askWho({ platform, service: { crew } }: Ground): Question[] {
  const ways = [...crew.map(({ id }) => [id]), ...(crew.length > 1 ? [crew.map(({ id }) => id)] : [])];
  const means = (by: readonly string[]) => [...by].sort().join(" ");
  return approved(platform).flatMap((procedure) => procedure.steps.filter((step) => step.by.length > 0 && step.critical && isUnmistakable(procedure.steps, step)).flatMap((step) => {
    const choice = (by: readonly string[]): Choice => ({ text: sayWho(by, crew), means: means(by) });
    return makeQuestion({
      kind: "who", platform: platform.id, source: fromProcedure(procedure, step), asks: { procedure: procedure.id, step: String(step.number) },
      prompt: `${procedure.title}. Who does this? “${sayInstruction(step)}”`, key: [choice(step.by)], wrong: ways.filter((by) => means(by) !== means(step.by)).map(choice),
      proof: `Step ${step.number} names ${sayWho(step.by, crew).toLowerCase()}.`,
    }) ?? [];
  }));
}

/** Which number on the photo marks this. Wrong: the other numbers on it. */
export function askPhotos({ platform, arrangements }: Ground): Question[] {
  const procedures = approved(platform);
  return platform.photos.filter(({ file, marks }) => file !== undefined && marks.length > 2).flatMap((photo) => {
    const procedure = procedures.find(({ steps }) => steps.some((step) => step.photos.some(({ id }) => id === photo.id)));
    const step = procedure?.steps.find((each) => each.photos.some(({ id }) => id === photo.id));
    const fallback = arrangements[0]?.configuration;
    const source = procedure && step ? fromProcedure(procedure, step) : fallback && fromConfiguration(fallback);
    if (!source) return [];
    return photo.marks.filter(({ n, label }) => label && photo.marks.filter((other) => readAlike(other.label) === readAlike(label) || other.n === n).length === 1).flatMap((mark) => makeQuestion({
      kind: "photo", platform: platform.id, source, asks: { photo: photo.id, label: mark.label }, photo: photo.id,
      prompt: `Find it on the photo: ${mark.label}. Which number is it?`, key: [{ text: String(mark.n), means: mark.label }],
      wrong: photo.marks.filter(({ n }) => n !== mark.n).map(({ n, label }) => ({ text: String(n), means: label })),
      proof: `Number ${mark.n} marks it.`,
    }) ?? []);
  });
}

function approved(platform: Ground["platform"]) {
  return platform.procedures.filter(({ status }) => status === "approved");
}
