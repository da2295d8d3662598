/** What is out of service, in words. */
import { dayOf, sayDate } from "../../domain/words/say.ts";
import { sayList } from "../../schema/wording.ts";
import type { KeptItem } from "./out-store.ts";

/** `since 21:40`, with the date if that was not today. Both in milliseconds since 1970, said by the device's clock. */
export function saySince(since: number, now: number): string {
  const [then, today] = [new Date(since), new Date(now)];
  const two = (value: number) => String(value).padStart(2, "0"),
    hour = `since ${two(then.getHours())}:${two(then.getMinutes())}`;
  return dayOf(then) === dayOf(today) ? hour : `${hour} on ${sayDate(dayOf(then))}`;
}

/** `Transport ventilator, since 21:40`; how many of how many where there are several. */
export function sayKept({ name, count, of, since }: KeptItem, now: number): string {
  return `${of > 1 ? `${count} of ${of}: ` : ""}${name}, ${saySince(since, now)}`;
}

/**
 * `Transport ventilator is out of service, since 21:40`, or `cradle strap (1 of 4) is …`: why something can't be built.
 * `items` is not empty.
 */
export function sayWhy(items: readonly KeptItem[], now: number): string {
  return sayList(
    items.map(
      ({ name, count, of, since }) =>
        `${name}${of > 1 ? ` (${count} of ${of})` : ""} is out of service, ${saySince(since, now)}`,
    ),
  );
}
