/** What differs between two cards of one configuration, line by line, for whoever holds the old one. */
import type { CardContent, CardLine } from "./card-content.ts";
import { sayWhoInside } from "../words/say.ts";
import { wordsOf } from "../records/edits.ts";
import type { Crew } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";

/** One thing that changed. Without `was` it is new, without `is` it is gone. */
interface CardChange {
  readonly what: string;
  readonly was?: string;
  readonly is?: string;
  /** Title of the option without which it did not change. */
  readonly option?: string;
}

/** Names for ids on a card, as the platform has them now; an id that is gone names itself. */
interface CardNames {
  readonly item: (id: string) => string;
  readonly place: (id: string) => string;
  readonly crew: readonly Crew[];
}

/**
 * What changed from one card to another in the order of the card. Lines are the same by their challenge. A card of
 * which only revision or date changed
 * gives an empty list.
 */
export function cardDifference(before: CardContent, after: CardContent, names: CardNames): CardChange[] {
  return [
    ...fieldChange(heard("cardDifference").title, before.title, after.title),
    ...fieldChange(heard("cardDifference").code, before.code, after.code),
    ...fieldChange(heard("cardDifference").weight, before.weight, after.weight),
    ...fieldChange(heard("cardDifference").age, before.age, after.age),
    ...lineChanges("", before.lines, after.lines, names.crew),
    ...textChanges(heard("cardDifference").warning, before.warnings, after.warnings),
    ...countChanges(before, after, names),
    ...optionChanges(before, after, names.crew),
  ];
}

function fieldChange(what: string, was: string, is: string): CardChange[] {
  return was === is ? [] : [{ what, was, is }];
}

function optionChanges(before: CardContent, after: CardContent, crew: readonly Crew[]): CardChange[] {
  const ids = [...new Set([...after.options, ...before.options].map(({ id }) => id))];
  return ids.flatMap((id) => {
    const [was, is] = [
      before.options.find((option) => option.id === id),
      after.options.find((option) => option.id === id),
    ];
    const option = (is ?? was)!.title;
    const own = (changes: readonly CardChange[]) => changes.map((change) => ({ ...change, option }));
    if (was && is)
      return own([
        ...fieldChange(heard("cardDifference").isWeight({ is: is.title }), was.weight, is.weight),
        ...fieldChange(heard("cardDifference").isAge({ is: is.title }), was.age, is.age),
        ...lineChanges(heard("cardDifference").withIs({ is: is.title }), was.lines, is.lines, crew),
      ]);
    const linesOf = (option: CardContent["options"][number]) =>
      option.lines.map((line) => sayLine(line, crew)).join("; ") || heard("cardDifference").noLines;
    return own(
      was
        ? [{ what: heard("cardDifference").optionWas({ was: was.title }), was: linesOf(was) }]
        : is
          ? [{ what: heard("cardDifference").option({ is: is.title }), is: linesOf(is) }]
          : [],
    );
  });
}

function lineChanges(
  where: string,
  before: readonly CardLine[],
  after: readonly CardLine[],
  crew: readonly Crew[],
): CardChange[] {
  const left = [...before];
  const take = (line: CardLine) => {
    const at = left.findIndex((other) => keyOf(other) === keyOf(line));
    return at < 0 ? undefined : left.splice(at, 1)[0];
  };
  const changed = after.flatMap((line): CardChange[] => {
    const was = take(line);
    const what = `${where}${nameOf(line)}`;
    if (!was) return [{ what, is: sayLine(line, crew) }];
    const [old, now] = [sayLine(was, crew), sayLine(line, crew)];
    return old === now ? [] : [{ what, was: old, is: now }];
  });
  const gone = left.map((line) => ({ what: `${where}${nameOf(line)}`, was: sayLine(line, crew) }));
  const stayed = (lines: readonly CardLine[], others: readonly CardLine[]) =>
    lines.map(keyOf).filter((key) => others.some((other) => keyOf(other) === key));
  const [orderWas, orderIs] = [stayed(before, after), stayed(after, before)];
  const reordered =
    orderWas.join("\n") === orderIs.join("\n")
      ? []
      : [
          {
            what: heard("cardDifference").orderOfTheLines({ where }),
            was: namesIn(before, orderWas),
            is: namesIn(after, orderIs),
          },
        ];
  return [...changed, ...gone, ...reordered];
}

function namesIn(lines: readonly CardLine[], keys: readonly string[]): string {
  return lines
    .filter((line) => keys.includes(keyOf(line)))
    .map(nameOf)
    .join(", ");
}

function keyOf(line: CardLine): string {
  return line.kind === "check"
    ? heard("cardDifference").check({ challenge: wordsOf(line.challenge).join(" ") })
    : heard("cardDifference").hold({ line: wordsOf(line.text).join(" ") });
}

function nameOf(line: CardLine): string {
  return line.kind === "check" ? line.challenge : `HOLD: ${line.text}`;
}

function sayLine(line: CardLine, crew: readonly Crew[]): string {
  const who = (by: readonly string[]) => (by.length ? ` (${sayWhoInside(by, crew)})` : "");
  if (line.kind === "check")
    return `${line.answer}${who(line.by)}${line.critical ? heard("cardDifference").safetyCritical : ""}`;
  const checks = line.checks.map(({ challenge, answer, by }) => `; ${challenge}: ${answer}${who(by)}`);
  const dangers = (line.warnings ?? []).map((warning) => `; ${warning}`);
  return heard("cardDifference").nobodyGoesOnUntil({ by: who(line.by), checks: [...checks, ...dangers].join("") });
}

function textChanges(what: string, before: readonly string[], after: readonly string[]): CardChange[] {
  const gone = before.filter((text) => !after.includes(text)),
    come = after.filter((text) => !before.includes(text));
  return Array.from({ length: Math.max(gone.length, come.length) }, (_, at) => ({
    what,
    ...(gone[at] !== undefined ? { was: gone[at] } : {}),
    ...(come[at] !== undefined ? { is: come[at] } : {}),
  }));
}

function countChanges(before: CardContent, after: CardContent, { item, place }: CardNames): CardChange[] {
  const keys = [...new Set([...after.count, ...before.count].map((fitted) => `${fitted.item}\n${fitted.place}`))];
  return keys.flatMap((key) => {
    const [id = "", where = ""] = key.split("\n");
    const countIn = ({ count }: CardContent) =>
      count
        .filter((fitted) => fitted.item === id && fitted.place === where)
        .reduce((sum, fitted) => sum + fitted.count, 0);
    const [was, is] = [countIn(before), countIn(after)];
    return was === is
      ? []
      : [
          {
            what: heard("cardDifference").idInWhere({ id: item(id), where: place(where) }),
            was: was ? String(was) : "none",
            is: is ? String(is) : "none",
          },
        ];
  });
}
