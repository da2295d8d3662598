/**
 * What one build holds in common between the pages that Astro renders and the steps around them (both run in one
 * process, but load their modules apart).
 */
import { resolve } from "node:path";
import type { Finding } from "../findings/finding.ts";
import type { Collection } from "../schema/collection.ts";
import type { Assets } from "./assets.ts";
import type { FindEntry } from "../domain/find/find.ts";
import type { PhotoFile } from "./images.ts";
import { today } from "./today.ts";

export interface Job {
  /** The project's own folder, where `src/` and `components/` are. */
  readonly root: string;
  /** Absolute path of the collection. */
  readonly folder: string;
  readonly collection: Collection;
  /** What `check` found in it, if it was asked; the pages ask the rules themselves otherwise. */
  readonly findings?: readonly Finding[];
  /** Names of the bundled stylesheets, scripts and fonts, once they are known. */
  assets?: Promise<Assets>;
  /** Takes each page as soon as it is rendered: its address and what it says. Not there when Astro runs by itself. */
  meet?: (address: string, html: string) => Promise<void>;
  /** Results worked out once and asked for by many pages. */
  readonly results: Map<string, unknown>;
  /** Class name -> declaration, for positions that no stylesheet can know beforehand. */
  readonly placed: Map<string, string>;
  /** File name -> content of stylesheets that belong to single pages. */
  readonly pageStyles: Map<string, string>;
  /** Address -> picture to be made. */
  readonly photos: Map<string, PhotoFile>;
  /** What search knows of every page beside its text, by address. */
  readonly pages: Map<string, FindEntry>;
  /** `YYYY-MM-DD` on which the site is built. */
  readonly today: string;
  /** File of the background page that is being rendered: when its code fails, the author must know where. */
  rendering?: string | undefined;
}

const KEY = Symbol.for("rerig.job");
type Holder = { [KEY]?: Job };

/** Begins a build over a collection and forgets what an earlier one held. */
export function beginJob(folder: string, collection: Collection, findings?: readonly Finding[]): Job {
  const job: Job = {
    root: resolve(import.meta.dirname, "../.."),
    folder,
    collection,
    ...(findings ? { findings } : {}),
    results: new Map(),
    placed: new Map(),
    pageStyles: new Map(),
    photos: new Map(),
    pages: new Map(),
    today: today(),
  };
  (globalThis as Holder)[KEY] = job;
  return job;
}

/** Whether a build is under way. */
export function hasJob(): boolean {
  return (globalThis as Holder)[KEY] !== undefined;
}

/** The build that is under way; throws if none is. */
export function currentJob(): Job {
  const job = (globalThis as Holder)[KEY];
  if (!job)
    throw new Error(
      "No build is under way: pages are rendered through `buildSite` or `astro` with this project's astro.config.mjs",
    );
  return job;
}

/** A result worked out once in a build, under a name of its own. */
export function once<T>(name: string, work: () => T): T {
  const { results } = currentJob();
  if (!results.has(name)) results.set(name, work());
  return results.get(name) as T;
}
