/** What the card of a configuration says, from frozen or present contents, and the check code of it. */
import type { Range } from "../../schema/collection.ts";
import { covers, meet } from "../bands/bands.ts";
import { codeOf } from "./check-code.ts";
import {
  type AlertContent,
  plainBlocks,
  type CheckContent,
  type ConfigurationContent,
  type Content,
  type FittedContent,
  type OptionContent,
  type ProcedureContent,
  type RangeContent,
  type StepContent,
} from "../records/content.ts";
import { wordsOf } from "../records/edits.ts";
import { hashOf } from "../records/freeze.ts";
import { numberedSteps } from "../records/match-steps.ts";
import { buildsAmong, ownBuilders } from "../parts/builds.ts";
import { remember } from "../words/remember.ts";
import { plainText } from "../words/say.ts";
import { isReplaced } from "./subjects.ts";
import { sayRangeText } from "../bands/say-range-text.ts";

/**
 * A line of the card: a challenge with its answer, or a hold with what is looked at; `only` says for whom a hold is
 * that is not for every patient of the card.
 */
export type CardLine =
  | {
      readonly kind: "check";
      readonly challenge: string;
      readonly answer: string;
      readonly by: readonly string[];
      readonly critical: boolean;
      /** The challenge of the line in whose place it is read while its option is fitted. */
      readonly replaces?: string;
    }
  | {
      readonly kind: "hold";
      readonly text: string;
      readonly by: readonly string[];
      readonly checks: readonly CheckContent[];
      readonly only?: string;
      /** Its step's warnings and cautions, as the card's own: read before it is done. Absent without any. */
      readonly warnings?: readonly string[];
    };

/** What the card of one configuration says, from frozen contents alone: everything that its check code covers. */
export interface CardContent {
  readonly platform: string;
  readonly configuration: string;
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  readonly effective?: string;
  readonly weight: string;
  readonly age: string;
  readonly lines: readonly CardLine[];
  readonly warnings: readonly string[];
  readonly count: readonly FittedContent[];
  /** What to look at as well, if the option is fitted. */
  readonly options: readonly {
    readonly id: string;
    readonly title: string;
    readonly code: string;
    readonly weight: string;
    readonly age: string;
    readonly lines: readonly CardLine[];
  }[];
}

/**
 * The card of a configuration. Its lines are the configuration's checks in order. One is safety-critical if a critical
 * step that builds the configuration
 * has a check of the same name. The holds of those steps that are looked at stand after the last line that the
 * procedure has reached by then.
 * Options and procedures may be all of the platform's; those that do not concern the configuration are left out.
 * Review date, masses and photos are not part of it: none of them changes what the crew looks at.
 */
export function cardContentOf(configuration: ConfigurationContent, contents: readonly Content[]): CardContent {
  const buildersOf = cardBuilders(configuration, contents);
  const options = configuration.options.flatMap((id) =>
    contents.filter((content): content is OptionContent => content.kind === "option" && content.id === id),
  );
  const warnings = dangersOf(configuration.body.filter((block) => block.kind === "alert"));
  const { platform, id, title, code, revision, effective, weight, age, fitted } = configuration;
  return {
    platform,
    configuration: id,
    title,
    code,
    revision,
    ...(effective ? { effective } : {}),
    weight: weight.text,
    age: age.text,
    lines: linesOf(configuration.checks, buildersOf(configuration), configuration),
    warnings,
    count: fitted,
    options: options.map((option) => ({
      id: option.id,
      title: option.title,
      code: option.code,
      weight: option.weight.text,
      age: option.age.text,
      lines: linesOf(option.checks, buildersOf(option), configuration),
    })),
  };
}

/**
 * What the card says for one arrangement: with these options fitted, and no others. Lines in whose place an option's
 * is read are left out, at a hold too; what an option has left is in its part, in the card's order.
 */
export function contentWithOptions(content: CardContent, options: readonly string[]): CardContent {
  const fitted = content.options.filter(({ id }) => options.includes(id));
  const groups = [content.lines, ...fitted.map(({ lines }) => lines)];
  const checks = groups.map((lines) => lines.filter((line) => line.kind === "check"));
  const [own = [], ...rest] = groups.map((lines, at) =>
    lines.flatMap((line): CardLine[] => {
      const stands = (look: Pick<CheckContent, "challenge" | "replaces">) => !isReplaced(look, at, checks);
      if (line.kind === "check") return stands(line) ? [line] : [];
      const looks = line.checks.filter(stands);
      return looks.length > 0 ? [{ ...line, checks: looks }] : [];
    }),
  );
  return { ...content, lines: own, options: fitted.map((option, at) => ({ ...option, lines: rest[at]! })) };
}

/** The challenges of a card's own lines that are safety-critical; sign-offs and forms mark the same ones. */
export function criticalChallenges({ lines }: Pick<CardContent, "lines">): Set<string> {
  return new Set(lines.flatMap((line) => (line.kind === "check" && line.critical ? [line.challenge] : [])));
}

/** The check code of a card of the time before editions, on which warnings of holds were not printed. */
export function cardCodeOf(card: CardContent): string {
  const linesThen = (lines: readonly CardLine[]) =>
    lines.map((line) => {
      if (line.kind === "check") return line;
      const { warnings: _, ...then } = line;
      return then;
    });
  const options = card.options.map((option) => ({ ...option, lines: linesThen(option.lines) }));
  return codeOf(hashOf({ ...card, lines: linesThen(card.lines), options }));
}

/**
 * Tells which procedures build a configuration, or an option on top of it, for some patient of the configuration: as
 * `buildsAmong` and `ownBuilders` say over what is frozen, with the procedures that those include. By id; empty if none
 * builds it.
 */
export function cardBuilders(
  configuration: ConfigurationContent,
  contents: readonly Content[],
): (record: ConfigurationContent | OptionContent) => ProcedureContent[] {
  const procedures = contents
    .filter((content): content is ProcedureContent => content.kind === "procedure")
    .filter((procedure) => concerns(procedure, configuration))
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  const configurations = [
    configuration,
    ...contents.filter(
      (content): content is ConfigurationContent => content.kind === "configuration" && content.id !== configuration.id,
    ),
  ];
  const options = contents.filter((content): content is OptionContent => content.kind === "option");
  const built = new Map(
    procedures.map((procedure) => {
      const isMet = (document: ConfigurationContent | OptionContent) => concerns(procedure, document);
      const { configurations: whole, options: added } = buildsAmong(
        { steps: stepsRun(procedure, contents) },
        configurations.filter(isMet),
        options.filter(isMet),
      );
      return [procedure, new Set<object>([...whole, ...added])] as const;
    }),
  );
  const run = procedures.map((procedure) => ({ procedure, steps: stepsRun(procedure, contents) }));
  const buildersOf = (record: ConfigurationContent | OptionContent) => {
    const builders = run.filter(({ procedure }) => built.get(procedure)!.has(record));
    const isForAll = ({ procedure, steps }: (typeof run)[number]) =>
      [procedure, ...steps].every((part) => isForAllOf(part, record));
    const own = record.kind === "option" ? builders : ownBuilders(record, builders, configurations, isForAll);
    return own.map(({ procedure }) => procedure);
  };
  return (record) => {
    const found = new Set<string>();
    const visit = (procedure: ProcedureContent) => {
      if (found.has(procedure.id)) return;
      found.add(procedure.id);
      for (const id of includedIn(procedure)) procedures.filter((each) => each.id === id).forEach(visit);
    };
    buildersOf(record).forEach(visit);
    return procedures.filter(({ id }) => found.has(id));
  };
}

/** The steps that a procedure runs, included ones in their place; an include that is not in force runs nothing. */
function stepsRun(
  procedure: ProcedureContent,
  contents: readonly Content[],
  above: readonly string[] = [],
): readonly StepContent[] {
  if (above.includes(procedure.id)) return [];
  const includes = includedIn(procedure);
  if (includes.length === 0) return ownSteps(procedure);
  return [
    ...ownSteps(procedure),
    ...contents.flatMap((content) =>
      content.kind === "procedure" && includes.includes(content.id)
        ? stepsRun(content, contents, [...above, procedure.id])
        : [],
    ),
  ];
}

/** A procedure's own steps; listed once. */
const ownSteps = remember((procedure: ProcedureContent): readonly StepContent[] =>
  numberedSteps(procedure).map(({ step }) => step),
);

/** Ids of the procedures whose steps a procedure runs. */
const includedIn = remember((procedure: ProcedureContent): readonly string[] =>
  procedure.sections.flatMap(({ entries }) =>
    entries.flatMap((entry) => (entry.kind === "include" ? [entry.procedure] : [])),
  ),
);

function linesOf(
  checks: readonly CheckContent[],
  builders: readonly ProcedureContent[],
  configuration: ConfigurationContent,
): CardLine[] {
  // A step for other patients than the card's neither makes a line safety-critical nor holds anybody.
  const steps = builders.map((procedure) => ownSteps(procedure).filter((step) => concerns(step, configuration)));
  const criticalNames = new Set(
    steps
      .flat()
      .filter((step) => step.critical)
      .flatMap((step) => step.checks.map(nameOf)),
  );
  const lines: CardLine[] = checks.map(({ challenge, answer, by, replaces }) => ({
    kind: "check",
    challenge,
    answer,
    by,
    critical: criticalNames.has(nameOf({ challenge })),
    ...(replaces !== undefined ? { replaces } : {}),
  }));
  for (const ownSteps of steps)
    for (const [index, step] of ownSteps.entries()) {
      if (!step.hold || !step.checks.length) continue;
      const names = new Set(ownSteps.slice(0, index + 1).flatMap(({ checks }) => checks.map(nameOf)));
      const reached = lines.findLastIndex((line) => line.kind === "check" && names.has(nameOf(line)));
      let at = reached < 0 ? lines.length : reached + 1;
      while (lines[at]?.kind === "hold") at += 1;
      lines.splice(at, 0, holdOf(step, configuration));
    }
  return lines;
}

/** Whether a step or a procedure is for some patient of a document. */
function concerns(
  { weight, age }: Pick<StepContent, "weight" | "age">,
  document: { readonly weight: RangeContent; readonly age: RangeContent },
): boolean {
  return (
    (!weight || meet(rangeFrom(weight), rangeFrom(document.weight)) !== undefined) &&
    (!age || meet(rangeFrom(age), rangeFrom(document.age)) !== undefined)
  );
}

/** Whether a step or a procedure is for every patient of a document. */
function isForAllOf(
  { weight, age }: Pick<StepContent, "weight" | "age">,
  document: { readonly weight: RangeContent; readonly age: RangeContent },
): boolean {
  return (
    (!weight || covers(rangeFrom(weight), rangeFrom(document.weight))) &&
    (!age || covers(rangeFrom(age), rangeFrom(document.age)))
  );
}

/** Warnings and cautions in words, the signal before each. */
const dangersOf = (alerts: readonly AlertContent[]): string[] =>
  alerts.filter(({ signal }) => signal !== "note").map(({ signal, children }) => `${signal}: ${plainBlocks(children)}`);

/** A warning or caution of a card, its signal apart from its words. */
export function readDanger(said: string): { readonly signal: "warning" | "caution"; readonly text: string } {
  const signal = said.startsWith("caution: ") ? "caution" : "warning";
  return { signal, text: said.slice(said.indexOf(": ") + 2).replaceAll("\n", " ") };
}

function holdOf(step: StepContent, configuration: ConfigurationContent): CardLine {
  const only = [
    [step.weight, configuration.weight],
    [step.age, configuration.age],
  ]
    .flatMap(([own, whole]) =>
      own && whole && !covers(rangeFrom(own), rangeFrom(whole)) ? [sayRangeText(own.text)] : [],
    )
    .join(", ");
  const warnings = dangersOf([...step.alerts, ...step.alertsAfter]);
  return {
    kind: "hold",
    text: plainText(step.instruction),
    by: step.by,
    checks: step.checks,
    ...(only ? { only } : {}),
    ...(warnings.length > 0 ? { warnings } : {}),
  };
}

function nameOf({ challenge }: { readonly challenge: string }): string {
  return wordsOf(challenge).join(" ");
}

/** A frozen range with its exact ends, read once. */
const rangeFrom = remember(({ text, from, to }: RangeContent): Range => {
  const end = ({ value, owned }: { value: string; owned: boolean }) => ({ value: BigInt(value), owned, text: "" });
  return { text, ...(from ? { from: end(from) } : {}), ...(to ? { to: end(to) } : {}) };
});
