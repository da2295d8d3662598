/** Everything that an item touches, so that nothing is forgotten when it is recalled or replaced by another model. */
import type {
  Amendment,
  Check,
  Collection,
  Configuration,
  Folder,
  FolderCopy,
  Item,
  Option,
  Photo,
  Platform,
  Procedure,
  Step,
} from "../../schema/collection.ts";
import { subjectsOf } from "../cards/subjects.ts";
import { amendmentsToCome } from "../force/amendments.ts";
import { configurationOf } from "../parts/arrangements.ts";
import { findTouches } from "../parts/handling.ts";
import { listQuestions } from "../study/questions.ts";
import { nameInText } from "../words/names.ts";
import { linesOf, sayInstruction } from "../words/say.ts";
import { usableProcedures } from "../parts/lookup.ts";

/** How a step touches an item: it moves it, turns what holds it, asks a check about it, or only names it. */
type Touch = "moves" | "turns" | "looks" | "names";

interface TouchedStep {
  readonly step: Step;
  readonly how: readonly Touch[];
}

/** What an item touches, in the order in which somebody would deal with it: what lies about first, records last. */
export interface Recall {
  readonly item: Item;
  /** Configurations and options that fit it. */
  readonly fittedIn: readonly (Configuration | Option)[];
  /** Copies in folders of the cards that touch it, by folder. */
  readonly copies: readonly { readonly folder: Folder; readonly copies: readonly FolderCopy[] }[];
  /** Cards with the lines that are about it (none: it is only counted or drawn there). */
  readonly cards: readonly { readonly configuration: Configuration; readonly lines: readonly Check[] }[];
  /** Approved procedures with the steps that touch it; a step of another procedure stands with its own. */
  readonly procedures: readonly { readonly procedure: Procedure; readonly steps: readonly TouchedStep[] }[];
  /**
   * Temporary amendments that run on the day or are still to come, and take it out of service, touch it in a step that
   * they replace or put in its place, or name it.
   */
  readonly amendments: readonly Amendment[];
  /** Photos of these steps, and others with a mark that names it. */
  readonly photos: readonly Photo[];
  /** How many questions are about these steps or name it. */
  readonly questions: number;
  /** Documents for which people are signed off, and that touch it: all fitting ones, all procedures above. */
  readonly signOffs: readonly (Configuration | Procedure)[];
}

/** Everything on a platform that the item with this id touches, in what is in force; `undefined` if there is none. */
export function recall(collection: Collection, platform: Platform, id: string): Recall | undefined {
  const item = platform.items.find((each) => each.id === id);
  if (!item) return undefined;
  const { service, folders } = collection;
  const names = namer(item);
  const isAbout = (check: Check) =>
    subjectsOf(check, platform, service.otherNames ?? {}).some(
      (subject) => subject.kind === "item" && subject.id === id,
    ) ||
    names(check.challenge) ||
    names(check.answer);
  const places = placesOf(platform, id);
  const touches = findTouches(platform),
    stepsOf = (found: readonly { readonly step: Step }[] = []) => new Set(found.map(({ step }) => step));
  const holding = platform.fastenings.filter(({ holds }) => holds.some((place) => places.has(place))),
    turnedIds = new Set(holding.map((fastening) => fastening.id));
  const moved = stepsOf(touches.items.get(id)),
    turned = stepsOf(holding.flatMap((fastening) => touches.fastenings.get(fastening.id) ?? []));
  const sought = { moved, turned, isAbout, names };
  const fits = ({ fitted }: Configuration | Option) => fitted.some((each) => each.item === id);
  const fittedIn = [...platform.configurations, ...platform.options].filter(fits);
  const cards = platform.configurations.flatMap((configuration) => {
    const own = platform.options.filter((option) => configuration.options.some((each) => each.id === option.id)),
      records = [configuration, ...own],
      lines = records.flatMap(({ checks }) => checks.filter(isAbout));
    return lines.length || records.some(fits) ? [{ configuration, lines }] : [];
  });
  const procedures = usableProcedures(platform).flatMap((procedure) => {
    const steps = procedure.steps
      .filter((step) => step.procedure === procedure.id)
      .map((step): TouchedStep => ({ step, how: touchesOf(step, sought) }))
      .filter(({ how }) => how.length > 0);
    return steps.length ? [{ procedure, steps }] : [];
  });
  const amendments = amendmentsToCome(platform, collection.on ?? "").filter(
    ({ out, title, reason, alerts, steps, amends, body }) =>
      out.some((each) => each.id === id) ||
      [title, reason, ...[...alerts, ...body].flatMap(linesOf)].some(names) ||
      steps.some(
        (step) =>
          movesOrTurns(step, id, turnedIds) ||
          touchesOf(step, sought).length > 0 ||
          procedures.some(
            ({ procedure, steps: touched }) =>
              amends.some((each) => each.procedure === procedure.id) &&
              touched.some((each) => each.step.id !== undefined && each.step.id === step.replaces?.id),
          ),
      ),
  );
  const shown = new Set(
    procedures.flatMap(({ steps }) => steps.flatMap(({ step }) => step.photos.map((photo) => photo.id))),
  );
  const touched = new Set(
    procedures.flatMap(({ procedure, steps }) => steps.map(({ step }) => `${procedure.id} ${step.number}`)),
  );
  return {
    item,
    fittedIn,
    copies: folders.flatMap((folder) => {
      const copies = folder.copies.filter(
        (copy) =>
          copy.platform === platform.id &&
          copy.card
            .split("--")
            .some((side) => cards.some(({ configuration }) => configuration.id === configurationOf(side))),
      );
      return copies.length ? [{ folder, copies }] : [];
    }),
    cards,
    procedures,
    amendments,
    photos: platform.photos.filter((photo) => shown.has(photo.id) || photo.marks.some(({ label }) => names(label))),
    questions: listQuestions(service, platform).filter(
      ({ source, prompt, given, key }) =>
        touched.has(`${source.id} ${source.step ?? 0}`) ||
        [prompt, ...given, ...key.map(({ text }) => text)].some(names),
    ).length,
    signOffs: [...cards.map(({ configuration }) => configuration), ...procedures.map(({ procedure }) => procedure)],
  };
}

/** The places where any arrangement or step puts an item, its home too. */
function placesOf(platform: Platform, id: string): ReadonlySet<string> {
  const { items, configurations, options, procedures } = platform;
  return new Set([
    ...items.filter((item) => item.id === id).map(({ home }) => home),
    ...[...configurations, ...options].flatMap(({ fitted }) =>
      fitted.filter((each) => each.item === id).map(({ place }) => place),
    ),
    ...procedures.flatMap(({ steps }) =>
      steps.flatMap(({ operations }) =>
        operations.flatMap((act) => (act.kind === "move" && act.item === id ? [act.from, act.to] : [])),
      ),
    ),
  ]);
}

/** Whether a step moves an item or turns a fastening of these. */
function movesOrTurns({ operations }: Step, item: string, fastenings: ReadonlySet<string>): boolean {
  return operations.some((act) => (act.kind === "move" ? act.item === item : fastenings.has(act.fastening)));
}

/** Whether words name the item: its whole name, in any case, in one or several. */
function namer({ name }: Item): (words: string) => boolean {
  const pattern = new RegExp(nameInText(name), "iu");
  return (words) => pattern.test(words);
}

interface Sought {
  readonly moved: ReadonlySet<Step>;
  readonly turned: ReadonlySet<Step>;
  readonly isAbout: (check: Check) => boolean;
  readonly names: (words: string) => boolean;
}

function touchesOf(step: Step, { moved, turned, isAbout, names }: Sought): Touch[] {
  const moves = moved.has(step),
    turns = turned.has(step),
    looks = step.checks.some(isAbout);
  const all: [Touch, boolean][] = [
    ["moves", moves],
    ["turns", turns],
    ["looks", looks],
    ["names", !moves && !turns && !looks && names(sayInstruction(step))],
  ];
  return all.flatMap(([touch, is]) => (is ? [touch] : []));
}
