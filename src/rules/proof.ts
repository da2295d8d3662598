/** The proofs that the rules of the groups parts, fastening and plan report from: made once for a collection. */
import { layoutOf, listArrangements, validArrangements } from "../domain/parts/arrangements.ts";
import { usableProcedures } from "../domain/parts/lookup.ts";
import { meetBands } from "../domain/bands/bands.ts";
import { type Model, modelOf } from "../domain/states/model.ts";
import { type Broken, MOST_STATES, proveParts } from "../domain/states/prove-parts.ts";
import { type MoveAtFault, moveAtFault } from "../domain/states/move-at-fault.ts";
import { type NoWay, provePlan } from "../domain/states/prove-plan.ts";
import { isFittedInDoubt } from "./doubt.ts";
import { sayBroken } from "./parts/say-parts.ts";
import { type Remark, type Report, type RuleContext, whereOf } from "../findings/finding.ts";
import type { Band, Collection, Move, Platform, Service, Where } from "../schema/collection.ts";
import { lowerFirst, sayList } from "../schema/wording.ts";
import { isProse } from "../domain/parts/prose.ts";
import { kept } from "../domain/words/keep.ts";
import { remember } from "../domain/words/remember.ts";
import type { Words } from "../words/hear.ts";
import { heard } from "../words/heard.ts";

/** A finding of the proof with the rule that it belongs to. */
interface Proved extends Remark {
  readonly rule: string;
  readonly where: Where;
}

/** What a proof finds, and what is said of an odd move beside the place of the move, which is the finding's cause. */
interface Found extends Proved {
  readonly odd?: Omit<Parameters<Words["planFindings"]["oddMove"]>[0], "place">;
}

/** A line is known of what was given, not of the copy that is proved: what is kept must not name one. */
function withPlace({ odd, ...found }: Found): Proved {
  if (!odd || !found.cause) return found;
  const { file, line } = found.cause;
  return {
    ...found,
    fix: heard("planFindings").oddMove({ ...odd, place: `${file.split("/").slice(1).join("/")}:${line}` }),
  };
}

/** Reports what the proof of the collection found for one rule. */
export function reportProved(rule: string, collection: Collection, report: Report, context: RuleContext): void {
  for (const { where, rule: id, ...remark } of provedOf(collection, context.damaged))
    if (id === rule) report(where, remark);
}

const provedOf = remember((collection: Collection, damaged: RuleContext["damaged"]): readonly Proved[] =>
  collection.platforms.flatMap((platform) => {
    const known = provedBefore(platform, collection.service),
      question = [...damaged].sort().join("\n");
    const proved =
      known.get(question) ?? proveKept(platform, { band: collection.service.band }, [...damaged]).map(withPlace);
    known.set(question, proved);
    return proved;
  }),
);

/** By the files with errors; of a platform that an edit left as it was it is known. */
const provedBefore = remember((_platform: Platform, _service: Service) => new Map<string, readonly Proved[]>());

/** Whether a platform could be judged, and everything in it runs and can be reached. */
export function isProved(platform: Platform, collection: Collection, { damaged }: RuleContext): boolean {
  const isOf = (file: string) => file.startsWith(`${platform.id}/`) || file === "service.yaml";
  return ![...damaged].some(isOf) && !provedOf(collection, damaged).some(({ where }) => isOf(where.file));
}

/** Whether the proof says of a move that its `count` is at fault, and that so many are right. */
export function isCountAtFault(move: Move, count: number, collection: Collection, context: RuleContext): boolean {
  const { file, line, column } = whereOf(move, "count");
  return provedOf(collection, context.damaged).some(
    ({ rule, where, expected }) =>
      rule.startsWith("plan/") &&
      where.file === file &&
      where.line === line &&
      where.column === column &&
      expected?.[0] === String(count),
  );
}

const proveKept = kept("parts", isProse, (platform: Platform, carried: Carried, damaged: readonly string[]) =>
  provePlatform(platform, carried, new Set(damaged)),
);

/** Whom the service carries. */
type Carried = Pick<Service, "band">;

/** Proves one platform, unless the files that say what it is made of have errors of their own. */
function provePlatform(platform: Platform, { band }: Carried, damaged: RuleContext["damaged"]): Found[] {
  if (isFittedInDoubt(platform.id, damaged)) return [];
  const homes = withoutHome(platform);
  const starts = unknownStarts(platform);
  const model = modelOf(platform);
  const { broken, follows, complete } = proveParts(model, band);
  const said = sayBroken(model, broken)
    .filter(({ where }) => !damaged.has(where.file))
    .map((each) => ({ ...each, message: each.message + beyondOf(!complete) }));
  const plans =
    [...damaged].some((file) => file.startsWith(`${platform.id}/`)) || homes.length
      ? []
      : sayPlan(model, band, [...broken, ...follows], complete);
  return [...homes, ...starts, ...said, ...plans];
}

/** Items that have nowhere to be when they are not fitted. */
function withoutHome(platform: Platform): Proved[] {
  const { places } = layoutOf(platform);
  return platform.items.flatMap((item): Proved[] => {
    const where = item.at["home"] ?? item.where;
    if (item.home === "aside")
      return [
        {
          rule: "parts/no-home",
          where,
          message: `\`${item.id}\` has its home \`aside\`, which is only for now`,
          fix: "Name a mount, a stowage or a store as its home",
        },
      ];
    const room = places.get(item.home)?.room;
    if (room === undefined || item.count <= room) return [];
    return [
      {
        rule: "parts/no-home",
        where,
        message: `${item.count} \`${item.id}\` have their home in \`${item.home}\`, which has room for ${room}`,
        fix: `Raise \`room\` of \`${item.home}\`, or give \`${item.id}\` another home`,
        actual: String(item.count),
        expected: [`at most ${room}`],
      },
    ];
  });
}

/** Arrangements that can't exist, each fault once, at the fitted entry that makes it. */
function unknownStarts(platform: Platform): Proved[] {
  const seen = new Set<string>();
  return listArrangements(platform).flatMap(({ name, problems }) =>
    problems.flatMap(({ where, message, fix }): Proved[] => {
      const key = JSON.stringify(where);
      if (seen.has(key)) return [];
      seen.add(key);
      return [
        { rule: "parts/unknown-start", where, message: `The arrangement \`${name}\` can't exist: ${message}`, fix },
      ];
    }),
  );
}

/** Missing ways whose move at fault is looked for: where more are missing, procedures are still to be written. */
const MOST_LOOKS = 3;

function sayPlan(model: Model, carried: Band, broken: readonly Broken[], complete: boolean): Found[] {
  const found: Found[] = [],
    said = new Set<string>(),
    { platform } = model;
  let ways: readonly NoWay[] = planOf(model, carried, broken),
    looks = broken.length === 0 && complete ? MOST_LOOKS : 0;
  while (ways.length > 0) {
    const [noWay, ...others] = ways as [NoWay, ...NoWay[]];
    const slip = looks > 0 && !noWay.beyond ? slipOf(platform, carried, ways, noWay) : undefined;
    looks -= 1;
    if (slip) {
      found.push(saySlip(noWay, slip));
      // What the same move keeps away too is put right with it.
      ways = others.filter((each) => slip.proof.has(keyOf(each)));
    } else {
      const once = `${noWay.rule} ${documentOf(noWay).file}`;
      if (!said.has(once)) found.push(sayNoWay(platform, noWay));
      said.add(once);
      ways = others;
    }
  }
  return found;
}

function planOf(model: Model, carried: Band, broken: readonly Broken[]): NoWay[] {
  // A step that is for nobody is reported as that; what it leaves undone follows from it.
  const suspect = model.platform.procedures.filter(({ steps, band }) =>
    steps.some((step) => !meetBands(step.band, band)),
  );
  return provePlan(model, carried, broken, suspect);
}

const keyOf = ({ rule, arrangement }: NoWay) => `${rule} ${arrangement.name}`;
const documentOf = ({ arrangement: { options, configuration } }: NoWay) => options.at(-1) ?? configuration;

/** The move that alone keeps the way away, with the keys of the ways that are still missing when it is put right. */
function slipOf(platform: Platform, carried: Band, ways: readonly NoWay[], noWay: NoWay) {
  const known = new Set(ways.map(keyOf));
  return moveAtFault(platform, noWay.lacks, (right) => {
    const model = modelOf(right),
      { broken, follows } = proveParts(model, carried);
    if (broken.length + follows.length > 0) return undefined;
    const still = new Set(planOf(model, carried, []).map(keyOf));
    return !still.has(keyOf(noWay)) && [...still].every((key) => known.has(key)) ? still : undefined;
  });
}

function saySlip(noWay: NoWay, { procedure, move, fault }: MoveAtFault<unknown>): Found {
  const say = heard("planFindings"),
    { where } = documentOf(noWay),
    right = String(fault.right),
    { item } = move;
  const moved = { procedure, count: String(move.count), item, from: move.from, to: move.to };
  return {
    rule: noWay.rule,
    where: whereOf(move, fault.name),
    message: say.slip({ ...moved, noWay: lowerFirst(sayPairs(noWay)), name: fault.name, right }),
    fix: say.putRight({ name: fault.name, right, arrangement: targetOf(noWay) }),
    actual: String(move[fault.name]),
    expected: [right],
    cause: where,
  };
}

/** What can't be reached: back is always to the one that stands. */
const targetOf = ({ rule, arrangement, others }: NoWay) =>
  rule === "plan/no-way-back" ? others[0]! : arrangement.name;

function sayNoWay(platform: Platform, noWay: NoWay): Found {
  const missing = noWay.lacks.map(({ text }) => text);
  const last = missing.length
    ? "; in the nearest " +
      `state ${missing.slice(0, 3).join(", ")}${missing.length > 3 ? ` (and ${missing.length - 3} more)` : ""}`
    : "";
  const odd = oddMove(
    platform,
    noWay.lacks.map(({ id }) => id),
  );
  return {
    rule: noWay.rule,
    where: documentOf(noWay).where,
    message: sayPairs(noWay, last),
    fix: heard("planFindings")[isForSome(platform) ? "writeOrWiden" : "write"],
    ...(odd ? { cause: odd.where, odd: odd.said } : {}),
  };
}

/** From where to where no procedures lead, and for whom. */
function sayPairs({ rule, arrangement, others, patients, beyond = false }: NoWay, nearest = ""): string {
  const pairs = others
    .slice(0, 3)
    .map((other) =>
      rule === "plan/unreachable"
        ? `\`${other}\` to \`${arrangement.name}\``
        : `\`${arrangement.name}\` back to \`${other}\``,
    );
  return heard("planFindings").noWay({
    pairs: pairs.join(heard("planFindings").orFrom),
    more: others.length > 3 ? ` and ${others.length - 3} more` : "",
    patientsBand: patients,
    nearest,
    beyond: beyondOf(beyond),
  });
}

/**
 * The first procedure that fills or empties a mount with another number of an item that is missing than any two
 * arrangements differ by there: the likely cause, which stands in another file than what can't be reached.
 */
function oddMove(platform: Platform, lacks: readonly string[]) {
  const arrangements = validArrangements(platform),
    homes = new Map(platform.items.map(({ id, home }) => [id, home]));
  for (const procedure of usableProcedures(platform)) {
    const moves = procedure.steps.flatMap((step) => step.operations.filter((act) => act.kind === "move"));
    for (const move of moves.filter(({ item }) => lacks.includes(item)))
      for (const way of ["to", "from"] as const) {
        const mount = move[way];
        if (mount === homes.get(move.item) || mount === "aside") continue;
        const held = arrangements.map(
          ({ contents }) => contents.find(({ item, place }) => item === move.item && place === mount)?.count ?? 0,
        );
        const count = moves
          .filter((each) => each.item === move.item && each[way] === mount)
          .reduce((sum, each) => sum + each.count, 0);
        const known = [...new Set([0, ...held])];
        if (known.some((one) => known.some((other) => Math.abs(one - other) === count))) continue;
        return {
          where: move.where,
          said: {
            procedure: procedure.id,
            count: String(count),
            item: move.item,
            way,
            mount,
            held: sayList(known.length > 1 ? known.filter(Boolean).map(String) : ["0"], "or"),
          },
        };
      }
  }
  return undefined;
}

/** Whether a procedure, or a step of one, is for a weight alone: only then is there one to be widened. */
function isForSome({ procedures }: Platform): boolean {
  return procedures
    .flatMap(({ band, steps }) => [band, ...steps.map((step) => step.band)])
    .some(({ weight }) => weight.from ?? weight.to);
}

/** Said where the proof had to stop: a platform with very many options has more states than can be seen. */
function beyondOf(isBeyond: boolean): string {
  return isBeyond
    ? `. Only ${MOST_STATES.toLocaleString("en-GB")} states were looked at, and there are more: a way may lie ` +
        "beyond them"
    : "";
}
