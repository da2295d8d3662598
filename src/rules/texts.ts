/** Every running text of a collection with what it is, so that each wording rule looks only where it applies. */
import type {
  Alert,
  Block,
  Collection,
  Configuration,
  Controlled,
  Option,
  Paragraph,
  Platform,
  Procedure,
  Section,
  Service,
  Step,
} from "../schema/collection.ts";
import { remember } from "../domain/words/remember.ts";

/**
 * `instruction`: what a step says to do; `detail`: the rest of a step; `alert`: in a warning, caution or note; `text`:
 * purpose, sections, bodies.
 */
type TextKind = "instruction" | "reason" | "detail" | "alert" | "text";

/** A paragraph with where it belongs. */
export interface RunningText {
  readonly kind: TextKind;
  readonly paragraph: Paragraph;
  readonly record: Controlled;
  /** The step it belongs to; absent outside steps. */
  readonly step?: Step;
}

/**
 * Paragraphs of all procedures, configurations and options, in order. Included steps are read once, in the procedure
 * that wrote them.
 */
export const textsOf: (collection: Collection) => readonly RunningText[] = remember(({ platforms }: Collection) =>
  platforms.flatMap((platform) => [
    ...platform.procedures.flatMap(textsOfProcedure),
    ...[...platform.configurations, ...platform.options].flatMap(textsOfBody),
  ]),
);

/**
 * The steps that a procedure's own file holds, with their procedure; included ones stand in the other's file. Withdrawn
 * procedures are left out, and those of `damaged` files: what a step seems to lack may be what could not be read.
 */
export function ownSteps(
  collection: Collection,
  damaged: ReadonlySet<string> = new Set(),
): { readonly procedure: Procedure; readonly step: Step; readonly platform: Platform }[] {
  return collection.platforms.flatMap((platform) =>
    platform.procedures
      .filter(({ status, file }) => status !== "withdrawn" && !damaged.has(file))
      .flatMap((procedure) =>
        procedure.steps
          .filter((step) => step.procedure === procedure.id)
          .map((step) => ({ procedure, step, platform })),
      ),
  );
}

/** Whether the rules made for English apply. */
export function isEnglish(service: Service): boolean {
  return /^en\b/i.test(service.language);
}

function textsOfProcedure(procedure: Procedure): RunningText[] {
  return [
    ...inBlocks("text", procedure.purpose, procedure),
    ...procedure.sections.flatMap((section) => textsOfSection(section, procedure)),
  ];
}

function textsOfSection(section: Section, procedure: Procedure): RunningText[] {
  return section.entries.flatMap((entry) => {
    if (entry.kind === "include") return [];
    if (entry.kind === "step") return textsOfStep(entry, procedure);
    return inBlocks("text", [entry], procedure);
  });
}

function textsOfStep(step: Step, record: Controlled): RunningText[] {
  const alerts: readonly Alert[] = [...step.alerts, ...step.alertsAfter];
  return [
    { kind: "instruction", paragraph: step.instruction, record, step },
    ...(step.reason ? [{ kind: "reason", paragraph: step.reason, record, step } as const] : []),
    ...inBlocks("detail", step.detail, record, step),
    ...inBlocks("alert", alerts, record, step),
  ];
}

function textsOfBody(record: Configuration | Option): RunningText[] {
  return inBlocks("text", record.body, record);
}

/** Paragraphs in blocks, at any depth. */
function inBlocks(kind: TextKind, blocks: readonly Block[], record: Controlled, step?: Step): RunningText[] {
  return blocks.flatMap((block): RunningText[] => {
    if (block.kind === "paragraph") return [{ kind, paragraph: block, record, ...(step ? { step } : {}) }];
    if (block.kind === "alert") return inBlocks("alert", block.children, record, step);
    if (block.kind === "quote") return inBlocks(kind, block.children, record, step);
    if (block.kind === "list") return block.items.flatMap((item) => inBlocks(kind, item, record, step));
    return [];
  });
}
