/** What is out of service, and what was begun, in words. */
import { dayOf, sayDate } from "../../domain/words/say.ts";
import { wordsHere } from "../../words/heard.ts";
import type { BegunStep } from "../../domain/tonight/begun-text.ts";
import { writeHour } from "../../schema/spoken.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import type { KeptItem } from "./out-store.ts";

/** `since 21:40`, with the date if that was not today. Both in milliseconds since 1970, said by the device's clock. */
function saySince(since: number, now: number): string {
  const [then, today] = [new Date(since), new Date(now)];
  const hour = writeHour(then),
    { out } = wordsHere("out");
  return dayOf(then) === dayOf(today) ? out.since({ hour }) : out.sinceOn({ hour, date: sayDate(dayOf(then)) });
}

/** Since when, for what was said here; for what an amendment takes, which one and its last day. */
export function sayOutBy({ since, by }: KeptItem, now: number): string {
  return by ? wordsHere("out").out.byAmendment({ number: by.number, date: sayDate(by.until) }) : saySince(since, now);
}

/** `Transport ventilator, since 21:40`; how many of how many where there are several. */
export function sayKept(item: KeptItem, now: number): string {
  const { name, count, of } = item,
    { out } = wordsHere("out"),
    since = sayOutBy(item, now);
  return of > 1 ? out.keptOf({ count, of, item: name, since }) : out.kept({ item: name, since });
}

/**
 * `Transport ventilator is out of service, since 21:40`, or `cradle strap (1 of 4) is …`: why something can't be built.
 * `items` is not empty.
 */
export function sayWhy(items: readonly KeptItem[], now: number): string {
  const { out } = wordsHere("out");
  return sayList(
    items.map((item) => {
      const { name, count, of } = item,
        since = sayOutBy(item, now);
      return of > 1 ? out.isOutOf({ item: name, count, of, since }) : out.isOut({ item: name, since });
    }),
  );
}

/** `Half-built: 8 steps done since newborn capsule`; `title` is that of the arrangement that stood before. */
export function sayBegun(steps: readonly BegunStep[], title: string): string {
  const done = steps.filter(({ isDone }) => isDone).length;
  return wordsHere("out").out.halfBuilt({ steps: done, arrangement: lowerFirst(title) });
}
