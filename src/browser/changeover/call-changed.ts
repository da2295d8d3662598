/**
 * The call has changed in the middle of a changeover: what is done so far goes in the address to the page that works
 * out the way from exactly there. Nobody's weight goes with it: the next patient is another one.
 */
import { wordsHere } from "../../words/heard.ts";
import type { Walk } from "../../domain/device/walk.ts";
import { type BegunStep, begunAfter, writeBegun } from "../../domain/tonight/begun-text.ts";
import { withIndex } from "../find/folder-links.ts";

/** Where a walk begins, and what an earlier change left of it. */
interface WalkStart {
  /** The arrangement that stood before the first step was done. */
  readonly from: string;
  readonly begun: readonly BegunStep[];
  /** The arrangement in which the platform waits; `undefined` if none is standing. */
  readonly standing: string | undefined;
}

/** Address of the page on which the next patient's weight is entered; `undefined`: the service enters none. */
export function weightEntry(): string | undefined {
  const { home = "./", weights } = document.documentElement.dataset;
  return weights === undefined ? undefined : new URL(home + weights, location.href).href;
}

/** A way on from where a walk is left. */
export interface WayOn {
  readonly label: string;
  readonly href: string;
}

/** What of an address says that the crew stands down: nobody is carried. */
export const STANDS_DOWN = "next=nobody";

/** The ways on from before a stop; `at` as many as there are stops: from the count. */
export function waysOn({ from, begun, standing }: WalkStart, { stops }: Walk, at: number): WayOn[] {
  const walked = [...stops.entries()]
    .toSorted(([, a], [, b]) => a.number - b.number)
    .map(([index, { procedure, step }]): BegunStep => ({ procedure, step, isDone: index < at }));
  const { platform = "", home = "./" } = document.documentElement.dataset,
    text = writeBegun(begunAfter(begun, walked));
  const changeovers = new URL(`${home}${platform}/changeovers/`, location.href).href;
  const address = (page: string, to?: string) => {
    const fields = [`from=${from}`, ...(text ? [`begun=${text}`] : []), ...(to ? [`to=${to}`, STANDS_DOWN] : [])];
    const whole = `${page}#${fields.join("&")}`;
    return location.protocol === "file:" ? withIndex(whole) : whole;
  };
  const { walk: words } = wordsHere("walk");
  return [
    { label: words.another, href: address(weightEntry() ?? changeovers) },
    ...(standing ? [{ label: words.standDown, href: address(changeovers, standing) }] : []),
  ];
}
