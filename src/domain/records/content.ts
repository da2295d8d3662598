/** The shape of what an issue freezes: records without places in files, in plain JSON values. Form 1. */
import type { Phase, SignOffs } from "../../schema/collection.ts";
import { plainText } from "../words/say.ts";

/** A `Range` as it is frozen. */
export interface RangeContent {
  /** The author's words. */
  readonly text: string;
  /** Exact ends as in `End`, written in decimal. */
  readonly from?: EndContent;
  readonly to?: EndContent;
}

interface EndContent {
  readonly value: string;
  readonly owned: boolean;
}

/** An entry of `changes` as it is frozen; the date is `YYYY-MM-DD`. */
export interface ChangeContent {
  readonly revision: number;
  readonly date: string;
  readonly by: string;
  readonly summary: string;
  readonly reason?: string;
  readonly signOffs?: SignOffs;
  readonly steps?: readonly string[];
}

/** What every issue has. What is under `record` may be altered without a new revision. */
export interface DocumentContent {
  readonly form: 1;
  readonly kind: "procedure" | "configuration" | "option";
  readonly platform: string;
  readonly id: string;
  readonly code: string;
  readonly title: string;
  readonly revision: number;
  readonly effective?: string;
  readonly weight: RangeContent;
  readonly age: RangeContent;
  readonly record: {
    readonly reviewBy?: string;
    readonly owner?: string;
    readonly approvedBy?: string;
    readonly changes: readonly ChangeContent[];
  };
}

/** What an issue of a procedure freezes; the steps of an `::include` are in the other procedure's issue. */
export interface ProcedureContent extends DocumentContent {
  readonly kind: "procedure";
  readonly phase?: Phase;
  readonly purpose: readonly BlockContent[];
  readonly sections: readonly SectionContent[];
}

/** Pieces of an item (its id) in a place (its id). */
export interface FittedContent {
  readonly place: string;
  readonly item: string;
  readonly count: number;
}

/** What an issue of a configuration freezes; options stand by their ids, in the author's order. */
export interface ConfigurationContent extends DocumentContent {
  readonly kind: "configuration";
  readonly authority: readonly { readonly kind: string; readonly reference: string; readonly date?: string }[];
  readonly standing: boolean;
  readonly fitted: readonly FittedContent[];
  readonly fastenings: readonly { readonly fastening: string; readonly state: string }[];
  readonly options: readonly string[];
  /** Options that some patients need, with the ranges that the author wrote. */
  readonly requires?: readonly RequirementContent[];
  readonly checks: readonly CheckContent[];
  readonly body: readonly BlockContent[];
}

/** An option that some patients need, and for whom: it holds within both ranges. */
export interface RequirementContent {
  readonly option: string;
  readonly weight: RangeContent;
  readonly age: RangeContent;
}

/** What an issue of an option freezes; `empty` holds places, `notWith` options, by id. */
export interface OptionContent extends DocumentContent {
  readonly kind: "option";
  readonly fitted: readonly FittedContent[];
  readonly empty: readonly string[];
  readonly notWith: readonly string[];
  readonly checks: readonly CheckContent[];
  readonly body: readonly BlockContent[];
}

/** What an issue freezes of any document; `kind` tells which. */
export type Content = ProcedureContent | ConfigurationContent | OptionContent;

/** A challenge with its answer; `by` holds role ids, empty where nobody is named. */
export interface CheckContent {
  readonly challenge: string;
  readonly answer: string;
  readonly by: readonly string[];
  readonly about?: readonly string[];
  readonly replaces?: string;
}

/** What a step does to the parts: pieces moved from place to place, or a fastening turned to a state. */
export type OperationContent =
  | { readonly kind: "move"; readonly item: string; readonly count: number; readonly from: string; readonly to: string }
  | { readonly kind: "turn"; readonly fastening: string; readonly to: string };

/** A photo as a step shows it; places in it are fractions of the whole image. Only `id` where it is lost. */
export interface PhotoContent {
  readonly id: string;
  readonly alt?: string;
  readonly taken?: string;
  readonly marks?: readonly { readonly n: number; readonly x: number; readonly y: number; readonly label: string }[];
  /** From x, from y, to x, to y. */
  readonly arrows?: readonly (readonly number[])[];
  readonly crop?: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** `sha256` of the file, in 64 hexadecimal digits; issues frozen before it was kept have none. */
  readonly image?: { readonly width: number; readonly height: number; readonly sha256?: string };
}

/** A WARNING, CAUTION or NOTE. */
export interface AlertContent {
  readonly kind: "alert";
  readonly signal: "warning" | "caution" | "note";
  readonly children: readonly BlockContent[];
}

/** A step; ranges are there only where it has its own, beside the procedure's. */
export interface StepContent {
  readonly kind: "step";
  readonly id?: string;
  readonly by: readonly string[];
  readonly critical: boolean;
  readonly hold: boolean;
  readonly photos: readonly PhotoContent[];
  readonly takesSeconds: number;
  readonly weight?: RangeContent;
  readonly age?: RangeContent;
  readonly after: readonly string[];
  readonly guards: readonly string[];
  readonly unnoticed?: string;
  readonly alerts: readonly AlertContent[];
  readonly alertsAfter: readonly AlertContent[];
  readonly instruction: readonly InlineContent[];
  readonly reason?: readonly InlineContent[];
  readonly detail: readonly BlockContent[];
  readonly operations: readonly OperationContent[];
  readonly checks: readonly CheckContent[];
  /** Absent in issues that were frozen before it was kept. */
  readonly readsCard?: true;
}

interface IncludeContent {
  readonly kind: "include";
  readonly procedure: string;
}

/** What a section holds, in order. */
export type EntryContent = StepContent | IncludeContent | BlockContent;

/** A section under its heading; the title is empty for what stands before the first one. */
export interface SectionContent {
  readonly title: string;
  readonly entries: readonly EntryContent[];
}

/** Running text in pieces, line breaks and spaces evened out. */
export type InlineContent =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "strong" | "emphasis"; readonly children: readonly InlineContent[] }
  | { readonly kind: "code"; readonly text: string }
  | { readonly kind: "break" }
  | { readonly kind: "link"; readonly href: string; readonly children: readonly InlineContent[] }
  | { readonly kind: "item" | "place"; readonly id: string; readonly children: readonly InlineContent[] };

/** A block of text between headings. */
export type BlockContent =
  | { readonly kind: "paragraph"; readonly children: readonly InlineContent[] }
  | AlertContent
  | { readonly kind: "heading"; readonly depth: number; readonly children: readonly InlineContent[] }
  | { readonly kind: "list"; readonly ordered: boolean; readonly items: readonly (readonly BlockContent[])[] }
  | { readonly kind: "quote"; readonly children: readonly BlockContent[] }
  | { readonly kind: "code"; readonly text: string }
  | { readonly kind: "table"; readonly rows: readonly (readonly (readonly InlineContent[])[])[] }
  | { readonly kind: "rule" }
  | {
      readonly kind: "component";
      readonly name: string;
      readonly attributes: Readonly<Record<string, string | number | boolean>>;
    };

/** Blocks as plain words, one line a block. */
export function plainBlocks(blocks: readonly BlockContent[]): string {
  return blocks.map(plainBlock).filter(Boolean).join("\n");
}

function plainBlock(block: BlockContent): string {
  switch (block.kind) {
    case "paragraph":
    case "heading":
      return plainText(block.children);
    case "alert":
      return `${block.signal.toUpperCase()} ${plainBlocks(block.children)}`;
    case "quote":
      return plainBlocks(block.children);
    case "list":
      return block.items.map(plainBlocks).join("\n");
    case "table":
      return block.rows.map((row) => row.map(plainText).join(" | ")).join("\n");
    case "code":
      return block.text;
    case "component":
      return `${block.name} ${Object.entries(block.attributes)
        .map(([key, value]) => `${key}=${value}`)
        .join(" ")}`;
    case "rule":
      return "";
  }
}
