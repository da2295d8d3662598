/**
 * What there is once in a process, in however many copies its module is loaded: tests load the program's modules by
 * their own means and a built page's by Node's, and Astro copies them into what it bundles where nobody tells it not to
 * (`build/render/own-modules.ts` does).
 */

/** What the process has under this name: the same for every caller; `begin` makes it for the first. */
export function onceInProcess<Thing extends object>(name: string, begin: () => Thing): Thing {
  const things = globalThis as { [key: symbol]: Thing | undefined };
  return (things[Symbol.for(`rerig.${name}`)] ??= begin());
}
