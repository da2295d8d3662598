/** What a photo's sidecar says of its picture, entry by entry, as the desk changes it. */
import type { Photo } from "../../schema/collection.ts";
import { isFields, isList } from "../edits/plain-value.ts";
import { readValue } from "../edits/fields.ts";
import { Refusal } from "../disk/refusal.ts";

/** A numbered mark; `index` counts the entries of `marks` from 0, x and y are fractions of the whole picture. */
export interface MarkEntry {
  readonly index: number;
  readonly n: string;
  readonly x: number;
  readonly y: number;
  readonly label: string;
}

/** An arrow, from and to as fractions of the whole picture: x1, y1, x2, y2. */
export interface ArrowEntry {
  readonly index: number;
  readonly ends: readonly [number, number, number, number];
}

/** The marks and arrows that a sidecar holds; `undefined` where its text is broken and can only be mended as text. */
export function marksIn(
  text: string | undefined,
): { readonly spots: readonly MarkEntry[]; readonly arrows: readonly ArrowEntry[] } | undefined {
  try {
    const said = readValue((text ?? "").replace(/^\ufeff/, "")),
      list = isFields(said) ? said["marks"] : undefined;
    const spots: MarkEntry[] = [],
      arrows: ArrowEntry[] = [];
    for (const [index, entry] of (isList(list) ? list : []).entries()) {
      if (!isFields(entry)) continue;
      const { n, x, y, label, arrow } = entry,
        ends = isList(arrow) ? arrow.map(Number) : [];
      if (ends.length === 4 && ends.every(isFraction))
        arrows.push({ index, ends: ends as [number, number, number, number] });
      else if (isFraction(Number(x)) && isFraction(Number(y)))
        spots.push({ index, n: textOf(n), x: Number(x), y: Number(y), label: textOf(label) });
    }
    return { spots, arrows };
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

const isFraction = (value: number) => value >= 0 && value <= 1;
const textOf = (value: unknown) => (typeof value === "string" ? value : "");

/** The number for one mark more. */
export function nextNumber(spots: readonly MarkEntry[]): number {
  return Math.max(0, ...spots.map(({ n }) => Number(n)).filter(Number.isInteger)) + 1;
}

/** Whether only a part of the picture is shown. */
export function isCropped({ crop: { x, y, width, height } }: Photo): boolean {
  return x > 0 || y > 0 || width < 1 || height < 1;
}
