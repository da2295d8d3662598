/** How pages and cards say times, numbers, people and lists in words. */
import type { Block, Crew, FasteningKind, Paragraph, Status, Step, Where } from "../../schema/collection.ts";
import { keepsCapitals, writeDate, writeDecimal, writeFigures } from "../../schema/spoken.ts";
import { lowerFirst, sayList, smallFirst } from "../../schema/wording.ts";
import { isPair } from "./crew.ts";
import { heard } from "../../words/heard.ts";

/** Seconds as `40 s`, `4 min 10 s`, `1 h 5 min`. */
export function sayDuration(seconds: number): string {
  const whole = Math.round(seconds);
  const hours = Math.floor(whole / 3600),
    minutes = Math.floor((whole % 3600) / 60),
    rest = whole % 60;
  if (whole < 60) return heard("measures").seconds({ number: whole });
  if (hours)
    return minutes ? heard("measures").hoursAndMinutes({ hours, minutes }) : heard("measures").hours({ number: hours });
  return rest
    ? heard("measures").minutesAndSeconds({ minutes, seconds: rest })
    : heard("measures").minutes({ number: minutes });
}

/** Small counts as words (`three`), others as figures; zero is `no`. */
export function sayCount(count: number): string {
  return heard("people").inWords({ count });
}

/** `one step`, `three steps`. */
export function sayNumber(count: number, one: string, many = `${one}s`): string {
  return `${sayCount(count)} ${count === 1 ? one : many}`;
}

/** A count in figures, thousands set apart: `1,260`. */
export function sayFigures(count: number): string {
  return writeFigures(count);
}

/** Words of the tool's own as a paragraph of a document. */
export function paragraphOf(text: string, where: Where): Paragraph {
  return { kind: "paragraph", children: [{ kind: "text", text, where }], where };
}

/** A role id as a word on a page: `lead` -> `Lead`, `ground-crew` -> `Ground crew`. */
export function sayRole(id: string): string {
  return capital(id.replaceAll("-", " "));
}

/** Who does a step: `Lead`, `Both`, `Lead and driver`, `All`, or `Anyone` when nobody is named. */
export function sayWho(by: readonly string[], crew: readonly Crew[]): string {
  if (by.length === 0) return heard("people").anyone;
  if (by.length > 1 && crew.every(({ id }) => by.includes(id)))
    return isPair(crew) ? heard("people").both : heard("people").all;
  return capital(sayList(by.map((id) => id.replaceAll("-", " "))));
}

/** The first letter made large. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Names that a service gave with an owner need no article: `our trolley`, but `the Tern trolley`. */
const OWNED = /^(?:our|your|my|the)\s/i;

/** Who does something, as it stands within a sentence: `crew member`, `both`. */
export function sayWhoInside(by: readonly string[], crew: readonly Crew[]): string {
  return keepsCapitals() ? sayWho(by, crew) : sayWho(by, crew).toLowerCase();
}

/** A platform by its name within a sentence: `the Tern trolley`; one that is somebody's by name is only made small. */
export function sayThe(name: string): string {
  return OWNED.test(name) ? smallFirst(name) : heard("people").theName({ name });
}

/** A number with at most so many decimals and no trailing zeros: `8.2`, `104`. */
export function sayDecimal(value: number, decimals = 1): string {
  return writeDecimal(String(Number(value.toFixed(decimals))));
}

/** The status as the pages say it: `Approved`. */
export function sayStatus(status: Status): string {
  return capital(
    {
      draft: heard("people").draft,
      "in review": heard("people").inReview,
      approved: heard("people").approved,
      withdrawn: heard("people").withdrawn,
      coming: heard("people").coming,
    }[status],
  );
}

/** The plain words of a step's instruction. */
export function sayInstruction({ instruction }: Pick<Step, "instruction">): string {
  return plainText(instruction.children);
}

/** Running text without its marks. */
export function plainText(inlines: readonly unknown[]): string {
  return (inlines as readonly { kind: string; text?: string; children?: readonly unknown[] }[])
    .map(({ kind, text, children }) => (kind === "break" ? " " : (text ?? plainText(children ?? []))))
    .join("");
}

/** The plain lines of a block. */
export function linesOf(block: Block): string[] {
  switch (block.kind) {
    case "paragraph":
    case "heading":
      return [plainText(block.children)];
    case "list":
      return block.items.flatMap((item) => item.flatMap(linesOf));
    case "quote":
    case "alert":
      return block.children.flatMap(linesOf);
    case "table":
      return block.rows.map((row) => row.map((cell) => plainText(cell)).join(", "));
    case "code":
      return [block.text];
    default:
      return [];
  }
}

/** What a step says beside its instruction, a line each: notices, detail, reason, checks; empty if it says no more. */
export function sayBeside({ alerts, alertsAfter, detail, reason, checks }: Step): string {
  return [
    ...[...alerts, ...alertsAfter, ...detail, ...(reason ? [reason] : [])].flatMap(linesOf),
    ...checks.map(({ challenge, answer }) => `${challenge} ${answer}`),
  ].join("\n");
}

/** `2026-09-14` as `14 Sep 2026`: the month in letters, so that no one reads 03/04 the wrong way round. */
export function sayDate(date: string): string {
  return writeDate(date);
}

/** The day of a moment where this runs, as `YYYY-MM-DD`. */
export function dayOf(moment: Date): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}

/** Options within a sentence: `gas shelf and second ventilator`; empty for none. */
export function sayOptionTitles(options: readonly { readonly title: string }[]): string {
  return sayList(options.map(({ title }) => lowerFirst(title)));
}

/** Seconds as `4:50`, rounded to whole ones first: 59.6 is `1:00`. */
export function sayMinutes(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

/**
 * Times of one thing for all patients: the shortest and the longest, or the one that all take; `say` says seconds.
 * One or more times are given.
 */
export function sayTimes(seconds: readonly number[], say: (seconds: number) => string): string {
  const least = say(Math.min(...seconds)),
    most = say(Math.max(...seconds));
  return least === most ? most : heard("changeover").fromLeastToMost({ least, most });
}

/** A mass for reading, to a tenth of a kilogram. */
export function sayMass(kg: number): string {
  return sayDecimal(Math.round(kg * 10) / 10);
}

/**
 * What a fastening is called among others of its kind; a lead is a cable in words, since the lead is a person. A
 * fastening without a kind is a fastening.
 */
export function sayKind(kind: FasteningKind | undefined): string {
  return heard("kinds")[kind ?? "fastening"];
}
