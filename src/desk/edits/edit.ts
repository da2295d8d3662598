/**
 * One change of an author's file and of nothing else in it: comments, order, quotes, line ends, byte-order mark, blank
 * lines and indents stay as they are. What was written is read again before it is given out.
 */
import { editFields } from "./fields.ts";
import { Refusal } from "../disk/refusal.ts";
import { editBody } from "./steps.ts";

/** What a field of a YAML file or of a head holds: everything in it is a text, a list or a map. */
export type FieldValue = string | readonly FieldValue[] | { readonly [key: string]: FieldValue };

/** From the outermost field to the one that is meant; the number of an entry of a list counts from 0. */
export type FieldPath = readonly (string | number)[];

/** A change of a YAML file, or of the head of a file that has one. */
export type FieldEdit =
  /** Adds the field where there is none, with the fields on the way to it. `isNew`: refused where there is one. */
  | {
      readonly kind: "set-field";
      readonly path: FieldPath;
      readonly value: FieldValue;
      readonly isNew?: boolean | undefined;
    }
  | { readonly kind: "remove-field"; readonly path: FieldPath }
  /** Gives a field another name; its value stays. */
  | { readonly kind: "rename-field"; readonly path: FieldPath; readonly to: string }
  /** Puts an entry into the list at `path` so that it is number `at`; last, where that is left out. */
  | {
      readonly kind: "insert-entry";
      readonly path: FieldPath;
      readonly at?: number | undefined;
      readonly value: FieldValue;
    }
  /** Moves an entry of the list, or a field of the map, at `path`; both numbers count from 0. */
  | { readonly kind: "move-entry"; readonly path: FieldPath; readonly from: number; readonly to: number };

/** Attributes of a directive as they are written: texts, or `true` for one that stands without a value (`critical`). */
export type AttributeValues = Readonly<Record<string, string | true>>;

/** Where a step is put: steps count from 1, as they stand in their own file (an include counts for none). */
export type StepPlace = { readonly before: number } | { readonly after: number };

/** Directives that stand in a step, or by themselves between the steps and in the body of a card. */
type PartName = "check" | "move" | "turn" | "card" | "warning" | "caution" | "note" | "include";

/** A directive to be written. `text` is the challenge of a check, or the Markdown of a warning, caution or note. */
export interface NewPart {
  readonly name: PartName;
  readonly attributes?: AttributeValues | undefined;
  readonly text?: string | undefined;
}

/** A step to be written: warnings and cautions among its parts stand before its text, the others after it. */
export interface NewStep {
  readonly attributes?: AttributeValues | undefined;
  /** Markdown: the instruction, what begins `Why:`, the detail. */
  readonly text: string;
  readonly parts?: readonly NewPart[] | undefined;
}

/** A change of a procedure's steps. `step` counts from 1, as the steps stand in their own file. */
export type StepEdit =
  /** The Markdown of a step: all that is in it but its parts, which stay where they are. */
  | { readonly kind: "set-text"; readonly step: number; readonly text: string }
  /** The whole step as text, from its line `:::step` to the one that closes it. */
  | { readonly kind: "set-step"; readonly step: number; readonly text: string }
  /** At the end of the file (or of what it is `place`d beside). */
  | { readonly kind: "insert-step"; readonly place?: StepPlace | undefined; readonly new: NewStep }
  | { readonly kind: "delete-step"; readonly step: number }
  | { readonly kind: "move-step"; readonly step: number; readonly place: StepPlace }
  /**
   * Makes two of a step: the second begins with the paragraph `paragraph` (2 is the second). It keeps who does it, for
   * whom, and whether it is critical, and the warnings before that paragraph; id, photo, durations, `hold` and what it
   * guards stay with the first.
   */
  | { readonly kind: "split-step"; readonly step: number; readonly paragraph: number }
  /**
   * Makes one of a step and the next: photos, guards and `after` of both, their times added, critical or held where one
   * is. Refused where they differ in who does it or for whom.
   */
  | { readonly kind: "join-step"; readonly step: number };

/** The step, or where it is left out the body itself: what stands between the steps, or on a card. */
interface Inside {
  readonly step?: number | undefined;
}

/** A change of one directive. `part` counts from 1, in the order of the file, those of its step or body alone. */
export type PartEdit =
  /** So that it is number `at`; last, where that is left out. */
  | (Inside & { readonly kind: "insert-part"; readonly at?: number | undefined; readonly new: NewPart })
  | (Inside & { readonly kind: "delete-part"; readonly part: number })
  | (Inside & { readonly kind: "move-part"; readonly part: number; readonly to: number })
  /** The challenge of a check, or the Markdown of a warning, caution or note. */
  | (Inside & { readonly kind: "set-part-text"; readonly part: number; readonly text: string })
  /** An attribute of the part, or where none is named of the step itself. `id` is what is written `#id`. */
  | (Inside & {
      readonly kind: "set-attribute";
      readonly part?: number | undefined;
      readonly name: string;
      readonly value: string | true;
    })
  | (Inside & { readonly kind: "remove-attribute"; readonly part?: number | undefined; readonly name: string });

/** A change of what stands round the steps. */
export type BodyEdit =
  /** The Markdown before the first heading or step. */
  | { readonly kind: "set-purpose"; readonly text: string }
  /** The words of a heading; headings count from 1. */
  | { readonly kind: "set-heading"; readonly heading: number; readonly text: string }
  | { readonly kind: "insert-heading"; readonly place?: StepPlace | undefined; readonly text: string }
  | { readonly kind: "delete-heading"; readonly heading: number }
  /** All that stands after the head. */
  | { readonly kind: "set-body"; readonly text: string };

/** One change of one file. */
export type FileEdit = FieldEdit | StepEdit | PartEdit | BodyEdit;

/** The text of the file with the change, or why it is not made: a sentence for who writes, with what to do. */
type Edited = { readonly text: string } | { readonly refused: string };

/**
 * The file's text with one change; `source` is the text as it is read from the disk, its byte-order mark included. A
 * text that begins with a head between two lines `---` is a document, any other a YAML file.
 * Refused where the text can't be read as it stands, where what is to be changed is not there, and where what was
 * written would not be read as what was asked.
 */
export function applyEdit(source: string, edit: FileEdit): Edited {
  const mark = source.startsWith("\ufeff") ? "\ufeff" : "",
    text = source.slice(mark.length);
  try {
    return { text: mark + changed(text, edit) };
  } catch (error) {
    if (error instanceof Refusal) return { refused: error.message };
    throw error;
  }
}

function changed(text: string, edit: FileEdit): string {
  switch (edit.kind) {
    case "set-field":
    case "remove-field":
    case "rename-field":
    case "insert-entry":
    case "move-entry":
      return editFields(text, edit);
    default:
      return editBody(text, edit);
  }
}
