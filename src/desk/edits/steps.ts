/** Changes of a procedure's body: steps, their parts and texts, headings. Whatever is not meant stays as it is. */
import { placeOfHead } from "../../read/markdown.ts";
import { heard } from "../../words/heard.ts";
import { withAttribute } from "./attributes.ts";
import type { AttributeValues, BodyEdit, NewStep, PartEdit, StepEdit, StepPlace } from "./edit.ts";
import { joinedAttributes } from "./joined-attributes.ts";
import { moved } from "./moved.ts";
import { type EntryOutline, outlineOf, type PartOutline, type Span, type StepOutline } from "./outline.ts";
import { Refusal } from "../disk/refusal.ts";
import { lineEndAt, splice, type Splice } from "./splice.ts";
import { escapeLabel, isAlert, directiveText, writeStep } from "./write-directive.ts";

/** A change of anything but the head. */
type Edit = StepEdit | PartEdit | BodyEdit;

/** The text with the change; throws a `Refusal` where it can't be made, or would not be read as it was asked. */
export function editBody(text: string, edit: Edit): string {
  const body = new Body(text, entriesOf(text));
  const made = splice(
    text,
    cutsFor(body, edit).map((cut) => ({ ...cut, text: cut.text.replace(/\r\n|\r|\n/g, body.lineEnd) })),
  );
  refuseUnlessAsked(body, edit, made);
  return made;
}

function entriesOf(text: string): readonly EntryOutline[] {
  const entries = outlineOf(text);
  if (!entries) throw new Refusal(heard("deskRefused").broken);
  return entries;
}

const stepsOf = (entries: readonly EntryOutline[]): readonly StepOutline[] =>
  entries.flatMap((entry) => (entry.kind === "step" ? [entry.step] : []));

/** The parts that stand in the body itself. */
const partsBetween = (entries: readonly EntryOutline[]): readonly PartOutline[] =>
  entries.flatMap((entry) => (entry.kind === "part" ? [entry.part] : []));

class Body {
  readonly text: string;
  readonly entries: readonly EntryOutline[];
  readonly steps: readonly StepOutline[];
  readonly lineEnd: string;

  constructor(text: string, entries: readonly EntryOutline[]) {
    this.text = text;
    this.entries = entries;
    this.steps = stepsOf(entries);
    this.lineEnd = lineEndAt(text, text.length);
  }

  step(number: number): StepOutline {
    const found = this.steps[number - 1];
    if (!found) throw new Refusal(heard("deskRefused").noStep({ step: number }));
    return found;
  }

  part(step: number | undefined, number: number): PartOutline {
    const parts = step === undefined ? partsBetween(this.entries) : this.step(step).parts;
    const found = parts[number - 1];
    if (!found) throw new Refusal(heard("deskRefused").partGone);
    return found;
  }

  heading(number: number): Extract<EntryOutline, { kind: "heading" }> {
    const found = this.entries.filter((each) => each.kind === "heading")[number - 1];
    if (!found) throw new Refusal(heard("deskRefused").headingGone);
    return found;
  }

  written({ start, end }: Span): string {
    return this.text.slice(start, end);
  }
}

/** Something put in where there was nothing. */
const put = (at: number, text: string): Splice => ({ from: at, to: at, text });
const replace = ({ start, end }: Span, text: string): Splice => ({ from: start, to: end, text });

function cutsFor(body: Body, edit: Edit): readonly Splice[] {
  switch (edit.kind) {
    case "set-text":
      return setText(body, body.step(edit.step), edit.text.trim());
    case "set-step":
      return [replace(body.step(edit.step), edit.text.trim())];
    case "insert-step":
      return [insertAt(body, edit.place, writeStep(edit.new))];
    case "delete-step":
      return [cutBlock(body, body.step(edit.step))];
    case "move-step":
      return [cutBlock(body, body.step(edit.step)), insertAt(body, edit.place, body.written(body.step(edit.step)))];
    case "split-step":
      return splitStep(body, body.step(edit.step), edit.paragraph);
    case "join-step":
      return joinStep(body, body.step(edit.step), body.step(edit.step + 1));
    case "insert-part":
      if (edit.step === undefined) return insertBetween(body, edit.new, edit.at);
      return insertPart(body, body.step(edit.step), edit.new, edit.at);
    case "delete-part":
      return [cutBlock(body, body.part(edit.step, edit.part))];
    case "move-part":
      return movePart(body, edit.step, edit.part, edit.to);
    case "set-part-text": {
      const part = body.part(edit.step, edit.part),
        { inside } = part;
      if (!inside) throw new Refusal(heard("deskRefused").noWords);
      return [replace(inside, isAlert(part) ? edit.text.trim() : escapeLabel(edit.text))];
    }
    case "set-attribute":
    case "remove-attribute": {
      const of = edit.part === undefined ? body.step(edit.step ?? 0) : body.part(edit.step, edit.part);
      return [
        replace(of, withAttribute(body.written(of), edit.name, edit.kind === "set-attribute" ? edit.value : undefined)),
      ];
    }
    case "set-purpose":
      return setPurpose(body, edit.text.trim());
    case "set-heading": {
      const { at } = body.heading(edit.heading);
      return [replace(at, `${/^#+/.exec(body.written(at))?.[0] ?? "##"} ${edit.text.trim()}`)];
    }
    case "insert-heading":
      return [insertAt(body, edit.place, `## ${edit.text.trim()}`)];
    case "delete-heading":
      return [cutBlock(body, body.heading(edit.heading).at)];
    case "set-body": {
      const head = placeOfHead(body.text),
        from = head?.end === undefined ? 0 : body.text.indexOf("\n", head.end) + 1;
      return [{ from, to: body.text.length, text: edit.text }];
    }
  }
}

/** Takes a block out with the blank line that parted it from its neighbour. */
function cutBlock({ text }: Body, { start, end }: Span): Splice {
  const behind = /^[ \t]*(?:\r\n|\r|\n)(?:[ \t]*(?:\r\n|\r|\n))*/.exec(text.slice(end))?.[0] ?? "";
  return { from: start, to: end + behind.length, text: "" };
}

function insertAt(body: Body, place: StepPlace | undefined, block: string): Splice {
  if (!place) {
    const end = body.text.trimEnd().length;
    return { from: end, to: body.text.length, text: `\n\n${block}\n` };
  }
  if ("before" in place) return put(body.step(place.before).start, `${block}\n\n`);
  return put(body.step(place.after).end, `\n\n${block}`);
}

function setText(body: Body, step: StepOutline, text: string): readonly Splice[] {
  const [first, ...others] = step.spans;
  if (!first) return [put(openingEnd(body, step), `\n${text}\n`)];
  const last = others.at(-1),
    isOneRun = !step.parts.some(({ start }) => start > first.start && last !== undefined && start < last.start);
  if (isOneRun) return [{ from: first.start, to: (last ?? first).end, text }];
  // Parts stand between the paragraphs: each new one takes the place of the old one of its number, so that a warning
  // stays before what it is about.
  const [read] = stepsOf(outlineOf(`::::step\n${text}\n::::`) ?? []),
    paragraphs = read?.paragraphs ?? [text];
  return step.spans.map((span, at) => {
    const mine = at === step.spans.length - 1 ? paragraphs.slice(at) : paragraphs.slice(at, at + 1);
    return mine.length ? replace(span, mine.join("\n\n")) : cutBlock(body, span);
  });
}

/** Offset of the end of the line on which a directive opens. */
function openingEnd({ text }: Body, { start }: Span): number {
  const found = /[\r\n]/.exec(text.slice(start));
  return found ? start + found.index : text.length;
}

/** Offset of the colons that close a step. */
function closingStart(body: Body, step: StepOutline): number {
  const colons = /:{3,}$/.exec(body.written(step).trimEnd())?.[0].length;
  if (colons === undefined) throw new Refusal(heard("deskRefused").notClosed);
  return step.start + body.written(step).trimEnd().length - colons;
}

const colonsOf = (body: Body, { start }: Span): number => /^:*/.exec(body.text.slice(start))![0].length;

/** The step's colons made more than those of what stands in it. */
function widen(body: Body, step: StepOutline, colons: number): readonly Splice[] {
  const more = ":".repeat(Math.max(0, colons - colonsOf(body, step)));
  return more === "" ? [] : [put(step.start, more), put(closingStart(body, step), more)];
}

function insertPart(
  body: Body,
  step: StepOutline,
  part: Parameters<typeof directiveText>[0],
  at: number | undefined,
): readonly Splice[] {
  const written = directiveText(part),
    wide = isAlert(part) ? widen(body, step, 4) : [];
  const next = at === undefined ? undefined : step.parts[at - 1];
  if (next) return [...wide, put(next.start, `${written}\n${isAlert(part) || isAlert(next) ? "\n" : ""}`)];
  if (part.name === "warning" || part.name === "caution") {
    // Behind the warnings that are there.
    const last = step.parts.filter((each) => isAlert(each) && each.start < (step.spans[0]?.start ?? Infinity)).at(-1);
    return last ? [...wide, put(last.end, `\n\n${written}`)] : [...wide, put(openingEnd(body, step), `\n${written}\n`)];
  }
  const closing = closingStart(body, step),
    last = step.parts.at(-1);
  const follows = last && !isAlert(last) && !isAlert(part) && body.text.slice(last.end, closing).trim() === "";
  return [...wide, put(closing, follows ? `${written}\n` : `\n${written}\n`)];
}

/** In the body: a line of a card behind the last line, a warning or caution before all lines, a note at the end. */
function insertBetween(
  body: Body,
  part: Parameters<typeof directiveText>[0],
  at: number | undefined,
): readonly Splice[] {
  const parts = partsBetween(body.entries),
    written = directiveText(part),
    next = at === undefined ? undefined : body.part(undefined, at);
  if (next) return [put(next.start, `${written}\n${isAlert(part) || isAlert(next) ? "\n" : ""}`)];
  const last = parts.findLast(({ name }) => name === part.name);
  if (last) return [put(last.end, `${isAlert(part) ? "\n\n" : "\n"}${written}`)];
  const [first] = parts;
  return first && (part.name === "warning" || part.name === "caution")
    ? [put(first.start, `${written}\n\n`)]
    : [insertAt(body, undefined, written)];
}

function movePart(body: Body, step: number | undefined, from: number, to: number): readonly Splice[] {
  body.part(step, from);
  body.part(step, to);
  const parts = step === undefined ? partsBetween(body.entries) : body.step(step).parts;
  return moved(parts, from - 1, to - 1).flatMap((part, at) =>
    part === parts[at] ? [] : [replace(parts[at]!, body.written(part))],
  );
}

/** What the second half of a step keeps of the first. */
const KEPT = ["by", "critical", "weight", "age"];

function splitStep(body: Body, step: StepOutline, paragraph: number): readonly Splice[] {
  const at = step.spans[paragraph - 1];
  if (!at || paragraph < 2) throw new Refusal(heard("deskRefused").whereSplit);
  const colons = ":".repeat(colonsOf(body, step)),
    attributes = Object.fromEntries(Object.entries(step.attributes).filter(([name]) => KEPT.includes(name)));
  const opening = writeStep({ attributes: plain(attributes), text: "" })
    .split("\n")[0]!
    .replace(/^:+/, colons);
  // Warnings that stand before the paragraph are for what it orders.
  const above = step.spans[paragraph - 2]!.end,
    between = step.parts.filter(({ start }) => start > above && start < at.start);
  const own = between.slice(between.findLastIndex((part) => !isAlert(part)) + 1),
    begin = own[0]?.start ?? at.start;
  const before = body.text.slice(0, begin).trimEnd().length;
  return [{ from: before, to: begin, text: `\n${colons}\n\n${opening}\n` }];
}

/** An attribute without a value is one that stands alone. */
function plain(attributes: StepOutline["attributes"]): AttributeValues {
  return Object.fromEntries(Object.entries(attributes).map(([name, value]) => [name, value === "" ? true : value]));
}

function joinStep(body: Body, first: StepOutline, second: StepOutline): readonly Splice[] {
  if (body.text.slice(first.end, second.start).trim() !== "") throw new Refusal(heard("deskRefused").onlyNeighbours);
  const colons = Math.max(colonsOf(body, first), colonsOf(body, second)),
    from = closingStart(body, first);
  const opened = openingEnd(body, first),
    opening = Object.entries(joinedAttributes(first, second, namedSteps(body))).reduce(
      (text, [name, value]) => withAttribute(text, name, value),
      body.text.slice(first.start, opened),
    );
  const inside = openingEnd(body, second),
    begin = inside + (/^(?:\r\n|\r|\n)/.exec(body.text.slice(inside))?.[0].length ?? 0);
  const closing = closingStart(body, second);
  return [
    { from: first.start, to: opened, text: opening.replace(/^:+/, ":".repeat(colons)) },
    { from, to: begin, text: "\n" },
    { from: closing, to: second.end, text: ":".repeat(colons) },
  ];
}

/** Ids of steps that other steps follow, or that a change entry names. */
function namedSteps({ text, steps }: Body): ReadonlySet<string> {
  const place = placeOfHead(text),
    head = place?.end === undefined ? "" : text.slice(place.start, place.end);
  const inHead = steps.flatMap(({ attributes: { id } }) =>
    typeof id === "string" && new RegExp(`(?<![\\w-])${id.replace(/\W/g, "\\$&")}(?![\\w-])`).test(head) ? [id] : [],
  );
  return new Set([...inHead, ...steps.flatMap(({ attributes: { after } }) => String(after ?? "").split(/\s+/))]);
}

function setPurpose(body: Body, text: string): readonly Splice[] {
  const end = body.entries.findIndex(({ kind }) => kind !== "text"),
    own = body.entries.slice(0, end < 0 ? body.entries.length : end);
  const [first, last] = [own[0], own.at(-1)];
  if (first?.kind === "text" && last?.kind === "text") return [{ from: first.at.start, to: last.at.end, text }];
  const head = placeOfHead(body.text),
    from = head?.end === undefined ? 0 : body.text.indexOf("\n", head.end) + 1;
  return [put(from, `${text}\n\n`)];
}

/** What a step says, however it is written. */
const meaning = ({ attributes, text, parts }: StepOutline): string =>
  JSON.stringify([
    sorted(attributes),
    words(text),
    parts.map((part) => [part.name, sorted(part.attributes), words(part.text)]),
  ]);
const sorted = (attributes: StepOutline["attributes"]) =>
  Object.entries(attributes)
    .map(([name, value]) => [name, value === true ? "" : value] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1));
const words = (text: string) =>
  text
    .replace(/\s+/g, " ")
    .replace(/\\([[\]])/g, "$1")
    .trim();

/** Reads what was written: each step says what it said, but for the one that was meant; that says what was asked. */
function refuseUnlessAsked({ steps: before, entries }: Body, edit: Edit, made: string): void {
  const entriesMade = entriesOf(made),
    after = stepsOf(entriesMade),
    expected: (string | undefined)[] = before.map(meaning);
  const anew = (step: number | undefined) => {
    if (step !== undefined) expected[step - 1] = undefined;
  };
  switch (edit.kind) {
    case "insert-step":
      expected.splice(slotOf(edit.place, before.length), 0, meaningOfNew(edit.new));
      break;
    case "delete-step":
      expected.splice(edit.step - 1, 1);
      break;
    case "move-step": {
      const to = slotOf(edit.place, before.length);
      const [it] = expected.splice(edit.step - 1, 1);
      expected.splice(to > edit.step - 1 ? to - 1 : to, 0, it);
      break;
    }
    case "split-step":
      expected.splice(edit.step - 1, 1, undefined, undefined);
      break;
    case "join-step":
      expected.splice(edit.step - 1, 2, undefined);
      break;
    case "set-body":
      return;
    default:
      anew("step" in edit ? edit.step : undefined);
  }
  const isAsked =
    after.length === expected.length &&
    after.every((step, at) => expected[at] === undefined || expected[at] === meaning(step));
  const now = "step" in edit && edit.step !== undefined ? after[edit.step - 1] : undefined,
    partsBefore = "step" in edit && edit.step !== undefined ? before[edit.step - 1]?.parts : partsBetween(entries),
    parts = now ? now.parts : partsBetween(entriesMade);
  const isSaid =
    edit.kind === "set-text"
      ? words(now?.text ?? "") === words(edit.text) && now?.parts.length === before[edit.step - 1]?.parts.length
      : edit.kind === "set-attribute"
        ? sayAttribute((edit.part === undefined ? now : parts[edit.part - 1])?.attributes[edit.name]) ===
          sayAttribute(edit.value)
        : edit.kind === "insert-part"
          ? parts.length === (partsBefore?.length ?? 0) + 1
          : true;
  if (!isAsked || !isSaid) throw new Refusal(heard("deskRefused").notAsMeant);
}

const sayAttribute = (value: string | true | undefined) => (value === true ? "" : value?.replace(/\s+/g, " "));

const slotOf = (place: StepPlace | undefined, count: number): number =>
  place === undefined ? count : "before" in place ? place.before - 1 : place.after;

/** What a new step shall say, as its own text is read. */
function meaningOfNew(step: NewStep): string | undefined {
  const [read] = stepsOf(outlineOf(writeStep(step)) ?? []);
  return read && words(read.text) === words(step.text) ? meaning(read) : "not as it was asked";
}
