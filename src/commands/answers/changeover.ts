/** `rerig changeover`: the least-time way from one arrangement to another for a patient, as steps of two people. */
import { wordsFor } from "../../words/words.ts";
import type { Command } from "commander";
import type { Platform, Service } from "../../schema/collection.ts";
import { type Arrangement, isFor, listArrangements } from "../../domain/parts/arrangements.ts";
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
import { CannotRun } from "../../findings/cannot-run.ts";
import { hang, terminalOf } from "../../findings/terminal.ts";
import { needOptions, patientAsked } from "./choose.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { sayRange } from "../../domain/bands/bands.ts";

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
  withDay(withCollection(command))
    .option("--platform <id>", "the platform; may be left out if there is only one")
    .requiredOption(
      "--from <arrangement>",
      "what is on the platform now: configuration+option+option, options in any order",
    )
    .requiredOption("--to <arrangement>", "what the next patient needs")
    .option("--weight <weight>", 'the next patient\'s weight with its unit: "7.2 kg"')
    .option("--age <age>", 'the next patient\'s age with its unit: "8 months"')
    .option(
      "--from-step <procedure:step>",
      "the changeover that was under way, to `--toward`, was stopped before this step: the least way from there",
    )
    .option("--toward <arrangement>", "with `--from-step`: what the changeover was to lead to")
    .option("--toward-weight <weight>", "with `--from-step`: the weight of the patient whom it was for")
    .option("--stand-down", "with `--from-step`: there is no next patient, and nobody's weight is confirmed")
    .option("--drafts", "as if every proposal were in force: drafts, texts in review, issues still to come")
    .option("--json", "print the changeover as JSON on standard output")
    .addHelpText("after", "\nExit code 1 if no approved procedures lead from the one to the other.")
    .action(async (options: Options) => {
      const patient = patientAsked(options.weight, options.age);
      const opened = await openAsked(options.procedures, { on: options.on });
      const { collection, proposed } = opened.force;
      const platform = platformAsked(options.drafts ? proposed : collection, options.platform);
      if (!readWhole(opened)) return;
      const whole = modelOf(platform),
        left = modelOf(leftOf(platform));
      const why = whyOut(platform, named(whole, options.to).name, opened.day);
      if (why) throw new CannotRun(`\`${options.to}\` can't be built now: ${why}`);
      // What stands there and is out of service is still there to be taken off.
      const model = arrangementNamed(left, options.from) && options.fromStep === undefined ? left : whole;
      const from = named(model, options.from);
      const to = named(model, options.to);
      const { service } = opened.collection,
        words = wordsFor(service).commands;
      needOptions(to, patient, words.thisPatient);
      if (!isFor(to, patient))
        process.stderr.write(
          `${words.isFor({ arrangement: to.name, weight: sayRange(to.band.weight), age: sayRange(to.band.age) })}\n`,
        );
      const begun = stopped(model, service, from, options);
      if (options.standDown && (!begun || options.weight || options.age))
        throw new CannotRun("`--stand-down` goes with `--from-step`, and without a patient's weight and age");
      const changeover = begun
        ? leastFromHere(model, service, begun, to, options.standDown ? "nobody" : patient)
        : planFor(model, service, from, to, patient);
      if (!changeover) {
        process.stderr.write(
          `${words.noWay({
            approved: options.drafts ? "" : "approved ",
            from: begun ? "there" : `\`${from.name}\``,
            to: to.name,
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
      print(changeover, result, { platform, crew: service.crew });
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
  if (fromStep === undefined || toward === undefined)
    throw new CannotRun("`--from-step` and `--toward` go together: where it was stopped, and what it was to lead to");
  const changeover = planFor(model, service, from, named(model, toward), patientAsked(towardWeight, undefined));
  if (!changeover) throw new CannotRun(`No approved procedures lead from \`${from.name}\` to \`${toward}\``);
  const roles = service.crew.map(({ id }) => id),
    order = inStartingOrder(planTimeline(changeover.steps, roles, model.platform)),
    at = order.findIndex(({ procedure, step }) => `${procedure.id}:${step.number}` === fromStep);
  if (at < 0)
    throw new CannotRun(
      `The changeover has no step \`${fromStep}\`; it has ` +
        order.map(({ procedure, step }) => `${procedure.id}:${step.number}`).join(", "),
    );
  return begunAt(from, changeover.steps, new Set(order.slice(0, at).map(({ index }) => index)));
}

function named(model: Model, name: string): Arrangement {
  const found = arrangementNamed(model, name);
  if (found) return found;
  const invalid = listArrangements(model.platform).find((arrangement) => arrangement.name === name);
  if (invalid?.problems[0]) throw new CannotRun(`\`${name}\` can't exist: ${invalid.problems[0].message}`);
  throw new CannotRun(
    `There is no arrangement \`${name}\`; there are ${model.arrangements
      .map((arrangement) => arrangement.name)
      .slice(0, 12)
      .join(", ")}${model.arrangements.length > 12 ? " …" : ""}`,
  );
}

/** Where a step's words begin. */
const TEXT_AT = 12;

function print(
  changeover: Changeover,
  { seconds, elapsed, steps, parts }: ChangeoverResult,
  { platform, crew }: { readonly platform: Platform; readonly crew: Service["crew"] },
): void {
  const terminal = terminalOf(process.stdout),
    { mark } = terminal;
  const lines = [
    mark(`${changeover.from} to ${changeover.to}`, "bold"),
    `${changeover.procedures.length} procedures, ${sayMost(changeover)}${sayMinutes(elapsed)} for the crew, ` +
      `${sayMinutes(seconds)} for one person`,
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
    const signs = [...(timed.critical ? ["SAFETY-CRITICAL"] : []), ...(step.hold ? ["HOLD"] : [])].map(
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
      mark("Parts, when it is done", "bold"),
      ...parts.map(({ item, count, from, to }) => `  ${count} ${nameOf(item)}: ${placeOf(from)} -> ${placeOf(to)}`),
    );
  for (const { item, count, from } of changeover.undone)
    lines.push(`Done and undone on the way: ${count} ${nameOf(item)}, out of ${placeOf(from)} and back.`);
  process.stdout.write(`${lines.join("\n")}\n`);
}
