/**
 * What rests on nothing but what is in force is worked out once for all views that show it, whatever drafts and
 * withdrawn documents stand beside it: an edit of a draft leaves it known.
 */
import { onceInProcess } from "../../schema/once-in-process.ts";
import type { Collection } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";

/** Of a collection or platform that shows more than is in force, the one that does not. */
const behind = /* @__PURE__ */ onceInProcess("behind", () => new WeakMap<object, object>());

/** Says which collection holds of `shown` what is in force and nothing else; the platforms stand in the same order. */
export function knowShown<Views extends { readonly collection: Collection; readonly shown: Collection }>(
  views: Views,
): Views {
  const { collection, shown } = views;
  behind.set(shown, collection);
  for (const [at, platform] of shown.platforms.entries()) behind.set(platform, collection.platforms[at]!);
  return views;
}

/**
 * `remember`, of work that rests on nothing but what is in force of the collections and platforms that it is given: it
 * is handed these in the place of what is shown, and works out one result for both.
 */
export function rememberInForce<Arguments extends readonly [object, ...object[]], Result>(
  work: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  const known = remember(work);
  return (...given) => known(...(given.map((each) => behind.get(each) ?? each) as unknown as Arguments));
}
