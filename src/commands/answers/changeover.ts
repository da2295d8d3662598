/** `rerig changeover`: the least-time way from one arrangement to another for a patient, as steps of two people. */
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import type { Platform, Service } from "../../schema/collection.ts";
import { type Arrangement, sayArrangement, sayWay } from "../../domain/parts/arrangements.ts";
import { arrangementNamed, type Changeover } from "../../domain/states/changeover.ts";
import { changeoverResult, type ChangeoverResult } from "../../domain/time/changeover-result.ts";
import { planFor } from "../../domain/time/plans.ts";
import { sayMost } from "../../domain/time/say-timeline.ts";
import { inStartingOrder, planTimeline } from "../../domain/time/timeline.ts";
import { type Begun, begunAt, leastFromHere } from "../../domain/tonight/from-here.ts";
import { leftOf, whyOut } from "../../domain/tonight/amended-out.ts";
import type { Model } from "../../domain/states/model.ts";
import { modelOf } from "../../domain/states/model.ts";
import { linesOf, sayMinutes, sayWho } from "../../domain/words/say.ts";
import { sayPlanned } from "../../domain/parts/reading.ts";
import { alertsOfPlan } from "../../domain/parts/plan-alerts.ts";
import { lowerFirst } from "../../schema/wording.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { hang, terminalOf, writeTo } from "../../findings/terminal.ts";
import { heard } from "../../words/heard.ts";
import { askedArrangement, hasArrangements } from "./asked-arrangement.ts";
import { mindPatient, patientAsked } from "./choose.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly platform?: string;
  readonly from: string;
  readonly to: string;
  readonly weight?: string;
  readonly age?: string;
  readonly fromStep?: string;
  readonly toward?: string;
  readonly towardWeight?: string;
  readonly standDown?: boolean;
  readonly drafts?: boolean;
  readonly json?: boolean;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigChangeover"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .option("--platform <id>", every.takesPlatform)
    .requiredOption("--from <arrangement>", say.takesFrom)
    .requiredOption("--to <arrangement>", say.takesTo)
    .option("--weight <weight>", say.takesWeight)
    .option("--age <age>", say.takesAge)
    .option("--from-step <procedure:step>", say.takesFromStep)
    .option("--toward <arrangement>", say.takesToward)
    .option("--toward-weight <weight>", say.takesTowardWeight)
    .option("--stand-down", say.takesStandDown)
    .option("--drafts", say.takesDrafts)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(async (options: Options) => {
      const patient = patientAsked(options.weight, options.age);
      const opened = await openAsked(options.procedures, { on: options.on });
      const { collection, proposed } = opened.force;
      const platform = platformAsked(
        options.drafts ? proposed : collection,
        options.platform,
        hasArrangements(options.from, options.to),
      );
      if (!readWhole(opened)) return;
      const whole = modelOf(platform),
        left = modelOf(leftOf(platform));
      const wanted = askedArrangement(whole, options.to),
        why = whyOut(platform, wanted.name, opened.day);
      if (why) throw new CannotRun(heard("rerigChangeover").notNow({ arrangement: sayArrangement(wanted), why }));
      // What stands there and is out of service is still there to be taken off.
      const model = arrangementNamed(left, options.from) && options.fromStep === undefined ? left : whole;
      const from = askedArrangement(model, options.from);
      const to = askedArrangement(model, options.to);
      const { service } = opened.collection,
        words = wordsFor(service).commands;
      mindPatient(platform, to, patient, words.thisPatient);
      const begun = stopped(model, service, from, options);
      if (options.standDown && (!begun || options.weight || options.age))
        throw new CannotRun(heard("rerigChangeover").standDownWith);
      const changeover = begun
        ? leastFromHere(model, service, begun, to, options.standDown ? "nobody" : patient)
        : planFor(model, service, from, to, patient);
      if (!changeover) {
        writeTo(
          process.stderr,
          `${(options.drafts ? words.noWayAtAll : words.noWay)({
            from: begun ? heard("rerigChangeover").there : words.named({ name: sayArrangement(from) }),
            to: sayArrangement(to),
          })}\n`,
        );
        process.exitCode = 1;
        return;
      }
      const result = changeoverResult(
        changeover,
        model,
        opened.collection.service.crew.map(({ id }) => id),
      );
      const { from: start, to: end, ...rest } = result;
      if (options.json)
        return printJson({
          from: start,
          ...(begun ? { stoppedBefore: options.fromStep, toward: options.toward } : {}),
          to: end,
          ...rest,
        });
      const way = begun
        ? heard("rerigChangeover").fromThere({ to: lowerFirst(sayArrangement(to)) })
        : sayWay(sayArrangement(from), sayArrangement(to));
      print(changeover, result, { platform, crew: service.crew, way });
    });
}

/** What stands there when a crew stops before `--from-step`; `undefined` without it. */
function stopped(
  model: Model,
  service: Service,
  from: Arrangement,
  { fromStep, toward, towardWeight }: Options,
): Begun | undefined {
  if (fromStep === undefined && toward === undefined) return undefined;
  if (fromStep === undefined || toward === undefined) throw new CannotRun(heard("rerigChangeover").goTogether);
  const led = askedArrangement(model, toward),
    changeover = planFor(model, service, from, led, patientAsked(towardWeight, undefined));
  if (!changeover)
    throw new CannotRun(heard("rerigChangeover").noWay({ from: sayArrangement(from), to: sayArrangement(led) }));
  const roles = service.crew.map(({ id }) => id),
    order = inStartingOrder(planTimeline(changeover.steps, roles, model.platform)),
    at = order.findIndex(({ procedure, step }) => `${procedure.id}:${step.number}` === fromStep);
  if (at < 0)
    throw new CannotRun(
      heard("rerigChangeover").noStep({
        step: fromStep,
        steps: stepsOf(order),
      }),
    );
  return begunAt(from, changeover.steps, new Set(order.slice(0, at).map(({ index }) => index)));
}

/** The steps to stop before, a line for each procedure: `  seat-capsule:1, seat-capsule:2`. */
function stepsOf(order: Changeover["steps"]): string {
  return [...new Set(order.map(({ procedure }) => procedure.id))]
    .map((id) => order.flatMap(({ procedure, step }) => (procedure.id === id ? [`${id}:${step.number}`] : [])))
    .map((names) => `  ${names.join(", ")}`)
    .join("\n");
}

/** Where a step's words begin. */
const TEXT_AT = 12;

function print(
  changeover: Changeover,
  { seconds, elapsed, steps, parts }: ChangeoverResult,
  { platform, crew, way }: { readonly platform: Platform; readonly crew: Service["crew"]; readonly way: string },
): void {
  const terminal = terminalOf(process.stdout),
    { mark } = terminal,
    say = heard("rerigChangeover");
  const lines = [
    mark(way, "bold"),
    say.takes({
      procedures: changeover.procedures.length,
      most: sayMost(changeover),
      elapsed: sayMinutes(elapsed),
      seconds: sayMinutes(seconds),
    }),
  ];
  const alerts = alertsOfPlan(changeover.steps, platform);
  let open: string | undefined;
  steps.forEach((timed, at) => {
    const { procedure, step } = changeover.steps[at]!;
    // Two people may work on two procedures at once: whose steps follow is said whenever it changes.
    if (procedure.id !== open) lines.push("", mark(`${procedure.title} (${procedure.code})`, "bold"));
    open = procedure.id;
    for (const { signal, children } of [...alerts[at]!.between, ...alerts[at]!.own]) {
      const word = `${signal.toUpperCase()}: `,
        told = children.flatMap(linesOf).join(" ");
      lines.push(
        hang(" ".repeat(TEXT_AT), mark(word, signal === "warning" ? "red" : "bold") + told, TEXT_AT, terminal),
      );
    }
    const signs = [...(timed.critical ? [say.safetyCritical] : []), ...(step.hold ? [say.hold] : [])].map(
      (word) => `, ${mark(word, "bold")}`,
    );
    const who = `${sayWho(step.by, crew)}${signs.join("")}: `,
      text = sayPlanned(changeover.steps[at]!).replace(/\s+/g, " ");
    lines.push(
      hang(
        `${sayMinutes(timed.start).padStart(6)}  ${String(timed.step).padStart(2)}  `,
        `${who}${text}`,
        TEXT_AT,
        terminal,
      ),
    );
  });
  const places = new Map(platform.places.map(({ id, name }) => [id, name])),
    nameOf = (item: string) => platform.items.find(({ id }) => id === item)?.name ?? item,
    placeOf = (id: string) => places.get(id) ?? id;
  if (parts.length)
    lines.push(
      "",
      mark(say.parts, "bold"),
      ...parts.map(({ item, count, from, to }) => `  ${count} ${nameOf(item)}: ${placeOf(from)} -> ${placeOf(to)}`),
    );
  for (const { item, count, from } of changeover.undone)
    lines.push(say.undone({ count, item: nameOf(item), place: placeOf(from) }));
  writeTo(process.stdout, `${lines.join("\n")}\n`);
}
