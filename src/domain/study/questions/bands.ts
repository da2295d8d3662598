/**
 * Questions about bands: which arrangement for this weight, which option may go with it, which step is for this
 * patient.
 */
import { wordsFor } from "../../../words/words.ts";
import type { Band, Configuration } from "../../../schema/collection.ts";
import { holdsPatient, sayBand, sayRange } from "../../bands/bands.ts";
import { endsOf, sayNear } from "../../bands/say-mass.ts";
import { sayInstruction } from "../../words/say.ts";
import { fromConfiguration, fromProcedure, type Ground, isSameDeed, isUnmistakable } from "./ground.ts";
import { type Invented, inventPatients } from "./patients.ts";
import { type AnswerChoice, makeQuestion, type MadeQuestion } from "./question.ts";
import { areApart } from "../../parts/arrangements.ts";
import { heard } from "../../../words/heard.ts";
import { usableProcedures } from "../../parts/lookup.ts";

/** Which arrangement is for a patient told in kilograms or in pounds: at, just below and just above every end. */
export function askArrangements({ service, platform, arrangements }: Ground): MadeQuestion[] {
  const configurations = arrangements
    .filter(({ options }) => options.length === 0)
    .map(({ configuration }) => configuration);
  const words = wordsFor(service).study,
    nobody: AnswerChoice = { text: words.nobody, means: "none" };
  const bands = [service.band, ...configurations.map(({ band }) => band)];
  return inventPatients(bands).flatMap((patient) => {
    const right = configurations.filter(({ band }) => holdsPatient(band, patient));
    const carried = holdsPatient(service.band, patient);
    // Whom the service does not carry is told as the service tells weights, not as a slip between units makes it.
    if (!carried && patient.told.includes(" lb")) return [];
    // A gap or an overlap is a finding of its own; nobody is asked about it.
    if (right.length > 1 || (right.length === 0) === carried) return [];
    const nearest = right[0] ?? nearestTo(configurations, patient.weight);
    if (!nearest) return [];
    const key = right[0] ? choiceOf(right[0]) : nobody;
    const wrong = [
      ...configurations
        .filter((each) => !right.includes(each))
        .sort((a, b) => distance(a.band, patient.weight) - distance(b.band, patient.weight))
        .map(choiceOf),
      ...(right[0] ? [nobody] : []),
    ];
    const weight = inKilograms(patient, bands);
    return (
      makeQuestion({
        kind: "arrangement",
        platform: platform.id,
        source: fromConfiguration(nearest, true),
        asks: asked(patient),
        prompt: words.whichArrangement({ which: platform.name, told: patient.told }),
        key: [key],
        wrong,
        proof: right[0]
          ? heard("questions").belongsTo({ weight, right: right[0].title, band: sayBand(right[0].band) })
          : heard("questions").liesOutsideWhat({ weight, band: sayBand(service.band) }),
      }) ?? []
    );
  });
}

function choiceOf({ id, title }: Configuration): AnswerChoice {
  return { text: title, means: id };
}

/** Which option of a configuration may not be fitted for a patient, or beside another option. */
export function askOptions({ service, platform, arrangements }: Ground): MadeQuestion[] {
  const words = wordsFor(service).study;
  const bare = arrangements.filter(({ options }) => options.length === 0).map(({ configuration }) => configuration);
  return bare.flatMap((configuration) => {
    const options = configuration.options.flatMap(
      ({ id }) => platform.options.find((option) => option.id === id && option.status === "approved") ?? [],
    );
    const beside = options.flatMap((fitted) => {
      const barred = options.filter((other) => other !== fitted && areApart(fitted, other));
      return barred.map((key) =>
        makeQuestion({
          kind: "option",
          platform: platform.id,
          source: fromConfiguration(configuration, true),
          asks: { configuration: configuration.id, beside: fitted.id },
          prompt: heard("questions").withThisFitted({ configuration: configuration.title, fitted: fitted.title }),
          key: [{ text: key.title, means: key.id }],
          wrong: options
            .filter((other) => other !== fitted && !areApart(fitted, other))
            .map(({ title, id }) => ({ text: title, means: id })),
          proof: heard("questions").andAreNeverFitted({ key: key.title, fitted: fitted.title }),
        }),
      );
    });
    const forPatients = inventPatients(
      options.map(({ band }) => band),
      [configuration.band],
    )
      .filter((patient) => holdsPatient(configuration.band, patient))
      .flatMap((patient) => {
        const barred = options.filter(({ band }) => !holdsPatient(band, patient));
        const free = options.filter(({ band }) => holdsPatient(band, patient));
        return barred.map((key) =>
          makeQuestion({
            kind: "option",
            platform: platform.id,
            source: fromConfiguration(configuration, true),
            asks: { ...asked(patient), configuration: configuration.id },
            prompt: words.whichNotFor({ which: configuration.title, told: patient.told }),
            key: [{ text: key.title, means: key.id }],
            wrong: free.map(({ title, id }) => ({ text: title, means: id })),
            proof: words.onlyFor({ which: key.title, band: sayPatients(key.band) }),
          }),
        );
      });
    return [...beside, ...forPatients].filter((question) => question !== undefined);
  });
}

/** Which of these steps is for this patient, in procedures whose steps differ between patients. */
export function askApplies({ platform, service }: Ground): MadeQuestion[] {
  const words = wordsFor(service).study;
  return usableProcedures(platform).flatMap((procedure) => {
    const steps = procedure.steps.filter(
      (step) => (step.ownWeight || step.ownAge) && isUnmistakable(procedure.steps, step),
    );
    const patients = inventPatients(
      steps.map(({ band }) => band),
      [procedure.band, service.band],
    ).filter((patient) => holdsPatient(procedure.band, patient) && holdsPatient(service.band, patient));
    return patients.flatMap((patient) => {
      const right = steps.filter(({ band }) => holdsPatient(band, patient));
      return right.flatMap(
        (step) =>
          makeQuestion({
            kind: "applies",
            platform: platform.id,
            source: fromProcedure(procedure, step),
            asks: { ...asked(patient), procedure: procedure.id },
            prompt: words.whichStep({ which: procedure.title, told: patient.told }),
            key: [{ text: sayInstruction(step), means: String(step.number) }],
            wrong: steps
              .filter((other) => !right.includes(other) && !isSameDeed(step, other))
              .map((other) => ({ text: sayInstruction(other), means: String(other.number) })),
            proof: words.stepFor({ number: step.number, band: sayPatients(step.band) }),
          }) ?? [],
      );
    });
  });
}

function asked({ weight, age, told }: Invented): Record<string, string> {
  return { told, weight: String(weight), ...(age === undefined ? {} : { age: String(age) }) };
}

function inKilograms({ told, weight }: Invented, bands: readonly Band[]): string {
  return told.includes(" lb")
    ? heard("questions").toldIsWeight({ told, weight: sayNear(weight, endsOf(bands.map((band) => band.weight))) })
    : told;
}

function nearestTo(configurations: readonly Configuration[], weight: bigint): Configuration | undefined {
  return [...configurations].sort((a, b) => distance(a.band, weight) - distance(b.band, weight))[0];
}

/** A band in words, without the part that leaves nobody out. */
function sayPatients(band: Band): string {
  const { weight, age } = band;
  return !weight.from && !weight.to && (age.from || age.to) ? sayRange(age) : sayBand(band);
}

/** How far a weight lies outside a band, in kilograms; 0 inside. */
function distance({ weight: { from, to } }: Band, weight: bigint): number {
  if (from && weight < from.value) return Number(from.value - weight) / 1e20;
  return to && weight > to.value ? Number(weight - to.value) / 1e20 : 0;
}
