/** Where a page comes from, the site or the set saved on this device, and when the site is asked first. */
import { heard } from "../../words/heard.ts";

/**
 * Whether the page at this address, counted from the site's root, says if a card is in force. Such a page is asked of
 * the site first: of two cards of one arrangement, the saved set would still call the older one current, and the site
 * the newer.
 */
export function saysWhetherInForce(address: string): boolean {
  return /^(C\/[^/]+|check)\/?$/i.test(address);
}

/**
 * Whether a page is asked for anew, by the browser's own button or key: whoever does that wants it as the site has it
 * now, and not as it was saved.
 */
export function asksAnew({ mode, cache }: Pick<Request, "mode" | "cache">): boolean {
  return mode === "navigate" && (cache === "no-cache" || cache === "reload");
}

/** A page with what is known of its origin as data on its root; `marks`: name in small letters -> value. */
export function mark(html: string, marks: Readonly<Record<string, string>>): string {
  const data = Object.entries(marks).map(([name, value]) => ` data-${name}="${value}"`);
  return html.replace("<html", `<html${data.join("")}`);
}

/** Whether a page is one of this site's, and not of what answers in its place: each has the foot's element. */
export function isOfThisSite(html: string): boolean {
  return html.includes("<saved-on-device");
}

/** What the page shown has on its root, `data-…`. */
interface Origin {
  /** `site`: from the site, past the saved set. */
  readonly from?: string | undefined;
  /** `no`: the site was asked whether the card is in force, and did not answer. */
  readonly asked?: string | undefined;
}

/**
 * What a reader has to know of a page beside a saved set of the day `built`, which is said on top of it; `undefined`
 * if nothing. `newest`: whether the saved set is known to be the site's newest.
 */
export function sayOrigin({ from, asked }: Origin, built: string, newest: boolean): string | undefined {
  if (asked === "no") return heard("savedSet").noAnswer({ date: built });
  if (from === "site" && !newest) return heard("savedSet").pageOfToday({ date: built });
  return undefined;
}
