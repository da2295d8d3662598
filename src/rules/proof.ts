/** The proofs that the rules of the groups parts, fastening and plan report from: made once for a collection. */
import { layoutOf, listArrangements, validArrangements } from "../domain/parts/arrangements.ts";
import { usableProcedures } from "../domain/parts/lookup.ts";
import { meetBands } from "../domain/bands/bands.ts";
import { type Model, modelOf } from "../domain/states/model.ts";
import { type Broken, MOST_STATES, proveParts } from "../domain/states/prove-parts.ts";
import { provePlan } from "../domain/states/prove-plan.ts";
import { isFittedInDoubt } from "./doubt.ts";
import { sayBroken } from "./parts/say-parts.ts";
import type { Remark, Report, RuleContext } from "../findings/finding.ts";
import type { Band, Collection, Platform, Service, Where } from "../schema/collection.ts";
import { sayList } from "../schema/wording.ts";
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
      : sayPlan(model, band, [...broken, ...follows]);
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

function sayPlan(model: Model, carried: Band, broken: readonly Broken[]): Found[] {
  const said = new Map<string, Found>();
  // A step that is for nobody is reported as that; what it leaves undone follows from it.
  const suspect = model.platform.procedures.filter(({ steps, band }) =>
    steps.some((step) => !meetBands(step.band, band)),
  );
  for (const { rule, arrangement, others, patients, missing, lacks, beyond = false } of provePlan(
    model,
    carried,
    broken,
    suspect,
  )) {
    const at = arrangement.options.at(-1) ?? arrangement.configuration;
    const key = `${rule} ${at.file}`;
    if (said.has(key)) continue;
    const pairs = others
      .slice(0, 3)
      .map((other) =>
        rule === "plan/unreachable"
          ? `\`${other}\` to \`${arrangement.name}\``
          : `\`${arrangement.name}\` back to \`${other}\``,
      );
    const more = others.length > 3 ? ` and ${others.length - 3} more` : "";
    const last = missing.length
      ? "; in the nearest " +
        `state ${missing.slice(0, 3).join(", ")}${missing.length > 3 ? ` (and ${missing.length - 3} more)` : ""}`
      : "";
    const odd = oddMove(model.platform, lacks);
    said.set(key, {
      rule,
      where: at.where,
      message: heard("planFindings").noWay({
        pairs: pairs.join(heard("planFindings").orFrom),
        more,
        patientsBand: patients,
        nearest: last,
        beyond: beyondOf(beyond),
      }),
      fix: heard("planFindings")[isForSome(model.platform) ? "writeOrWiden" : "write"],
      ...(odd ? { cause: odd.where, odd: odd.said } : {}),
    });
  }
  return [...said.values()];
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
